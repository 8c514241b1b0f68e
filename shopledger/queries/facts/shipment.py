"""What a packing list states: what was sent to whom with which carrier, at which values, and why."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Custody, Placing, Sale, Shipment, ShipmentLine, Stay, Trial, field_of
from shopledger.papers.parts import CautionFacts
from shopledger.papers.shipment import SentFacts, ShipmentFacts
from shopledger.quantities.money import total
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import head, lines_of, party_facts
from shopledger.store.unit import Reading


def shipment_facts(
    reading: Reading, shipment_id: int, on: date, *, materials: tuple[str, ...] = ()
) -> ShipmentFacts:
    """Give what the packing list of a shipment states; `materials` are the cautions of a border."""
    shipment = reading.session.get_one(Shipment, shipment_id)
    rows = reading.session.execute(
        select(Stay, ShipmentLine.value)
        .join(Stay, Stay.id == ShipmentLine.stay_id)
        .where(ShipmentLine.shipment_id == shipment_id)
        .order_by(ShipmentLine.id)
    ).all()
    lines = tuple(
        SentFacts(
            n=n,
            thing=thing_facts(instrument_named(reading, stay.instrument_id)),
            comes_with=lines_of(stay.came_with),
            value=None if value is None else reading.money(value),
        )
        for n, (stay, value) in enumerate(rows, 1)
    )
    stated = [line.value for line in lines if line.value is not None]
    return ShipmentFacts(
        **head(reading, shipment.number, on),
        to=party_facts(reading, shipment.to_id),
        to_place=lines_of(shipment.to_place),
        sent_on=shipment.sent_on,
        why=_(field_of(Shipment.why).choice_word(shipment.why)),
        reference=_reference(reading, shipment),
        carrier=shipment.carrier,
        tracking=shipment.tracking,
        goes_to=shipment.goes_to,
        lines=lines,
        whole=total(stated, reading.currency) if len(stated) == len(lines) else None,
        insured_for=None if shipment.insured_for is None else reading.money(shipment.insured_for),
        insured_by=_(field_of(Shipment.insured_by).choice_word(shipment.insured_by)),
        risk=_(field_of(Shipment.risk).choice_word(shipment.risk)),
        cautions=CautionFacts(materials=materials),
    )


def _reference(reading: Reading, shipment: Shipment) -> str:
    """Give the number of the sale, the trial or the placing that a shipment is about."""
    if shipment.sale_id is not None:
        return reading.session.get_one(Sale, shipment.sale_id).number
    if shipment.trial_id is not None:
        return reading.session.get_one(Trial, shipment.trial_id).number
    placing = reading.session.scalar(
        select(Placing.number)
        .join(Custody, Custody.placing_id == Placing.id)
        .where(Custody.shipment_id == shipment.id)
        .limit(1)
    )
    return placing or ""
