"""Condition reports as they are read: one report, two side by side, and those of an instrument on its page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, select

from shopledger.model import ConditionMark, ConditionReport, Instrument, Job, Picture, Wish, field_of
from shopledger.quantities.errors import NotFound, Refused
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.on_trial import kinds_out
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group
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

    @property
    def words(self) -> str:
        """Its number and its occasion."""
        occasion = _(field_of(ConditionReport.occasion).choice_word(self.occasion))
        return _("{number}, {occasion}").format(number=self.number, occasion=occasion)


def kind_of(reading: Reading, subject: Subject, key: int) -> str:
    """Give the kind of an instrument, of that of a job or of a wish; nothing for what is about no instrument."""
    question = select(Instrument.kind)
    if subject is Subject.JOB:
        question = question.join(Job, Job.instrument_id == Instrument.id).where(Job.id == key)
    elif subject is Subject.INSTRUMENT:
        question = question.where(Instrument.id == key)
    elif subject is Subject.WISH:
        question = select(Wish.kind).where(Wish.id == key)
    elif subject is Subject.TRIAL:
        kinds = kinds_out(reading, key)
        return kinds[0] if len(set(kinds)) == 1 else ""
    else:
        return ""
    return reading.session.scalar(question) or ""


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


def photographs_of_report(reading: Reading, report_id: int) -> Mapping[str, Picture]:
    """Give the photographs of a report by file, each once: those with marks, and those taken on its day in its stay."""
    report = reading.session.get_one(ConditionReport, report_id)
    marked = (
        select(ConditionMark.picture_id)
        .where(ConditionMark.report_id == report_id, ConditionMark.picture_id.is_not(None))
        .scalar_subquery()
    )
    of_the_day = (
        (Picture.instrument_id == report.instrument_id)
        & (Picture.taken_on == report.made_on)
        & (Picture.stay_id == report.stay_id)
        & (Picture.job_id == report.job_id if report.job_id is not None else Picture.job_id.is_(None))
    )
    rows = reading.session.scalars(
        select(Picture).where(Picture.id.in_(marked) | of_the_day).order_by(Picture.id)
    )
    found: dict[str, Picture] = {}
    for picture in rows:
        found.setdefault(picture.sha256, picture)
    return found


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
    return [Seen(mark.part, mark.term, mark.severity, mark.note, mark.n) for mark in report.marks]


def reports_of(reading: Reading, instrument_id: int) -> tuple[Group, ...]:
    """Give the reports of an instrument for its page, newest first, each with what changed since the one before."""
    seen = _seen_where(reading, ConditionReport.instrument_id == instrument_id)
    return _told(seen, seen[-2:-1])


def reports_of_stay(reading: Reading, stay_id: int) -> tuple[Group, ...]:
    """Give the reports of a stay for the page of a job in it, and its first and its newest side by side."""
    seen = _seen_where(reading, ConditionReport.stay_id == stay_id)
    told = _told(seen, seen[:-1])
    if len(seen) < 2:
        return told
    first, newest = seen[0], seen[-1]
    title = _("Condition, {before} beside {after}").format(before=first.number, after=newest.number)
    rows = side_by_side(reading, first.id, newest.id)
    return (*told, Group(title, tuple(_compared(row) for row in rows)))


def _seen_where(reading: Reading, which: ColumnElement[bool]) -> list[ReportSeen]:
    ids = reading.session.scalars(select(ConditionReport.id).where(which).order_by(ConditionReport.id)).all()
    return [report_of(reading, key) for key in ids]


def _compared(row: Compared) -> Fact:
    """Give what was seen of one part then and now, and whether that changed."""
    severity = field_of(ConditionMark.severity)
    told = " \u2192 ".join(
        "\u2013" if one is None else _(severity.choice_word(one.severity)) for one in (row.before, row.after)
    )
    label = f"{_(part_words(row.part))}: {_(term_words(row.term))}"
    return Fact(label[:1].upper() + label[1:], told, _(row.change.value))


def _told(seen: Sequence[ReportSeen], before: Sequence[ReportSeen]) -> tuple[Group, ...]:
    """Give the group of these reports; the first of those `before` the newest is the one it is seen beside."""
    facts: list[Fact] = []
    for n, report in reversed(list(enumerate(seen))):
        facts.append(
            Fact(
                report.words,
                report.made_on,
                _since(seen[n - 1], report) if n else count_words("{n} mark", "{n} marks", len(report.marks)),
            )
        )
    if seen:
        facts += [Fact(_("Mark {n}").format(n=mark.n), mark.words, mark.note) for mark in seen[-1].marks]
    beside = (before[0].id, seen[-1].id) if before else ()
    return (Group(N_("Condition"), tuple(facts), beside),) if facts else ()


def _since(before: ReportSeen, after: ReportSeen) -> str:
    rows = compare(_seen(before), _seen(after))
    counts = [(change, sum(row.change is change for row in rows)) for change in Change]
    said = [f"{n} {_(change.value)}" for change, n in counts if n and change is not Change.UNCHANGED]
    return ", ".join(said) or _("nothing changed")
