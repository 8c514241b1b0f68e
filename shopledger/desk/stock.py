"""Stock: every instrument, where it is and whose it is."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the instruments."""
    return Place(shop, work, "stock", [(N_("Stock"), table) for table in shop.tables["stock"]()])
