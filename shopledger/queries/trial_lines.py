"""Trials in a line each, as they stand on the pages of the instruments lent and of the players they were lent to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import Person, Stay, Trial, TrialLine, field_of
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.declared import instrument_words
from shopledger.queries.sheet_shapes import Fact

if TYPE_CHECKING:
    from datetime import date

    from shopledger.store.unit import Reading


def decision_words(reading: Reading, decision: str | None, decided_on: date | None, sold: bool) -> str:
    """Give what was decided of a line and when; nothing of one that isn't decided."""
    if decision is None or decided_on is None:
        return ""
    word = _(field_of(TrialLine.decision).choice_word(decision))
    if decision == "bought" and sold:
        word = _("bought")
    return _("{what} {day}").format(what=word, day=show_day(decided_on, reading.ledger.manners))


def trials_of_instrument(reading: Reading, instrument_id: int) -> tuple[Fact, ...]:
    """Give the trials of an instrument, newest first: with whom, from when until when, how it ended."""
    rows = reading.session.execute(
        select(
            Trial.number,
            Person.name,
            Trial.began_on,
            Trial.due_on,
            TrialLine.decision,
            TrialLine.decided_on,
            TrialLine.sale_id,
        )
        .join(TrialLine, TrialLine.trial_id == Trial.id)
        .join(Stay, Stay.id == TrialLine.stay_id)
        .join(Person, Person.id == Trial.person_id)
        .where(Stay.instrument_id == instrument_id)
        .order_by(Trial.id.desc())
    )
    manners = reading.ledger.manners
    return tuple(
        Fact(
            number,
            name,
            ", ".join(
                part
                for part in (
                    _("{since} to {until}").format(
                        since=show_day(began_on, manners), until=show_day(due_on, manners)
                    ),
                    decision_words(reading, decision, decided_on, sale_id is not None),
                )
                if part
            ),
        )
        for number, name, began_on, due_on, decision, decided_on, sale_id in rows
    )


def trials_of_player(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    """Give what a person has or had on trial, the newest first: until when, and what was decided of it."""
    rows = reading.session.execute(
        select(
            Trial.number,
            Trial.due_on,
            TrialLine.what,
            Stay.instrument_id,
            TrialLine.decision,
            TrialLine.decided_on,
            TrialLine.sale_id,
        )
        .join(TrialLine, TrialLine.trial_id == Trial.id)
        .outerjoin(Stay, Stay.id == TrialLine.stay_id)
        .where(Trial.person_id == person_id)
        .order_by(Trial.id.desc(), TrialLine.n)
    ).all()
    named = instrument_words(reading, [row.instrument_id for row in rows if row.instrument_id is not None])
    manners = reading.ledger.manners
    facts = []
    for number, due_on, what, instrument_id, decision, decided_on, sale_id in rows:
        decided = decision_words(reading, decision, decided_on, sale_id is not None)
        facts.append(
            Fact(
                number,
                what if instrument_id is None else named[instrument_id],
                decided or _("until {day}").format(day=show_day(due_on, manners)),
            )
        )
    return tuple(facts)
