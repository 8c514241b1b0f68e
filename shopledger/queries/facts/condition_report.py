"""What a condition report states: its marks in words, its photographs with their pins, what changed since another."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from sqlalchemy import select

from shopledger.model import ConditionMark, ConditionReport, Job, Picture, field_of
from shopledger.papers.condition_report import (
    ComparedFacts,
    ConditionFacts,
    MarkFacts,
    PhotographFacts,
    PinFacts,
)
from shopledger.quantities.words import _
from shopledger.queries.condition import ReportSeen, report_of, side_by_side
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import head, lines_of
from shopledger.rules.condition import Compared, Seen, part_words, term_words
from shopledger.store.unit import Reading


def condition_facts(
    reading: Reading, report_id: int, number: str, on: date, earlier_id: int | None = None
) -> ConditionFacts:
    """Give what a condition report states, set beside an earlier one of the same instrument where that is named.

    Raises: NotFound: there is no such report. Refused: the two are of different instruments.
    """
    report = report_of(reading, report_id)
    earlier = None if earlier_id is None else report_of(reading, earlier_id)
    compared = () if earlier_id is None else side_by_side(reading, earlier_id, report_id)
    pictures = _pictures(reading, report_id)
    counted = {sha256: n for n, sha256 in enumerate(pictures, start=1)}
    return ConditionFacts(
        **head(reading, number, on),
        report_number=report.number,
        thing=thing_facts(instrument_named(reading, report.instrument_id)),
        occasion=_(field_of(ConditionReport.occasion).choice_word(report.occasion)),
        made_on=report.made_on,
        made_by=report.made_by,
        seen_by=report.light,
        claim_number=_claim(reading, report_id),
        overall=lines_of(report.overall),
        marks=tuple(
            MarkFacts(
                n=mark.n,
                part=_(part_words(mark.part)),
                term=_(term_words(mark.term)),
                severity=_severity(mark.severity),
                note=mark.note,
                photograph=counted.get(mark.picture, 0),
            )
            for mark in report.marks
        ),
        photographs=tuple(
            PhotographFacts(
                n=counted[sha256],
                sha256=sha256,
                caption=picture.caption,
                taken_on=picture.taken_on,
                pins=_pins(report, sha256),
            )
            for sha256, picture in pictures.items()
        ),
        earlier_number="" if earlier is None else earlier.number,
        earlier_on=None if earlier is None else earlier.made_on,
        compared=tuple(_compared(row) for row in compared),
    )


def _claim(reading: Reading, report_id: int) -> str:
    """Give the claim number of the job a report was made for; nothing outside one."""
    return (
        reading.session.scalar(
            select(Job.number)
            .join(ConditionReport, ConditionReport.job_id == Job.id)
            .where(ConditionReport.id == report_id)
        )
        or ""
    )


def _pictures(reading: Reading, report_id: int) -> Mapping[str, Picture]:
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


def _pins(report: ReportSeen, sha256: str) -> tuple[PinFacts, ...]:
    return tuple(
        PinFacts(n=mark.n, x=mark.x, y=mark.y)
        for mark in report.marks
        if mark.picture == sha256 and mark.x is not None and mark.y is not None
    )


def _severity(code: str) -> str:
    return _(field_of(ConditionMark.severity).choice_word(code))


def _compared(row: Compared) -> ComparedFacts:
    return ComparedFacts(
        part=_(part_words(row.part)),
        term=_(term_words(row.term)),
        before=_seen(row.before),
        after=_seen(row.after),
        change=_(row.change.value),
    )


def _seen(mark: Seen | None) -> str:
    if mark is None:
        return ""
    return ": ".join(part for part in (_severity(mark.severity), mark.note) if part)
