"""What a placing states: what is left with which dealer until when, whose it is, and on what terms."""

from __future__ import annotations

from datetime import date

from shopledger.model import Placing, Stay, field_of
from shopledger.papers.placing import PlacingFacts
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import head, lines_of, party_facts
from shopledger.queries.standing import last_agreement
from shopledger.store.unit import Reading


def placing_facts(
    reading: Reading, placing_id: int, number: str, on: date, *, until_before: date | None = None
) -> PlacingFacts:
    """Give what a placing states; `until_before` is the day agreed before, where it was extended."""
    placing = reading.session.get_one(Placing, placing_id)
    stay = reading.session.get_one(Stay, placing.stay_id)
    agreed = last_agreement(reading, stay.id)
    return PlacingFacts(
        **head(reading, number, on),
        placing_number=placing.number,
        dealer=party_facts(reading, placing.dealer_id),
        since=placing.since,
        until=placing.until,
        until_before=until_before,
        thing=thing_facts(instrument_named(reading, stay.instrument_id)),
        agreement_number=agreed.number if agreed is not None and agreed.in_force else "",
        asking=None if placing.asking is None else reading.money(placing.asking),
        dealer_rate=placing.dealer_rate,
        value=reading.money(placing.value),
        risk=_(field_of(Placing.risk).choice_word(placing.risk)),
        insured_by=_(field_of(Placing.insured_by).choice_word(placing.insured_by)),
        terms=lines_of(placing.terms),
    )
