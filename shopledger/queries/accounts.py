"""The books, to read only: the journal, the balances, and what is owed to owners with what covers it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import ColumnElement, Select, Text, case, cast, func, select

from shopledger.model import Account, Deed, Entry, Person, Posting, Seal
from shopledger.quantities.errors import NotFound
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.owing import balances, owner_accounts
from shopledger.queries.papers import papers_of
from shopledger.queries.shapes import Column, Fact, Group, Line, Row, Sheet, Subject, Table, View
from shopledger.rules.journal import ACCOUNTS, CHART
from shopledger.store.search import plain_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

SPAN = 1000
"""A row of the journal is a posting: its key is the entry's number times this, and its place in the entry."""

JOURNAL_COLUMNS = (
    Column("entry", N_("Entry"), Kind.COUNT, 7),
    Column("date", N_("Date"), Kind.DAY, 11),
    Column("account", N_("Account"), Kind.TEXT, 24),
    Column("person", N_("Person"), Kind.TEXT, 18),
    Column("debit", N_("Debit"), Kind.MONEY, 11),
    Column("credit", N_("Credit"), Kind.MONEY, 11),
    Column("source", N_("Source"), Kind.TEXT, 24),
)
BALANCE_COLUMNS = (
    Column("account", N_("Account"), Kind.TEXT, 34),
    Column("code", N_("Code"), Kind.TEXT, 16),
    Column("debit", N_("Debit"), Kind.MONEY, 12),
    Column("credit", N_("Credit"), Kind.MONEY, 12),
)
OWNER_COLUMNS = (
    Column("number", N_("Number"), Kind.TEXT, 9),
    Column("owner", N_("Owner"), Kind.TEXT, 22),
    Column("pending", N_("Not yet due"), Kind.MONEY, 12),
    Column("held", N_("Set aside"), Kind.MONEY, 12),
    Column("owes", N_("Owner owes"), Kind.MONEY, 12),
    Column("net", N_("Owed in all"), Kind.MONEY, 12),
    Column("since", N_("Oldest since"), Kind.DAY, 12),
)


def _narrowed(rows: Select[Any], typed: str) -> Select[Any]:
    """Narrow the journal by words in its account, person, source, act or number."""
    for word in plain_words(typed):
        pattern = f"%{word}%"
        hits: list[ColumnElement[bool]] = [
            func.lower(column).like(pattern)
            for column in (Account.code, Person.name, Person.number, Entry.source, Entry.act)
        ]
        hits.append(cast(Entry.id, Text) == word)
        found = hits[0]
        for hit in hits[1:]:
            found = found | func.coalesce(hit, False)
        rows = rows.where(func.coalesce(found, False))
    return rows


def _postings(*columns: Any) -> Select[Any]:
    return (
        select(*columns)
        .select_from(Posting)
        .join(Entry, Entry.id == Posting.entry_id)
        .join(Account, Account.id == Posting.account_id)
        .outerjoin(Person, Person.id == Posting.person_id)
    )


def journal_ids(reading: Reading, _view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the keys of the journal's postings, sorted."""
    by: dict[str, Any] = {
        "entry": Entry.id,
        "date": Entry.booked_on,
        "account": Account.code,
        "person": func.coalesce(Person.name, ""),
        "debit": case((Posting.amount > 0, Posting.amount), else_=0),
        "credit": case((Posting.amount < 0, -Posting.amount), else_=0),
        "source": Entry.source,
    }
    key = by.get(sort, Entry.id)
    entry = Entry.id.desc() if descending else Entry.id
    rows = _narrowed(_postings(Posting.entry_id * SPAN + Posting.n), words)
    return [
        int(one)
        for one in reading.session.scalars(rows.order_by(key.desc() if descending else key, entry, Posting.n))
    ]


def journal_page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give postings as rows, in the order asked."""
    key = Posting.entry_id * SPAN + Posting.n
    rows = _postings(key, Entry.id, Entry.booked_on, Account.code, Person.name, Posting.amount, Entry.source)
    entries = {one // SPAN for one in ids}
    found = {}
    for one, entry, day, code, name, amount, source in reading.session.execute(
        rows.where(Entry.id.in_(entries))
    ):
        debit = reading.money(amount) if amount > 0 else None
        credit = reading.money(-amount) if amount < 0 else None
        found[int(one)] = Row(int(one), (entry, day, _(ACCOUNTS[code].words), name, debit, credit, source))
    return [found[one] for one in ids if one in found]


def entry_sheet(reading: Reading, row_id: int) -> Sheet:
    """Give the page about an entry of the journal.

    Raises: NotFound: there is no such entry.
    """
    number = row_id // SPAN
    found = reading.session.execute(
        select(Entry, Seal.hash).join(Seal, Seal.entry_id == Entry.id).where(Entry.id == number)
    ).first()
    if found is None:
        raise NotFound(N_("There is no entry {number} in this ledger."), number=number)
    entry, sealed = found
    op_id = entry.op_id.split("/")[0]
    by = reading.session.scalar(select(Deed.by).where(Deed.op_id == op_id)) or ""
    rows = reading.session.execute(
        _postings(Account.code, Person.name, Posting.amount).where(Entry.id == number).order_by(Posting.n)
    )
    lines = tuple(
        Line(
            _(ACCOUNTS[code].words) + (f", {name}" if name else ""),
            _("debit") if amount > 0 else _("credit"),
            reading.money(abs(amount)),
        )
        for code, name, amount in rows
    )
    facts = [
        Fact(N_("Booked on"), entry.booked_on),
        Fact(N_("Source"), entry.source),
        Fact(N_("Act"), entry.act.replace("_", " ")),
        Fact(N_("Recorded by"), by),
        Fact(N_("Seal"), f"{sealed[:16]}…"),
    ]
    if entry.reverses is not None:
        facts.append(Fact(N_("Reverses entry"), entry.reverses))
    return Sheet(
        Subject.ENTRY,
        row_id,
        _("Entry {number}").format(number=number),
        line=entry.source,
        standing=_("Sealed: it can be reversed, never changed."),
        groups=(Group(N_("What was booked"), tuple(fact for fact in facts if fact.value)),),
        money=lines,
        money_title=N_("Postings"),
        papers=papers_of(reading, op_id=op_id),
    )


def balance_ids(reading: Reading, _view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the accounts by their place in the chart, or sorted by their words or balance."""
    now = balances(reading)
    wanted = plain_words(words)
    places = [
        n
        for n, rule in enumerate(CHART)
        if all(word in f"{rule.code} {_(rule.words)}".casefold() for word in wanted)
    ]
    keys: dict[str, Callable[[int], Any]] = {
        "account": lambda n: _(CHART[n].words).casefold(),
        "code": lambda n: CHART[n].code,
        "debit": lambda n: now.get(CHART[n].code, 0),
        "credit": lambda n: -now.get(CHART[n].code, 0),
    }
    if sort in keys:
        places.sort(key=keys[sort], reverse=descending)
    return [n + 1 for n in places]


def balance_page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give accounts with their balances as rows."""
    now = balances(reading)
    rows = []
    for one in ids:
        rule = CHART[one - 1]
        minor = now.get(rule.code, 0)
        debit = reading.money(minor) if minor > 0 else None
        credit = reading.money(-minor) if minor < 0 else None
        rows.append(Row(one, (_(rule.words), rule.code, debit, credit)))
    return rows


def account_sheet(reading: Reading, row_id: int) -> Sheet:
    """Give the page about an account: its balance, by person where it is kept so.

    Raises: NotFound: there is no such account.
    """
    if not 1 <= row_id <= len(CHART):
        raise NotFound(N_("There is no such account in this ledger."))
    rule = CHART[row_id - 1]
    rows = reading.session.execute(
        select(Person.name, func.sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .outerjoin(Person, Person.id == Posting.person_id)
        .where(Account.code == rule.code)
        .group_by(Person.id, Person.name)
        .having(func.sum(Posting.amount) != 0)
        .order_by(Person.name)
    ).all()
    total = sum(int(minor) for _name, minor in rows)
    side = _("debit") if total > 0 else _("credit")
    lines = [
        Line(name, _("debit") if minor > 0 else _("credit"), reading.money(abs(int(minor))))
        for name, minor in rows
        if name
    ]
    lines.append(Line(_("Balance"), side if total else "", reading.money(abs(total)), strong=True))
    return Sheet(
        Subject.ACCOUNT,
        row_id,
        _(rule.words).capitalize(),
        line=rule.code,
        money=tuple(lines),
        money_title=N_("Balance"),
    )


def owner_ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the people who are owed as owners, or owe."""
    rows = owner_page(reading, list(owner_accounts(reading)))
    wanted = plain_words(words)
    kept = [row for row in rows if all(word in str(row.cells[1]).casefold() for word in wanted)]
    if view == "owe":
        kept = [row for row in kept if row.cells[4] is not None]
    place = next((n for n, column in enumerate(OWNER_COLUMNS) if column.name == sort), 5)

    def key(row: Row) -> tuple[bool, int, str]:
        """Nothing first, then by amount or by words."""
        value = row.cells[place]
        amount = value.minor if isinstance(value, Money) else 0
        return (value is not None, amount, "" if isinstance(value, Money) else str(value).casefold())

    return [row.id for row in sorted(kept, key=key, reverse=descending)]


def owner_page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give owners with what stands between them and the shop."""
    accounts = owner_accounts(reading, ids)
    people = {
        key: (number, name)
        for key, number, name in reading.session.execute(
            select(Person.id, Person.number, Person.name).where(Person.id.in_(list(ids)))
        )
    }
    since = {
        key: day
        for key, day, _n in reading.session.execute(
            select(Posting.person_id, func.max(Entry.booked_on), func.count())
            .join(Entry, Entry.id == Posting.entry_id)
            .join(Account, Account.id == Posting.account_id)
            .where(Account.code == "owners_pending", Posting.amount < 0, Posting.person_id.in_(list(ids)))
            .group_by(Posting.person_id)
        )
    }
    rows = []
    for one in ids:
        if one in accounts and one in people:
            account = accounts[one]
            number, name = people[one]
            owed = (account.pending or None, account.held or None, account.owes or None, account.net)
            rows.append(Row(one, (number, name, *owed, since.get(one) if account.net.minor > 0 else None)))
    return rows


def covered(reading: Reading) -> tuple[Line, ...]:
    """Give whether the money held for owners covers what is set aside for them, in three figures."""
    now = balances(reading)
    held, bank = -now.get("owners_held", 0), now.get("bank_owners", 0)
    return (
        Line(_("Held for owners at the bank"), "", reading.money(bank)),
        Line(_("Set aside for owners"), "", reading.money(held)),
        Line(_("Above it"), _("buyers' money not settled yet"), reading.money(bank - held), strong=True),
    )


JOURNAL = Table(
    name="journal",
    subject=Subject.ENTRY,
    columns=JOURNAL_COLUMNS,
    views=(View("all", N_("Journal")),),
    ids=journal_ids,
    page=journal_page,
    sort="entry",
    descending=True,
    hint=N_("Account, person, source or number"),
    empty=N_("Every act that moves money books an entry here. Nothing is booked so far."),
)
BALANCES = Table(
    name="balances",
    subject=Subject.ACCOUNT,
    columns=BALANCE_COLUMNS,
    views=(View("all", N_("Balances")),),
    ids=balance_ids,
    page=balance_page,
    sort="chart",
    hint=N_("Account"),
)
OWNERS = Table(
    name="owners",
    subject=Subject.PERSON,
    columns=OWNER_COLUMNS,
    views=(View("all", N_("Owed to owners")), View("owe", N_("Owners who owe"))),
    ids=owner_ids,
    page=owner_page,
    sort="net",
    descending=True,
    hint=N_("Owner"),
    empty=N_("What is owed to owners after a sale stands here. Nothing is owed now."),
)
