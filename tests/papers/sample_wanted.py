"""Samples of the letter of matches: an ordinary, a long and an empty case."""

from __future__ import annotations

from datetime import date

from shopledger.papers.matches import FoundFacts, MatchesFacts, WantedFacts
from shopledger.papers.parts import PaperFacts, PartyFacts, ShopFacts
from tests.papers.sample_things import LONG_LINES, LONG_NAME, LONG_OWNER, OWNER, every_paper, usd

CRITERIA = (
    WantedFacts(label="Vibrating string length", says="690-695 mm, counts 3"),
    WantedFacts(label="Price", says="at most 12,000, a must"),
)
FOUND = FoundFacts(
    n=1,
    name="Cello, \u201cthe Ostby cello\u201d",
    number="No. 031",
    maker="made by Aldous Fenwright",
    likeness="92\u00a0% alike",
    says=("vibrating string length 692 mm (75\u00a0% of 75\u00a0%)", "price 9,500.00"),
    asking=usd("9500.00"),
)
UNKNOWN = FoundFacts(
    n=2,
    name="Cello",
    number="No. 044",
    likeness="nothing to compare, 1 of the musts unknown",
    says=("vibrating string length unknown", "price unknown"),
    where="on trial",
)


def wanted_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary letter of matches."""
    return {
        "matches": MatchesFacts(
            **every_paper("WM 2026-003", shop),
            wish_number="W 007",
            player=OWNER,
            kind="Cello",
            asked_on=date(2026, 2, 11),
            words=("A dark voice, for chamber music.",),
            letter=True,
            criteria=CRITERIA,
            found=(FOUND, UNKNOWN),
            note="Come and play them.",
        )
    }


def wanted_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give a list of forty matches with long names."""
    found = tuple(
        FoundFacts(
            n=n,
            name=LONG_NAME,
            number=f"No. {n:03}",
            maker=LONG_NAME,
            likeness="100\u00a0% alike, 12 of the musts unknown",
            says=FOUND.says * 3,
            where="in the workshop",
            asking=usd("1234567.89"),
        )
        for n in range(1, 41)
    )
    return {
        "matches": MatchesFacts(
            **every_paper("WM 2026-104", shop),
            wish_number="W 1007",
            player=LONG_OWNER,
            kind="Viola da gamba",
            asked_on=date(2026, 2, 11),
            words=LONG_LINES,
            criteria=CRITERIA * 8,
            found=found,
            note=LONG_NAME * 3,
        )
    }


def wanted_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give a list on which nothing stands."""
    return {
        "matches": MatchesFacts(
            **every_paper("WM 2026-001", shop),
            wish_number="W 001",
            player=PartyFacts(name="Orla"),
            kind="Bow",
            asked_on=date(2026, 2, 11),
        )
    }
