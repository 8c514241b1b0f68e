"""Reminders: a letter when what is ready, or was declined, has waited 30, 60 and 90 days to be collected; one each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import going_job
from shopledger.acts.papers import leave_paper
from shopledger.model import Job, Reminder, Stay
from shopledger.papers.workshop import UNCOLLECTED
from shopledger.quantities.errors import Refused
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.facts.jobs import bill_standing
from shopledger.queries.job_standing import state_code_of
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.job_state import DECLINED, READY
from shopledger.rules.uncollected import next_reminder, reminder_due
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class Remind(Form):
    """A letter to the client of what waits to be collected."""

    job_id: int


@dataclass(frozen=True, slots=True)
class Waiting:
    """A job that waits to be collected: since when, and after how many days letters went out, and when."""

    job: Job
    since: date
    sent: dict[int, date]


def waiting_job(reading: Reading, job_id: int) -> Waiting:
    """Give a job that waits for its client.

    Raises: NotFound: there is none. Refused: it ended, isn't ready, isn't billed, or stays with the shop anyhow.
    """
    job = going_job(reading, job_id)
    stay = reading.session.get_one(Stay, job.stay_id)
    if stay.reason != "repair" or stay.ended_on is not None:
        raise Refused(
            N_("What the job {job} is about wasn't left for work alone: nobody is asked to collect it."),
            job=job.number,
        )
    letters = reading.session.scalars(
        select(Reminder).where(Reminder.job_id == job.id).order_by(Reminder.after_days)
    )
    sent = {letter.after_days: letter.sent_on for letter in letters}
    code = state_code_of(job)
    if code == DECLINED:
        assert job.declined_on is not None
        return Waiting(job, job.declined_on, sent)
    if code != READY:
        raise Refused(N_("The job {job} is not ready: there is nothing to collect yet."), job=job.number)
    assert job.ready_on is not None
    if bill_standing(reading, job.id) is None:
        raise Refused(
            N_("The job {job} is not billed. Bill it first, so that the letter says what is to be paid."),
            job=job.number,
        )
    return Waiting(job, job.ready_on, sent)


def _due(waiting: Waiting, on: date) -> int:
    """Give after how many days the letter that is due on a day goes out.

    Raises: Refused: none is due then, with when the next one is.
    """
    due = reminder_due(waiting.since, on, waiting.sent)
    if due is not None:
        return due
    following = next_reminder(waiting.since, waiting.sent)
    if following is None:
        raise Refused(
            N_("All three letters about the job {job} went out, the last on {day}."),
            job=waiting.job.number,
            day=max(waiting.sent.values()),
        )
    raise Refused(
        N_("The next letter about the job {job} is due on {day}."),
        field="on",
        job=waiting.job.number,
        day=following,
    )


def run_remind(writing: Writing, form: Remind) -> Outcome:
    """Write the letter that is due, and keep that it went out."""
    from shopledger.queries.facts.reminder import reminder_facts

    waiting = waiting_job(writing, form.job_id)
    job, after = waiting.job, _due(waiting, form.on)
    writing.add(Reminder(job_id=job.id, after_days=after, sent_on=writing.on))
    facts = reminder_facts(writing, job.id, after, writing.number("reminder"), writing.on)
    paper = leave_paper(
        writing,
        "reminder",
        facts,
        instrument_id=job.instrument_id,
        person_id=job.client_id,
        job_id=job.id,
    )
    return Outcome(Subject.JOB, job.id, frozenset({Subject.JOB}), (paper,))


def preview_remind(reading: Reading, form: Remind) -> Preview:
    """Say which letter it is, what went out before, and what is to be paid."""
    waiting = waiting_job(reading, form.job_id)
    after = _due(waiting, form.on)
    manners = reading.ledger.manners
    lines = [
        Line(
            count_words("{n} day", "{n} days", (form.on - waiting.since).days),
            _("waiting since {day}").format(day=show_day(waiting.since, manners)),
        ),
        Line(_("Letter"), count_words("after {n} day", "after {n} days", after), strong=True),
    ]
    lines += [
        Line(_("Written before"), f"{show_day(on, manners)}") for _after, on in sorted(waiting.sent.items())
    ]
    bill = bill_standing(reading, waiting.job.id)
    if bill is not None and bill.sale_id is not None:
        lines.append(Line(_("To pay"), amount=sale_money(reading, bill.sale_id).owes))
    return Preview(waiting.job.number, tuple(lines), (_(UNCOLLECTED),))


def refuse_no_letter(reading: Reading, job_id: int) -> None:
    """Refuse a letter where nothing waits to be collected, or none is due today."""
    _due(waiting_job(reading, job_id), reading.ledger.today())


REMIND = Act(
    name="remind",
    text=N_("Remind to collect"),
    subject=Subject.JOB,
    form=Remind,
    run=run_remind,
    subject_input="job_id",
    allowed=refuse_no_letter,
    preview=preview_remind,
    help=N_("A letter after 30, 60 and 90 days; rules on uncollected goods differ by place."),
    papers=("reminder",),
)
ACTS = (REMIND,)
