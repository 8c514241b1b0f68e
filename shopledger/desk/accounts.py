"""Accounts: the journal, the balances, and what is owed to owners; all to read only."""

from __future__ import annotations

from shopledger.desk.place import Place
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.quantities.words import N_

_NAMES = (N_("Journal"), N_("Balances"), N_("Owed to owners"))


def make(shop: Shop, work: Work) -> Place:
    """Give the place of the journal and the balances."""
    return Place(shop, work, "accounts", list(zip(_NAMES, shop.tables["accounts"](), strict=True)))
