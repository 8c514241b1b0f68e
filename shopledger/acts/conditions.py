"""Condition reports: what is seen on each part of an instrument, with pins on its photographs.

A report is never changed: a later look is a further report. Other acts make one by `record_report`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of, record_pictures, refuse_unknown
from shopledger.acts.papers import leave_paper
from shopledger.model import ConditionMark, ConditionReport, Picture
from shopledger.model.condition import OCCASIONS, SEVERITIES
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import last_stay
from shopledger.rules.condition import parts_listed, read_part, read_term, terms_listed
from shopledger.store.prepared import AnyPicture
from shopledger.store.unit import Reading, Writing

FULL = 10_000
"""The width and height of a photograph, in the units of a pin."""


@dataclass(frozen=True, kw_only=True)
class MarkRow:
    """One thing seen.

    Units:  `x` and `y` are ten-thousandths of the photograph's width and height, from its upper left corner.
    Shape:  `picture` counts the photographs added with the report from 1; `picture_id` is one kept before.
    """

    part: str = ask(
        Field(N_("Part"), required=True, help=N_("Top, back, ribs, neck, frog …"), listed=parts_listed)
    )
    term: str = ask(
        Field(N_("What is seen"), required=True, help=N_("Crack, open seam, wear …"), listed=terms_listed)
    )
    severity: str = ask(
        Field(N_("How grave"), Kind.CHOICE, required=True, choices=SEVERITIES), default="noted"
    )
    note: str = ask(Field(N_("In words")), default="")
    picture: int | None = ask(
        Field(N_("Photograph"), Kind.COUNT, help=N_("1 for the first of those added here."))
    )
    picture_id: int | None = None
    x: int | None = ask(
        Field(N_("Pin from the left"), Kind.COUNT, help=N_("In ten-thousandths of the width."))
    )
    y: int | None = ask(Field(N_("Pin from above"), Kind.COUNT, help=N_("In ten-thousandths of the height.")))


@dataclass(frozen=True, kw_only=True)
class MakeReport(Form):
    """What is seen of an instrument on one occasion."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    occasion: str = ask(Field(N_("Occasion"), Kind.CHOICE, required=True, choices=OCCASIONS), default="other")
    light: str = ask(
        Field(N_("Seen by"), help=N_("Such as daylight, raking light, lens, mirror.")), default=""
    )
    overall: str = ask(Field(N_("As a whole"), Kind.LINES), default="")
    pictures: tuple[AnyPicture, ...] = ask(Field(N_("Photographs"), Kind.PICTURES))
    marks: tuple[MarkRow, ...] = ask(Field(N_("Marks"), Kind.ROWS, of=MarkRow, pins="pictures"))


def record_report(
    writing: Writing,
    instrument_id: int,
    occasion: str,
    marks: Sequence[MarkRow] = (),
    pictures: Sequence[AnyPicture] = (),
    *,
    stay_id: int | None = None,
    job_id: int | None = None,
    made_by: str = "",
    light: str = "",
    overall: str = "",
) -> ConditionReport:
    """Write a condition report under its number, with its photographs; give it. Empty reports are refused.

    Raises: NotFound: there is no such instrument. Typed: nothing is said; a part, term or pin can't be so.
    """
    instrument = instrument_of(writing, instrument_id)
    if not (marks or overall.strip() or pictures):
        raise Typed(
            N_(
                "The report says nothing: add a mark, a photograph, or words about the instrument as a whole."
            ),
            field="overall",
        )
    if stay_id is None:
        stay = last_stay(writing, instrument_id)
        stay_id = stay.id if stay is not None else None
    report = ConditionReport(
        number=writing.number("condition"),
        instrument_id=instrument.id,
        stay_id=stay_id,
        job_id=job_id,
        occasion=occasion,
        made_on=writing.on,
        made_by=made_by,
        light=light,
        overall=overall,
    )
    writing.add(report)
    added = record_pictures(writing, instrument, pictures, stay_id=stay_id, job_id=job_id)
    for n, row in enumerate(marks):
        path = f"marks[{n}]"
        writing.session.add(
            ConditionMark(
                report_id=report.id,
                n=n + 1,
                part=read_part(instrument.kind, row.part, f"{path}.part"),
                term=read_term(instrument.kind, row.term, f"{path}.term"),
                severity=row.severity,
                note=row.note,
                picture_id=_picture(writing, instrument.id, row, added, path),
                x=row.x,
                y=row.y,
            )
        )
    writing.session.flush()
    return report


def _picture(
    writing: Writing, instrument_id: int, row: MarkRow, added: Sequence[int], path: str
) -> int | None:
    """Give the photograph of a mark's pin.

    Raises: Typed: there is no such photograph, or the pin is half said or beyond it.
    """
    chosen = row.picture_id
    if row.picture is not None:
        if not 1 <= row.picture <= len(added):
            raise Typed(
                N_(
                    "There is no photograph {n} in this report, which has {count}: add it, or leave the pin out."
                ),
                field=f"{path}.picture",
                n=row.picture,
                count=len(added),
            )
        chosen = added[row.picture - 1]
    elif chosen is not None:
        of = writing.session.scalar(select(Picture.instrument_id).where(Picture.id == chosen))
        if of != instrument_id:
            raise Typed(
                N_("The photograph is not of this instrument: choose one of its own."),
                field=f"{path}.picture",
            )
    if (row.x is None) != (row.y is None):
        raise Typed(
            N_("A pin needs both its places, from the left and from above: give both or neither."),
            field=f"{path}.x" if row.x is None else f"{path}.y",
        )
    if row.x is None or row.y is None:
        return chosen
    if chosen is None:
        raise Typed(N_("A pin needs its photograph: say which one it stands on."), field=f"{path}.picture")
    for name, value in (("x", row.x), ("y", row.y)):
        if not 0 <= value <= FULL:
            raise Typed(
                N_("The pin stands at {value}, beyond the photograph: give 0 to {full}."),
                field=f"{path}.{name}",
                value=value,
                full=FULL,
            )
    return chosen


def leave_report(writing: Writing, report: ConditionReport, trial_id: int | None = None) -> int:
    """Leave the paper of a report, set beside the one before where there is one; give the paper's id.

    Shape:  `trial_id` is that of the trial by which it goes out or came back, among whose papers it is found too.
    """
    from shopledger.queries.facts.condition_report import condition_facts

    earlier = writing.session.scalar(
        select(func.max(ConditionReport.id)).where(
            ConditionReport.instrument_id == report.instrument_id, ConditionReport.id < report.id
        )
    )
    facts = condition_facts(writing, report.id, report.number, writing.on, earlier)
    return leave_paper(
        writing,
        "condition_report",
        facts,
        instrument_id=report.instrument_id,
        job_id=report.job_id,
        trial_id=trial_id,
    )


def run_make_report(writing: Writing, form: MakeReport) -> Outcome:
    """Write a condition report of an instrument."""
    report = record_report(
        writing,
        form.instrument_id,
        form.occasion,
        form.marks,
        form.pictures,
        made_by=form.by,
        light=form.light,
        overall=form.overall,
    )
    papers = (leave_report(writing, report),)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, frozenset({Subject.INSTRUMENT}), papers)


def prefill_make_report(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the marks of the newest report, since most of what was seen is still there; pins are set anew."""
    newest = reading.session.scalar(
        select(ConditionReport.id)
        .where(ConditionReport.instrument_id == instrument_id)
        .order_by(ConditionReport.id.desc())
        .limit(1)
    )
    marks = reading.session.scalars(
        select(ConditionMark).where(ConditionMark.report_id == newest).order_by(ConditionMark.n)
    )
    return {
        "marks": tuple(
            MarkRow(part=mark.part, term=mark.term, severity=mark.severity, note=mark.note) for mark in marks
        )
    }


MAKE_REPORT = Act(
    name="make_report",
    text=N_("Report its condition"),
    subject=Subject.INSTRUMENT,
    form=MakeReport,
    run=run_make_report,
    subject_input="instrument_id",
    allowed=refuse_unknown,
    prefill=prefill_make_report,
    papers=("condition_report",),
)
ACTS = (MAKE_REPORT,)
