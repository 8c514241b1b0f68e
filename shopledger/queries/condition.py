"""Condition reports as they are read: one report, two side by side, and those of an instrument on its page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import ConditionMark, ConditionReport, Instrument, Picture, field_of
from shopledger.quantities.errors import NotFound, Refused
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.shapes import Fact, Group
from shopledger.rules.condition import Change, Compared, Seen, compare, form_for, part_words, term_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class SeenMark:
    """A mark of a report: codes and words, and its pin.

    Units:  `x` and `y` are ten-thousandths of the picture's width and height.
    """

    n: int
    part: str
    term: str
    severity: str
    note: str
    picture: str = ""
    x: int | None = None
    y: int | None = None

    @property
    def words(self) -> str:
        """Part, term and gravity in the reader's words."""
        how = _(field_of(ConditionMark.severity).choice_word(self.severity))
        return f"{_(part_words(self.part))}: {_(term_words(self.term))} ({how})"


@dataclass(frozen=True, slots=True)
class ReportSeen:
    """A condition report as it is read."""

    id: int
    number: str
    instrument_id: int
    kind: str
    occasion: str
    made_on: date
    made_by: str
    light: str
    overall: str
    marks: tuple[SeenMark, ...]


def report_of(reading: Reading, report_id: int) -> ReportSeen:
    """Give a condition report with its marks in their order.

    Raises: NotFound: there is no such report.
    """
    row = reading.session.execute(
        select(ConditionReport, Instrument.kind)
        .join(Instrument, Instrument.id == ConditionReport.instrument_id)
        .where(ConditionReport.id == report_id)
    ).first()
    if row is None:
        raise NotFound(N_("There is no such condition report in the ledger. Choose one of the instrument's."))
    report, kind = row
    marks = reading.session.execute(
        select(ConditionMark, Picture.sha256)
        .outerjoin(Picture, Picture.id == ConditionMark.picture_id)
        .where(ConditionMark.report_id == report_id)
        .order_by(ConditionMark.n)
    )
    return ReportSeen(
        id=report.id,
        number=report.number,
        instrument_id=report.instrument_id,
        kind=kind,
        occasion=report.occasion,
        made_on=report.made_on,
        made_by=report.made_by,
        light=report.light,
        overall=report.overall,
        marks=tuple(
            SeenMark(mark.n, mark.part, mark.term, mark.severity, mark.note, sha256 or "", mark.x, mark.y)
            for mark, sha256 in marks
        ),
    )


def side_by_side(reading: Reading, before_id: int, after_id: int) -> tuple[Compared, ...]:
    """Give two reports of one instrument side by side, by part and term.

    Raises: NotFound: there is no such report. Refused: they are of two instruments.
    """
    before, after = report_of(reading, before_id), report_of(reading, after_id)
    if before.instrument_id != after.instrument_id:
        raise Refused(
            N_("{one} and {other} are of two instruments: compare reports of the same."),
            one=before.number,
            other=after.number,
        )
    return compare(_seen(before), _seen(after), form_for(after.kind).parts)


def _seen(report: ReportSeen) -> list[Seen]:
    return [Seen(mark.part, mark.term, mark.severity, mark.note) for mark in report.marks]


def reports_of(reading: Reading, instrument_id: int) -> tuple[Group, ...]:
    """Give the reports of an instrument for its page, newest first, each with what changed since the one before."""
    ids = reading.session.scalars(
        select(ConditionReport.id)
        .where(ConditionReport.instrument_id == instrument_id)
        .order_by(ConditionReport.id)
    ).all()
    seen = [report_of(reading, key) for key in ids]
    facts: list[Fact] = []
    for n, report in reversed(list(enumerate(seen))):
        occasion = _(field_of(ConditionReport.occasion).choice_word(report.occasion))
        facts.append(
            Fact(
                _("{number}, {occasion}").format(number=report.number, occasion=occasion),
                report.made_on,
                _since(seen[n - 1], report) if n else count_words("{n} mark", "{n} marks", len(report.marks)),
            )
        )
    if seen:
        facts += [Fact(_("Mark {n}").format(n=mark.n), mark.words, mark.note) for mark in seen[-1].marks]
    return (Group(N_("Condition"), tuple(facts)),) if facts else ()


def _since(before: ReportSeen, after: ReportSeen) -> str:
    rows = compare(_seen(before), _seen(after))
    counts = [(change, sum(row.change is change for row in rows)) for change in Change]
    said = [f"{n} {_(change.value)}" for change, n in counts if n and change is not Change.UNCHANGED]
    return ", ".join(said) or _("nothing changed")
