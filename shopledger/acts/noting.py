"""What is written down about a job beside its work: notes and photographs, as long as it has not ended."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of, record_pictures
from shopledger.acts.opening import going_job
from shopledger.acts.working import CHANGED, check_day
from shopledger.model import JobNote
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
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
    pictures: tuple[bytes, ...] = ask(Field(N_("Photographs"), Kind.PICTURES, required=True))


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
ACTS = (NOTE_JOB, ADD_JOB_PICTURES)
