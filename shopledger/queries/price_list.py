"""The shop's price list of work as a table with a page a line: what is offered, what it usually takes and costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, func, select, type_coerce

from shopledger.model import WorkItem, field_of
from shopledger.papers.workshop import time_words
from shopledger.quantities.fields import Kind
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import column_of, row_of
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.queries.sheet_shapes import Fact, Group, Sheet
from shopledger.queries.states import LEFT_OUT, OFFERED
from shopledger.rules.estimating import for_time
from shopledger.store.matching import cut, plain_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

COLUMNS = (
    Column("what", N_("Work"), Kind.TEXT, 28),
    Column("for_kind", N_("For"), Kind.TEXT, 14),
    Column("minutes", N_("Usual time"), Kind.TEXT, 11),
    Column("price", N_("Price"), Kind.MONEY, 11),
)
VIEWS = (View("offered", N_("Offered")), View("left_out", N_("Left out")))


def priced_words(reading: Reading, item: WorkItem) -> str:
    """Give what a line of the price list costs, or that it goes by the time."""
    if item.price is None:
        return _("by the hour")
    return show_amount(reading.money(item.price), reading.ledger.manners, dash=False)


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the lines of a view that fit what is typed, sorted; a price list is short enough to be read whole."""
    column: ColumnElement[Any] = column_of(WorkItem, sort)
    order = func.lower(column) if sort in {"what", "for_kind"} else column
    key = type_coerce(WorkItem.id, BigInteger())
    question = select(key, WorkItem.what, WorkItem.for_kind).order_by(
        (order.desc() if descending else order.asc()).nulls_last(), key
    )
    if view == "offered":
        question = question.where(WorkItem.left_out_on.is_(None))
    else:
        question = question.where(WorkItem.left_out_on.is_not(None))
    typed = plain_words(words)
    return tuple(
        found
        for found, *said in reading.session.connection().execute(question)
        if all(any(one.startswith(word) for one in cut(" ".join(said))) for word in typed)
    )


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these lines in this order; of those that are gone there is no row."""
    rows = reading.session.execute(
        select(
            WorkItem.id,
            WorkItem.what,
            WorkItem.for_kind,
            WorkItem.minutes,
            WorkItem.price,
        ).where(WorkItem.id.in_(list(ids)))
    )
    found = {
        key: Row(
            key,
            (
                what,
                kind,
                time_words(minutes) if minutes else None,
                None if price is None else reading.money(price),
            ),
        )
        for key, what, kind, minutes, price in rows
    }
    return tuple(found[key] for key in ids if key in found)


def sheet(reading: Reading, item_id: int) -> Sheet:
    """Give the page about a line of the price list.

    Raises: NotFound: there is no such line.
    """
    row = row_of(reading, WorkItem, item_id)
    item = reading.session.get_one(WorkItem, item_id)
    left_out = row.left_out_on
    return Sheet(
        subject=Subject.WORK,
        id=item_id,
        title=row.what,
        line=" · ".join(
            part
            for part in (
                row.for_kind,
                time_words(row.minutes) if row.minutes else "",
                priced_words(reading, item),
            )
            if part
        ),
        standing=_("Estimates are filled from it.")
        if left_out is None
        else _("No longer offered since {day}; what was estimated by it stays as it was.").format(
            day=show_day(left_out, reading.ledger.manners)
        ),
        state=OFFERED if left_out is None else LEFT_OUT,
        groups=(Group(N_("What it costs"), _costs(reading, item)),),
    )


def _costs(reading: Reading, item: WorkItem) -> tuple[Fact, ...]:
    """Give the price, or what the usual time comes to at the hourly rate of now, and for what it is."""
    rate = reading.shop().work_rate
    facts = [Fact(field_of(WorkItem.for_kind).label, item.for_kind or _("any instrument"))]
    if item.minutes:
        facts.append(Fact(field_of(WorkItem.minutes).label, time_words(item.minutes)))
    if item.price is not None:
        facts.append(Fact(field_of(WorkItem.price).label, reading.money(item.price)))
    elif item.minutes and rate is not None:
        hourly = show_amount(reading.money(rate), reading.ledger.manners, dash=False)
        comes_to = for_time(reading.money(rate), item.minutes)
        facts.append(Fact(N_("Comes to"), comes_to, _("at {rate} an hour").format(rate=hourly)))
    else:
        facts.append(Fact(field_of(WorkItem.price).label, _("by the hour; the hourly rate is not set yet")))
    return tuple(facts)


TABLE = Table(
    name="work",
    subject=Subject.WORK,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="what",
    hint=N_("work, kind of instrument"),
    empty=N_(
        "What the shop does at a price of its own, or by the time it usually takes, stands here; estimates are"
        " filled from it."
    ),
    first_act="add_work_item",
)
