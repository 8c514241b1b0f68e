"""Drivers' errors become the ledger's own here, and nowhere else."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

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
        return _integrity(said)
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


def _integrity(said: str) -> LedgerError:
    if ("stay_id" in said and "sale_line" in said) or "uq_sale_line_live" in said:
        return Refused(N_("This instrument is already sold. Look at its sheet again."))
    if "uq_stay_open" in said or "stay.instrument_id" in said:
        return Refused(N_("This instrument is already in the shop. Look at its sheet again."))
    if "uq_hold_in_force" in said or "hold.stay_id" in said:
        return Refused(N_("This instrument is already on hold. Look at its sheet again."))
    if "deed" in said or "op_id" in said:
        return ChangedMeanwhile(N_("This act was already done. Look at its sheet again."))
    return Bug("The database refused what the program wrote: {said}", said=said)


@contextmanager
def told(where: str | Path) -> Iterator[None]:
    """Turn a driver's error inside into the ledger's own."""
    try:
        yield
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise as_ledger_error(error, where) from error
