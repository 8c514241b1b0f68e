"""The table of parts and goods: every sort with how many are there, what they cost, and which are low."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, func, select, type_coerce

from shopledger.model import Goods, GoodsIn, GoodsOut
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import column_of, shown, table_columns, table_fields
from shopledger.queries.goods_sheet import sheet, state_of
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

__all__ = ["TABLE", "ids", "page", "sheet", "state_of"]

COLUMNS = (
    *table_columns(Goods),
    Column("there", N_("There"), Kind.COUNT, 8),
    Column("at_cost", N_("At cost"), Kind.MONEY, 11),
    Column("state", N_("State"), Kind.TEXT, 12, sortable=False),
)
VIEWS = (
    View("all", N_("All")),
    View("low", N_("Low")),
    View("parts", N_("Parts")),
    View("accessories", N_("Accessories")),
)
_SORT_OF_VIEW: Mapping[str, str] = {"parts": "part", "accessories": "accessory"}


def _left(column: str) -> ColumnElement[Any]:
    """Give what came of a sort less what went of it, in number (`quantity`) or in cost."""
    came = select(func.coalesce(func.sum(getattr(GoodsIn, column)), 0)).where(GoodsIn.goods_id == Goods.id)
    went = (
        select(func.coalesce(func.sum(getattr(GoodsOut, column)), 0))
        .join(GoodsIn, GoodsIn.id == GoodsOut.goods_in_id)
        .where(GoodsIn.goods_id == Goods.id)
    )
    return came.correlate(Goods).scalar_subquery() - went.correlate(Goods).scalar_subquery()


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the sorts of a view that fit what is typed, sorted."""
    key = type_coerce(Goods.id, BigInteger())
    question: Select[Any] = select(key)
    if view == "low":
        question = question.where(_left("quantity") <= Goods.low_at)
    elif view in _SORT_OF_VIEW:
        question = question.where(Goods.sort == _SORT_OF_VIEW[view])
    found = matching(reading.session, Subject.GOODS.value, words)
    if found is not None:
        question = question.where(Goods.id.in_(found.scalar_subquery()))
    order: ColumnElement[Any] = key
    if sort in {"there", "at_cost"}:
        order = _left("quantity" if sort == "there" else "cost")
    elif sort in table_fields(Goods) and sort != "number":
        column = column_of(Goods, sort)
        order = column if table_fields(Goods)[sort].kind is Kind.MONEY else func.lower(column)
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(), key.desc() if descending else key.asc()
    )
    return reading.session.connection().execute(question).scalars().all()


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these sorts in this order; of those that are gone there is no row."""
    fields = table_fields(Goods)
    columns = (column_of(Goods, name) for name in fields)
    rows = reading.session.execute(
        select(Goods.id, Goods.low_at, _left("quantity"), _left("cost"), *columns).where(
            Goods.id.in_(list(ids))
        )
    )
    found: dict[int, Row] = {}
    for key, low_at, there, cost, *values in rows:
        cells = [shown(reading, field, value) for field, value in zip(fields.values(), values, strict=True)]
        found[key] = Row(key, (*cells, int(there), reading.money(int(cost)), state_of(int(there), low_at)))
    return tuple(found[key] for key in ids if key in found)


TABLE = Table(
    name="goods",
    subject=Subject.GOODS,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="what",
    hint=N_("what it is, number, where it is kept"),
    empty=N_("Strings, pegs, rosin and whatever else is kept in small numbers stand here."),
    first_act="add_goods",
)
