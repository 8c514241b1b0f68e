"""Where a job is in its course: put on the bench, waiting for a part, ready, and back again; each has its opposite."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import job_in_work
from shopledger.acts.working import CHANGED, UNASKED, check_day, clock_of, clocked, job_to_work_on, stop
from shopledger.model import Job
from shopledger.papers.workshop import time_words
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, ask
from shopledger.quantities.words import N_, _
from shopledger.queries.job_costs import job_cost, services_bought
from shopledger.queries.lots import parts_used
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class OfJob(Form):
    """A step of a job that asks nothing but which."""

    job_id: int


@dataclass(frozen=True, kw_only=True)
class WaitForPart(Form):
    """The work waits for something that has to come first."""

    job_id: int
    words: str = ask(Field(N_("Waits for"), required=True, help=N_("Such as a boxwood peg, ordered today.")))


def _unready(reading: Reading, job_id: int) -> Job:
    """Give a job on which something is still to be done."""
    job = job_to_work_on(reading, job_id)
    if job.ready_on is not None:
        raise Refused(N_("The job {job} is ready since {day}."), job=job.number, day=job.ready_on)
    return job


def _not_begun(reading: Reading, job_id: int) -> Job:
    job = _unready(reading, job_id)
    if job.begun_on is not None:
        raise Refused(N_("The job {job} is on the bench since {day}."), job=job.number, day=job.begun_on)
    return job


def _agreed(reading: Reading, job_id: int) -> Job:
    """Give a job whose work has begun, or may."""
    job = _unready(reading, job_id)
    if job.begun_on is None and job.approved_on is None and job.bill_to not in UNASKED:
        raise Refused(
            N_(
                "Nothing is agreed for the job {job} yet. Record the approval, or put it on the bench all the same."
            ),
            job=job.number,
        )
    return job


def _waiting(reading: Reading, job_id: int) -> Job:
    job = _unready(reading, job_id)
    if not job.waits_for:
        raise Refused(N_("The job {job} waits for nothing."), job=job.number)
    return job


def _ready(reading: Reading, job_id: int) -> Job:
    job = job_in_work(reading, job_id)
    if job.ready_on is None:
        raise Refused(N_("The job {job} is not ready yet."), job=job.number)
    return job


def _untouched(reading: Reading, job_id: int) -> Job:
    """Give a job that is on the bench, on which nothing was done yet."""
    job = _unready(reading, job_id)
    if job.begun_on is None:
        raise Refused(N_("The job {job} is not on the bench."), job=job.number)
    touched = (
        job_cost(reading, job.id).minutes,
        clock_of(reading, job.id),
        parts_used(reading, job.id),
        services_bought(reading, job.id),
    )
    if any(touched):
        raise Refused(
            N_("Work was done on the job {job}: take off its time, parts and services first."), job=job.number
        )
    return job


def run_put_on_bench(writing: Writing, form: OfJob) -> Outcome:
    """Begin the work, whatever is agreed."""
    job = _not_begun(writing, form.job_id)
    check_day(job, writing.on)
    job.begun_on = writing.on
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def preview_put_on_bench(reading: Reading, form: OfJob) -> Preview:
    """Say where nothing is agreed yet."""
    job = _not_begun(reading, form.job_id)
    unasked = job.approved_on is not None or job.bill_to in UNASKED
    return Preview(job.number, warnings=() if unasked else (_("Nothing is approved for it yet."),))


def run_take_off_bench(writing: Writing, form: OfJob) -> Outcome:
    """Put a job aside on which nothing was done, as if it had not been begun."""
    job = _untouched(writing, form.job_id)
    job.begun_on = None
    job.waits_for = ""
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def run_wait_for_part(writing: Writing, form: WaitForPart) -> Outcome:
    """Say what the work waits for; said again, it is written anew."""
    job = _agreed(writing, form.job_id)
    words = " ".join(form.words.split())
    if not words:
        raise Typed(N_("What does the work wait for? Say it in a few words."), field="words")
    job.waits_for = words
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def prefill_wait_for_part(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give what it waits for now."""
    return {"words": _unready(reading, job_id).waits_for}


def run_part_came(writing: Writing, form: OfJob) -> Outcome:
    """Go on with the work."""
    job = _waiting(writing, form.job_id)
    job.waits_for = ""
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def run_mark_ready(writing: Writing, form: OfJob) -> Outcome:
    """Have the work done: a clock that runs is stopped and counts, nothing is waited for any more."""
    job = _agreed(writing, form.job_id)
    check_day(job, writing.on)
    if job.begun_on is not None and writing.on < job.begun_on:
        raise Typed(
            N_("The work on {job} was begun on {day}: it wasn't ready before."),
            field="on",
            job=job.number,
            day=job.begun_on,
        )
    clock = clock_of(writing, job.id)
    if clock is not None:
        stop(clock, writing.at, None, job)
    job.begun_on = job.begun_on or writing.on
    job.waits_for = ""
    job.ready_on = writing.on
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def preview_mark_ready(reading: Reading, form: OfJob) -> Preview:
    """Say what was spent on it, and what ends with that."""
    job = _agreed(reading, form.job_id)
    cost = job_cost(reading, job.id)
    lines = [
        Line(_("Time"), time_words(cost.minutes)),
        Line(_("Parts, at cost"), amount=cost.parts),
        Line(_("Services, at cost"), amount=cost.services),
    ]
    clock = clock_of(reading, job.id)
    warnings = []
    if clock is not None and clock.started_at is not None:
        ran = time_words(clocked(clock.started_at, reading.ledger.clock()))
        warnings.append(_("The clock is stopped and counts {time}.").format(time=ran))
    if job.waits_for:
        warnings.append(_("It still waits for {what}.").format(what=job.waits_for))
    return Preview(job.number, tuple(lines), tuple(warnings))


def run_back_to_bench(writing: Writing, form: OfJob) -> Outcome:
    """Take a job up again that was ready and is not billed."""
    job = _ready(writing, form.job_id)
    job.ready_on = None
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def refuse_no_bench(reading: Reading, job_id: int) -> None:
    """Refuse to put on the bench what is there, is ready, was declined, is billed or ended."""
    _not_begun(reading, job_id)


def refuse_touched(reading: Reading, job_id: int) -> None:
    """Refuse to put aside what work was done on."""
    _untouched(reading, job_id)


def refuse_not_agreed(reading: Reading, job_id: int) -> None:
    """Refuse to wait, or to be ready, where nothing is agreed nor begun."""
    _agreed(reading, job_id)


def refuse_no_waiting(reading: Reading, job_id: int) -> None:
    """Refuse to go on with what waits for nothing."""
    _waiting(reading, job_id)


def refuse_not_ready(reading: Reading, job_id: int) -> None:
    """Refuse to take up again what is not ready, or is billed."""
    _ready(reading, job_id)


PUT_ON_BENCH = Act(
    name="put_on_bench",
    text=N_("Put on the bench"),
    subject=Subject.JOB,
    form=OfJob,
    run=run_put_on_bench,
    subject_input="job_id",
    allowed=refuse_no_bench,
    preview=preview_put_on_bench,
    opposite="take_off_bench",
)
TAKE_OFF_BENCH = Act(
    name="take_off_bench",
    text=N_("Put aside"),
    subject=Subject.JOB,
    form=OfJob,
    run=run_take_off_bench,
    subject_input="job_id",
    allowed=refuse_touched,
    opposite="put_on_bench",
)
WAIT_FOR_PART = Act(
    name="wait_for_part",
    text=N_("Wait for a part"),
    subject=Subject.JOB,
    form=WaitForPart,
    run=run_wait_for_part,
    subject_input="job_id",
    allowed=refuse_not_agreed,
    prefill=prefill_wait_for_part,
    opposite="part_came",
)
PART_CAME = Act(
    name="part_came",
    text=N_("The part came"),
    subject=Subject.JOB,
    form=OfJob,
    run=run_part_came,
    subject_input="job_id",
    allowed=refuse_no_waiting,
    opposite="wait_for_part",
)
MARK_READY = Act(
    name="mark_ready",
    text=N_("Mark as ready"),
    subject=Subject.JOB,
    form=OfJob,
    run=run_mark_ready,
    subject_input="job_id",
    allowed=refuse_not_agreed,
    preview=preview_mark_ready,
    opposite="back_to_bench",
)
BACK_TO_BENCH = Act(
    name="back_to_bench",
    text=N_("Back to the bench"),
    subject=Subject.JOB,
    form=OfJob,
    run=run_back_to_bench,
    subject_input="job_id",
    allowed=refuse_not_ready,
    opposite="mark_ready",
)
ACTS = (PUT_ON_BENCH, TAKE_OFF_BENCH, WAIT_FOR_PART, PART_CAME, MARK_READY, BACK_TO_BENCH)
