"""The charge note: what is charged to or put to an owner's account without a sale."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import OwnerFacts, PaperFacts, WorkingLine
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeNoteFacts(PaperFacts):
    """What a charge note states.

    Shape:  `act` is "withdrawal", "storage", "insurance", "valuation", "repair", "private_sale", "forfeited_deposit",
            "loss" or "other"; the counting lines of `lines` add up to `total`: positive is charged to the owner, negative is put to the
            owner's credit; `balance_after` is what is held for the owner after it (negative: the owner owes), None where not said;
            `by_words` quotes the term of the agreement that allows it.
    """

    act: str
    booked_on: date
    owners: tuple[OwnerFacts, ...]
    instrument_number: str = ""
    instrument_name: str = ""
    agreement_number: str = ""
    lines: tuple[WorkingLine, ...]
    total: Money
    by_words: str = ""
    pay_by: date | None = None
    set_off: bool = False
    balance_after: Money | None = None
    notes: tuple[str, ...] = ()
