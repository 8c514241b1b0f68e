"""The table of trials by the day they are due back: with whom, what is out at which value, and where each stands.

It stands beside the table of stock, which is the first of the window: what its rows need is loaded when it is shown.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from shopledger.model import Trial
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import table_columns
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.queries.sheet_shapes import Sheet

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

COLUMNS = (
    *table_columns(Trial),
    Column("what", N_("What is lent"), Kind.TEXT, 30, sortable=False),
    Column("value", N_("Value out"), Kind.MONEY, 11, lesser=True),
    Column("deposit", N_("Deposit held"), Kind.MONEY, 11, sortable=False, lesser=True),
    Column("state", N_("State"), Kind.TEXT, 14),
)
VIEWS = (
    View("open", N_("Going on")),
    View("due", N_("Due within a week")),
    View("overdue", N_("Overdue")),
    View("to_buy", N_("To be bought")),
    View("back", N_("Over")),
    View("all", N_("All")),
)


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the trials of a view that fit what is typed, sorted; those without a value come last."""
    from shopledger.queries import trial_rows

    return trial_rows.ids(reading, view, words, sort, descending)


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these trials in this order; of those that are gone there is no row."""
    from shopledger.queries import trial_rows

    return trial_rows.page(reading, ids)


def sheet(reading: Reading, trial_id: int) -> Sheet:
    """Give the sheet of a trial.

    Raises: NotFound: there is no such trial.
    """
    from shopledger.queries import trial_sheet

    return trial_sheet.sheet(reading, trial_id)


TABLE = Table(
    name="trials",
    subject=Subject.TRIAL,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="due_on",
    hint=N_("player, instrument, number, note"),
    empty=N_("Trials stand here from the day something goes out, by the day it is due back."),
)
