"""The rows of the table of counts: which belong to a view, in which order, and what each says."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, false, func, select, true, type_coerce

from shopledger.model import StockTake, StockTakeLine
from shopledger.quantities.words import _
from shopledger.queries.declared import column_of, shown, table_fields
from shopledger.queries.shapes import Row, State
from shopledger.queries.states import ALL_SEEN, COUNTING, SOME_MISSING
from shopledger.store.matching import cut, plain_words

if TYPE_CHECKING:
    from datetime import date

    from shopledger.store.unit import Reading


def _lines(*which: ColumnElement[bool]) -> ColumnElement[int]:
    """Give how many lines of a count are like these."""
    counted = (
        select(func.count(StockTakeLine.id))
        .where(StockTakeLine.stock_take_id == StockTake.id, *which)
        .correlate(StockTake)
        .scalar_subquery()
    )
    return type_coerce(counted, BigInteger())


_EXPECTED = StockTakeLine.was_expected == true()
_UNSEEN = StockTakeLine.seen_at.is_(None)


def _view(view: str) -> list[ColumnElement[bool]]:
    match view:
        case "going_on":
            return [StockTake.ended_on.is_(None)]
        case "missing":
            return [StockTake.ended_on.is_not(None), _lines(_EXPECTED, _UNSEEN) > 0]
        case _:
            return []


def _sorted_by(column: str) -> ColumnElement[Any]:
    if column == "missing":
        return _lines(_EXPECTED, _UNSEEN)
    if column in table_fields(StockTake) and column != "number":
        found: ColumnElement[Any] = column_of(StockTake, column)
        return found
    return type_coerce(StockTake.id, BigInteger())


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the counts of a view that fit what is typed, sorted; those without a value come last."""
    order = _sorted_by(sort)
    question: Select[Any] = select(type_coerce(StockTake.id, BigInteger())).where(*_view(view))
    wanted = plain_words(words)
    if wanted:
        question = question.where(StockTake.id.in_(_fitting(reading, wanted)))
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(),
        StockTake.id.desc() if descending else StockTake.id.asc(),
    )
    return reading.session.connection().execute(question).scalars().all()


def _fitting(reading: Reading, wanted: Sequence[str]) -> list[int]:
    """Give the counts of whose number and counter each typed word begins a word; a shop has some dozens of counts."""
    rows = reading.session.execute(select(StockTake.id, StockTake.number, StockTake.counted_by))
    found = []
    for key, number, counted_by in rows:
        words = cut(f"{number} {counted_by}")
        if all(any(word.startswith(one) for word in words) for one in wanted):
            found.append(key)
    return found


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these counts in this order; of those that are gone there is no row."""
    fields = table_fields(StockTake)
    rows = reading.session.execute(
        select(
            StockTake.id,
            StockTake.ended_on,
            _lines(_EXPECTED),
            _lines(_EXPECTED, _UNSEEN),
            _lines(StockTakeLine.was_expected == false()),
            *(column_of(StockTake, name) for name in fields),
        ).where(StockTake.id.in_(list(ids)))
    ).all()
    found: dict[int, Row] = {}
    for key, ended_on, expected, missing, unexpected, *values in rows:
        cells = [shown(reading, field, cell) for field, cell in zip(fields.values(), values, strict=True)]
        seen = _("{seen} of {expected}").format(seen=expected - missing, expected=expected)
        state = state_of(ended_on, missing)
        found[key] = Row(key, (*cells, seen, missing or None, unexpected or None, state))
    return tuple(found[key] for key in ids if key in found)


def state_of(ended_on: date | None, missing: int) -> State:
    """Give the chip of a count."""
    if ended_on is None:
        return COUNTING
    return SOME_MISSING if missing else ALL_SEEN
