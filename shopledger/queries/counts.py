"""The table of counts, the newest first: how much was to be here, how much was seen, whether anything is missing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from shopledger.model import StockTake
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import table_columns
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.queries.sheet_shapes import Sheet

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

COLUMNS = (
    *table_columns(StockTake),
    Column("seen", N_("Seen"), Kind.TEXT, 10, sortable=False),
    Column("missing", N_("Missing"), Kind.COUNT, 9),
    Column("unexpected", N_("Not expected"), Kind.COUNT, 11, sortable=False),
    Column("state", N_("State"), Kind.TEXT, 16, sortable=False),
)
VIEWS = (
    View("all", N_("All")),
    View("going_on", N_("Going on")),
    View("missing", N_("With something missing")),
)


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the counts of a view that fit what is typed, sorted."""
    from shopledger.queries import count_rows

    return count_rows.ids(reading, view, words, sort, descending)


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these counts in this order; of those that are gone there is no row."""
    from shopledger.queries import count_rows

    return count_rows.page(reading, ids)


def sheet(reading: Reading, count_id: int) -> Sheet:
    """Give the sheet of a count.

    Raises: NotFound: there is no such count.
    """
    from shopledger.queries import count_sheet

    return count_sheet.sheet(reading, count_id)


TABLE = Table(
    name="counts",
    subject=Subject.STOCK_TAKE,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="began_on",
    descending=True,
    hint=N_("number of the count, who counted"),
    empty=N_("Counts of the stock stand here: what should be here, what was seen, what is missing."),
    first_act="begin_count",
)
