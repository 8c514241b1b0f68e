"""The table of sales: every invoice with its buyer, what was sold, what is paid, and what is to be done about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, func, select, type_coerce

from shopledger.model import Person, Sale, SaleLine
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import column_of, shown, table_columns, table_fields
from shopledger.queries.due import OwnerLine, owner_lines
from shopledger.queries.owing import paid_by_line, sales_money
from shopledger.queries.sale_sheet import sheet, state_of
from shopledger.queries.sale_states import held, to_settle, unpaid, unsettled
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

__all__ = ["TABLE", "ids", "page", "sheet", "state_of"]

COLUMNS = (
    *table_columns(Sale),
    Column("what", N_("What"), Kind.TEXT, 26),
    Column("price", N_("Price"), Kind.MONEY, 11),
    Column("buyer_pays", N_("Buyer pays"), Kind.MONEY, 11, lesser=True),
    Column("paid", N_("Paid so far"), Kind.MONEY, 11, lesser=True),
    Column("state", N_("State"), Kind.TEXT, 13, sortable=False),
)
VIEWS = (
    View("open", N_("Open")),
    View("to_settle", N_("To settle")),
    View("owners_to_pay", N_("Owners to pay")),
    View("returned", N_("Returned")),
    View("all", N_("All")),
)


def _view(reading: Reading, view: str) -> list[ColumnElement[bool]]:
    """Give what holds for the rows of a view."""
    match view:
        case "open":
            return [unpaid() | unsettled() | held()]
        case "to_settle":
            return [Sale.id.in_(to_settle(reading))]
        case "owners_to_pay":
            return [held()]
        case "returned":
            returned = select(SaleLine.sale_id).where(SaleLine.returned_on.is_not(None))
            return [Sale.id.in_(returned.scalar_subquery())]
        case _:
            return []


def _sum_of(column: Any) -> ColumnElement[Any]:
    return select(func.sum(column)).where(SaleLine.sale_id == Sale.id).correlate(Sale).scalar_subquery()


def _sorted_by(column: str) -> tuple[ColumnElement[Any], bool]:
    """Give what a column is sorted by, and whether the buyer's name is needed for it."""
    match column:
        case "buyer_id":
            return func.lower(Person.name), True
        case "price":
            return _sum_of(SaleLine.price), False
        case "buyer_pays":
            return _sum_of(SaleLine.buyer_pays), False
        case "paid":
            paid = paid_by_line().subquery()
            by_sale = (
                select(func.sum(paid.c.paid))
                .join(SaleLine, SaleLine.id == paid.c.line_id)
                .where(SaleLine.sale_id == Sale.id)
                .correlate(Sale)
                .scalar_subquery()
            )
            return by_sale, False
        case "what":
            first = select(SaleLine.what).where(SaleLine.sale_id == Sale.id, SaleLine.n == 1).correlate(Sale)
            return func.lower(first.scalar_subquery()), False
        case "number":
            return type_coerce(Sale.id, BigInteger()), False
        case _ if column in table_fields(Sale):
            return column_of(Sale, column), False
        case _:
            return type_coerce(Sale.id, BigInteger()), False


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the sales of a view that fit what is typed, sorted; the newest first among equals."""
    order, by_buyer = _sorted_by(sort)
    question: Select[Any] = select(type_coerce(Sale.id, BigInteger())).where(*_view(reading, view))
    if by_buyer:
        question = question.join(Person, Person.id == Sale.buyer_id)
    found = matching(reading.session, Subject.SALE.value, words)
    if found is not None:
        question = question.where(Sale.id.in_(found.scalar_subquery()))
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(),
        Sale.id.desc() if descending else Sale.id.asc(),
    )
    return reading.session.connection().execute(question).scalars().all()


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these sales in this order; of those that are gone there is no row."""
    wanted = list(ids)
    fields = table_fields(Sale)
    rows = reading.session.execute(
        select(Sale.id, Person.name, *(column_of(Sale, name) for name in fields))
        .join(Person, Person.id == Sale.buyer_id)
        .where(Sale.id.in_(wanted))
    ).all()
    what, prices, consigned = _lines(reading, wanted)
    money = sales_money(reading, wanted)
    today = reading.ledger.today()
    owners: dict[int, list[OwnerLine]] = {}
    for owner in owner_lines(reading, list(consigned), today):
        owners.setdefault(consigned[owner.line_id], []).append(owner)
    found: dict[int, Row] = {}
    for key, buyer, *values in rows:
        cells = [
            buyer if name == "buyer_id" else shown(reading, field, value)
            for (name, field), value in zip(fields.items(), values, strict=True)
        ]
        sale = money[key]
        state = state_of(sale, owners.get(key, []))
        found[key] = Row(
            key,
            (*cells, what.get(key, ""), reading.money(prices.get(key, 0)), sale.pays, sale.paid, state),
        )
    return tuple(found[key] for key in ids if key in found)


def _lines(
    reading: Reading, sale_ids: Sequence[int]
) -> tuple[Mapping[int, str], Mapping[int, int], Mapping[int, int]]:
    """Give by sale what was sold and for how much in all, and the sale of each consigned line."""
    what: dict[int, list[str]] = {}
    prices: dict[int, int] = {}
    consigned: dict[int, int] = {}
    for key, sale_id, kind, words, price in reading.session.execute(
        select(SaleLine.id, SaleLine.sale_id, SaleLine.kind, SaleLine.what, SaleLine.price)
        .where(SaleLine.sale_id.in_(sale_ids))
        .order_by(SaleLine.sale_id, SaleLine.n)
    ):
        what.setdefault(sale_id, []).append(words)
        prices[sale_id] = prices.get(sale_id, 0) + price
        if kind == "consigned":
            consigned[key] = sale_id
    said = {
        sale_id: words[0]
        if len(words) == 1
        else _("{what} and {n} more").format(what=words[0], n=len(words) - 1)
        for sale_id, words in what.items()
    }
    return said, prices, consigned


TABLE = Table(
    name="sales",
    subject=Subject.SALE,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="number",
    descending=True,
    hint=N_("invoice, buyer, what was sold, receipt"),
    empty=N_("Sales stand here with what the buyer has paid and what is to be settled with the owner."),
    first_act="sell_goods",
)
