"""Which cautions an agreement bears: the filing rule on consigned goods, and a maker's own work."""

from __future__ import annotations

from sqlalchemy import select

from shopledger.model import Stay, Terms
from shopledger.papers.parts import CautionFacts
from shopledger.quantities.money import Money
from shopledger.queries.standing import asking_price, owners_by_instrument
from shopledger.rules.filing import filing_says
from shopledger.store.unit import Reading


def caution_facts(reading: Reading, stay: Stay, terms: Terms) -> CautionFacts:
    """Give the cautions that terms for a stay bear."""
    return CautionFacts(
        filing=_filing(reading, stay, terms), makers_own_work=terms.maker_tie in ("maker", "heir")
    )


def _filing(reading: Reading, stay: Stay, terms: Terms) -> str:
    """Say whether the filing rule's conditions may be met by what came in together."""
    values = [_value(reading, one, terms if one.id == stay.id else None) for one in _delivery(reading, stay)]
    return filing_says(terms.goods_use, values, reading.currency, stay.came_in_on)


def _delivery(reading: Reading, stay: Stay) -> tuple[Stay, ...]:
    """Give every stay that came in to be sold with this one: the same day, an owner in common."""
    same_day = reading.session.scalars(
        select(Stay).where(Stay.came_in_on == stay.came_in_on).order_by(Stay.id)
    ).all()
    owners = owners_by_instrument(reading, [one.instrument_id for one in same_day], stay.came_in_on)
    ours = {party.person_id for party in owners.get(stay.instrument_id, ())}
    return tuple(
        one
        for one in same_day
        if one.id == stay.id
        or (
            one.reason == "to_sell"
            and not ours.isdisjoint(party.person_id for party in owners.get(one.instrument_id, ()))
        )
    )


def _value(reading: Reading, stay: Stay, terms: Terms | None) -> Money | None:
    """Give the larger of the value to insure and the asking price, since neither is a value at delivery for sure."""
    asking = asking_price(reading, stay.id) if terms is None else reading.money(terms.asking)
    insured = None if stay.insured_value is None else reading.money(stay.insured_value)
    return max((value for value in (asking, insured) if value is not None), default=None)
