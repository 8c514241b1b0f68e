"""The unit of work around each act: one transaction; left without a commit it rolls back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Hashable, Mapping, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from sqlalchemy import CursorResult, Engine, Executable, event, func, insert, select, text
from sqlalchemy.orm import Session, UOWTransaction

from shopledger.model import Account, Change, Deed, Entry, Person, Posting, Seal, tables
from shopledger.quantities.days import instant_text
from shopledger.quantities.errors import Bug
from shopledger.rules.journal import (
    FIRST_HASH,
    Amount,
    SealedEntry,
    SealedPosting,
    balanced,
    mirrored,
    seal_hash,
)
from shopledger.rules.series import SERIES, year_of
from shopledger.store.changes import Recorder
from shopledger.store.engine import for_writing
from shopledger.store.reading import Reading as Reading
from shopledger.store.reading import T, is_drivers
from shopledger.store.search import refresh_words
from shopledger.store.trouble import as_ledger_error

if TYPE_CHECKING:
    from shopledger.store.ledger import Ledger


# Put together once: an act says them several times, and putting a statement together costs more than running it.
_LAST_DEED = (
    select(Deed.id, Deed.hash, select(func.max(Change.id)).scalar_subquery())
    .order_by(Deed.id.desc())
    .limit(1)
)
# In words that both databases understand, since SQLAlchemy has them for each dialect apart.
_STEP_COUNTER = text(
    "INSERT INTO counter (series, year, last) VALUES (:series, :year, 1) "
    "ON CONFLICT (series, year) DO UPDATE SET last = counter.last + 1 RETURNING last"
)
_NEW_ENTRY, _NEW_POSTING = insert(Entry), insert(Posting)
_NEW_SEAL, _NEW_DEED = insert(Seal), insert(Deed)


class Writing(Reading):
    """A transaction that writes: books entries, gives numbers, records what changed; ends by `commit` or not at all."""

    def __init__(self, ledger: Ledger) -> None:
        """Belong to an open ledger."""
        tables()
        super().__init__(ledger)
        self.recorder = Recorder(ledger)
        self._seals: list[str] = []
        self._last: tuple[int, str] | None = None
        self._finished: int | None = None
        self._op_id = ""
        self._act = ""
        self._on = date.min
        self._by = ""
        self.at: datetime = ledger.clock()
        self._read: list[object] = []
        event.listen(self.session, "after_flush", self.recorder.on_flushed)
        event.listen(self.session, "after_flush", self._on_flushed)
        event.listen(self.session, "loaded_as_persistent", self._on_read)

    def _on_flushed(self, _session: Session, _context: UOWTransaction) -> None:
        """Forget what was answered before this was written."""
        self._answers.clear()

    def _on_read(self, _session: Session, record: object) -> None:
        """Hold what was read, since a session lets go of a record that nobody holds and would read it again."""
        self._read.append(record)

    def once(self, what: Hashable, ask: Callable[[], T]) -> T:
        """Give the answer as `Reading.once`; what waits to be written is written first, as before every question."""
        self.session.flush()
        return super().once(what, ask)

    def rows(self, question: Executable, values: Mapping[str, object]) -> CursorResult[*tuple[Any, ...]]:
        """Give the answer as `Reading.rows`; what waits to be written is written first, as before every question."""
        self.session.flush()
        return super().rows(question, values)

    def _session(self, engine: Engine) -> Session:
        del engine
        return Session(for_writing(self.ledger.engine), autoflush=True, expire_on_commit=False)

    def begin_act(self, *, op_id: str, act: str, on: date, by: str) -> None:
        """Say which act this transaction is; everything it books and changes carries its id.

        Raises: Bug: the id is empty or holds a stroke, which leads from an act's id to those of its further entries.
        """
        if not op_id or "/" in op_id:
            raise Bug("the id {op_id} of an act", op_id=repr(op_id))
        self._op_id, self._act, self._on, self._by = op_id, act, on, by
        # One row updated first: writers of a server queue here, so that numbers have neither gaps nor doubles.
        self._count("deed", 0)

    @property
    def op_id(self) -> str:
        """The id of the act under way."""
        return self._op_id

    @property
    def on(self) -> date:
        """The day the act is booked on."""
        return self._on

    def put(self, record: Any) -> None:
        """Add a record whose key nobody needs: it is written together with the next that is, or at the end."""
        self.session.add(record)

    def add(self, record: Any) -> Any:
        """Add a record and flush, so that it has its key; give it back."""
        self.session.add(record)
        self.session.flush()
        return record

    def _count(self, series: str, year: int) -> int:
        counted = self.session.connection().execute(_STEP_COUNTER, {"series": series, "year": year})
        return int(counted.scalar_one())

    def counted(self, series: str) -> int:
        """Give how many of a series there are with the next one, for numbers written in a way of their own."""
        return self._count(series, year_of(series, self._on))

    def number(self, series: str, on: date | None = None) -> str:
        """Give the next number of a series, without gaps."""
        year = year_of(series, on or self._on)
        return SERIES[series].write(year, self._count(series, year))

    def last_seal(self) -> tuple[int, str]:
        """Give the number and hash of the last entry; asked once, since nobody else books before this unit ends."""
        if self._last is None:
            self._last = super().last_seal()
        return self._last

    def book(self, amounts: Sequence[Amount], source: str, *, reverses: int | None = None) -> int:
        """Post and seal one balanced entry; give its number.

        Raises: Bug: the amounts don't balance.
        """
        posted = balanced(amounts)
        self.session.flush()
        last, before = self.last_seal()
        op_id = f"{self._op_id}/{len(self._seals) + 1}" if self._seals else self._op_id
        accounts = self.ledger.account_ids(self.session)
        people = self._person_numbers({amount.person_id for amount in posted if amount.person_id is not None})
        entry = SealedEntry(
            number=last + 1,
            op_id=op_id,
            booked_on=self._on,
            recorded_at=self.at,
            act=self._act,
            source=source,
            reverses=reverses,
            postings=tuple(
                SealedPosting(
                    n, amount.account, people.get(amount.person_id or 0, ""), self.currency, amount.minor
                )
                for n, amount in enumerate(posted, 1)
            ),
        )
        connection = self.session.connection()
        connection.execute(
            _NEW_ENTRY,
            {
                "id": entry.number,
                "op_id": op_id,
                "booked_on": self._on,
                "recorded_at": self.at,
                "act": self._act,
                "source": source,
                "reverses": reverses,
            },
        )
        connection.execute(
            _NEW_POSTING,
            [
                {
                    "entry_id": entry.number,
                    "n": n,
                    "account_id": accounts[amount.account],
                    "person_id": amount.person_id,
                    "currency": self.currency,
                    "amount": amount.minor,
                }
                for n, amount in enumerate(posted, 1)
            ],
        )
        sealed = seal_hash(before, entry)
        connection.execute(_NEW_SEAL, {"entry_id": entry.number, "hash": sealed})
        self._last = (entry.number, sealed)
        self._seals.append(seal_line(entry.number, sealed))
        return entry.number

    def posted(self, entry_id: int) -> tuple[Amount, ...]:
        """Give what an entry posted."""
        rows = self.session.execute(
            select(Account.code, Posting.amount, Posting.person_id)
            .join(Account, Account.id == Posting.account_id)
            .where(Posting.entry_id == entry_id)
            .order_by(Posting.n)
        )
        return tuple(Amount(code, amount, person) for code, amount, person in rows)

    def reverse(self, entry_id: int, source: str) -> int:
        """Post the mirror of an entry, to the cent; the database refuses a second reversal of it."""
        return self.book(mirrored(self.posted(entry_id)), source, reverses=entry_id)

    def _person_numbers(self, ids: set[int]) -> dict[int, str]:
        # Most of them were read by the act already, or its papers name them next.
        found = (self.find(Person, key) for key in sorted(ids))
        return {person.id: person.number for person in found if person is not None}

    def finish_act(self, subject: str, subject_id: int, outcome: object) -> None:
        """Write the deed with its changes and refresh what it can be found by."""
        self.session.flush()
        refresh_words(self.session, self.recorder.touched, self.recorder.new)
        before = self.rows(_LAST_DEED, {}).first()
        number, last_hash = (int(before[0]) + 1, str(before[1])) if before else (1, FIRST_HASH)
        last_change = int(before[2] or 0) if before else 0
        told = json.dumps(outcome, sort_keys=True, ensure_ascii=False)
        head = {
            "id": number,
            "op_id": self._op_id,
            "act": self._act,
            "by": self._by,
            "booked_on": self._on,
            "recorded_at": self.at,
            "subject": subject,
            "subject_id": subject_id,
            "outcome": told,
        }
        if not self._op_id:
            raise Bug("finish_act without begin_act")
        lines = [*self._seals, *self.recorder.lines()]
        self.session.connection().execute(_NEW_DEED, {**head, "hash": deed_hash(last_hash, head, lines)})
        self.recorder.write(self.session, number, after=last_change)
        self._finished = len(lines)

    def commit(self) -> None:
        """Make everything of this transaction last.

        Raises: Bug: something was written after the act was finished, so that its record would lack it.
        """
        try:
            self.session.flush()
            if self._finished not in {None, len(self._seals) + len(self.recorder.lines())}:
                raise Bug("written after finish_act")
            self.session.commit()
        except Exception as error:
            if is_drivers(error):
                raise as_ledger_error(error, self.ledger.where) from error
            raise


def seal_line(number: int, sealed: str) -> str:
    """Give the line by which an entry stands in the hash of the deed that booked it."""
    return f"entry\t{number}\t{sealed}"


def deed_hash(before: str, head: dict[str, Any], lines: Sequence[str]) -> str:
    """Give the hash of a deed over the hash before, its head, the seals of its entries and the digests of its changes.

    So a deed is an anchor of the journal: the last entry can't be taken away without the deed's hash going wrong.
    """
    parts = [before, "shop-ledger deed 1"]
    for name in ("id", "op_id", "act", "by", "booked_on", "recorded_at", "subject", "subject_id", "outcome"):
        value = head[name]
        told = instant_text(value) if isinstance(value, datetime) else str(value)
        parts.append(told.replace("\\", "\\\\").replace("\n", "\\n"))
    return hashlib.sha256("\n".join([*parts, *lines]).encode()).hexdigest()
