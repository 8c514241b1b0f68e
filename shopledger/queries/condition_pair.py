"""Two condition reports of one instrument as they are seen side by side: each with its photographs and pins, and what
became of every mark.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import ConditionMark, ConditionReport, field_of
from shopledger.quantities.words import _
from shopledger.queries.condition import ReportSeen, photographs_of_report, report_of, side_by_side
from shopledger.rules.condition import Change, Compared, Seen, part_words, term_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class PinnedShot:
    """A photograph with the pins of one report on it.

    Units:  a pin is its number and its place, in ten-thousandths of the width from the left and the height from above.
    """

    sha256: str
    caption: str
    on: date
    pins: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True)
class ReportPage:
    """One of the two reports."""

    id: int
    number: str
    words: str
    made_on: date
    made_by: str
    light: str
    overall: str
    shots: tuple[PinnedShot, ...]


@dataclass(frozen=True, slots=True)
class MarkPair:
    """What was seen at one place then and now, in words; empty, and its number 0, in the report that hasn't it."""

    part: str
    term: str
    before: str
    before_n: int
    after: str
    after_n: int
    change: Change


@dataclass(frozen=True, slots=True)
class Pair:
    """Two reports side by side.

    Shape:  `reports` are all of the instrument, oldest first, each by its key with its words.
    """

    reports: tuple[tuple[int, str], ...]
    before: ReportPage
    after: ReportPage
    rows: tuple[MarkPair, ...]

    @property
    def changed(self) -> tuple[MarkPair, ...]:
        """Those that are not as they were."""
        return tuple(row for row in self.rows if row.change is not Change.UNCHANGED)

    @property
    def unchanged(self) -> tuple[MarkPair, ...]:
        """Those that are as they were."""
        return tuple(row for row in self.rows if row.change is Change.UNCHANGED)


def pair_of(reading: Reading, before_id: int, after_id: int) -> Pair:
    """Give two reports side by side.

    Raises: NotFound: there is no such report. Refused: they are of two instruments.
    """
    rows = side_by_side(reading, before_id, after_id)
    before, after = report_of(reading, before_id), report_of(reading, after_id)
    ids = reading.session.scalars(
        select(ConditionReport.id)
        .where(ConditionReport.instrument_id == after.instrument_id)
        .order_by(ConditionReport.id)
    ).all()
    return Pair(
        reports=tuple((key, report_of(reading, key).words) for key in ids),
        before=_page(reading, before),
        after=_page(reading, after),
        rows=tuple(_row(row) for row in rows),
    )


def _page(reading: Reading, report: ReportSeen) -> ReportPage:
    return ReportPage(
        id=report.id,
        number=report.number,
        words=report.words,
        made_on=report.made_on,
        made_by=report.made_by,
        light=report.light,
        overall=report.overall,
        shots=tuple(
            PinnedShot(sha256, picture.caption, picture.taken_on, _pins(report, sha256))
            for sha256, picture in photographs_of_report(reading, report.id).items()
        ),
    )


def _pins(report: ReportSeen, sha256: str) -> tuple[tuple[int, int, int], ...]:
    return tuple(
        (mark.n, mark.x, mark.y)
        for mark in report.marks
        if mark.picture == sha256 and mark.x is not None and mark.y is not None
    )


def _row(row: Compared) -> MarkPair:
    return MarkPair(
        part=_(part_words(row.part)),
        term=_(term_words(row.term)),
        before=_told(row.before),
        before_n=0 if row.before is None else row.before.n,
        after=_told(row.after),
        after_n=0 if row.after is None else row.after.n,
        change=row.change,
    )


def _told(mark: Seen | None) -> str:
    if mark is None:
        return ""
    how = _(field_of(ConditionMark.severity).choice_word(mark.severity))
    return _("{how}: {note}").format(how=how, note=mark.note) if mark.note else how
