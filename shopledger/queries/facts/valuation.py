"""What a valuation states: which instrument, what it was said to be worth, by whom, for what, on what basis."""

from __future__ import annotations

from datetime import date

from shopledger.model import Stay, Valuation, field_of
from shopledger.model.stays import OFFERED
from shopledger.papers.valuation import ValuationFacts
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_facts
from shopledger.queries.facts.parties import head, lines_of, party_facts
from shopledger.queries.standing import open_stay
from shopledger.store.unit import Reading


def valuation_facts(reading: Reading, valuation_id: int, on: date) -> ValuationFacts:
    """Give what a valuation states."""
    one = reading.session.get_one(Valuation, valuation_id)
    here = open_stay(reading, one.instrument_id)
    stay = None if here is None else reading.session.get_one(Stay, here.id)
    return ValuationFacts(
        **head(reading, one.number, on),
        requested_by=None if one.for_id is None else party_facts(reading, one.for_id),
        instrument=instrument_facts(reading, one.instrument_id, stay),
        value=reading.money(one.value),
        purpose=_(field_of(Valuation.purpose).choice_word(one.purpose)),
        valued_by=one.valued_by,
        valued_on=one.valued_on,
        basis=lines_of(one.basis),
        is_appraisal=one.is_appraisal,
        interest=stay.reason if stay is not None and stay.reason in OFFERED else "",
    )
