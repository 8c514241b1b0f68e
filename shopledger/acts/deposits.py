"""Deposits: set off against the sale, given back, forfeited as agreed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sqlalchemy import bindparam, func, select

from shopledger.acts.giving_back import refund_paper
from shopledger.acts.owning import owners_now, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import above_zero, clear, falls_on, for_owners, receipt, record_payment
from shopledger.acts.terms import live_agreement, newest_terms
from shopledger.model import Hold, Payment, Refund, Sale, SaleLine, Settlement, SettlementShare
from shopledger.quantities.errors import Refused
from shopledger.quantities.money import Money, share_out
from shopledger.quantities.words import N_
from shopledger.queries.owing import sale_money
from shopledger.queries.standing import HoldNow, hold_in_force
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

_BUYERS_DEPOSITS = (
    select(Payment)
    .join(Hold, Hold.id == Payment.hold_id)
    .where(
        Hold.stay_id.in_(
            select(SaleLine.stay_id)
            .where(SaleLine.sale_id == bindparam("sale"), SaleLine.stay_id.is_not(None))
            .scalar_subquery()
        ),
        Hold.person_id == bindparam("buyer"),
        Payment.cleared_on.is_not(None),
        Payment.bounced_on.is_(None),
    )
    .order_by(Payment.id)
)
"""The deposits that a buyer paid for what a sale sells, cleared and not bounced."""


def deposits_of(reading: Reading, hold_id: int) -> Sequence[Payment]:
    """Give the deposits paid with a hold that did not bounce."""
    return reading.session.scalars(
        select(Payment).where(Payment.hold_id == hold_id, Payment.bounced_on.is_(None)).order_by(Payment.id)
    ).all()


def deposits_for_job(reading: Reading, job_id: int) -> Sequence[Payment]:
    """Give the deposits paid for a job that did not bounce, in order."""
    return reading.session.scalars(
        select(Payment)
        .where(
            Payment.job_id == job_id,
            Payment.sale_id.is_(None),
            Payment.deposit_id.is_(None),
            Payment.bounced_on.is_(None),
        )
        .order_by(Payment.id)
    ).all()


def take_deposit(
    writing: Writing,
    payer_id: int,
    number: str,
    amount: Money,
    method: str,
    *,
    reference: str = "",
    cleared: bool = False,
    field: str = "deposit",
    hold_id: int | None = None,
    job_id: int | None = None,
    trial_id: int | None = None,
) -> int:
    """Take a deposit: owed to whoever paid it, cleared at once where it is said so; give its receipt's id.

    Shape:  `number` is that of the stay, the job or the trial which it is paid for.
    Raises: Typed, naming the field: it is not above zero.
    """
    minor = above_zero(amount, writing.currency, field)
    entry = writing.book(
        [Amount("in_transit", minor), Amount("deposits", -minor, payer_id)], f"{number} deposit"
    )
    payment = record_payment(
        writing,
        Payment(
            person_id=payer_id,
            hold_id=hold_id,
            job_id=job_id,
            trial_id=trial_id,
            method=method,
            minor=minor,
            received_on=writing.on,
            reference=reference,
            entry_id=entry,
        ),
        {},
    )
    if cleared:
        clear(writing, payment)
    return receipt(writing, payment)


def deposit_held(reading: Reading, job_id: int) -> Money:
    """Give what is still held of what was paid beforehand for a job: neither set off nor given back."""
    return reading.money(sum(left_of(reading, deposit) for deposit in deposits_for_job(reading, job_id)))


def still_held(reading: Reading, deposits: Iterable[Payment], *, cleared: bool) -> list[Payment]:
    """Give the deposits of which something is held, cleared or not."""
    return [
        deposit
        for deposit in deposits
        if (deposit.cleared_on is not None) is cleared and left_of(reading, deposit)
    ]


def left_of(reading: Reading, deposit: Payment) -> int:
    """Give what of one deposit is still held: neither set off nor given back."""
    used = reading.session.scalar(
        select(func.sum(Payment.minor)).where(Payment.deposit_id == deposit.id, Payment.bounced_on.is_(None))
    )
    back = reading.session.scalar(select(func.sum(Refund.minor)).where(Refund.deposit_id == deposit.id))
    return deposit.minor - int(used or 0) - int(back or 0)


def give_back_deposit(writing: Writing, deposit: Payment, minor: int, method: str) -> int:
    """Give a deposit back to the player, or what is left of it; give the id of its receipt."""
    number = writing.number("refund")
    entry = writing.book(
        [Amount("deposits", minor, deposit.person_id), Amount("bank", -minor)], f"{deposit.number} {number}"
    )
    refund = writing.add(
        Refund(
            number=number,
            person_id=deposit.person_id,
            deposit_id=deposit.id,
            method=method,
            minor=minor,
            paid_on=writing.on,
            reference="",
            entry_id=entry,
        )
    )
    return refund_paper(writing, refund)


def bounce(writing: Writing, deposit: Payment) -> None:
    """Undo a deposit and its clearing: it came back."""
    source = f"{deposit.number} bounced"
    if deposit.cleared_entry_id is not None:
        writing.reverse(deposit.cleared_entry_id, source)
    writing.reverse(deposit.entry_id, source)
    deposit.bounced_on, deposit.cleared_on = writing.on, None
    writing.session.flush()


@dataclass(frozen=True, slots=True)
class HeldFor:
    """What a deposit was held for: a stay's instrument, by a hold or by a line of a trial."""

    instrument_id: int
    stay_id: int
    hold_id: int | None = None
    trial_line_id: int | None = None
    trial_id: int | None = None


def forfeit(
    writing: Writing, held: HeldFor, deposit: Payment, left: int, why: str
) -> tuple[int, tuple[int, ...]]:
    """Share a forfeited deposit as the agreement says; give what of it was shared, and the note of it."""
    agreement = live_agreement(writing, held.stay_id)
    shop = shop_person(writing)
    every = owners_now(writing, held.instrument_id)
    owners = [share for share in every if share.person_id != shop]
    if agreement is None and owners:
        raise Refused(N_("Nothing is agreed about a forfeited deposit. Give it back."), field="deposit")
    terms = newest_terms(writing, agreement.id) if agreement else None
    to_owner = (terms.deposit_to_owner or Fraction(0)) if terms else Fraction(0)
    to_shop = (terms.deposit_to_shop or Fraction(0)) if terms else Fraction(1)
    if not to_owner and not to_shop:
        raise Refused(
            N_("The agreement doesn't say that a deposit is forfeited: it goes back."), field="deposit"
        )
    owners_part, shop_part, back = share_out(left, [to_owner, to_shop, 1 - to_owner - to_shop])
    parts = share_out(owners_part, [share.share for share in every])
    shares = [part for share, part in zip(every, parts, strict=True) if share.person_id != shop]
    # The shop as part owner: its part is its own, and no payout.
    owners_part, shop_part = sum(shares), left - back - sum(shares)
    if not owners_part + shop_part:
        return 0, ()
    amounts = [
        Amount("deposits", owners_part + shop_part, deposit.person_id),
        Amount("forfeits", -shop_part),
        Amount("bank_owners", owners_part),
        Amount("bank", -owners_part),
        *(
            Amount("owners_held", -minor, share.person_id)
            for share, minor in zip(owners, shares, strict=True)
        ),
    ]
    entry = writing.book(amounts, f"{deposit.number} forfeited")
    if owners_part:
        settlement = writing.add(
            Settlement(
                number=writing.number("settlement"),
                hold_id=held.hold_id,
                trial_line_id=held.trial_line_id,
                settled_on=writing.on,
                entry_id=entry,
            )
        )
        for share, minor in zip(owners, shares, strict=True):
            writing.add(
                SettlementShare(
                    settlement_id=settlement.id, person_id=share.person_id, minor=minor, set_off=0
                )
            )
    # The forfeited part is no longer the player's: a set-off without a sale.
    forfeited = record_payment(
        writing,
        Payment(
            person_id=deposit.person_id,
            deposit_id=deposit.id,
            method="deposit",
            minor=owners_part + shop_part,
            received_on=writing.on,
            cleared_on=writing.on,
            reference="forfeited",
            entry_id=entry,
            cleared_entry_id=entry,
        ),
        {},
    )
    from shopledger.queries.facts.forfeit_note import forfeit_note_facts

    facts = forfeit_note_facts(
        writing, forfeited, held.stay_id, left - forfeited.minor, why, writing.number("forfeit"), writing.on
    )
    paper = leave_paper(
        writing,
        "forfeit_note",
        facts,
        instrument_id=held.instrument_id,
        person_id=deposit.person_id,
        trial_id=held.trial_id,
    )
    return forfeited.minor, (paper,)


def end_hold_of(writing: Writing, now: HoldNow | None, buyer_id: int, sale: Sale) -> None:
    """End the hold on what is sold, where there is one."""
    if now is not None:
        hold = writing.session.get_one(Hold, now.id)
        hold.ended_on = writing.on
        hold.ending = sale.number if now.person_id == buyer_id else f"over; {sale.number}"
        writing.session.flush()


def refuse_deposit_held(reading: Reading, stay_id: int, buyer_id: int) -> None:
    """Refuse to sell while a deposit can't be dealt with: the buyer's has not cleared, or another's is still held.

    Raises: Refused, with what to do.
    """
    now = hold_in_force(reading, stay_id)
    for deposit in deposits_of(reading, now.id) if now is not None else ():
        left = left_of(reading, deposit)
        if left and now is not None and now.person_id != buyer_id:
            raise Refused(
                N_("{left} of {player}'s deposit is still held. End the hold first."),
                left=reading.money(left),
                player=now.name,
            )
        if left and deposit.cleared_on is None:
            raise Refused(
                N_("The deposit {number} has not cleared. Record that it cleared or came back first."),
                number=deposit.number,
            )


def set_off_deposits(writing: Writing, sale: Sale) -> list[int]:
    """Set the buyer's cleared deposits for what is sold off against the invoice, and give back what is above it."""
    deposits = writing.session.scalars(_BUYERS_DEPOSITS, {"sale": sale.id, "buyer": sale.buyer_id}).all()
    return set_off(writing, sale, deposits)


def set_off(
    writing: Writing, sale: Sale, deposits: Sequence[Payment], *, keep_rest: bool = False
) -> list[int]:
    """Set cleared deposits of the buyer off against an invoice, and give back what is above it; give the receipts.

    `keep_rest` leaves what is above it held, for what else it was paid for.
    """
    papers: list[int] = []
    for deposit in deposits:
        lines = sale_money(writing, sale.id).lines
        left = left_of(writing, deposit)
        minor = min(left, sum(max(0, line.owes.minor) for line in lines))
        if left > minor and not keep_rest:
            papers.append(give_back_deposit(writing, deposit, left - minor, deposit.method))
        if minor <= 0:
            continue
        shares = falls_on(lines, minor)
        owners_part = for_owners(writing, shares)
        entry = writing.book(
            [
                Amount("deposits", minor, deposit.person_id),
                Amount("buyers", -minor, sale.buyer_id),
                Amount("bank_owners", owners_part),
                Amount("bank", -owners_part),
            ],
            f"{sale.number} deposit {deposit.number}",
        )
        record_payment(
            writing,
            Payment(
                person_id=sale.buyer_id,
                sale_id=sale.id,
                deposit_id=deposit.id,
                method="deposit",
                minor=minor,
                received_on=writing.on,
                cleared_on=writing.on,
                reference=deposit.number,
                entry_id=entry,
                cleared_entry_id=entry,
            ),
            shares,
        )
    return papers
