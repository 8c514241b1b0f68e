"""The consignment agreement: who leaves what with the shop, on which terms, in plain words, with a worked example."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import (
    CautionFacts,
    InstrumentFacts,
    OwnerFacts,
    PaperFacts,
    TermsFacts,
    WorkingLine,
)
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class AgreementFacts(PaperFacts):
    """What a consignment agreement states.

    Shape:  `example` reckons a sale at the asking price, `example_net` being the sum of its counting lines;
            `signed_on` is None while it is not signed; `entry_number` is that of taking in; `renews` is the number of the agreement that
            this one renews.
    """

    agreed_on: date
    owners: tuple[OwnerFacts, ...]
    instrument: InstrumentFacts
    entry_number: str = ""
    renews: str = ""
    terms: TermsFacts
    example: tuple[WorkingLine, ...]
    example_net: Money
    cautions: CautionFacts = CautionFacts()
    signed_on: date | None = None
