"""The bill of sale: whose an instrument was and whose it is from a day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import CautionFacts, InstrumentFacts, OwnerFacts, PaperFacts, PartyFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class BillOfSaleFacts(PaperFacts):
    """What a bill of sale states.

    Shape:  `sellers` are the owners, or the shop itself where the instrument is its own; `signed_by` is "owner" or "shop"
            (for the owners, as their agent, unless `own`); `warranties` are sentences the seller answers for.
    """

    invoice_number: str = ""
    agreement_number: str = ""
    sold_on: date
    sellers: tuple[OwnerFacts, ...] = ()
    own: bool = False
    buyer: PartyFacts
    instrument: InstrumentFacts
    price: Money
    signed_by: str = "shop"
    approval_until: date | None = None
    warranties: tuple[str, ...] = ()
    cautions: CautionFacts = CautionFacts()
