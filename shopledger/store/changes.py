"""The change record of an act: every kept row it wrote, before and after, with a salted digest."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from sqlalchemy import insert, inspect
from sqlalchemy.orm import Session, UOWTransaction

from shopledger.model import Change, ChangeValue, Record
from shopledger.quantities.days import instant_text

if TYPE_CHECKING:
    from shopledger.store.ledger import Ledger

SALT_BYTES = 16
_AS_JSON = json.JSONEncoder(sort_keys=True, ensure_ascii=False).encode
_NEW_CHANGE, _NEW_VALUE = insert(Change), insert(ChangeValue)
TOLD_BY_DIGEST = frozenset({("paper", "facts")})
"""Columns that are not written out: another column of the row holds their digest."""


def plain(value: Any) -> Any:
    """Give a column's value as JSON can hold it."""
    if isinstance(value, datetime):
        return instant_text(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    return value


@cache
def _told(record: type[Record]) -> tuple[str, ...]:
    """Give the names of the columns that a change of a record tells, in their order."""
    told = (each.key for each in inspect(record).column_attrs)
    return tuple(name for name in told if (record.__tablename__, name) not in TOLD_BY_DIGEST)


def _values(record: Record) -> dict[str, Any]:
    return {name: plain(getattr(record, name)) for name in _told(type(record))}


def _place_of(record: Any) -> tuple[str, tuple[Any, ...]]:
    state = inspect(record)
    return str(record.__tablename__), tuple(state.identity or ())


@dataclass(frozen=True, slots=True)
class Written:
    """One row written: its table, key, salt and values."""

    record: str
    row_id: int
    salt: bytes
    values: str

    @property
    def digest(self) -> str:
        """SHA-256 over the salt and the values."""
        return digest_of(self.salt, self.values)

    @property
    def line(self) -> str:
        """What the chain states of it: which row, and the digest."""
        return change_line(self.record, self.row_id, self.digest)


def digest_of(salt: bytes, values: str) -> str:
    """Give the digest that stands in the chain for the values of a change."""
    return hashlib.sha256(salt + values.encode()).hexdigest()


def change_line(record: str, row_id: int, digest: str) -> str:
    """Give the line by which a change stands in the hash of its deed."""
    return f"{record}\t{row_id}\t{digest}"


class Recorder:
    """Collects what a session writes, by listening to its flushes."""

    def __init__(self, ledger: Ledger) -> None:
        """Start empty."""
        self._randomness = ledger.randomness
        self._written: list[Written] = []
        self.new: set[Record] = set()
        self.touched: dict[Record, None] = {}
        """Records that were written, in order: what can be found by their words is refreshed."""

    def on_flushed(self, session: Session, _context: UOWTransaction) -> None:
        """Note the rows of one flush; called by the session."""
        for record in session.new:
            self._note(record, fresh=True)
        # A session keeps what it changed in a set: sorted, so that the same act leaves the same record every time.
        for record in sorted(session.dirty, key=_place_of):
            self._note(record, fresh=False)
        for record in sorted(session.deleted, key=_place_of):
            self._note_gone(record)

    def _note(self, record: Any, *, fresh: bool) -> None:
        if not isinstance(record, Record):
            return
        self.touched[record] = None
        if fresh:
            self.new.add(record)
        if not record.kept:
            return
        if fresh:
            self._keep(record, None, _values(record))
            return
        state = inspect(record)
        before: dict[str, Any] = {}
        after: dict[str, Any] = {}
        for name in _told(type(record)):
            if name not in state.committed_state:
                continue  # nothing was put into it
            history = state.attrs[name].history
            if history.has_changes():
                before[name] = plain(history.deleted[0]) if history.deleted else None
                after[name] = plain(history.added[0]) if history.added else None
        if after:
            self._keep(record, before, after)

    def _note_gone(self, record: Any) -> None:
        if not isinstance(record, Record):
            return
        self.touched[record] = None
        if record.kept:
            self._keep(record, _values(record), None)

    def _keep(self, record: Record, before: dict[str, Any] | None, after: dict[str, Any] | None) -> None:
        values = _AS_JSON({"before": before, "after": after})
        row_id = inspect(type(record)).primary_key_from_instance(record)[0]
        self._written.append(Written(record.__tablename__, row_id, self._randomness(SALT_BYTES), values))

    def lines(self) -> Sequence[str]:
        """Give what the chain states of all that was written, in order."""
        return [written.line for written in self._written]

    def write(self, session: Session, deed_id: int, *, after: int) -> None:
        """Write the changes under their deed; `after` is the key of the last change before them."""
        if not self._written:
            return
        connection = session.connection()
        # Acts wait for each other and nothing is ever taken away, so the next keys are known: both tables are written
        # in two statements, where asking the database for each key would take one a row.
        first = after + 1
        connection.execute(
            _NEW_CHANGE,
            [
                {
                    "id": key,
                    "deed_id": deed_id,
                    "record": each.record,
                    "row_id": each.row_id,
                    "digest": each.digest,
                }
                for key, each in enumerate(self._written, first)
            ],
        )
        connection.execute(
            _NEW_VALUE,
            [
                {"change_id": key, "salt": each.salt, "values": each.values}
                for key, each in enumerate(self._written, first)
            ],
        )
