"""Holding for a player until a day, with a deposit that is theirs until it is set off, given back or forfeited."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.deposits import (
    HeldFor,
    bounce,
    deposits_of,
    forfeit,
    give_back_deposit,
    left_of,
    take_deposit,
)
from shopledger.acts.paying import clear
from shopledger.acts.people import person_of
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import refuse_sold
from shopledger.model import Hold, Payment
from shopledger.model.money import PAID_BY
from shopledger.model.stays import OFFERED
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import hold_in_force, last_stay
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
        paper = take_deposit(
            writing,
            form.person_id,
            stay.number,
            form.deposit,
            form.method,
            reference=form.reference,
            cleared=form.cleared,
            hold_id=hold.id,
        )
        papers = (paper,)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, papers)


def _hold_of(reading: Reading, instrument_id: int) -> Hold:
    # Also of what was lost meanwhile: the player's deposit has to find its way back.
    stay = last_stay(reading, instrument_id)
    now = hold_in_force(reading, stay.id) if stay is not None else None
    if now is None:
        raise Refused(N_("It is not on hold."))
    return reading.session.get_one(Hold, now.id)


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
            held = HeldFor(form.instrument_id, hold.stay_id, hold_id=hold.id)
            shared, notes = forfeit(writing, held, deposit, left, form.why)
            left -= shared
            papers += notes
        if left:
            papers.append(give_back_deposit(writing, deposit, left, form.method))
    hold.ended_on, hold.ending = writing.on, form.why
    writing.session.flush()
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, tuple(papers))


def refuse_hold(reading: Reading, instrument_id: int) -> None:
    """Refuse to hold what is not here to sell, is sold, or is on hold."""
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    if stay.reason not in OFFERED:
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
        bounce(writing, deposit)
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
    papers=("payment_receipt",),
)
END_HOLD = Act(
    name="end_hold",
    text=N_("End the hold"),
    subject=Subject.INSTRUMENT,
    form=EndHold,
    run=run_end_hold,
    subject_input="instrument_id",
    allowed=refuse_not_held,
    papers=("refund_receipt", "forfeit_note"),
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
ACTS = (
    HOLD,
    END_HOLD,
    CLEAR_DEPOSIT,
    BOUNCE_DEPOSIT,
)
