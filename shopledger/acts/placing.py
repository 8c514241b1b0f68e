"""Placing with another dealer: it goes there to be sold until a day, longer if agreed, and comes back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of
from shopledger.acts.papers import further_number, leave_paper
from shopledger.acts.people import person_of
from shopledger.acts.placing_ends import end_placing
from shopledger.acts.placing_ready import PlaceWithDealer, check_until, placeable, ready_to_place
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import is_signed, live_agreement, newest_terms
from shopledger.model import Placing, Stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.away import custody_now, placed, refuse_underway
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import asking_price
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON})


@dataclass(frozen=True, kw_only=True)
class ExtendPlacing(Form):
    """It stays with the dealer until a later day."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    until: date = ask(Field(N_("Until"), Kind.DAY, required=True))


@dataclass(frozen=True, kw_only=True)
class CameBack(Form):
    """It came back from where it was."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    words: str = ask(Field(N_("Note"), help=N_("How it came, and what is seen of it.")), default="")


def run_place(writing: Writing, form: PlaceWithDealer) -> Outcome:
    """Place an instrument with another dealer: who bears risk and who insures it follow from the placing."""
    placing, _agreement, _terms = ready_to_place(writing, form)
    placing.number = writing.number("placing")
    writing.add(placing)
    to_dealer(writing, placing)
    return Outcome(
        Subject.INSTRUMENT, form.instrument_id, CHANGED, (_paper(writing, placing, placing.number),)
    )


def to_dealer(writing: Writing, placing: Placing) -> None:
    """Say that a placed instrument is with its dealer."""
    move(
        writing,
        placing.stay_id,
        "away",
        holder="dealer",
        person_id=placing.dealer_id,
        words=placing.number,
        risk=placing.risk,
        insured_by=placing.insured_by,
        insured_for=placing.value,
        placing_id=placing.id,
    )


def _paper(writing: Writing, placing: Placing, number: str, until_before: date | None = None) -> int:
    from shopledger.queries.facts.placing import placing_facts

    facts = placing_facts(writing, placing.id, number, writing.on, until_before=until_before)
    stay = writing.session.get_one(Stay, placing.stay_id)
    return leave_paper(
        writing, "placing", facts, instrument_id=stay.instrument_id, person_id=placing.dealer_id
    )


def preview_place(reading: Reading, form: PlaceWithDealer) -> Preview:
    """Give where it goes until when, and what the owner's agreement says of it."""
    placing, agreement, terms = ready_to_place(reading, form)
    manners = reading.ledger.manners
    title = _("With {dealer} until {day}").format(
        dealer=person_of(reading, placing.dealer_id).name, day=show_day(placing.until, manners)
    )
    lines = [Line(_("Value"), "", reading.money(placing.value))]
    if agreement is not None:
        lines.append(Line(_("The owner agreed to it"), agreement.number))
    warnings = []
    if placing.insured_by == "nobody":
        warnings.append(_("Nobody insures it while it is there."))
    if agreement is not None and terms is not None and not is_signed(reading, terms.id):
        warnings.append(
            _("The consignment agreement {number} is not signed yet.").format(number=agreement.number)
        )
    return Preview(title, tuple(lines), tuple(warnings))


def prefill_place(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give its value and its asking price."""
    stay, _agreement, terms = placeable(reading, instrument_id)
    asking = asking_price(reading, stay.id)
    agreed = terms.agreed_value if terms is not None else None
    value = agreed if agreed is not None else stay.insured_value
    return {
        "placing": {
            "value": asking if value is None else reading.money(value),
            "asking": asking,
        }
    }


def refuse_not_placeable(reading: Reading, instrument_id: int) -> None:
    """Refuse to place what may not go to another dealer."""
    placeable(reading, instrument_id)


def _going(reading: Reading, instrument_id: int) -> Placing:
    """Give the placing that goes on of an instrument.

    Raises: NotFound, Refused: it is not placed.
    """
    stay = need_open_stay(reading, instrument_id)
    there = placed(reading, stay.id)
    if there is None:
        raise Refused(
            N_("{instrument} is not with another dealer."),
            instrument=instrument_of(reading, instrument_id).number,
        )
    return reading.session.get_one(Placing, there.id)


def _extendable(reading: Reading, form: ExtendPlacing) -> Placing:
    placing = _going(reading, form.instrument_id)
    if form.until <= placing.until:
        raise Typed(
            N_("It is agreed until {day} already. A later end is after that."),
            field="until",
            day=placing.until,
        )
    agreement = live_agreement(reading, placing.stay_id)
    terms = None if agreement is None else newest_terms(reading, agreement.id)
    check_until(agreement, terms, form.until, "until")
    return placing


def run_extend(writing: Writing, form: ExtendPlacing) -> Outcome:
    """Agree a later end; the paper states both, and the ledger keeps what was changed."""
    placing = _extendable(writing, form)
    before, placing.until = placing.until, form.until
    writing.session.flush()
    paper = _paper(writing, placing, further_number(writing, placing.number), before)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def preview_extend(reading: Reading, form: ExtendPlacing) -> Preview:
    """Give until when it stays there."""
    placing = _extendable(reading, form)
    manners = reading.ledger.manners
    return Preview(
        placing.number,
        (
            Line(_("Until before"), show_day(placing.until, manners)),
            Line(_("Until"), show_day(form.until, manners), strong=True),
        ),
    )


def refuse_not_placed(reading: Reading, instrument_id: int) -> None:
    """Refuse what is about a placing where none goes on."""
    _going(reading, instrument_id)


def _away(reading: Reading, instrument_id: int) -> Stay:
    """Give the stay of an instrument that is with someone else.

    Raises: NotFound, Refused: it is not away, or with a carrier.
    """
    stay = need_open_stay(reading, instrument_id)
    number = instrument_of(reading, instrument_id).number
    refuse_underway(reading, stay.id, number)
    now = custody_now(reading, stay.id)
    if now is None or now.place != "away":
        raise Refused(N_("{instrument} is not away."), instrument=number)
    return stay


def run_placing_back(writing: Writing, form: CameBack) -> Outcome:
    """Record that it came back; a placing that went on ends by it."""
    stay = _away(writing, form.instrument_id)
    there = placed(writing, stay.id)
    move(writing, stay.id, "here", words=form.words or (there.number if there else ""))
    end_placing(writing, there, "back")
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED)


def refuse_not_away(reading: Reading, instrument_id: int) -> None:
    """Refuse that something came back which is not away."""
    _away(reading, instrument_id)


PLACE_WITH_DEALER = Act(
    name="place_with_dealer",
    text=N_("Place with a dealer"),
    subject=Subject.INSTRUMENT,
    form=PlaceWithDealer,
    run=run_place,
    subject_input="instrument_id",
    allowed=refuse_not_placeable,
    prefill=prefill_place,
    preview=preview_place,
    opposite="placing_back",
    help=N_("The shop's own, or consigned where the agreement allows another dealer."),
    papers=("placing",),
)
EXTEND_PLACING = Act(
    name="extend_placing",
    text=N_("Extend the placing"),
    subject=Subject.INSTRUMENT,
    form=ExtendPlacing,
    run=run_extend,
    subject_input="instrument_id",
    allowed=refuse_not_placed,
    preview=preview_extend,
    papers=("placing",),
)
PLACING_BACK = Act(
    name="placing_back",
    text=N_("It came back"),
    subject=Subject.INSTRUMENT,
    form=CameBack,
    run=run_placing_back,
    subject_input="instrument_id",
    allowed=refuse_not_away,
    help=N_("From another dealer, a workshop, or whomever it was with."),
)
ACTS = (PLACE_WITH_DEALER, EXTEND_PLACING, PLACING_BACK)
