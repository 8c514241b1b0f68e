"""Reminding of work that nobody collects: a letter at 30, 60 and 90 days, each once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import going_job
from shopledger.acts.papers import leave_paper
from shopledger.model import Job, Reminder
from shopledger.papers.workshop import UNCOLLECTED
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_, _
from shopledger.queries.shapes import Line, Preview, Subject
from shopledger.rules.uncollected import next_reminder, reminder_due
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class Remind(Form):
    """A letter to the client of a job whose instrument waits."""

    job_id: int


def waits_since(reading: Reading, job_id: int) -> tuple[Job, date]:
    """Give a job whose instrument waits to be collected, and since when.

    Raises: NotFound: there is no such job. Refused: it ended, or nothing waits.
    """
    job = going_job(reading, job_id)
    since = job.ready_on or (job.declined_on if job.begun_on is None else None)
    if since is None:
        raise Refused(
            N_("The job {job} is neither ready nor declined: nothing waits to be collected."), job=job.number
        )
    return job, since


def sent_after(reading: Reading, job_id: int) -> list[int]:
    """Give after how many days of waiting letters went out, in order."""
    return list(
        reading.session.scalars(
            select(Reminder.after_days).where(Reminder.job_id == job_id).order_by(Reminder.after_days)
        )
    )


def letter_due(reading: Reading, job_id: int, on: date) -> tuple[Job, int]:
    """Give the job and after how many days its letter of that day is.

    Raises: NotFound, Refused: nothing waits, or no letter is due yet; its day is named.
    """
    job, since = waits_since(reading, job_id)
    sent = sent_after(reading, job.id)
    due = reminder_due(since, on, sent)
    if due is None:
        falls = next_reminder(since, sent)
        if falls is None:
            raise Refused(
                N_(
                    "All letters about the job {job} went out, the last after {days} days. Ask what your law allows."
                ),
                job=job.number,
                days=sent[-1],
            )
        raise Refused(
            N_("No letter about the job {job} is due before {day}."), field="on", job=job.number, day=falls
        )
    return job, due


def run_remind(writing: Writing, form: Remind) -> Outcome:
    """Write the letter that is due."""
    job, days = letter_due(writing, form.job_id, form.on)
    writing.add(Reminder(job_id=job.id, after_days=days, sent_on=writing.on))
    from shopledger.queries.facts.reminder import reminder_facts

    facts = reminder_facts(writing, job.id, days, writing.number("reminder"), writing.on)
    paper = leave_paper(
        writing,
        "reminder",
        facts,
        instrument_id=job.instrument_id,
        person_id=job.client_id,
        job_id=job.id,
    )
    return Outcome(Subject.JOB, job.id, frozenset({Subject.JOB}), (paper,))


def refuse_no_letter(reading: Reading, job_id: int) -> None:
    """Refuse a letter where none is due today."""
    letter_due(reading, job_id, reading.ledger.today())


def preview_remind(reading: Reading, form: Remind) -> Preview:
    """Say which letter it is, and the caution."""
    _job, days = letter_due(reading, form.job_id, form.on)
    return Preview(
        _("A letter to the client"), (Line(_("After days of waiting"), str(days)),), (_(UNCOLLECTED),)
    )


REMIND = Act(
    name="remind",
    text=N_("Remind of it"),
    subject=Subject.JOB,
    form=Remind,
    run=run_remind,
    subject_input="job_id",
    allowed=refuse_no_letter,
    preview=preview_remind,
    help=N_("A letter at 30, 60 and 90 days; rules on uncollected goods differ by place."),
    papers=("reminder",),
)
ACTS = (REMIND,)
