"""The shop's price list of work: what is offered, what it usually takes and what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import WorkItem
from shopledger.papers.workshop import time_words
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import _
from shopledger.queries.shapes import Fact

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def work_offered(reading: Reading) -> Sequence[WorkItem]:
    """Give the lines of the price list that are offered, by name."""
    return reading.session.scalars(
        select(WorkItem)
        .where(WorkItem.left_out_on.is_(None))
        .order_by(func.lower(WorkItem.what), WorkItem.id)
    ).all()


def priced_words(reading: Reading, item: WorkItem) -> str:
    """Give what a line of the price list costs, or that it goes by the time."""
    if item.price is None:
        return _("by the hour")
    return show_amount(reading.money(item.price), reading.ledger.manners, dash=False)


def price_list_facts(reading: Reading) -> tuple[Fact, ...]:
    """Give the price list as facts: what it is, what it costs, and for what and how long in quiet ink behind it."""
    return tuple(
        Fact(
            item.what,
            priced_words(reading, item),
            ", ".join(
                part for part in (item.for_kind, time_words(item.minutes) if item.minutes else "") if part
            ),
        )
        for item in work_offered(reading)
    )
