"""What is elsewhere and waits: instruments with another dealer past their day or near it, and what has not arrived."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import Custody, Person, Placing, Shipment, ShipmentLine, Stay
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import instrument_words
from shopledger.queries.due_lines import DueLine, Section, first_rows, tone_of
from shopledger.queries.instrument_standing import days_until
from shopledger.queries.shapes import Subject, Tone

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

PLACING_DAYS, UNDERWAY_DAYS = 7, 7
"""How many days before its end a placing is told of; how long something may be underway."""


def placings_due(reading: Reading, today: date) -> Section:
    """Give what is with another dealer past the day agreed or near it, the longest over first."""
    rows, count = first_rows(
        reading,
        select(Stay.instrument_id, Placing.number, Placing.until, Person.name)
        .join(Stay, Stay.id == Placing.stay_id)
        .join(Person, Person.id == Placing.dealer_id)
        .where(Placing.ended_on.is_(None), Placing.until <= today + timedelta(days=PLACING_DAYS))
        .order_by(Placing.until, Placing.id),
    )
    named = instrument_words(reading, [row.instrument_id for row in rows])
    lines = tuple(
        DueLine(
            Subject.INSTRUMENT,
            row.instrument_id,
            named[row.instrument_id],
            _("with {dealer} to be sold ({placing}), {left}").format(
                dealer=row.name, placing=row.number, left=days_until(row.until, today)
            ),
            row.until,
            tone_of(row.until, today),
            ("placing_back", "arrived"),
        )
        for row in rows
    )
    return Section("placings", N_("With other dealers, over and due"), lines, count, "stock", "stock", "away")


def not_arrived(reading: Reading, today: date) -> Section:
    """Give what has been with a carrier for a week and more, the longest first."""
    newest = select(func.max(Custody.id)).where(Custody.stay_id == Stay.id).correlate(Stay).scalar_subquery()
    rows, count = first_rows(
        reading,
        select(Stay.instrument_id, Shipment.number, Shipment.carrier, Shipment.sent_on, Person.name)
        .join(ShipmentLine, ShipmentLine.shipment_id == Shipment.id)
        .join(Stay, Stay.id == ShipmentLine.stay_id)
        .join(Custody, Custody.id == newest)
        .join(Person, Person.id == Shipment.to_id)
        .where(
            Shipment.arrived_on.is_(None),
            Shipment.sent_on <= today - timedelta(days=UNDERWAY_DAYS),
            # What was lost on the way, or taken back from a trial meanwhile, is no longer underway.
            Custody.shipment_id == Shipment.id,
        )
        .order_by(Shipment.sent_on, ShipmentLine.id),
    )
    named = instrument_words(reading, [row.instrument_id for row in rows])
    lines = tuple(
        DueLine(
            Subject.INSTRUMENT,
            row.instrument_id,
            named[row.instrument_id],
            _("to {name} with {carrier} ({shipment}) for {n} days").format(
                name=row.name, carrier=row.carrier, shipment=row.number, n=(today - row.sent_on).days
            ),
            row.sent_on,
            Tone.LATE,
            ("arrived",),
        )
        for row in rows
    )
    return Section("underway", N_("Sent and not arrived"), lines, count, "stock", "stock", "away")
