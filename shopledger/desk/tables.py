"""The tables of each place, in order, each loaded when it is first shown."""

from __future__ import annotations

from collections.abc import Mapping

from shopledger.quantities.words import N_
from shopledger.queries.shapes import Offered, Subject, Table


def _instruments() -> Table:
    from shopledger.queries import stock

    return stock.TABLE


def _trials() -> Table:
    from shopledger.queries import trials

    return trials.TABLE


def _counts() -> Table:
    from shopledger.queries import counts

    return counts.TABLE


def _jobs() -> Table:
    from shopledger.queries import jobs

    return jobs.TABLE


def _goods() -> Table:
    from shopledger.queries import goods

    return goods.TABLE


def _price_list() -> Table:
    from shopledger.queries import price_list

    return price_list.TABLE


def _sales() -> Table:
    from shopledger.queries import sales

    return sales.TABLE


def _people() -> Table:
    from shopledger.queries import people

    return people.TABLE


def _wishes() -> Table:
    from shopledger.queries import wishes

    return wishes.TABLE


def _journal() -> Table:
    from shopledger.queries import accounts

    return accounts.JOURNAL


def _balances() -> Table:
    from shopledger.queries import accounts

    return accounts.BALANCES


def _owners() -> Table:
    from shopledger.queries import accounts

    return accounts.OWNERS


TABLES: Mapping[str, tuple[Offered, ...]] = {
    "stock": (
        Offered(N_("Stock"), "stock", Subject.INSTRUMENT, _instruments),
        Offered(N_("Trials"), "trials", Subject.TRIAL, _trials),
        Offered(N_("Counts"), "counts", Subject.STOCK_TAKE, _counts),
    ),
    "workshop": (
        Offered(N_("Jobs"), "jobs", Subject.JOB, _jobs),
        Offered(N_("Parts and goods"), "goods", Subject.GOODS, _goods),
        Offered(N_("Price list of work"), "work", Subject.WORK, _price_list),
    ),
    "sales": (Offered(N_("Sales"), "sales", Subject.SALE, _sales),),
    "people": (
        Offered(N_("People"), "people", Subject.PERSON, _people),
        Offered(N_("Wanted"), "wishes", Subject.WISH, _wishes),
    ),
    "accounts": (
        Offered(N_("Journal"), "journal", Subject.ENTRY, _journal),
        Offered(N_("Balances"), "balances", Subject.ACCOUNT, _balances),
        Offered(N_("Owed to owners"), "owners", Subject.PERSON, _owners),
    ),
}
"""By the name of the place."""
