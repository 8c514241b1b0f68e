"""The release: an instrument handed over against a signature, with what went with it and in which condition."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import AmountLine, InstrumentFacts, OwnerFacts, PaperFacts, PartyFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseFacts(PaperFacts):
    """What a release to owner states.

    Shape:  `to` is whoever takes it, `owners` whose it is; `authority` is what shows that `to` may take it; `reason` is in the
            reader's words ("the agreement ended"); `open_charges` are still unpaid and add up to `open_total`.
    """

    entry_number: str
    handed_over_on: date
    taken_in_on: date | None = None
    to: PartyFacts
    owners: tuple[OwnerFacts, ...]
    authority: str = ""
    instrument: InstrumentFacts
    agreement_number: str = ""
    reason: str = ""
    by_hand: bool = True
    carrier: str = ""
    open_charges: tuple[AmountLine, ...] = ()
    open_total: Money | None = None
    notes: str = ""
