"""The table of people and the page about one: what they own here, what they bought, what is owed and since when."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import ColumnElement, Select, case, func, select

from shopledger.model import (
    Account,
    Charge,
    FeePayment,
    Ownership,
    OwnershipShare,
    Payment,
    Payout,
    Person,
    Posting,
    Sale,
    Stay,
)
from shopledger.quantities.errors import NotFound
from shopledger.quantities.fields import Kind
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import facts_of, instrument_words, shown, table_columns, table_fields
from shopledger.queries.due import unpaid_shares
from shopledger.queries.owing import balances_by_person, owner_accounts
from shopledger.queries.papers import papers_of
from shopledger.queries.shapes import (
    OWED,
    OWES,
    Column,
    Fact,
    Group,
    History,
    Line,
    Mark,
    MarkKind,
    Row,
    Sheet,
    Subject,
    Table,
    View,
)
from shopledger.store.search import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

COLUMNS = (
    *table_columns(Person),
    Column("owed", N_("Owed to them"), Kind.MONEY, 11),
    Column("owes", N_("They owe"), Kind.MONEY, 11),
)
VIEWS = (
    View("all", N_("All")),
    View("owners", N_("Owners")),
    View("buyers", N_("Buyers")),
    View("open", N_("Owe or are owed")),
)
OWED_TO_THEM = ("owners_pending", "owners_held", "deposits", "fees_due", "part_exchange")
THEY_OWE = ("buyers", "owners_owe", "fees_owe")


def _balance(accounts: Sequence[str], sign: int) -> ColumnElement[Any]:
    """Give what stands on accounts of a person, as a column beside them; nothing below zero."""
    total = (
        select(func.coalesce(func.sum(Posting.amount), 0) * sign)
        .join(Account, Account.id == Posting.account_id)
        .where(Account.code.in_(accounts), Posting.person_id == Person.id)
        .correlate(Person)
        .scalar_subquery()
    )
    return case((total > 0, total), else_=0)


def _view(view: str) -> list[ColumnElement[bool]]:
    newest = select(func.max(Ownership.id)).group_by(Ownership.instrument_id).scalar_subquery()
    match view:
        case "owners":
            owners = select(OwnershipShare.person_id).where(OwnershipShare.ownership_id.in_(newest))
            return [Person.id.in_(owners.scalar_subquery()), Person.relation != "shop"]
        case "buyers":
            return [Person.id.in_(select(Sale.buyer_id).scalar_subquery())]
        case "open":
            return [(_balance(OWED_TO_THEM, -1) > 0) | (_balance(THEY_OWE, 1) > 0)]
        case _:
            return []


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the people of a view who fit what is typed, sorted."""
    rows: Select[Any] = select(Person.id).where(*_view(view))
    found = matching(reading.session, Subject.PERSON.value, words)
    if found is not None:
        rows = rows.where(Person.id.in_(found.scalar_subquery()))
    by: dict[str, Any] = {
        "owed": _balance(OWED_TO_THEM, -1),
        "owes": _balance(THEY_OWE, 1),
        "number": Person.id,
    }
    if sort in table_fields(Person) and sort not in by:
        by[sort] = func.lower(getattr(Person, sort))
    key = by.get(sort, func.lower(Person.name))
    rows = rows.order_by(key.desc() if descending else key, Person.id)
    return list(reading.session.scalars(rows))


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give people as rows, in the order asked."""
    fields = table_fields(Person)
    columns = [getattr(Person, name) for name in fields]
    wanted = list(ids)
    accounts = balances_by_person(reading, (*OWED_TO_THEM, *THEY_OWE), wanted)
    found = {}
    for key, *values in reading.session.execute(select(Person.id, *columns).where(Person.id.in_(wanted))):
        cells = [shown(reading, field, value) for field, value in zip(fields.values(), values, strict=True)]
        now = accounts.get(key, {})
        owed = -sum(now.get(code, 0) for code in OWED_TO_THEM)
        owes = sum(now.get(code, 0) for code in THEY_OWE)
        found[key] = Row(
            key,
            (*cells, reading.money(owed) if owed > 0 else None, reading.money(owes) if owes > 0 else None),
        )
    return [found[one] for one in ids if one in found]


def sheet(reading: Reading, person_id: int) -> Sheet:
    """Give the page about a person.

    Raises: NotFound: there is no such person.
    """
    table = Person.__table__
    row = reading.session.execute(select(*table.columns).where(table.c.id == person_id)).first()
    if row is None:
        raise NotFound(N_("There is no such person in the ledger. Choose someone, or add them first."))
    named = row._mapping
    account = owner_accounts(reading, [person_id]).get(person_id)
    unpaid = unpaid_shares(reading, person_id)
    others = balances_by_person(reading, (*OWED_TO_THEM, *THEY_OWE), [person_id]).get(person_id, {})
    lines: list[Line] = []
    if account is not None:
        lines += [Line(_("Not yet due"), "", account.pending)] if account.pending else []
        lines += [
            Line(
                _("Set aside"),
                _("since {day}, {number}").format(day=_day(reading, one.settled_on), number=one.number),
                one.left,
            )
            for one in unpaid
        ]
        lines += [Line(_("Owes as an owner"), "", -account.owes)] if account.owes else []
        net = account.net
        lines.append(
            Line(_("Owed as an owner"), "", net, strong=True, note=_("owner owes") if net.minor < 0 else "")
        )
    for code, words, sign in (
        ("buyers", _("Owes as a buyer"), 1),
        ("deposits", _("Deposit held for them"), -1),
        ("fees_due", _("Fees owed to them"), -1),
        ("fees_owe", _("Fees to be paid back"), 1),
    ):
        minor = sign * others.get(code, 0)
        if minor:
            lines.append(Line(words, "", reading.money(minor)))
    owed = account is not None and account.net.minor > 0
    owes = any(others.get(code, 0) > 0 for code in THEY_OWE)
    return Sheet(
        Subject.PERSON,
        person_id,
        named["name"],
        line=", ".join(part for part in (named["number"], named["plays"]) if part),
        standing=_standing(lines, owed=owed, owes=owes),
        state=OWED if owed and unpaid else OWES if owes else None,
        groups=tuple(group for group in _groups(reading, person_id, row) if group.facts),
        money=tuple(lines),
        money_title=N_("What stands between them and the shop"),
        papers=papers_of(reading, person_id=person_id),
        history=History((), _marks(reading, person_id)),
    )


def _day(reading: Reading, day: date) -> str:
    return show_day(day, reading.ledger.manners)


def _standing(lines: Sequence[Line], *, owed: bool, owes: bool) -> str:
    if owed and owes:
        return _("The shop owes them, and they owe the shop.")
    if owed:
        return _("The shop owes them for what was sold.")
    if owes:
        return _("They owe the shop.")
    return _("Nothing is owed on either side.") if not lines else _("All is even.")


def _groups(reading: Reading, person_id: int, row: Any) -> list[Group]:
    newest = select(func.max(Ownership.id)).group_by(Ownership.instrument_id).scalar_subquery()
    owned = list(
        reading.session.execute(
            select(Ownership.instrument_id, OwnershipShare.share)
            .join(OwnershipShare, OwnershipShare.ownership_id == Ownership.id)
            .join(Stay, (Stay.instrument_id == Ownership.instrument_id) & Stay.ended_on.is_(None))
            .where(Ownership.id.in_(newest), OwnershipShare.person_id == person_id)
            .order_by(Ownership.instrument_id)
        ).tuples()
    )
    words = instrument_words(reading, [key for key, _share in owned])
    bought = reading.session.execute(
        select(Sale.number, Sale.sold_on).where(Sale.buyer_id == person_id).order_by(Sale.id.desc())
    )
    charges = reading.session.execute(
        select(Charge.number, Charge.what, Charge.minor, Charge.charged_on)
        .where(Charge.person_id == person_id)
        .order_by(Charge.id.desc())
    )
    return [
        Group(N_("Who it is"), facts_of(reading, Person, row, without=("name", "number"))),
        Group(
            N_("Theirs, in the shop's hands"),
            tuple(Fact(words[key], "" if share == 1 else share) for key, share in owned),
        ),
        Group(N_("Bought"), tuple(Fact(number, day) for number, day in bought)),
        Group(
            N_("Charged"),
            tuple(
                Fact(f"{number} {what}", reading.money(minor), _day(reading, day))
                for number, what, minor, day in charges
            ),
        ),
    ]


def _marks(reading: Reading, person_id: int) -> tuple[Mark, ...]:
    session = reading.session
    marks = [
        Mark(day, MarkKind.SALE, _("bought, {number}").format(number=number), subject=(Subject.SALE, key))
        for key, number, day in session.execute(
            select(Sale.id, Sale.number, Sale.sold_on).where(Sale.buyer_id == person_id)
        )
    ]
    for record, day, words in (
        (Payment, Payment.received_on, _("paid, {number}")),
        (Payout, Payout.paid_on, _("was paid, {number}")),
        (FeePayment, FeePayment.paid_on, _("fee paid, {number}")),
        (Charge, Charge.charged_on, _("charged, {number}")),
    ):
        marks += [
            Mark(on, MarkKind.MONEY, words.format(number=number))
            for number, on in session.execute(select(record.number, day).where(record.person_id == person_id))
        ]
    marks += [
        Mark(
            day,
            MarkKind.ARRIVAL,
            _("brought {number}").format(number=number),
            subject=(Subject.INSTRUMENT, key),
        )
        for key, number, day in session.execute(
            select(Stay.instrument_id, Stay.number, Stay.came_in_on).where(Stay.brought_by_id == person_id)
        )
    ]
    return tuple(sorted(marks, key=lambda mark: mark.on))


TABLE = Table(
    name="people",
    subject=Subject.PERSON,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="name",
    hint=N_("name, number, telephone, what they play"),
    empty=N_("Owners, buyers and players stand here, one record each."),
    first_act="add_person",
)
