"""People: owners, buyers, players, referrers, each once."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the people."""
    return Place(shop, work, "people", [(N_("People"), table) for table in shop.tables["people"]()])
