"""Stock: every instrument, where it is and whose it is; and what is out on trial, by the day it is due back."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_

_NAMES = (N_("Stock"), N_("Trials"))


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the instruments."""
    return Place(shop, work, "stock", list(zip(_NAMES, shop.tables["stock"](), strict=True)))
