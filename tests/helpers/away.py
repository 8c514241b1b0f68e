"""Things placed with another dealer or sent, in the shop in which acts are tried."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Outcome
from shopledger.acts.shipping_ready import SendRow
from shopledger.model import Custody, Placing, Stay
from tests.helpers.shops import TriedShop, eur


def may_go(shop: TriedShop, asking: str = "10000.00", **terms: Any) -> int:
    """Consign a cello that may go to another dealer."""
    return shop.consigned(asking, **{"dealers_allowed": True, **terms})


def placing(shop: TriedShop, instrument: int, *, days: int = 60, **given: Any) -> Outcome:
    """Place an instrument with the dealer; give what that leaves."""
    values = {
        "dealer_id": shop.dealer,
        "until": shop.today + timedelta(days=days),
        "value": eur("9000.00"),
        **given,
    }
    return shop.act("place_with_dealer", instrument_id=instrument, placing=values)


def sending(
    shop: TriedShop, why: str, to: int, *instruments: int, unpaid: bool = False, **given: Any
) -> Outcome:
    """Hand instruments to a carrier, each at 9,000.00; give what that leaves."""
    return shop.act(
        "send",
        shipment={"why": why, "to_id": to, "carrier": "Tideway Parcels", **given},
        lines=tuple(SendRow(instrument_id=one, value=eur("9000.00")) for one in instruments),
        unpaid=unpaid,
    )


def now(shop: TriedShop, instrument: int) -> Custody:
    """Give the newest row of custody of an instrument."""
    with shop.ledger.read() as reading:
        found = reading.session.scalars(
            select(Custody)
            .join(Stay, Stay.id == Custody.stay_id)
            .where(Stay.instrument_id == instrument)
            .order_by(Custody.id.desc())
            .limit(1)
        ).one()
        reading.session.expunge(found)
        return found


def endings(shop: TriedShop) -> list[tuple[str, str | None]]:
    """Give number and ending of every placing."""
    with shop.ledger.read() as reading:
        rows = reading.session.execute(select(Placing.number, Placing.ending).order_by(Placing.id))
        return [(number, ending) for number, ending in rows]


def offered(shop: TriedShop, instrument: int) -> set[str]:
    """Give the names of the acts that are offered at an instrument now."""
    from shopledger.acts import next_acts
    from shopledger.queries.shapes import Subject

    with shop.ledger.read() as reading:
        return {one.name for one in next_acts(reading, Subject.INSTRUMENT, instrument)}
