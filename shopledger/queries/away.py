"""What is elsewhere: the dealer an instrument is placed with, and the shipment that has not arrived yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import bindparam, select

from shopledger.model import Custody, Person, Placing, Shipment
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

_PLACED = (
    select(Placing.id, Placing.number, Placing.dealer_id, Person.name, Placing.until)
    .join(Person, Person.id == Placing.dealer_id)
    .where(Placing.stay_id == bindparam("stay"), Placing.ended_on.is_(None))
)
_NEWEST = select(Custody).where(Custody.stay_id == bindparam("stay")).order_by(Custody.id.desc()).limit(1)


@dataclass(frozen=True, slots=True)
class Placed:
    """A placing that goes on: with which dealer and until when."""

    id: int
    number: str
    dealer_id: int
    dealer: str
    until: date


def placed(reading: Reading, stay_id: int) -> Placed | None:
    """Give the placing of a stay that goes on; None where it isn't with another dealer to be sold."""
    found = reading.once(("placed", stay_id), lambda: reading.rows(_PLACED, {"stay": stay_id}).first())
    return None if found is None else Placed(*found)


def custody_now(reading: Reading, stay_id: int) -> Custody | None:
    """Give the newest row of custody of a stay, which says where it is."""
    return reading.session.scalars(_NEWEST, {"stay": stay_id}).first()


def underway(reading: Reading, stay_id: int) -> Shipment | None:
    """Give the shipment by which a stay is underway; None where it isn't, or has arrived."""
    now = custody_now(reading, stay_id)
    if now is None or now.shipment_id is None:
        return None
    shipment = reading.session.get_one(Shipment, now.shipment_id)
    return None if shipment.arrived_on is not None else shipment


def refuse_placed(reading: Reading, stay_id: int, instrument: str) -> None:
    """Refuse what can't be done with an instrument that is with another dealer; `instrument` is its number.

    Raises: Refused, with whom it is.
    """
    one = placed(reading, stay_id)
    if one is not None:
        raise Refused(
            N_("{instrument} is with {dealer} to be sold ({placing}). Record that it came back first."),
            instrument=instrument,
            dealer=one.dealer,
            placing=one.number,
        )


def refuse_underway(reading: Reading, stay_id: int, instrument: str) -> None:
    """Refuse what can't be done with an instrument that is with a carrier; `instrument` is its number.

    Raises: Refused, with which shipment.
    """
    shipment = underway(reading, stay_id)
    if shipment is not None:
        raise Refused(
            N_("{instrument} is underway with {carrier} ({shipment}). Record how it arrived first."),
            instrument=instrument,
            carrier=shipment.carrier,
            shipment=shipment.number,
        )
