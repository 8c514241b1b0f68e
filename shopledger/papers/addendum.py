"""The addendum: what changes in an agreement, from which day, before and after."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import OwnerFacts, PaperFacts, WorkingLine
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """A term that changes: its name and its words before and after ("" where there were none)."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AddendumFacts(PaperFacts):
    """What an addendum states.

    Shape:  `act` is "change", "renewal", "end" or "owner" (change of owner); `nth` counts the addenda of the agreement from 1;
            `example` reckons a sale at the asking price under the new terms (empty where they do not touch money).
    """

    agreement_number: str
    agreement_on: date
    nth: int
    act: str = "change"
    effective_on: date
    owners: tuple[OwnerFacts, ...]
    new_owners: tuple[OwnerFacts, ...] = ()
    instrument_number: str
    instrument_name: str
    changes: tuple[ChangeLine, ...]
    reason: str = ""
    example: tuple[WorkingLine, ...] = ()
    example_net: Money | None = None
    signed_on: date | None = None
