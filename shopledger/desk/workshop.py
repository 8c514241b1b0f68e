"""Workshop: the jobs by the day they are promised for, the parts and goods, and the price list of work."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_

_NAMES = (N_("Jobs"), N_("Parts and goods"), N_("Price list of work"))


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the jobs and of what they need."""
    return Place(shop, work, "workshop", list(zip(_NAMES, shop.tables["workshop"](), strict=True)))
