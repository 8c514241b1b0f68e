"""The unit around each question: one short transaction that sees one snapshot, and has nothing of writing loaded."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from functools import cache
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self, TypeVar, cast

from sqlalchemy import CursorResult, Engine, Executable, Select, bindparam, select
from sqlalchemy.orm import Session
from sqlalchemy.orm.util import identity_key

from shopledger.model import Record, Shop
from shopledger.quantities.money import Money
from shopledger.store.engine import for_reading
from shopledger.store.trouble import as_ledger_error

if TYPE_CHECKING:
    from shopledger.store.ledger import Ledger

T = TypeVar("T")
R = TypeVar("R", bound=Record)


@cache
def _last_seal() -> Select[int, str]:
    # Put together once: an act says it several times, and putting it together costs more than running it.
    from shopledger.model import Seal

    return select(Seal.entry_id, Seal.hash).order_by(Seal.entry_id.desc()).limit(1)


@cache
def _by_key(record: type[R]) -> Select[R]:
    return select(record).where(cast(Any, record).id == bindparam("key"))


class Reading:
    """A short transaction that sees one snapshot: `with ledger.read() as reading: …`."""

    def __init__(self, ledger: Ledger) -> None:
        """Belong to an open ledger."""
        self.ledger = ledger
        self.session = self._session(for_reading(ledger.engine))
        self._shop: Shop | None = None
        self._answers: dict[Hashable, object] = {}

    def _session(self, engine: Engine) -> Session:
        return Session(engine, autoflush=True, expire_on_commit=False)

    @property
    def currency(self) -> str:
        """The ledger's currency."""
        return self.ledger.currency

    def money(self, minor: int | None) -> Money:
        """Give minor units of a column as money of the ledger's currency; None is zero."""
        return Money(minor or 0, self.ledger.currency)

    def shop(self) -> Shop:
        """Give the shop's own record."""
        if self._shop is None:
            # Held here, since a session lets go of a record that nobody holds, and would read it again.
            found = self.find(Shop, 1)
            assert found is not None  # a ledger without its shop is not opened
            self._shop = found
        return self._shop

    def find(self, record: type[R], key: int) -> R | None:
        """Give a record by its key, None where there is none; what this unit holds already is not read again."""
        held = self.session.identity_map.get(identity_key(record, key))
        # Past `Session.get`, which puts its question together each time.
        return self.session.scalars(_by_key(record), {"key": key}).first() if held is None else held

    def rows(self, question: Executable, values: Mapping[str, object]) -> CursorResult[*tuple[Any, ...]]:
        """Give the answer to a question for columns, past the session, which would look for records in it each time."""
        return self.session.connection().execute(question, values)

    def once(self, what: Hashable, ask: Callable[[], T]) -> T:
        """Give the answer to a question that several steps of a unit ask; it is asked anew after something was written.

        Shape:  `what` names the question with its values, such as `("open stay", 7)`.
        """
        if what not in self._answers:
            self._answers[what] = ask()
        return cast(T, self._answers[what])

    def last_seal(self) -> tuple[int, str]:
        """Give the number and hash of the last entry, the anchor of papers; nought and the first hash before any."""
        from shopledger.rules.journal import FIRST_HASH

        row = self.rows(_last_seal(), {}).first()
        return (int(row[0]), str(row[1])) if row else (0, FIRST_HASH)

    def __enter__(self) -> Self:
        """Begin."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End; what was not committed is rolled back, and a driver's error becomes the ledger's own."""
        try:
            self.session.close()
        except Exception as closing:
            if error is None:
                raise as_ledger_error(closing, self.ledger.where) from closing
        if error is not None and is_drivers(error):
            raise as_ledger_error(error, self.ledger.where) from error


def is_drivers(error: BaseException) -> bool:
    """Say whether an error is one of the library or its drivers, which leaves a unit only as the ledger's own."""
    from sqlalchemy.exc import SQLAlchemyError

    return isinstance(error, SQLAlchemyError)
