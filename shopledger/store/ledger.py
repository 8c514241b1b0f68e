"""A ledger, opened: its engine, its files, its manners; opened and closed here."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Self

from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from shopledger.model import Shop
from shopledger.quantities import days
from shopledger.quantities.days import Clock
from shopledger.quantities.errors import Trouble
from shopledger.quantities.manners import Manners
from shopledger.quantities.words import N_
from shopledger.store import migrate
from shopledger.store.engine import is_server, make_engine, name_of
from shopledger.store.files import Files, FolderFiles, TableFiles
from shopledger.store.guards import departures
from shopledger.store.kept_manners import manners_kept
from shopledger.store.reading import Reading
from shopledger.store.trouble import told

if TYPE_CHECKING:
    from shopledger.store.unit import Writing

Randomness = Callable[[int], bytes]
"""Gives so many random bytes."""


class Ledger:
    """One open ledger; safe to use from several threads, each with units of its own."""

    def __init__(self, where: str | Path, engine: Engine, clock: Clock, randomness: Randomness) -> None:
        """Belong to a database that is at the newest revision; use `open_ledger`."""
        self.where = where
        self.engine = engine
        self.clock = clock
        self.randomness = randomness
        self.files = files_of(where, engine)
        self._accounts: dict[str, int] = {}
        shops = Shop.__table__
        told_of_shop = select(shops.c.name, shops.c.currency, shops.c.time_zone, shops.c.locale).where(
            shops.c.id == 1
        )
        with told(where), engine.connect() as connection:
            shop = connection.execute(told_of_shop).first()
            if shop is None:
                raise Trouble(
                    N_(
                        "{name} holds no shop: it was not made to its end. Make a new one, or restore a backup."
                    ),
                    name=self.name,
                )
            self.shop_name: str = shop.name
            self.currency: str = shop.currency
            self.time_zone: str = shop.time_zone
            self.locale: str = shop.locale
        self.manners: Manners = manners_kept(self.locale, self.currency)

    @property
    def name(self) -> str:
        """The ledger's name as a user knows it: the file's or the database's, never a password."""
        return name_of(self.where)

    def today(self) -> date:
        """Give the day the shop's calendar shows now."""
        return days.day_of(self.clock(), self.time_zone)

    def read(self) -> Reading:
        """Give a unit for questions."""
        return Reading(self)

    def write(self) -> Writing:
        """Give a unit for one act."""
        # Loaded with the first act: a window shows its first table without anything that writes.
        from shopledger.store.unit import Writing

        return Writing(self)

    def account_ids(self, session: Session) -> dict[str, int]:
        """Give the ids of the accounts by code; read once."""
        if not self._accounts:
            from shopledger.model import Account

            self._accounts = {
                code: int(key) for code, key in session.execute(select(Account.code, Account.id))
            }
        return self._accounts

    def close(self) -> None:
        """Let the database go."""
        self.engine.dispose()

    def __enter__(self) -> Self:
        """Give the ledger itself."""
        return self

    def __exit__(self, *_error: object) -> None:
        """Close it."""
        self.close()


def files_folder(path: Path) -> Path:
    """Give the folder of a file ledger's papers and pictures: `NAME.files` beside it."""
    return path.with_name(path.name + ".files")


def files_of(where: str | Path, engine: Engine) -> Files:
    """Give the papers and pictures of a ledger: in a table on a server, else in the folder beside the file."""
    return TableFiles(engine) if is_server(where) else FolderFiles(files_folder(Path(where)))


def as_place(where: str | Path) -> str | Path:
    """Give a place as it is used: the address of a server's database as it is, anything else as a path."""
    return where if is_server(where) else Path(where)


def open_ledger(where: str | Path, *, clock: Clock = days.now, randomness: Randomness = os.urandom) -> Ledger:
    """Open a ledger, brought to the newest revision first.

    Raises: Trouble: there is none, it is damaged, locked, or made by a newer program; the sentence says what to do.
    """
    where = as_place(where)
    if isinstance(where, Path) and not where.is_file():
        raise Trouble(N_("There is no ledger at {name}. Check the name, or make a new one."), name=str(where))
    engine = make_engine(where)
    try:
        with told(where):
            with engine.connect() as connection:
                revision = migrate.stored_revision(connection)
            migrate.refuse_unknown(revision, name_of(where))
            if revision != migrate.NEWEST:
                migrate.upgrade(engine)
            with engine.connect() as connection:
                _refuse_unguarded(departures(connection), name_of(where))
        return Ledger(where, engine, clock, randomness)
    except BaseException:
        engine.dispose()
        raise


def _refuse_unguarded(departing: dict[str, str], name: str) -> None:
    if departing:
        raise Trouble(
            N_(
                "{name} lacks guards of its journal, or they were changed ({guards}): something other than this "
                "program wrote to it. Let “shopledger prove” go through it, and restore a backup."
            ),
            name=name,
            guards=", ".join(sorted(departing)[:5]),
        )
