"""Workshop: every job by the day it is promised for, and the parts and goods that are kept."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_

_NAMES = (N_("Jobs"), N_("Parts and goods"))


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the jobs and the goods."""
    return Place(shop, work, "workshop", list(zip(_NAMES, shop.tables["workshop"](), strict=True)))
