"""The accounts, to read: the balance of every account, what is owed to owners, and whether it is covered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import func, select

from shopledger.model import Person
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.account_sheets import account_sheet, entry_sheet
from shopledger.queries.journal import JOURNAL, OWNER_ACCOUNTS
from shopledger.queries.owing import balances, owner_accounts
from shopledger.queries.person_sheet import since_by_person
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.rules.journal import CHART
from shopledger.store.matching import fold, plain_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

__all__ = ["BALANCES", "JOURNAL", "OWNERS", "Covered", "account_sheet", "covered", "entry_sheet"]


def _balance_rows(reading: Reading) -> list[tuple[int, str, str, int]]:
    """Give every account of the chart: its key, words, code and balance."""
    sums = balances(reading)
    keys = reading.ledger.account_ids(reading.session)
    return [
        (keys[rule.code], _(rule.words), rule.code, sums.get(rule.code, 0))
        for rule in CHART
        if rule.code in keys
    ]


def _balance_ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    rows = _balance_rows(reading)
    typed = plain_words(words)
    rows = [row for row in rows if all(word in fold(f"{row[1]} {row[2]}") for word in typed)]
    if view == "in_use":
        rows = [row for row in rows if row[3]]
    match sort:
        case "words":
            rows.sort(key=lambda row: fold(row[1]), reverse=descending)
        case "debit":
            rows.sort(key=lambda row: row[3], reverse=descending)
        case "credit":
            rows.sort(key=lambda row: -row[3], reverse=descending)
        case "code":
            rows.sort(key=lambda row: row[2], reverse=descending)
        case _ if descending:
            rows.reverse()
    return [row[0] for row in rows]


def _balance_page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    found: dict[int, tuple[object, ...]] = {}
    for key, words, code, minor in _balance_rows(reading):
        debit = reading.money(minor) if minor > 0 else None
        credit = reading.money(-minor) if minor < 0 else None
        found[key] = (words, code, debit, credit)
    return tuple(Row(key, found[key]) for key in ids if key in found)


BALANCES = Table(
    name="balances",
    subject=Subject.ACCOUNT,
    columns=(
        Column("words", N_("Account"), Kind.TEXT, 34),
        Column("code", N_("Code"), Kind.TEXT, 16),
        Column("debit", N_("Debit"), Kind.MONEY, 12),
        Column("credit", N_("Credit"), Kind.MONEY, 12),
    ),
    views=(View("in_use", N_("Not nought")), View("all", N_("All"))),
    ids=_balance_ids,
    page=_balance_page,
    # The order of the chart, which is no column: what there is, what is owed, what was earned and spent.
    sort="",
    hint=N_("words or code of an account"),
    empty=N_("Balances stand here once something was booked."),
)


@dataclass(frozen=True, slots=True)
class Owed:
    """What is owed to one owner and by them, and since when the oldest of it."""

    person_id: int
    name: str
    pending: Money
    held: Money
    owes: Money
    net: Money
    since: date | None


def owed_to_owners(reading: Reading, person_ids: Sequence[int] | None = None) -> tuple[Owed, ...]:
    """Give every owner with whom something is open (or those named), by name."""
    accounts = owner_accounts(reading, person_ids)
    since = since_by_person(reading, list(accounts))
    names = reading.session.execute(
        select(Person.id, Person.name)
        .where(Person.id.in_(list(accounts)))
        .order_by(func.lower(Person.name), Person.id)
    )
    return tuple(
        Owed(
            key,
            name,
            accounts[key].pending,
            accounts[key].held,
            accounts[key].owes,
            accounts[key].net,
            min((day for code, day in since.get(key, {}).items() if code in OWNER_ACCOUNTS), default=None),
        )
        for key, name in names
    )


def _owner_ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    rows = owed_to_owners(reading)
    typed = plain_words(words)
    rows = tuple(row for row in rows if all(word in fold(row.name) for word in typed))
    if view == "to_pay":
        rows = tuple(row for row in rows if row.held.minor > 0)
    if view == "owing":
        rows = tuple(row for row in rows if row.owes.minor > 0)

    def value(row: Owed) -> Any:
        if sort in {"pending", "held", "owes", "net"}:
            return getattr(row, sort).minor
        return (row.since or date.max) if sort == "since" else fold(row.name)

    return [row.person_id for row in sorted(rows, key=value, reverse=descending)]


def _owner_page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    found = {row.person_id: row for row in owed_to_owners(reading, list(ids))}
    return tuple(
        Row(key, (row.name, row.pending, row.held, row.owes, row.net, row.since))
        for key in ids
        if (row := found.get(key)) is not None
    )


OWNERS = Table(
    name="owners",
    subject=Subject.PERSON,
    columns=(
        Column("person", N_("Owner"), Kind.TEXT, 22),
        Column("pending", N_("Not yet due"), Kind.MONEY, 11),
        Column("held", N_("Set aside"), Kind.MONEY, 11),
        Column("owes", N_("Owes"), Kind.MONEY, 11),
        Column("net", N_("Owed to them"), Kind.MONEY, 11),
        Column("since", N_("Oldest since"), Kind.DAY, 11),
    ),
    views=(
        View("all", N_("Owed to owners")),
        View("to_pay", N_("To pay")),
        View("owing", N_("Owe the shop")),
    ),
    ids=_owner_ids,
    page=_owner_page,
    sort="person",
    hint=N_("name of an owner"),
    empty=N_("What is owed to owners stands here from the sale until it is paid."),
)


@dataclass(frozen=True, slots=True)
class Covered:
    """Whether the money held for owners covers what is set aside for them.

    Shape:  `held` is set aside and due; `pending` is owed and not yet due; `bank` is the money held for owners.
    """

    held: Money
    pending: Money
    bank: Money

    @property
    def is_covered(self) -> bool:
        """Whether what is set aside is all there."""
        return self.bank >= self.held

    @property
    def missing(self) -> Money:
        """What the shop would have to put there; nought where it is covered."""
        return max(self.held - self.bank, Money.zero(self.bank.currency))


def covered(reading: Reading) -> Covered:
    """Give whether the money held for owners is still there."""
    sums = balances(reading)
    return Covered(
        held=reading.money(-sums.get("owners_held", 0)),
        pending=reading.money(-sums.get("owners_pending", 0)),
        bank=reading.money(sums.get("bank_owners", 0)),
    )
