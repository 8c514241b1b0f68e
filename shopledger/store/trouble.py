"""Drivers' errors become the ledger's own here, and nowhere else."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import UniqueConstraint
from sqlalchemy.exc import DBAPIError, IntegrityError, SQLAlchemyError

from shopledger.quantities.errors import Bug, ChangedMeanwhile, LedgerError, Refused, Trouble
from shopledger.quantities.words import N_
from shopledger.store.engine import name_of


def as_ledger_error(error: BaseException, where: str | Path) -> LedgerError:
    """Give what a driver's error means for the user, with what to do."""
    name = name_of(where)
    cause = getattr(error, "orig", None) or error
    said = str(cause).strip().splitlines()[0] if str(cause).strip() else type(cause).__name__
    if isinstance(error, IntegrityError) or "guard:" in said:
        return _integrity(cause, said)
    code = getattr(cause, "sqlite_errorcode", None)
    state = getattr(cause, "sqlstate", None)
    if code is not None:
        code &= 0xFF
    if code == sqlite3.SQLITE_BUSY or state in {"40001", "40P01", "55P03"}:
        return Trouble(
            N_("The ledger {name} is in use by another program. Try again in a moment."), name=name
        )
    if code == sqlite3.SQLITE_FULL or state == "53100":
        return Trouble(
            N_("The disk is full, so nothing was written to {name}. Make room and try again."), name=name
        )
    if code in {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}:
        return Trouble(
            N_("{name} is damaged or is no ledger ({said}). Leave the file as it is and restore a backup."),
            name=name,
            said=said,
        )
    if code in {sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_AUTH}:
        return Trouble(
            N_(
                "{name} can't be opened or written ({said}). Check that it is there and that you may write to it."
            ),
            name=name,
            said=said,
        )
    if code == sqlite3.SQLITE_IOERR:
        return Trouble(
            N_("The disk failed while {name} was used ({said}). Check the disk."), name=name, said=said
        )
    if isinstance(error, DBAPIError | sqlite3.Error):
        return Trouble(
            N_("The ledger {name} can't be used now ({said}). Check the connection and try again."),
            name=name,
            said=said,
        )
    return Bug("{said}", said=said)


def _integrity(cause: BaseException, said: str) -> LedgerError:
    """Give what a refusal by the database means: a rule that it decides becomes a sentence, the rest is a bug."""
    broken = broken_constraint(cause, said)
    if broken == "uq_sale_line_live":
        return Refused(N_("This instrument is already sold. Look at its sheet again."))
    if broken == "uq_stay_open":
        return Refused(N_("This instrument is already in the shop. Look at its sheet again."))
    if broken == "uq_hold_in_force":
        return Refused(N_("This instrument is already on hold. Look at its sheet again."))
    if broken == "uq_entry_reverses":
        return Refused(N_("This was already reversed. Look at its sheet again."))
    if broken in {"uq_deed_op_id", "uq_entry_op_id"}:
        return ChangedMeanwhile(N_("This act was already done. Look at its sheet again."))
    return Bug("The database refused what the program wrote: {said}", said=said)


_SQLITE_SAYS = re.compile(r"(?P<kind>UNIQUE|CHECK) constraint failed: (?P<what>.+)")
_GUARD_SAYS = re.compile(r"guard: (?P<table>\w+)\.(?P<column>\w+) is there already")


def broken_constraint(cause: BaseException, said: str) -> str:
    """Give the name of the constraint or unique index that a driver's error speaks of, "" where it names none.

    PostgreSQL names it. SQLite names a CHECK, but of what is unique only the columns, which lead to the model's name.
    """
    named = getattr(getattr(cause, "diag", None), "constraint_name", None)
    if named:
        return str(named)
    if (guard := _GUARD_SAYS.search(said)) is not None:
        return _unique_name(guard["table"], {guard["column"]})
    if (sqlite := _SQLITE_SAYS.search(said)) is None:
        return ""
    if sqlite["kind"] == "CHECK":
        return sqlite["what"]
    places = [place.strip().partition(".") for place in sqlite["what"].split(",")]
    return _unique_name(places[0][0], {column for _table, _dot, column in places})


def _unique_name(table_name: str, columns: set[str]) -> str:
    from shopledger.model import tables

    table = tables().tables.get(table_name)
    if table is None:
        return ""
    for index in table.indexes:
        if index.unique and {column.name for column in index.columns} == columns:
            return str(index.name)
    for unique in table.constraints:
        if isinstance(unique, UniqueConstraint) and {column.name for column in unique.columns} == columns:
            return str(unique.name)
    return ""


def will_pass(error: LedgerError) -> bool:
    """Say whether a server only put the transaction aside for another's sake, so that trying again helps."""
    cause = error.__cause__
    return getattr(getattr(cause, "orig", None), "sqlstate", None) in {"40001", "40P01"}


@contextmanager
def told(where: str | Path) -> Iterator[None]:
    """Turn a driver's error inside into the ledger's own."""
    try:
        yield
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise as_ledger_error(error, where) from error
