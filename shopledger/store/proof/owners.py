"""Owners' money proved: what the records come to equals the journal for every owner, and the bank covers it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

from sqlalchemy import Select, and_, func, or_, select

from shopledger.model import (
    Account,
    Charge,
    Entry,
    LineOwner,
    Loss,
    Payment,
    PaymentShare,
    Payout,
    PayoutShare,
    Posting,
    Refund,
    RefundShare,
    SaleLine,
    Settlement,
    SettlementShare,
)
from shopledger.quantities.words import N_
from shopledger.rules.journal import FEE_BACK
from shopledger.store.proof.finding import Proof, summed

Sums = dict[int, int]
NEVER_PENDING = or_(
    Settlement.hold_id.is_not(None), Settlement.trial_line_id.is_not(None), Settlement.job_id.is_not(None)
)
"""Of a forfeited deposit and of a sale for what was owed nothing was pending before it was set aside."""


def prove_owners(proof: Proof) -> None:
    """Compare every owner's three accounts with the records, and what is set aside with the bank."""
    accounts = _balances(proof)
    records = _by_records(proof)
    for account, words in (
        (
            "owners_pending",
            N_("{owner}: by the sales {wanted} is owed and not yet due, the journal has {posted}."),
        ),
        (
            "owners_held",
            N_("{owner}: by settlements and payouts {wanted} is set aside, the journal has {posted}."),
        ),
        (
            "owners_owe",
            N_("{owner}: by charges and set-offs the owner owes {wanted}, the journal has {posted}."),
        ),
    ):
        wanted, posted = records[account], accounts[account]
        for person_id in sorted(wanted.keys() | posted.keys()):
            if wanted.get(person_id, 0) != posted.get(person_id, 0):
                proof.wrong(
                    "owner",
                    proof.person(person_id),
                    words,
                    owner=proof.person(person_id),
                    wanted=proof.money(wanted.get(person_id, 0)),
                    posted=proof.money(posted.get(person_id, 0)),
                )
    held = accounts["owners_held"]
    for person_id, minor in sorted(held.items()):
        if minor < 0:
            proof.wrong(
                "held",
                proof.person(person_id),
                N_("{owner}: {missing} more was paid out than was set aside for them."),
                owner=proof.person(person_id),
                missing=proof.money(-minor),
            )
    bank = proof.balance("bank_owners")
    together = sum(minor for minor in held.values() if minor > 0)
    if bank < together:
        proof.wrong(
            "held",
            "bank_owners",
            N_("{together} is set aside for owners, but only {bank} is held for them."),
            together=proof.money(together),
            bank=proof.money(bank),
        )
    by_records = _held_by_records(proof)
    if bank != by_records:
        proof.wrong(
            "held",
            "bank_owners",
            N_(
                "By what cleared, was released and was paid out {wanted} is held for owners, the journal has {bank}."
            ),
            wanted=proof.money(by_records),
            bank=proof.money(bank),
        )


def _held_by_records(proof: Proof) -> int:
    """Give what the records say is held for owners: come in for their lines, less what went back, on or out."""

    def whole(question: Select[Any]) -> int:
        return int(proof.connection.execute(question).scalar() or 0)

    stands = and_(Payment.cleared_on.is_not(None), Payment.bounced_on.is_(None))
    consigned = SaleLine.kind == "consigned"
    came_in = whole(
        select(func.sum(PaymentShare.minor))
        .join(Payment, Payment.id == PaymentShare.payment_id)
        .join(SaleLine, SaleLine.id == PaymentShare.sale_line_id)
        .where(stands, consigned)
    )
    never_pending = whole(
        select(func.sum(SettlementShare.minor))
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(NEVER_PENDING)
    )
    # What an insurer pays after the shop has paid the owners from its own is the shop's.
    insured = whole(
        select(func.sum(Payment.minor))
        .outerjoin(Settlement, Settlement.loss_id == Payment.loss_id)
        .where(
            stands,
            Payment.loss_id.is_not(None),
            or_(Settlement.id.is_(None), Settlement.entry_id > Payment.entry_id),
        )
    )
    refunded = whole(
        select(func.sum(RefundShare.minor))
        .join(SaleLine, SaleLine.id == RefundShare.sale_line_id)
        .where(consigned)
    )
    released = whole(select(func.sum(Settlement.released - Settlement.given_back)))
    set_off = whole(select(func.sum(SettlementShare.set_off)))
    paid_out = whole(select(func.sum(Payout.minor)))
    return came_in + never_pending + insured - refunded - released - set_off - paid_out


def _balances(proof: Proof) -> Mapping[str, Sums]:
    """Give what is owed to owners (pending, held) and by them, by account and person, all above zero."""
    question = (
        select(Account.code, Posting.person_id, func.sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .where(
            Account.code.in_(("owners_pending", "owners_held", "owners_owe")), Posting.person_id.is_not(None)
        )
        .group_by(Account.code, Posting.person_id)
    )
    found: dict[str, Sums] = defaultdict(dict)
    for code, person_id, minor in proof.rows(question):
        found[code][person_id] = int(minor) if code == "owners_owe" else -int(minor)
    return found


def _by_records(proof: Proof) -> Mapping[str, Sums]:
    """Give the same by the records of sales, losses, settlements, payouts, charges and payments."""
    sums: dict[str, Sums] = {
        name: defaultdict(int) for name in ("owners_pending", "owners_held", "owners_owe")
    }
    pending, held, owe = sums.values()
    live = select(LineOwner.person_id, LineOwner.net).join(SaleLine, SaleLine.id == LineOwner.sale_line_id)
    for person_id, net in proof.rows(live.where(SaleLine.returned_on.is_(None))):
        if person_id != proof.shop_person:
            (pending if net >= 0 else owe)[person_id] += abs(net)
    for person_id, minor in _of_losses(proof):
        (pending if minor >= 0 else owe)[person_id] += abs(minor)
    shares = select(
        SettlementShare.person_id,
        SettlementShare.minor,
        SettlementShare.set_off,
        SettlementShare.taken_back,
        NEVER_PENDING,
    ).join(Settlement, Settlement.id == SettlementShare.settlement_id)
    for person_id, minor, set_off, taken_back, never_pending in proof.rows(shares):
        if not never_pending:
            pending[person_id] -= minor - taken_back
        held[person_id] += minor - set_off - taken_back
        owe[person_id] -= set_off
    for person_id, minor in proof.rows(select(Payout.person_id, Payout.minor)):
        held[person_id] -= minor
    taken_back = select(Entry.reverses).where(Entry.reverses.is_not(None)).scalar_subquery()
    charges = select(Charge.person_id, Charge.minor, Charge.kind).where(Charge.entry_id.not_in(taken_back))
    for person_id, minor, kind in proof.rows(charges):
        owe[person_id] += minor
        if kind == "paid_back":  # what a returned sale had paid out already is the owner's debt instead
            pending[person_id] += minor
    debts = (
        select(Payment.person_id, Payment.minor)
        .join(Entry, Entry.id == Payment.entry_id)
        .where(
            Entry.act != FEE_BACK,
            Payment.sale_id.is_(None),
            Payment.hold_id.is_(None),
            Payment.job_id.is_(None),
            Payment.trial_id.is_(None),
            Payment.loss_id.is_(None),
            Payment.deposit_id.is_(None),
            Payment.bounced_on.is_(None),
        )
    )
    for person_id, minor in proof.rows(debts):
        owe[person_id] -= minor
    back = select(Refund.person_id, Refund.minor).where(Refund.sale_id.is_(None), Refund.deposit_id.is_(None))
    for person_id, minor in proof.rows(back):
        owe[person_id] += minor
    return sums


def _of_losses(proof: Proof) -> list[tuple[int, int]]:
    """Give what each owner is owed for losses: by the entry of each, which has to come to the loss's own figure."""
    posted = proof.posted(Loss.id, Loss.entry_id)
    found = []
    for key, number, net in proof.rows(select(Loss.id, Loss.number, Loss.owner_net).order_by(Loss.id)):
        parts = [
            (person, -minor)
            for (code, person), minor in posted.get(key, {}).items()
            if code in {"owners_pending", "owners_owe"} and person is not None
        ]
        found += parts
        if sum(minor for _person, minor in parts) != net:
            proof.wrong(
                "loss",
                number,
                N_("{number}: {net} is held for the owners, the journal has {posted}."),
                number=number,
                net=proof.money(net),
                posted=proof.told(posted.get(key, {})),
            )
    return found


def prove_settlements(proof: Proof) -> None:
    """Compare every settlement with its entry, and each share with what of it was paid."""
    posted = proof.posted(Settlement.id, Settlement.entry_id)
    shares: dict[int, list[Any]] = defaultdict(list)
    columns = SettlementShare.__table__.c
    question = (
        select(*columns, Settlement.number)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .order_by(SettlementShare.id)
    )
    paid = proof.pairs(
        select(PayoutShare.settlement_share_id, func.sum(PayoutShare.minor)).group_by(
            PayoutShare.settlement_share_id
        )
    )
    for share in proof.rows(question):
        shares[share.settlement_id].append(share)
        left = share.minor - share.set_off - share.taken_back - int(paid.get(share.id, 0))
        if left < 0:
            proof.wrong(
                "settlement",
                share.number,
                N_("{number}: of the part of {owner} {over} too much was set off, taken back or paid."),
                number=share.number,
                owner=proof.person(share.person_id),
                over=proof.money(-left),
            )
    for key, number in proof.rows(select(Settlement.id, Settlement.number).order_by(Settlement.id)):
        mine = shares.get(key, [])
        wanted = summed(
            *(("owners_held", each.person_id, each.set_off - each.minor) for each in mine),
            *(("owners_owe", each.person_id, -each.set_off) for each in mine),
        )
        there = {
            place: minor
            for place, minor in posted.get(key, {}).items()
            if place[0] in {"owners_held", "owners_owe"}
        }
        if wanted != there:
            proof.wrong(
                "settlement",
                number,
                N_("{number}: the journal has {posted}, by the record it would be {wanted}."),
                number=number,
                posted=proof.told(there),
                wanted=proof.told(wanted),
            )
