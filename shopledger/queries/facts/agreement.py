"""What a consignment agreement states: the owners, the instrument, all terms, and a worked example."""

from __future__ import annotations

from datetime import date

from shopledger.model import Stay
from shopledger.papers.agreement import AgreementFacts
from shopledger.queries.facts.filing import caution_facts
from shopledger.queries.facts.instruments import instrument_facts
from shopledger.queries.facts.parties import head, owners_by_terms
from shopledger.queries.facts.terms import signed_on, terms_facts, terms_named, worked_example
from shopledger.store.unit import Reading


def agreement_facts(reading: Reading, terms_id: int, number: str, issued_on: date) -> AgreementFacts:
    """Give what the agreement with these terms states.

    Raises: NotFound: there are no such terms. Refused: they do not allow a sale at their own asking price.
    """
    terms, agreement = terms_named(reading, terms_id)
    stay = reading.session.get_one(Stay, agreement.stay_id)
    example, net = worked_example(reading, terms)
    return AgreementFacts(
        **head(reading, number, issued_on),
        agreed_on=terms.agreed_on,
        owners=owners_by_terms(reading, terms_id),
        instrument=instrument_facts(reading, stay.instrument_id, stay),
        entry_number=stay.number,
        terms=terms_facts(reading, terms, agreement),
        example=example,
        example_net=net,
        cautions=caution_facts(reading, stay, terms),
        signed_on=signed_on(reading, terms_id),
    )
