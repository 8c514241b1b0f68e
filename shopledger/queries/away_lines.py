"""Placings and shipments for the pages of an instrument and of a dealer: with whom, until when, and how they ended."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import Person, Placing, Shipment, ShipmentLine, Stay, field_of
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.declared import instrument_words
from shopledger.queries.sheet_shapes import Fact

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def placings_of_instrument(reading: Reading, instrument_id: int) -> tuple[Fact, ...]:
    """Give with which dealers an instrument was placed, newest first."""
    rows = reading.session.execute(
        select(Placing.number, Person.name, Placing.until, Placing.ended_on, Placing.ending)
        .join(Stay, Stay.id == Placing.stay_id)
        .join(Person, Person.id == Placing.dealer_id)
        .where(Stay.instrument_id == instrument_id)
        .order_by(Placing.id.desc())
    )
    return tuple(
        Fact(number, name, _until(reading, until, ended_on, ending))
        for number, name, until, ended_on, ending in rows
    )


def placings_of_dealer(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    """Give what was placed with a dealer, newest first."""
    rows = reading.session.execute(
        select(Placing.number, Stay.instrument_id, Placing.until, Placing.ended_on, Placing.ending)
        .join(Stay, Stay.id == Placing.stay_id)
        .where(Placing.dealer_id == person_id)
        .order_by(Placing.id.desc())
    ).all()
    named = instrument_words(reading, [row.instrument_id for row in rows])
    return tuple(
        Fact(number, named[key], _until(reading, until, ended_on, ending))
        for number, key, until, ended_on, ending in rows
    )


def _until(reading: Reading, until: date, ended_on: date | None, ending: str | None) -> str:
    """Give until when a placing goes on, or how it ended."""
    manners = reading.ledger.manners
    if ended_on is None or ending is None:
        return _("until {day}").format(day=show_day(until, manners))
    how = _(field_of(Placing.ending).choice_word(ending))
    return _("{how} on {day}").format(how=how, day=show_day(ended_on, manners))


def shipments_of_instrument(reading: Reading, instrument_id: int) -> tuple[Fact, ...]:
    """Give how an instrument was sent, newest first: to whom and why, with which carrier, when it arrived."""
    rows = reading.session.execute(
        select(Shipment, Person.name)
        .join(ShipmentLine, ShipmentLine.shipment_id == Shipment.id)
        .join(Stay, Stay.id == ShipmentLine.stay_id)
        .join(Person, Person.id == Shipment.to_id)
        .where(Stay.instrument_id == instrument_id)
        .order_by(Shipment.id.desc())
    )
    manners = reading.ledger.manners
    facts = []
    for sent, name in rows:
        said = [
            _(field_of(Shipment.why).choice_word(sent.why)),
            " ".join(part for part in (sent.carrier, sent.tracking) if part),
            _("sent on {day}").format(day=show_day(sent.sent_on, manners)),
        ]
        if sent.arrived_on is not None:
            said.append(_("arrived on {day}").format(day=show_day(sent.arrived_on, manners)))
        facts.append(Fact(sent.number, name, ", ".join(said)))
    return tuple(facts)
