"""The table of people: whoever the shop deals with, what is owed to them and what they owe."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, Subquery, case, func, select, type_coerce

from shopledger.model import Account, OwnershipShare, Person, Posting, Sale
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import column_of, shown, table_columns, table_fields
from shopledger.queries.owing import balances_by_person
from shopledger.queries.person_sheet import sheet
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.rules.journal import CHART, Side
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

__all__ = ["DEBTS", "TABLE", "ids", "page", "sheet"]

DEBTS = tuple(rule.code for rule in CHART if rule.by_person and rule.side is Side.DEBT)
"""Accounts of what the shop owes to people."""
CLAIMS = tuple(rule.code for rule in CHART if rule.by_person and rule.side is Side.ASSET)
"""Accounts of what people owe to the shop."""
COLUMNS = (
    *table_columns(Person),
    Column("owed", N_("Owed to them"), Kind.MONEY, 11),
    Column("owes", N_("They owe"), Kind.MONEY, 11),
)
VIEWS = (
    View("all", N_("All")),
    View("owners", N_("Owners")),
    View("buyers", N_("Buyers")),
    View("owing", N_("Owe or are owed")),
)


def _sums() -> Subquery:
    """Give by person what they are owed and what they owe, each account for itself and never below nought."""
    each = (
        select(Posting.person_id, Account.code, func.sum(Posting.amount).label("total"))
        .join(Account, Account.id == Posting.account_id)
        .where(Account.code.in_((*DEBTS, *CLAIMS)), Posting.person_id.is_not(None))
        .group_by(Posting.person_id, Account.code)
        .having(func.sum(Posting.amount) != 0)
        .subquery()
    )
    return (
        select(
            each.c.person_id,
            func.sum(case((each.c.total < 0, -each.c.total), else_=0)).label("owed"),
            func.sum(case((each.c.total > 0, each.c.total), else_=0)).label("owes"),
        )
        .group_by(each.c.person_id)
        .subquery()
    )


def _view(view: str) -> list[ColumnElement[bool]]:
    match view:
        case "owners":
            return [
                Person.id.in_(select(OwnershipShare.person_id).scalar_subquery()),
                Person.relation != "shop",
            ]
        case "buyers":
            return [Person.id.in_(select(Sale.buyer_id).scalar_subquery())]
        case _:
            return []


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the people of a view who fit what is typed, sorted."""
    question: Select[Any] = select(type_coerce(Person.id, BigInteger())).where(*_view(view))
    found = matching(reading.session, Subject.PERSON.value, words)
    if found is not None:
        question = question.where(Person.id.in_(found.scalar_subquery()))
    order: ColumnElement[Any] = type_coerce(Person.id, BigInteger())
    if view == "owing" or sort in {"owed", "owes"}:
        sums = _sums()
        question = question.join(sums, sums.c.person_id == Person.id, isouter=view != "owing")
        order = func.coalesce(sums.c[sort], 0) if sort in {"owed", "owes"} else order
    if sort in table_fields(Person) and sort != "number":
        order = func.nullif(func.lower(column_of(Person, sort)), "")
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(),
        type_coerce(Person.id, BigInteger()).desc()
        if descending
        else type_coerce(Person.id, BigInteger()).asc(),
    )
    return reading.session.connection().execute(question).scalars().all()


def owed_and_owes(sums: Mapping[str, int]) -> tuple[int, int]:
    """Give what a person is owed and what they owe from their balances, each account for itself."""
    return sum(-minor for minor in sums.values() if minor < 0), sum(
        minor for minor in sums.values() if minor > 0
    )


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these people in this order; of those that are gone there is no row."""
    wanted = list(ids)
    fields = table_fields(Person)
    sums = balances_by_person(reading, (*DEBTS, *CLAIMS), wanted)
    found: dict[int, Row] = {}
    for key, *values in reading.session.execute(
        select(Person.id, *(column_of(Person, name) for name in fields)).where(Person.id.in_(wanted))
    ):
        cells = [shown(reading, field, value) for field, value in zip(fields.values(), values, strict=True)]
        owed, owes = owed_and_owes(sums.get(key, {}))
        found[key] = Row(key, (*cells, reading.money(owed), reading.money(owes)))
    return tuple(found[key] for key in ids if key in found)


TABLE = Table(
    name="people",
    subject=Subject.PERSON,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="name",
    hint=N_("name, number, telephone, what they play"),
    empty=N_("People stand here once: as owner, buyer, player or whoever else they are to the shop."),
    first_act="add_person",
)
