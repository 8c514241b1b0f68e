"""Sample facts for every kind of paper: an ordinary case, a long one, and an empty one.

Everything is invented: a retired maker in a harbour town that does not exist. The same samples serve the tests,
the pictures and the bench.
"""

from __future__ import annotations

from shopledger.papers.parts import PaperFacts, ShopFacts
from tests.papers import sample_empty, sample_long, sample_ordinary
from tests.papers.sample_away import away_empty, away_long, away_ordinary
from tests.papers.sample_custody import custody_empty, custody_long, custody_ordinary
from tests.papers.sample_materials import materials_empty, materials_long, materials_ordinary
from tests.papers.sample_measures import measures_empty, measures_long, measures_ordinary
from tests.papers.sample_photographs import rendered
from tests.papers.sample_things import LETTER, LONG_SHOP, SHOP
from tests.papers.sample_trials import trials_empty, trials_long, trials_ordinary
from tests.papers.sample_wanted import wanted_empty, wanted_long, wanted_ordinary
from tests.papers.sample_work import work_empty, work_long, work_ordinary

__all__ = ["LETTER", "LONG_SHOP", "SHOP", "empty", "long", "ordinary", "rendered"]


def ordinary(shop: ShopFacts = SHOP) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind, by the kind's name."""
    return (
        sample_ordinary.ordinary(shop)
        | work_ordinary(shop)
        | materials_ordinary(shop)
        | measures_ordinary(shop)
        | trials_ordinary(shop)
        | away_ordinary(shop)
        | custody_ordinary(shop)
        | wanted_ordinary(shop)
    )


def long(shop: ShopFacts = LONG_SHOP) -> dict[str, PaperFacts]:
    """Give papers with 60-character names, five-line addresses, several owners and forty lines."""
    return (
        sample_long.long(shop)
        | work_long(shop)
        | materials_long(shop)
        | measures_long(shop)
        | trials_long(shop)
        | away_long(shop)
        | custody_long(shop)
        | wanted_long(shop)
    )


def empty(shop: ShopFacts | None = None) -> dict[str, PaperFacts]:
    """Give papers with nothing in them that may be left out."""
    plain = shop or ShopFacts(name="Fenwright")
    return (
        sample_empty.empty(shop)
        | work_empty(plain)
        | materials_empty(plain)
        | measures_empty(plain)
        | trials_empty(plain)
        | away_empty(plain)
        | custody_empty(plain)
        | wanted_empty(plain)
    )
