"""Holding for a player until a day, with a deposit that is theirs until it is set off, given back or forfeited."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sqlalchemy import func, select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.owning import owners_now, shop_person
from shopledger.acts.paying import (
    above_zero,
    clear,
    falls_on,
    for_owners,
    receipt,
    record_payment,
    refund_paper,
)
from shopledger.acts.people import person_of
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import live_agreement, newest_terms, refuse_sold
from shopledger.model import Hold, Payment, Refund, Sale, SaleLine, Settlement, SettlementShare
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money, share_out
from shopledger.quantities.words import N_
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import hold_in_force, last_stay
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})
DEPOSIT_ENDS = (
    ("give_back", N_("given back to the player")),
    ("forfeit", N_("forfeited, shared as agreed")),
)


@dataclass(frozen=True, kw_only=True)
class HoldFor(Form):
    """Keep an instrument for a player."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    person_id: int = ask(Field(N_("For"), Kind.PERSON, required=True))
    until: date = ask(Field(N_("Until"), Kind.DAY, required=True))
    deposit: Money | None = ask(Field(N_("Deposit"), Kind.MONEY))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")
    cleared: bool = ask(Field(N_("Cleared already"), Kind.YES_NO))


@dataclass(frozen=True, kw_only=True)
class EndHold(Form):
    """Keep it no longer."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    why: str = ask(Field(N_("Why")), default="")
    deposit: str = ask(Field(N_("The deposit is"), Kind.CHOICE, choices=DEPOSIT_ENDS), default="give_back")
    method: str = ask(Field(N_("Given back by"), Kind.CHOICE, choices=PAID_BY), default="transfer")


def run_hold(writing: Writing, form: HoldFor) -> Outcome:
    """Keep an instrument for a player until a day; a deposit is owed to them."""
    refuse_hold(writing, form.instrument_id)
    stay = need_open_stay(writing, form.instrument_id)
    person_of(writing, form.person_id, "person_id")
    if form.until < writing.on:
        raise Typed(N_("A hold can't end before it begins on {day}."), field="until", day=writing.on)
    hold = writing.add(
        Hold(stay_id=stay.id, person_id=form.person_id, since=writing.on, until=form.until, ending="")
    )
    papers: tuple[int, ...] = ()
    if form.deposit is not None:
        minor = above_zero(form.deposit, writing.currency, "deposit")
        entry = writing.book(
            [Amount("in_transit", minor), Amount("deposits", -minor, form.person_id)],
            f"{stay.number} deposit",
        )
        payment = record_payment(
            writing,
            Payment(
                person_id=form.person_id,
                hold_id=hold.id,
                method=form.method,
                minor=minor,
                received_on=writing.on,
                reference=form.reference,
                entry_id=entry,
            ),
            {},
        )
        if form.cleared:
            clear(writing, payment)
        papers = (receipt(writing, payment),)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, papers)


def _hold_of(reading: Reading, instrument_id: int) -> Hold:
    # Also of what was lost meanwhile: the player's deposit has to find its way back.
    stay = last_stay(reading, instrument_id)
    now = hold_in_force(reading, stay.id) if stay is not None else None
    if now is None:
        raise Refused(N_("It is not on hold."))
    return reading.session.get_one(Hold, now.id)


def deposits_of(reading: Reading, hold_id: int) -> Sequence[Payment]:
    """Give the deposits paid with a hold that did not bounce."""
    return reading.session.scalars(
        select(Payment).where(Payment.hold_id == hold_id, Payment.bounced_on.is_(None)).order_by(Payment.id)
    ).all()


def left_of(reading: Reading, deposit: Payment) -> int:
    """Give what of one deposit is still held: neither set off nor given back."""
    used = reading.session.scalar(
        select(func.sum(Payment.minor)).where(Payment.deposit_id == deposit.id, Payment.bounced_on.is_(None))
    )
    back = reading.session.scalar(select(func.sum(Refund.minor)).where(Refund.deposit_id == deposit.id))
    return deposit.minor - int(used or 0) - int(back or 0)


def run_end_hold(writing: Writing, form: EndHold) -> Outcome:
    """End a hold; its deposit is given back, or forfeited and shared as the agreement says."""
    hold = _hold_of(writing, form.instrument_id)
    papers: list[int] = []
    for deposit in deposits_of(writing, hold.id):
        left = left_of(writing, deposit)
        if not left:
            continue
        if deposit.cleared_on is None:
            raise Refused(
                N_("The deposit {number} has not cleared. Record that it cleared or came back first."),
                number=deposit.number,
            )
        if form.deposit == "forfeit":
            left -= _forfeit(writing, form.instrument_id, hold, deposit, left)
        if left:
            papers.append(_give_back(writing, deposit, left, form.method))
    hold.ended_on, hold.ending = writing.on, form.why
    writing.session.flush()
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, tuple(papers))


def _give_back(writing: Writing, deposit: Payment, minor: int, method: str) -> int:
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


def _forfeit(writing: Writing, instrument_id: int, hold: Hold, deposit: Payment, left: int) -> int:
    """Share a forfeited deposit as the agreement says; give what of it was shared."""
    agreement = live_agreement(writing, hold.stay_id)
    shop = shop_person(writing)
    every = owners_now(writing, instrument_id)
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
        return 0
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
                number=writing.number("settlement"), hold_id=hold.id, settled_on=writing.on, entry_id=entry
            )
        )
        for share, minor in zip(owners, shares, strict=True):
            writing.add(
                SettlementShare(
                    settlement_id=settlement.id, person_id=share.person_id, minor=minor, set_off=0
                )
            )
    # The forfeited part is no longer the player's: a set-off without a sale.
    record_payment(
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
    return owners_part + shop_part


def end_hold_of(writing: Writing, stay_id: int, buyer_id: int, sale: Sale) -> None:
    """End the hold on what is sold."""
    now = hold_in_force(writing, stay_id)
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
    papers: list[int] = []
    stays = select(SaleLine.stay_id).where(SaleLine.sale_id == sale.id, SaleLine.stay_id.is_not(None))
    deposits = writing.session.scalars(
        select(Payment)
        .join(Hold, Hold.id == Payment.hold_id)
        .where(
            Hold.stay_id.in_(stays.scalar_subquery()),
            Hold.person_id == sale.buyer_id,
            Payment.cleared_on.is_not(None),
            Payment.bounced_on.is_(None),
        )
        .order_by(Payment.id)
    ).all()
    for deposit in deposits:
        lines = sale_money(writing, sale.id).lines
        left = left_of(writing, deposit)
        minor = min(left, sum(max(0, line.owes.minor) for line in lines))
        if left > minor:
            papers.append(_give_back(writing, deposit, left - minor, deposit.method))
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


def refuse_hold(reading: Reading, instrument_id: int) -> None:
    """Refuse to hold what is not here to sell, is sold, or is on hold."""
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    if stay.reason not in ("to_sell", "own"):
        raise Refused(N_("It is not here to be sold."))
    now = hold_in_force(reading, stay.id)
    if now is not None:
        raise Refused(N_("It is on hold for {player} until {day}."), player=now.name, day=now.until)


def refuse_not_held(reading: Reading, instrument_id: int) -> None:
    """Refuse to end a hold where there is none."""
    _hold_of(reading, instrument_id)


@dataclass(frozen=True, kw_only=True)
class ClearDeposit(Form):
    """The deposit has arrived for good."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))


def _uncleared(reading: Reading, instrument_id: int) -> list[Payment]:
    hold = _hold_of(reading, instrument_id)
    return [deposit for deposit in deposits_of(reading, hold.id) if deposit.cleared_on is None]


def refuse_no_deposit(reading: Reading, instrument_id: int) -> None:
    """Refuse to clear where no deposit waits."""
    if not _uncleared(reading, instrument_id):
        raise Refused(N_("No deposit waits to clear."))


def run_clear_deposit(writing: Writing, form: ClearDeposit) -> Outcome:
    """Record that the deposits of a hold cleared."""
    refuse_no_deposit(writing, form.instrument_id)
    for deposit in _uncleared(writing, form.instrument_id):
        clear(writing, deposit)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED)


@dataclass(frozen=True, kw_only=True)
class BounceDeposit(Form):
    """The deposit came back."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))


def _whole(reading: Reading, instrument_id: int) -> list[Payment]:
    hold = _hold_of(reading, instrument_id)
    return [
        deposit for deposit in deposits_of(reading, hold.id) if left_of(reading, deposit) == deposit.minor
    ]


def refuse_no_bounce(reading: Reading, instrument_id: int) -> None:
    """Refuse to record a deposit as come back where none is held."""
    if not _whole(reading, instrument_id):
        raise Refused(N_("There is no deposit that could come back."))


def run_bounce_deposit(writing: Writing, form: BounceDeposit) -> Outcome:
    """Undo the deposits of a hold and their clearing; the hold stands until it is ended."""
    refuse_no_bounce(writing, form.instrument_id)
    for deposit in _whole(writing, form.instrument_id):
        source = f"{deposit.number} bounced"
        if deposit.cleared_entry_id is not None:
            writing.reverse(deposit.cleared_entry_id, source)
        writing.reverse(deposit.entry_id, source)
        deposit.bounced_on, deposit.cleared_on = writing.on, None
    writing.session.flush()
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED)


HOLD = Act(
    name="hold",
    text=N_("Hold for a player"),
    subject=Subject.INSTRUMENT,
    form=HoldFor,
    run=run_hold,
    subject_input="instrument_id",
    allowed=refuse_hold,
    opposite="end_hold",
)
END_HOLD = Act(
    name="end_hold",
    text=N_("End the hold"),
    subject=Subject.INSTRUMENT,
    form=EndHold,
    run=run_end_hold,
    subject_input="instrument_id",
    allowed=refuse_not_held,
)
CLEAR_DEPOSIT = Act(
    name="clear_deposit",
    text=N_("Record the deposit as cleared"),
    subject=Subject.INSTRUMENT,
    form=ClearDeposit,
    run=run_clear_deposit,
    subject_input="instrument_id",
    allowed=refuse_no_deposit,
)
BOUNCE_DEPOSIT = Act(
    name="bounce_deposit",
    text=N_("The deposit came back"),
    subject=Subject.INSTRUMENT,
    form=BounceDeposit,
    run=run_bounce_deposit,
    subject_input="instrument_id",
    allowed=refuse_no_bounce,
)
ACTS = (HOLD, END_HOLD, CLEAR_DEPOSIT, BOUNCE_DEPOSIT)
