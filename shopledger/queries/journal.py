"""The journal as a table: a row a posting, the newest entry first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, case, func, or_, select, type_coerce

from shopledger.model import Account, Entry, Person, Posting
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.account_sheets import entry_of_row, row_of_posting
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.rules.journal import ACCOUNTS, CHART
from shopledger.store.matching import fold, matching, plain_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

OWNER_ACCOUNTS = ("owners_pending", "owners_held", "owners_owe")


def _matching(reading: Reading, words: str) -> list[ColumnElement[bool]]:
    """Give what has to hold for typed words: each in the account's words, the person, the source, or the entry."""
    holds: list[ColumnElement[bool]] = []
    for word in plain_words(words):
        codes = [rule.code for rule in CHART if word in fold(_(rule.words)) or word in rule.code]
        people = _people_with(reading, word)
        each = [
            Posting.account_id.in_(select(Account.id).where(Account.code.in_(codes)).scalar_subquery()),
            Posting.person_id.in_(people),
            func.lower(Entry.source).contains(word, autoescape=True),
        ]
        if word.isascii() and word.isdigit() and len(word) < 18 and not word.startswith("0"):
            each.append(Entry.id == int(word))
        holds.append(or_(*each))
    return holds


def _people_with(reading: Reading, word: str) -> Any:
    found = matching(reading.session, Subject.PERSON.value, word)
    assert found is not None
    return found.scalar_subquery()


_JOURNAL_SORTS: dict[str, ColumnElement[Any]] = {
    "date": type_coerce(Entry.booked_on, Entry.booked_on.type),
    "account": type_coerce(Account.code, Account.code.type),
    "person": func.lower(Person.name),
    "debit": case((Posting.amount > 0, Posting.amount), else_=None),
    "credit": case((Posting.amount < 0, -Posting.amount), else_=None),
    "source": func.lower(Entry.source),
}


def _journal_ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    question = select(type_coerce(Posting.entry_id, BigInteger()), type_coerce(Posting.n, BigInteger()))
    holds = _matching(reading, words)
    if sort in {"date", "source"} or holds or view == "reversals":
        question = question.join(Entry, Entry.id == Posting.entry_id)
    if sort == "account" or view == "owners":
        question = question.join(Account, Account.id == Posting.account_id)
    if sort == "person":
        question = question.outerjoin(Person, Person.id == Posting.person_id)
    if view == "owners":
        question = question.where(Account.code.in_((*OWNER_ACCOUNTS, "bank_owners")))
    if view == "reversals":
        question = question.where(Entry.reverses.is_not(None))
    order = _JOURNAL_SORTS.get(sort)
    if order is not None:
        question = question.order_by((order.desc() if descending else order.asc()).nulls_last())
    # The postings of an entry stay in their order, whichever way the entries go.
    entry = Posting.entry_id.desc() if descending else Posting.entry_id.asc()
    rows = reading.session.connection().execute(question.where(*holds).order_by(entry, Posting.n))
    return [row_of_posting(entry_id, n) for entry_id, n in rows]


def _journal_page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    places = {key: entry_of_row(key) for key in ids}
    rows = reading.session.execute(
        select(
            Posting.entry_id,
            Posting.n,
            Entry.booked_on,
            Account.code,
            Person.name,
            Posting.amount,
            Posting.currency,
            Entry.source,
        )
        .join(Entry, Entry.id == Posting.entry_id)
        .join(Account, Account.id == Posting.account_id)
        .outerjoin(Person, Person.id == Posting.person_id)
        .where(Posting.entry_id.in_({entry for entry, _n in places.values()}))
    )
    found: dict[tuple[int, int], tuple[object, ...]] = {}
    for entry, n, on, code, person, amount, currency, source in rows:
        debit = Money(amount, currency) if amount > 0 else None
        credit = Money(-amount, currency) if amount < 0 else None
        found[entry, n] = (entry, on, _(ACCOUNTS[code].words), person, debit, credit, source)
    return tuple(Row(key, found[place]) for key, place in places.items() if place in found)


JOURNAL = Table(
    name="journal",
    subject=Subject.ENTRY,
    columns=(
        Column("entry", N_("Entry"), Kind.COUNT, 6),
        Column("date", N_("Date"), Kind.DAY, 11),
        Column("account", N_("Account"), Kind.TEXT, 22),
        Column("person", N_("Person"), Kind.TEXT, 18),
        Column("debit", N_("Debit"), Kind.MONEY, 11),
        Column("credit", N_("Credit"), Kind.MONEY, 11),
        Column("source", N_("Source"), Kind.TEXT, 20, lesser=True),
    ),
    views=(
        View("all", N_("Journal")),
        View("owners", N_("Owners' money")),
        View("reversals", N_("Reversals")),
    ),
    ids=_journal_ids,
    page=_journal_page,
    sort="entry",
    descending=True,
    hint=N_("account, person, source, number of an entry"),
    empty=N_("The journal fills by itself: each act books what it moves, and nothing in it is ever changed."),
)
