"""Sales: what was sold, what is paid and what is to settle."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the sales."""
    return Place(shop, work, "sales", [(N_("Sales"), table) for table in shop.tables["sales"]()])
