"""The schedule of goods in custody of a ledger that isn't opened, and its lines for a terminal."""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from shopledger.papers.custody_list import GROUPS, CustodyLine, CustodyListFacts
from shopledger.quantities import days
from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import Manners
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.facts.custody_list import custody_list_facts
from shopledger.store.ledger import Ledger
from shopledger.store.looking import looking


def schedule_of(where: str | Path, on: str | None = None) -> CustodyListFacts:
    """Give the schedule of a ledger for a day as it is typed, 2026-03-04, or for today; nothing is written or migrated.

    Raises: Typed: it is no such day, or one that has not come. Trouble: the ledger can't be read.
    """
    with looking(where) as looked:
        # The unit reads on a connection of its own, in one snapshot.
        ledger = Ledger(looked.where, looked.engine, days.now, os.urandom)
        today = ledger.today()
        as_of = today if on is None else _day(on, today)
        with ledger.read() as reading:
            return custody_list_facts(reading, as_of, "", today)


def _day(typed: str, today: date) -> date:
    try:
        if len(typed) != len("2026-03-04"):
            raise ValueError
        day = date.fromisoformat(typed)
    except ValueError:
        raise Typed(
            N_("“{typed}” is no day: write the year, the month and the day, as 2026-03-04."),
            field="on",
            typed=typed,
        ) from None
    if day > today:
        raise Typed(
            N_("{day} has not come yet: the schedule tells of today, {today}, or of a day before."),
            field="on",
            day=day,
            today=today,
        )
    return day


def statement(facts: CustodyListFacts) -> Iterator[str]:
    """Give the schedule in lines: by group, then what each party insures."""
    manners = facts.shop.manners
    yield _("{shop}: goods in custody as of the end of {day}, values in {currency}").format(
        shop=facts.shop.name, day=show_day(facts.as_of, manners), currency=facts.value_total.currency
    )
    if not facts.lines:
        yield _("Nothing was in the care of the shop on this day.")
        return
    for code, words in GROUPS.items():
        lines = [line for line in facts.lines if line.group == code]
        if lines:
            yield ""
            yield _(words)
            for line in lines:
                yield f"  {_line(line, manners)}"
    yield ""
    for one in facts.totals:
        counted = count_words("{n} thing", "{n} things", one.things)
        bare = _(", {n} of them without a value").format(n=one.without_value) if one.without_value else ""
        amount = show_amount(one.value, manners, dash=False)
        yield _("insured by: {who}: {amount} for {things}{bare}").format(
            who=one.insured_by, amount=amount, things=counted, bare=bare
        )
    yield _("together: {amount} for {things}").format(
        amount=show_amount(facts.value_total, manners, dash=False),
        things=count_words("{n} thing", "{n} things", len(facts.lines)),
    )


def _line(line: CustodyLine, manners: Manners) -> str:
    since = "" if line.since is None else _("since {day}").format(day=show_day(line.since, manners))
    value = _("no value") if line.value is None else show_amount(line.value, manners, dash=False)
    told = (
        f"{line.number}  {line.what}",
        line.whose,
        line.place,
        since,
        _("risk: {who}").format(who=line.risk),
        _("insured by: {who}").format(who=line.insured_by),
        value,
    )
    return "; ".join(part for part in told if part)
