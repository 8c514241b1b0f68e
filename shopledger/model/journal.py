"""The journal: entries, their postings, and the seal that closes each; nothing in it is ever updated or deleted."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from shopledger.model.record import Record, hidden, key, link
from shopledger.model.types import Day, Instant, Whole, Words


class Account(Record):
    """An account with its stable code; the chart is declared in the rules."""

    __tablename__ = "account"
    kept = False

    id: Mapped[int] = key()
    code: Mapped[str] = hidden(Words(), "the stable code of the chart", unique=True)


class Entry(Record):
    """One booking: a day, an act, its source, its own id; it can't be committed without its seal."""

    __tablename__ = "entry"
    kept = False

    id: Mapped[int] = mapped_column(
        Whole(),
        ForeignKey("seal.entry_id", deferrable=True, initially="DEFERRED"),
        primary_key=True,
        autoincrement=False,
        info={"hidden": "the number, shown by the journal's own table"},
    )
    op_id: Mapped[str] = hidden(Words(), "the id of the filled form", unique=True)
    booked_on: Mapped[date] = hidden(Day(), "shown by the journal's own table", index=True)
    recorded_at: Mapped[datetime] = hidden(Instant(), "shown by the journal's own table")
    act: Mapped[str] = hidden(Words(), "shown by the journal's own table")
    source: Mapped[str] = hidden(Words(), "shown by the journal's own table")
    reverses: Mapped[int | None] = link("entry.id", unique=True)


class Posting(Record):
    """One amount on one account, of a person where the account is kept by person; debits are above zero."""

    __tablename__ = "posting"
    __table_args__ = (CheckConstraint("amount <> 0", name="not_zero"),)
    kept = False

    entry_id: Mapped[int] = link("entry.id", primary_key=True, autoincrement=False)
    n: Mapped[int] = hidden(Whole(), "the order within the entry", primary_key=True, autoincrement=False)
    account_id: Mapped[int] = link("account.id", index=True)
    person_id: Mapped[int | None] = link("person.id", index=True)
    currency: Mapped[str] = hidden(Words(), "shown by the journal's own table")
    amount: Mapped[int] = hidden(Whole(), "minor units; shown by the journal's own table")


class Seal(Record):
    """Closes an entry: its hash over the hash before and the entry's canonical form."""

    __tablename__ = "seal"
    __table_args__ = (UniqueConstraint("hash"),)
    kept = False

    entry_id: Mapped[int] = hidden(Whole(), "the entry's number", primary_key=True, autoincrement=False)
    hash: Mapped[str] = hidden(Words(), "SHA-256 in hexadecimal; stands on papers as an anchor")
