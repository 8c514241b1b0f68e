"""The page about a count: what is missing first, then what was met without being expected, then what was seen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from shopledger.quantities.days import day_of
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.count_rows import state_of
from shopledger.queries.counting import Count, Counted, count_of
from shopledger.queries.papers import numbered, paper_row
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, PaperRow, Sheet

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about a count.

    Raises: NotFound: there is no such count.
    """
    count = count_of(reading, id)
    ended = count.ended_on is not None
    return Sheet(
        subject=Subject.STOCK_TAKE,
        id=id,
        title=_("Count {number}").format(number=count.number),
        line=_("counted by {who}").format(who=count.counted_by) if count.counted_by else "",
        standing=_standing(reading, count),
        state=state_of(count.ended_on, len(count.missing)),
        groups=(
            Group(N_("Missing") if ended else N_("Not seen yet"), _facts(reading, count.missing)),
            Group(N_("Met without being expected"), _facts(reading, count.unexpected)),
            Group(N_("Note"), (Fact(N_("Note"), count.note),)),
            Group(N_("Seen"), _facts(reading, count.seen)),
        ),
        counting=not ended,
        papers=_papers(reading, count),
    )


def _standing(reading: Reading, count: Count) -> str:
    """Give where a count stands, in words."""
    manners = reading.ledger.manners
    seen = _("{seen} of {expected} seen").format(seen=len(count.seen), expected=count.expected)
    if count.ended_on is None:
        return _("Going on since {day}: {seen}, {left} to go.").format(
            day=show_day(count.began_on, manners), seen=seen, left=len(count.missing)
        )
    if not count.missing:
        return _("Ended {day}: {seen}, nothing is missing.").format(
            day=show_day(count.ended_on, manners), seen=seen
        )
    return _("Ended {day}: {seen}; {missing}.").format(
        day=show_day(count.ended_on, manners),
        seen=seen,
        missing=count_words("{n} thing is missing", "{n} things are missing", len(count.missing)),
    )


def _facts(reading: Reading, lines: Sequence[Counted]) -> tuple[Fact, ...]:
    """Give a fact for each thing: its number, what it is, what was said of it or when it was seen."""
    facts = []
    for line in lines:
        said = line.note
        if not said and line.seen_at is not None:
            said = show_day(day_of(line.seen_at, reading.ledger.time_zone), reading.ledger.manners)
        facts.append(Fact(line.number, line.what, said))
    return tuple(facts)


def _papers(reading: Reading, count: Count) -> tuple[PaperRow, ...]:
    """Give the paper of a count, which bears its number."""
    found = numbered(reading, [count.number])
    return tuple(paper_row(reading, key) for key in found.values())
