"""What a proof finds, and what all its checks share: the connection, the words, the postings of entries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Executable, func, select

from shopledger.model import Account, Posting
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.money import Money
from shopledger.store.files import Files

Amounts = Mapping[tuple[str, int | None], int]
"""Sums in minor units by account and person; debits above zero, none of them zero."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing that is wrong: its kind, which one, and a sentence that says what is wrong with it."""

    what: str
    where: str
    says: str


@dataclass(slots=True)
class Proof:
    """One going-through of a ledger, in one snapshot of its database."""

    where: str | Path
    connection: Connection
    files: Files
    currency: str = ""
    shop_person: int = 0
    people: Mapping[int, str] = field(default_factory=dict)
    """The numbers of people by key; a sentence names nobody otherwise."""
    found: list[Wrong] = field(default_factory=list)

    @property
    def on_sqlite(self) -> bool:
        """Whether the ledger is a file."""
        return self.connection.dialect.name == "sqlite"

    def wrong(self, what: str, where: str, says: str, /, **values: object) -> None:
        """Note something wrong; `says` is a marked sentence with the values to set in."""
        self.found.append(Wrong(what, where, LedgerError(says, field=None, **values).sentence()))

    def money(self, minor: int | None) -> Money:
        """Give minor units of a column as money."""
        return Money(minor or 0, self.currency)

    def person(self, person_id: int | None) -> str:
        """Give the number of a person, "" for none."""
        return "" if person_id is None else self.people.get(person_id, f"#{person_id}")

    def rows(self, question: Executable) -> Iterable[Any]:
        """Give the rows of a question."""
        return self.connection.execute(question)

    def pairs(self, question: Executable) -> dict[Any, Any]:
        """Give the rows of a question for two columns, the first leading to the second."""
        return {row[0]: row[1] for row in self.connection.execute(question)}

    def balance(self, code: str) -> int:
        """Give the balance of an account, debits above zero, in minor units."""
        question = select(func.sum(Posting.amount)).join(Account, Account.id == Posting.account_id)
        return int(self.connection.execute(question.where(Account.code == code)).scalar() or 0)

    def posted(self, key: Any, entry: Any, *where: Any) -> Mapping[int, Amounts]:
        """Give what entries posted, put together by a key of the record that names them.

        Shape:  `key` and `entry` are columns of one table: whose amounts, and which entry.
        """
        return self.posted_by(
            select(key.label("key"), entry.label("entry")).where(entry.is_not(None), *where)
        )

    def posted_by(self, pairs: Any) -> Mapping[int, Amounts]:
        """Give what entries posted, put together by key, for a question that gives pairs of `key` and `entry`."""
        linked = pairs.subquery()
        question = (
            select(linked.c.key, Account.code, Posting.person_id, func.sum(Posting.amount))
            .join(Posting, Posting.entry_id == linked.c.entry)
            .join(Account, Account.id == Posting.account_id)
            .group_by(linked.c.key, Account.code, Posting.person_id)
        )
        found: dict[int, dict[tuple[str, int | None], int]] = defaultdict(dict)
        for key, code, person_id, amount in self.rows(question):
            if amount:
                found[key][code, person_id] = int(amount)
        return found

    def told(self, amounts: Amounts) -> str:
        """Give amounts in words: account, person, amount, in order."""
        return (
            ", ".join(
                f"{code}{' ' + self.person(person) if person is not None else ''} {self.money(minor).plain()}"
                for (code, person), minor in sorted(
                    amounts.items(), key=lambda each: (each[0][0], each[0][1] or 0)
                )
            )
            or "nothing"
        )


def summed(*parts: tuple[str, int | None, int]) -> Amounts:
    """Give amounts put together by account and person, zeros left out."""
    sums: dict[tuple[str, int | None], int] = defaultdict(int)
    for code, person_id, minor in parts:
        sums[code, person_id] += minor
    return {place: minor for place, minor in sums.items() if minor}
