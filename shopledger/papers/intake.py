"""The receipt of intake: what was left with the shop, by whom, in which condition, and at what value it is insured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import CautionFacts, InstrumentFacts, OwnerFacts, PaperFacts, PartyFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleFacts:
    """What was seen and said about whose it is.

    Shape:  `identity_seen` names the document ("passport", never its number); `authority` is that of an heir or agent and what
            shows it; `no_liens` is the bringer's statement; `register` and `register_says` with the day it was asked, None if not.
    """

    identity_seen: str = ""
    identity_seen_on: date | None = None
    authority: str = ""
    no_liens: bool | None = None
    register: str = ""
    register_checked_on: date | None = None
    register_says: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class IntakeFacts(PaperFacts):
    """What a receipt of intake states.

    Shape:  `brought_by` is whoever stood in the room, `owners` whose it is; `reason` is in the reader's words ("to sell",
            "to be repaired"); `insured_by` is "shop", "owner" or "nobody"; `pictures` counts the photographs kept.
    """

    entry_number: str
    received_on: date
    brought_by: PartyFacts
    owners: tuple[OwnerFacts, ...]
    reason: str
    instrument: InstrumentFacts
    value_to_insure: Money | None = None
    insured_by: str = "shop"
    title: TitleFacts = TitleFacts()
    pictures: int = 0
    notes: str = ""
    cautions: CautionFacts = CautionFacts()
