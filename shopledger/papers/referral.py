"""The referral disclosure: that a third person is paid for bringing the two sides together, told to both."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from shopledger.papers.parts import OwnerFacts, PaperFacts, PartyFacts, WorkingLine
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ReferralFacts(PaperFacts):
    """What a referral disclosure states.

    Shape:  `of` is "price", "commission" or "fixed"; `rate` goes with the first two; `borne_by` is "shop", "owner" or "both",
            in which case `owner_part` and `shop_part` add up to `fee`; the fee is None while no price is agreed; the days are those on
            which each side was told, None where it signs here.
    """

    referrer: PartyFacts
    buyer: PartyFacts
    owners: tuple[OwnerFacts, ...]
    instrument_number: str
    instrument_name: str
    price: Money | None = None
    of: str = "price"
    rate: Fraction | None = None
    fee: Money | None = None
    borne_by: str = "shop"
    owner_part: Money | None = None
    shop_part: Money | None = None
    working: tuple[WorkingLine, ...] = ()
    told_buyer_on: date | None = None
    told_owner_on: date | None = None
    relation: str = ""
