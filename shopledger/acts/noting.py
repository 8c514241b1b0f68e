"""What is written down about a job beside its work, as long as it has not ended: notes, photographs, condition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.conditions import MarkRow, leave_report, prefill_make_report, record_report
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of, record_pictures
from shopledger.acts.opening import going_job
from shopledger.acts.working import CHANGED, check_day
from shopledger.model import JobNote
from shopledger.model.condition import OCCASIONS
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.store.prepared import AnyPicture
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class NoteJob(Form):
    """A note on a job."""

    job_id: int
    words: str = ask(Field(N_("Note"), Kind.LINES, required=True))


@dataclass(frozen=True, kw_only=True)
class AddJobPictures(Form):
    """Photographs of an instrument while it is worked on."""

    job_id: int
    caption: str = ask(Field(N_("Caption")), default="")
    pictures: tuple[AnyPicture, ...] = ask(Field(N_("Photographs"), Kind.PICTURES, required=True))


@dataclass(frozen=True, kw_only=True)
class ReportJobCondition(Form):
    """What is seen of a job's instrument while it is here, or when it is handed over."""

    job_id: int
    occasion: str = ask(
        Field(N_("Occasion"), Kind.CHOICE, required=True, choices=OCCASIONS), default="handover"
    )
    light: str = ask(
        Field(N_("Seen by"), help=N_("Such as daylight, raking light, lens, mirror.")), default=""
    )
    overall: str = ask(Field(N_("As a whole"), Kind.LINES), default="")
    pictures: tuple[AnyPicture, ...] = ask(Field(N_("Photographs"), Kind.PICTURES))
    marks: tuple[MarkRow, ...] = ask(Field(N_("Marks"), Kind.ROWS, of=MarkRow, pins="pictures"))


def run_note_job(writing: Writing, form: NoteJob) -> Outcome:
    """Add a note; those before stay."""
    job = going_job(writing, form.job_id)
    check_day(job, writing.on)
    if not form.words.strip():
        raise Typed(N_("The note is empty: write a few words."), field="words")
    writing.add(JobNote(job_id=job.id, noted_on=writing.on, words=form.words.strip()))
    return Outcome(Subject.JOB, job.id, CHANGED)


def run_add_job_pictures(writing: Writing, form: AddJobPictures) -> Outcome:
    """Keep photographs with the job and its instrument."""
    job = going_job(writing, form.job_id)
    check_day(job, writing.on)
    record_pictures(
        writing,
        instrument_of(writing, job.instrument_id),
        form.pictures,
        stay_id=job.stay_id,
        job_id=job.id,
        caption=form.caption,
    )
    return Outcome(Subject.JOB, job.id, CHANGED | {Subject.INSTRUMENT})


def run_report_job_condition(writing: Writing, form: ReportJobCondition) -> Outcome:
    """Write a condition report with the job; its paper and the job's page set it beside the one before."""
    job = going_job(writing, form.job_id)
    check_day(job, writing.on)
    report = record_report(
        writing,
        job.instrument_id,
        form.occasion,
        form.marks,
        form.pictures,
        stay_id=job.stay_id,
        job_id=job.id,
        made_by=form.by,
        light=form.light,
        overall=form.overall,
    )
    return Outcome(Subject.JOB, job.id, CHANGED | {Subject.INSTRUMENT}, (leave_report(writing, report),))


def prefill_report_job_condition(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give the marks of the instrument's newest report."""
    return prefill_make_report(reading, going_job(reading, job_id).instrument_id)


def refuse_ended(reading: Reading, job_id: int) -> None:
    """Refuse to add to a job that ended."""
    going_job(reading, job_id)


NOTE_JOB = Act(
    name="note_job",
    text=N_("Add a note"),
    subject=Subject.JOB,
    form=NoteJob,
    run=run_note_job,
    subject_input="job_id",
    allowed=refuse_ended,
)
ADD_JOB_PICTURES = Act(
    name="add_job_pictures",
    text=N_("Add photographs"),
    subject=Subject.JOB,
    form=AddJobPictures,
    run=run_add_job_pictures,
    subject_input="job_id",
    allowed=refuse_ended,
)
REPORT_JOB_CONDITION = Act(
    name="report_job_condition",
    text=N_("Report its condition"),
    subject=Subject.JOB,
    form=ReportJobCondition,
    run=run_report_job_condition,
    subject_input="job_id",
    allowed=refuse_ended,
    prefill=prefill_report_job_condition,
    papers=("condition_report",),
)
ACTS = (NOTE_JOB, ADD_JOB_PICTURES, REPORT_JOB_CONDITION)
