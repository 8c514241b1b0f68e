"""The change record: what an act changed besides the journal, as a chain whose values an erasure can empty."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link
from shopledger.model.types import Bytes, Day, Instant, Whole, Words


class Deed(Record):
    """An act that was done: its id, who did it, when, what it was about, and its link in the chain."""

    __tablename__ = "deed"
    kept = False

    id: Mapped[int] = hidden(Whole(), "the key, counted without gaps", primary_key=True, autoincrement=False)
    op_id: Mapped[str] = hidden(Words(), "the id of the filled form", unique=True)
    act: Mapped[str] = hidden(Words(), "the act's name")
    by: Mapped[str] = hidden(Words(), "who did it")
    booked_on: Mapped[date] = hidden(Day(), "the day it was booked on")
    recorded_at: Mapped[datetime] = hidden(Instant(), "when it was recorded")
    subject: Mapped[str] = hidden(Words(), "what it was about")
    subject_id: Mapped[int] = hidden(Whole(), "which one")
    outcome: Mapped[str] = hidden(Words(), "what it gave back, to answer a retry")
    hash: Mapped[str] = hidden(Words(), "SHA-256 over the deed before and the digests of its changes")


class Change(Record):
    """One row that an act wrote: which, and a salted digest of before and after."""

    __tablename__ = "change"
    kept = False

    id: Mapped[int] = key()
    deed_id: Mapped[int] = link("deed.id", index=True)
    record: Mapped[str] = hidden(Words(), "the table")
    row_id: Mapped[int] = hidden(Whole(), "its row")
    digest: Mapped[str] = hidden(Words(), "SHA-256 over the salt and the values")


class ChangeValue(Record):
    """The values of a change; an erasure empties them and leaves the digest."""

    __tablename__ = "change_value"
    kept = False

    change_id: Mapped[int] = link("change.id", primary_key=True, autoincrement=False)
    salt: Mapped[bytes | None] = hidden(Bytes(), "keeps a digest from being guessed; emptied with the values")
    values: Mapped[str | None] = hidden(Words(), "before and after as JSON; emptied by an erasure")


class Search(Record):
    """The words by which a row is found, plain and without accents; kept up by the acts."""

    __tablename__ = "search"
    kept = False

    id: Mapped[int] = key()
    subject: Mapped[str] = hidden(Words(), "what the row is")
    subject_id: Mapped[int] = hidden(Whole(), "which one", index=True)
    words: Mapped[str] = hidden(Words(), "folded words of its searchable fields")
