"""Looking at a ledger that isn't opened: reading only, migrating and making nothing, in one snapshot."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, Engine

from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_
from shopledger.store.engine import for_reading, make_engine, name_of
from shopledger.store.ledger import as_place
from shopledger.store.migrate import NEWEST, refuse_unknown, stored_revision
from shopledger.store.trouble import told


@dataclass(frozen=True, slots=True)
class Looked:
    """A ledger that is looked at: where it is, and a connection to it."""

    where: str | Path
    engine: Engine
    connection: Connection


@contextmanager
def looking(where: str | Path) -> Iterator[Looked]:
    """Give a connection that only reads, so that a ledger in a folder that may only be read can be looked at too.

    Raises: Trouble: it can't be read: there is none, it is no ledger, too damaged, locked, or of another revision.
    """
    where = as_place(where)
    if isinstance(where, Path) and not where.is_file():
        raise Trouble(N_("There is no ledger at {name}. Check the name."), name=str(where))
    engine = make_engine(where, mode="ro")
    try:
        with told(where), for_reading(engine).connect() as connection:
            _refuse_revision(connection, name_of(where))
            yield Looked(where, engine, connection)
    finally:
        engine.dispose()


def _refuse_revision(connection: Connection, name: str) -> None:
    """Refuse what is no ledger, and one that another version of the program made.

    Raises: Trouble, with what to do.
    """
    revision = stored_revision(connection)
    refuse_unknown(revision, name)
    if revision != NEWEST:
        raise Trouble(
            N_(
                "{name} was made by an older version of this program. Open it once, which brings it up to date."
            ),
            name=name,
        )
