"""Time spent on a job: typed, or by a clock that is started and stopped; and taken off again where it was mistyped."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import job_in_work
from shopledger.model import Job, WorkTime
from shopledger.papers.workshop import time_words
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_, _
from shopledger.queries.job_costs import job_cost
from shopledger.queries.job_standing import state_code_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.job_state import DECLINED
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.JOB})
UNASKED = frozenset({"shop", "warranty"})
"""Whose work needs nobody's approval."""
MOST_MINUTES = 24 * 60
MINUTES = Field(N_("Time"), Kind.COUNT, required=True, unit=N_("min"))
WHAT_DONE = Field(N_("What was done"))


@dataclass(frozen=True, kw_only=True)
class RecordTime(Form):
    """Time that was spent on a job."""

    job_id: int
    minutes: int = ask(MINUTES)
    what: str = ask(WHAT_DONE, default="")


@dataclass(frozen=True, kw_only=True)
class TakeTimeOff(Form):
    """Time that was written down for a job and was not spent on it."""

    job_id: int
    minutes: int = ask(MINUTES)


@dataclass(frozen=True, kw_only=True)
class StartClock(Form):
    """Work on a job begins now."""

    job_id: int
    what: str = ask(Field(N_("What is done")), default="")


@dataclass(frozen=True, kw_only=True)
class StopClock(Form):
    """Work on a job stops now."""

    job_id: int
    minutes: int | None = ask(
        Field(N_("Time"), Kind.COUNT, unit=N_("min"), help=N_("Empty: as the clock says."))
    )
    what: str = ask(Field(N_("What was done"), help=N_("Empty: as it was said at the start.")), default="")


def job_to_work_on(reading: Reading, job_id: int) -> Job:
    """Give a job on which something can be done: it has not ended, is not billed and was not declined.

    Raises: NotFound: there is no such job. Refused: it isn't so.
    """
    job = job_in_work(reading, job_id)
    if state_code_of(job) == DECLINED:
        raise Refused(
            N_(
                "The job {job} was declined on {day}: nothing more is done on it, unless it is approved after all."
            ),
            job=job.number,
            day=job.declined_on,
        )
    return job


def check_day(job: Job, on: date) -> None:
    """Refuse a day before the job was opened.

    Raises: Typed.
    """
    if on < job.opened_on:
        raise Typed(
            N_("The job {job} was opened on {day}: nothing was done on it before."),
            field="on",
            job=job.number,
            day=job.opened_on,
        )


def work_begins(writing: Writing, job: Job) -> None:
    """Begin the work with the first that is done, where it is agreed; a look before the estimate begins nothing."""
    if job.begun_on is None and (job.approved_on is not None or job.bill_to in UNASKED):
        job.begun_on = writing.on


def clock_of(reading: Reading, job_id: int) -> WorkTime | None:
    """Give the clock that runs on a job, None where none does."""
    return reading.session.scalars(
        select(WorkTime).where(WorkTime.job_id == job_id, WorkTime.minutes.is_(None))
    ).one_or_none()


def clocked(started_at: datetime, at: datetime) -> int:
    """Give what a clock has counted: whole minutes, half a minute up, at least one."""
    seconds = int((at - started_at).total_seconds())
    return max(1, (seconds + 30) // 60)


def check_minutes(minutes: int) -> None:
    """Refuse time that can't be.

    Raises: Typed: it is less than a minute, or longer than a day.
    """
    if not 1 <= minutes <= MOST_MINUTES:
        raise Typed(
            N_("That can't be worked in a day: type minutes from 1 to {most}."),
            field="minutes",
            most=MOST_MINUTES,
        )


def stop(clock: WorkTime, at: datetime, minutes: int | None, job: Job) -> None:
    """Stop a clock at what it counted, or at what is typed.

    Raises: Refused: it ran longer than a day, so that somebody forgot to stop it. Typed: the time can't be.
    """
    assert clock.started_at is not None
    if minutes is None:
        minutes = clocked(clock.started_at, at)
        if minutes > MOST_MINUTES:
            raise Refused(
                N_("The clock of {job} has run since {day}. Stop it and type the time that was worked."),
                job=job.number,
                day=clock.worked_on,
            )
    check_minutes(minutes)
    clock.minutes = minutes


def run_record_time(writing: Writing, form: RecordTime) -> Outcome:
    """Write down time; work that is agreed has begun with it."""
    job = job_to_work_on(writing, form.job_id)
    check_day(job, writing.on)
    check_minutes(form.minutes)
    work_begins(writing, job)
    writing.add(
        WorkTime(job_id=job.id, worked_on=writing.on, minutes=form.minutes, what=form.what, worked_by=form.by)
    )
    return Outcome(Subject.JOB, job.id, CHANGED)


def run_take_time_off(writing: Writing, form: TakeTimeOff) -> Outcome:
    """Take time off a job, from what was written down last; what is left of a record may be nothing."""
    job = job_in_work(writing, form.job_id)
    if form.minutes < 1:
        raise Typed(N_("At least one minute is taken off."), field="minutes")
    there = job_cost(writing, job.id).minutes
    if form.minutes > there:
        raise Refused(
            N_("The job {job} has {time} in all: take off that or less."),
            field="minutes",
            job=job.number,
            time=time_words(there),
        )
    left = form.minutes
    for one in writing.session.scalars(
        select(WorkTime).where(WorkTime.job_id == job.id, WorkTime.minutes > 0).order_by(WorkTime.id.desc())
    ).all():
        off = min(left, one.minutes or 0)
        one.minutes = (one.minutes or 0) - off
        left -= off
        if not left:
            break
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def run_start_clock(writing: Writing, form: StartClock) -> Outcome:
    """Start the clock of a job; work that is agreed has begun with it."""
    job = _job_without_clock(writing, form.job_id)
    _check_now(writing, form.on)
    work_begins(writing, job)
    writing.add(
        WorkTime(
            job_id=job.id, worked_on=writing.on, started_at=writing.at, what=form.what, worked_by=form.by
        )
    )
    return Outcome(Subject.JOB, job.id, CHANGED)


def run_stop_clock(writing: Writing, form: StopClock) -> Outcome:
    """Stop the clock of a job, and count what it ran."""
    job, clock = _running(writing, form.job_id)
    try:
        stop(clock, writing.at, form.minutes, job)
    except Refused as error:
        error.field = "minutes"
        raise
    clock.what = form.what or clock.what
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def preview_start_clock(reading: Reading, form: StartClock) -> Preview:
    """Say which other clocks run, since one pair of hands works on one thing at a time."""
    job = _job_without_clock(reading, form.job_id)
    others = reading.session.scalars(
        select(Job.number)
        .join(WorkTime, WorkTime.job_id == Job.id)
        .where(WorkTime.minutes.is_(None))
        .order_by(Job.id)
    )
    return Preview(
        job.number, warnings=tuple(_("The clock of {job} runs too.").format(job=other) for other in others)
    )


def preview_stop_clock(reading: Reading, form: StopClock) -> Preview:
    """Say what is counted."""
    job, clock = _running(reading, form.job_id)
    minutes = form.minutes
    if minutes is None:
        assert clock.started_at is not None
        minutes = clocked(clock.started_at, reading.ledger.clock())
    return Preview(job.number, (Line(_("Worked"), time_words(minutes)),))


def _job_without_clock(reading: Reading, job_id: int) -> Job:
    job = job_to_work_on(reading, job_id)
    if job.ready_on is not None:
        raise Refused(
            N_("The job {job} is ready. Put it back on the bench, if more is to be done."), job=job.number
        )
    clock = clock_of(reading, job.id)
    if clock is not None:
        raise Refused(
            N_("The clock of {job} runs already, since {day}. Stop it first."),
            job=job.number,
            day=clock.worked_on,
        )
    return job


def _check_now(writing: Writing, on: date) -> None:
    today = writing.ledger.today()
    if on != today:
        raise Typed(
            N_("A clock starts now, on {today}. For another day write down the time."),
            field="on",
            today=today,
        )


def _running(reading: Reading, job_id: int) -> tuple[Job, WorkTime]:
    job = job_in_work(reading, job_id)
    clock = clock_of(reading, job.id)
    if clock is None:
        raise Refused(
            N_("No clock runs on the job {job}: start one, or write down the time."), job=job.number
        )
    return job, clock


def refuse_no_work_on(reading: Reading, job_id: int) -> None:
    """Refuse work on a job that ended, is billed or was declined."""
    job_to_work_on(reading, job_id)


def refuse_no_time(reading: Reading, job_id: int) -> None:
    """Refuse to take time off where none is written down."""
    job = job_in_work(reading, job_id)
    if not job_cost(reading, job.id).minutes:
        raise Refused(N_("No time is written down for the job {job}."), job=job.number)


def refuse_no_start(reading: Reading, job_id: int) -> None:
    """Refuse to start a clock where one runs, or nothing is to be done."""
    _job_without_clock(reading, job_id)


def refuse_no_clock(reading: Reading, job_id: int) -> None:
    """Refuse to stop a clock where none runs."""
    _running(reading, job_id)


def prefill_stop_clock(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give what was said at the start."""
    _job, clock = _running(reading, job_id)
    return {"what": clock.what}


START_CLOCK = Act(
    name="start_clock",
    text=N_("Start the clock"),
    subject=Subject.JOB,
    form=StartClock,
    run=run_start_clock,
    subject_input="job_id",
    allowed=refuse_no_start,
    preview=preview_start_clock,
    opposite="stop_clock",
)
STOP_CLOCK = Act(
    name="stop_clock",
    text=N_("Stop the clock"),
    subject=Subject.JOB,
    form=StopClock,
    run=run_stop_clock,
    subject_input="job_id",
    allowed=refuse_no_clock,
    prefill=prefill_stop_clock,
    preview=preview_stop_clock,
    opposite="take_time_off",
)
RECORD_TIME = Act(
    name="record_time",
    text=N_("Write down time"),
    subject=Subject.JOB,
    form=RecordTime,
    run=run_record_time,
    subject_input="job_id",
    allowed=refuse_no_work_on,
    opposite="take_time_off",
)
TAKE_TIME_OFF = Act(
    name="take_time_off",
    text=N_("Take time off"),
    subject=Subject.JOB,
    form=TakeTimeOff,
    run=run_take_time_off,
    subject_input="job_id",
    allowed=refuse_no_time,
    opposite="record_time",
)
ACTS = (START_CLOCK, STOP_CLOCK, RECORD_TIME, TAKE_TIME_OFF)
