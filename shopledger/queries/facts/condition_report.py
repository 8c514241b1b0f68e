"""What a condition report states: its marks in words, its photographs with their pins, what changed since another."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import ConditionMark, ConditionReport, Job, field_of
from shopledger.papers.condition_report import (
    ComparedFacts,
    ConditionFacts,
    MarkFacts,
    PhotographFacts,
    PinFacts,
)
from shopledger.quantities.words import _
from shopledger.queries.condition import ReportSeen, photographs_of_report, report_of, side_by_side
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
    pictures = photographs_of_report(reading, report_id)
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
