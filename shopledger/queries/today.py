"""Today: what needs the shop, in order of harm; each line leads to its act."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from shopledger.queries import today_away as away
from shopledger.queries import today_money as money
from shopledger.queries import today_things as things
from shopledger.queries import today_trials as trials
from shopledger.queries import today_wanted as wanted
from shopledger.queries.due_lines import Section

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

ORDER: tuple[Callable[[Reading, date], Section], ...] = (
    trials.trials_due,
    trials.kept_on_trial,
    away.not_arrived,
    away.placings_due,
    money.sales_to_settle,
    money.owners_to_pay,
    things.agreements_ending,
    money.buyers_owing,
    money.payments_to_clear,
    things.work_promised,
    wanted.wanted_and_found,
    things.holds_ending,
    things.uncollected,
    things.copies,
)
"""The sections in order of harm: others' property out of hand and others' money first, the shop's own care last."""


def sections(reading: Reading) -> tuple[Section, ...]:
    """Give the sections in which something waits."""
    today = reading.ledger.today()
    return tuple(found for ask in ORDER if (found := ask(reading, today)).count)
