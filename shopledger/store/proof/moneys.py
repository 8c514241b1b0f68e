"""Money that moved, proved: payments, refunds, payouts, fees and charges equal what their entries posted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import func, select

from shopledger.model import (
    Charge,
    Entry,
    FeePayment,
    Payment,
    PaymentShare,
    Payout,
    PayoutShare,
    Refund,
    RefundShare,
    SaleLine,
)
from shopledger.quantities.words import N_
from shopledger.rules.journal import FEE_BACK
from shopledger.store.proof.finding import Amounts, Proof, summed

POSTED = N_("{number}: the journal has {posted}, by the record it would be {wanted}.")
SHARES = N_("{number}: the parts that fall on lines come to {shares}, the amount is {amount}.")


def prove_payments(proof: Proof) -> None:
    """Compare every payment with the entry of its receipt and that of its clearing."""
    received = proof.posted(Payment.id, Payment.entry_id)
    cleared = proof.posted(Payment.id, Payment.cleared_entry_id)
    shares = _shares(proof, PaymentShare.payment_id, PaymentShare.minor)
    for_owners = _shares(
        proof, PaymentShare.payment_id, PaymentShare.minor, consigned=PaymentShare.sale_line_id
    )
    columns = Payment.__table__.c
    fees_back = set(proof.connection.scalars(select(Entry.id).where(Entry.act == FEE_BACK)))
    for payment in proof.rows(select(*columns).order_by(Payment.id)):
        owners = payment.minor if payment.loss_id is not None else for_owners.get(payment.id, 0)
        posted = received.get(payment.id, {})
        if payment.method == "lien":
            # The whole entry is compared with its lien sale, here only that the invoice is covered.
            posted = {place: minor for place, minor in posted.items() if place[0] == "buyers"}
        if payment.method == "deposit" and payment.sale_id is None:
            # Forfeited: who gets it is compared with its settlement, here only that it left the player's account.
            posted = {place: minor for place, minor in posted.items() if place[0] == "deposits"}
        _compare(
            proof,
            "payment",
            payment.number,
            _received(payment, owners, payment.entry_id in fees_back),
            posted,
        )
        if payment.cleared_entry_id is not None and payment.cleared_entry_id != payment.entry_id:
            _compare(proof, "payment", payment.number, _cleared(payment, owners), cleared.get(payment.id, {}))
        if payment.sale_id is not None and shares.get(payment.id, 0) != payment.minor:
            _wrong_shares(proof, "payment", payment, shares.get(payment.id, 0))


def _received(payment: Any, owners: int, fee_back: bool) -> Amounts:
    """Give what the receipt of a payment posts; a deposit set off is received and cleared at once."""
    minor, person = payment.minor, payment.person_id
    match payment.method:
        case "deposit" if payment.sale_id is None:
            return summed(("deposits", person, minor))
        case "deposit":
            return summed(
                ("deposits", person, minor),
                ("buyers", person, -minor),
                ("bank_owners", None, owners),
                ("bank", None, -owners),
            )
        case "lien":
            return summed(("buyers", person, -minor))
        case "part_exchange":
            return summed(("stock", None, minor), ("part_exchange", person, -minor))
    if payment.sale_id is not None:
        return summed(("in_transit", None, minor), ("buyers", person, -minor))
    if any(of is not None for of in (payment.hold_id, payment.job_id, payment.trial_id)):
        return summed(("in_transit", None, minor), ("deposits", person, -minor))
    if payment.loss_id is not None:
        return summed(("in_transit", None, minor), ("claims", None, -minor))
    return summed(("in_transit", None, minor), ("fees_owe" if fee_back else "owners_owe", person, -minor))


def _cleared(payment: Any, owners: int) -> Amounts:
    minor, person = payment.minor, payment.person_id
    if payment.method == "part_exchange":
        return summed(
            ("part_exchange", person, minor),
            ("buyers", person, -minor),
            ("bank_owners", None, owners),
            ("bank", None, -owners),
        )
    return summed(("in_transit", None, -minor), ("bank_owners", None, owners), ("bank", None, minor - owners))


def prove_refunds(proof: Proof) -> None:
    """Compare every refund with its entry."""
    posted = proof.posted(Refund.id, Refund.entry_id)
    shares = _shares(proof, RefundShare.refund_id, RefundShare.minor)
    for_owners = _shares(proof, RefundShare.refund_id, RefundShare.minor, consigned=RefundShare.sale_line_id)
    columns = Refund.__table__.c
    for refund in proof.rows(select(*columns).order_by(Refund.id)):
        owners = for_owners.get(refund.id, 0)
        account = _refunded(refund)
        wanted = summed(
            (account, refund.person_id, refund.minor),
            ("bank_owners", None, -owners),
            ("bank", None, owners - refund.minor),
        )
        _compare(proof, "refund", refund.number, wanted, posted.get(refund.id, {}))
        if account == "buyers" and shares.get(refund.id, 0) != refund.minor:
            _wrong_shares(proof, "refund", refund, shares.get(refund.id, 0))


def _refunded(refund: Any) -> str:
    """Give the account a refund takes from: a deposit, a sale's buyer, else what an owner paid and no longer owes."""
    if refund.deposit_id is not None:
        return "deposits"
    return "buyers" if refund.sale_id is not None else "owners_owe"


def prove_payouts(proof: Proof) -> None:
    """Compare every payout to an owner with its entry and with the settlements it pays."""
    posted = proof.posted(Payout.id, Payout.entry_id)
    shares = _shares(proof, PayoutShare.payout_id, PayoutShare.minor)
    columns = Payout.__table__.c
    for payout in proof.rows(select(*columns).order_by(Payout.id)):
        wanted = summed(("owners_held", payout.person_id, payout.minor), ("bank_owners", None, -payout.minor))
        _compare(proof, "payout", payout.number, wanted, posted.get(payout.id, {}))
        if shares.get(payout.id, 0) != payout.minor:
            proof.wrong(
                "payout",
                payout.number,
                N_("{number}: the settlements it pays come to {shares}, the amount is {amount}."),
                number=payout.number,
                shares=proof.money(shares.get(payout.id, 0)),
                amount=proof.money(payout.minor),
            )


def prove_fees(proof: Proof) -> None:
    """Compare every fee paid with its entry."""
    posted = proof.posted(FeePayment.id, FeePayment.entry_id)
    columns = FeePayment.__table__.c
    for fee in proof.rows(select(*columns).order_by(FeePayment.id)):
        wanted = summed(("fees_due", fee.person_id, fee.minor), ("bank", None, -fee.minor))
        _compare(proof, "fee", fee.number, wanted, posted.get(fee.id, {}))


INCOME_OF = {"private_sale": "commission", "failed_sale": "sale_costs", "paid_back": "owners_pending"}
"""What a charge is set against, where it is no income from charges."""


def prove_charges(proof: Proof) -> None:
    """Find charges whose entry doesn't put them on their owner's account.

    Several charges of one return share an entry, so that each is compared with what falls on its own account. What a
    repair is set against is compared with the bill of its job.
    """
    by_entry: dict[int, dict[tuple[str, int | None], int]] = {}
    columns = Charge.__table__.c
    for charge in proof.rows(select(*columns).order_by(Charge.id)):
        against = INCOME_OF.get(charge.kind, "charges")
        wanted = by_entry.setdefault(charge.entry_id, {})
        other = charge.person_id if against == "owners_pending" else None
        places = [(("owners_owe", charge.person_id), charge.minor)]
        if charge.kind != "repair":
            places.append(((against, other), -charge.minor))
        for place, minor in places:
            wanted[place] = wanted.get(place, 0) + minor
    numbers = proof.pairs(select(Charge.entry_id, func.min(Charge.number)).group_by(Charge.entry_id))
    posted = proof.posted(Charge.entry_id, Charge.entry_id)
    for entry_id, wanted in by_entry.items():
        there = posted.get(entry_id, {})
        if any(there.get(place, 0) != minor for place, minor in wanted.items()):
            _differs(proof, "charge", numbers[entry_id], wanted, there)


def _shares(proof: Proof, of: Any, minor: Any, consigned: Any = None) -> Mapping[int, int]:
    """Give the sums of shares by what they are parts of; with `consigned` only those on consigned lines."""
    question = select(of, func.sum(minor)).group_by(of)
    if consigned is not None:
        question = question.join(SaleLine, SaleLine.id == consigned).where(SaleLine.kind == "consigned")
    return {key: int(together) for key, together in proof.rows(question)}


def _compare(proof: Proof, what: str, number: str, wanted: Amounts, posted: Amounts) -> None:
    if wanted != posted:
        _differs(proof, what, number, wanted, posted)


def _differs(proof: Proof, what: str, number: str, wanted: Amounts, posted: Amounts) -> None:
    proof.wrong(what, number, POSTED, number=number, posted=proof.told(posted), wanted=proof.told(wanted))


def _wrong_shares(proof: Proof, what: str, row: Any, shares: int) -> None:
    proof.wrong(
        what, row.number, SHARES, number=row.number, shares=proof.money(shares), amount=proof.money(row.minor)
    )
