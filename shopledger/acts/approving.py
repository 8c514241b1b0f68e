"""Approving: who agreed to the work on a job, when, how and up to what amount; or that it is declined.

The newest counts and nothing adds up: a decline is recorded as an approval of nothing, so that what was approved
before it can't be billed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.deposits import deposit_held
from shopledger.acts.estimating import last_estimate
from shopledger.acts.opening import job_in_work
from shopledger.acts.working import UNASKED, check_day
from shopledger.model import Approval, Estimate, Job
from shopledger.model.jobs import APPROVED_HOW
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day, show_rate
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import name_of
from shopledger.queries.facts.jobs import approved_now
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import last_agreement
from shopledger.rules.billing import most_allowed
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.JOB})
HOW = Field(N_("How"), Kind.CHOICE, required=True, choices=APPROVED_HOW)
NOTE = Field(N_("In words"))


@dataclass(frozen=True, kw_only=True)
class ApproveJob(Form):
    """That the work may be done, up to an amount; the day it is booked on is the day it was given."""

    job_id: int
    given_by: str = ask(Field(N_("Given by"), required=True, personal=True))
    how: str = ask(HOW, default="counter")
    up_to: Money = ask(
        Field(
            N_("Up to"),
            Kind.MONEY,
            required=True,
            help=N_("In all, with tax, for the whole job; it replaces what was approved before."),
        )
    )
    estimate: str = ask(
        Field(N_("On estimate"), help=N_("Its number; empty where none was made.")), default=""
    )
    note: str = ask(NOTE, default="")


@dataclass(frozen=True, kw_only=True)
class DeclineJob(Form):
    """That the work is not wanted."""

    job_id: int
    given_by: str = ask(Field(N_("Declined by"), required=True, personal=True))
    how: str = ask(HOW, default="counter")
    note: str = ask(NOTE, default="")


def job_to_approve(reading: Reading, job_id: int) -> Job:
    """Give a job whose work can be approved.

    Raises: NotFound: there is no such job. Refused: it ended, is billed, or nobody is asked for the money.
    """
    job = job_in_work(reading, job_id)
    if job.bill_to in UNASKED:
        raise Refused(
            N_(
                "Nobody is asked to pay for the job {job}, so that nothing has to be approved. Change who pays."
            ),
            job=job.number,
        )
    return job


def job_to_decline(reading: Reading, job_id: int) -> Job:
    """Give a job whose work can still be declined.

    Raises: NotFound: there is no such job. Refused: it ended, is billed, was declined, or its work has begun.
    """
    job = job_in_work(reading, job_id)
    if job.declined_on is not None and job.approved_on is None:
        raise Refused(N_("The job {job} was declined on {day}."), job=job.number, day=job.declined_on)
    begun = job.begun_on or job.ready_on
    if begun is not None:
        raise Refused(
            N_(
                "The work on {job} began on {day}. Mark it as ready and bill what was done, no more than was approved."
            ),
            job=job.number,
            day=begun,
        )
    return job


def _estimate(reading: Reading, form: ApproveJob, job: Job) -> Estimate | None:
    """Give the estimate that is approved; None where no number is typed.

    Raises: Typed: the job has none of that number, or it was made later.
    """
    number = " ".join(form.estimate.split())
    if not number:
        return None
    found = reading.session.scalars(
        select(Estimate).where(Estimate.job_id == job.id, Estimate.number == number)
    ).one_or_none()
    if found is None:
        raise Typed(
            N_("The job {job} has no estimate {number}. Read the number again, or leave it empty."),
            field="estimate",
            job=job.number,
            number=number,
        )
    if form.on < found.made_on:
        raise Typed(
            N_("{estimate} was made on {day}: it can't be approved before."),
            field="on",
            estimate=found.number,
            day=found.made_on,
        )
    return found


def _checked(reading: Reading, form: ApproveJob) -> tuple[Job, Estimate | None]:
    job = job_to_approve(reading, form.job_id)
    check_day(job, form.on)
    estimate = _estimate(reading, form, job)
    if form.up_to.minor <= 0:
        raise Typed(
            N_("The amount has to be above zero. Where nothing is approved, decline the work."), field="up_to"
        )
    return job, estimate


def run_approve_job(writing: Writing, form: ApproveJob) -> Outcome:
    """Record an approval; it alone counts from now on, and takes a decline back."""
    job, estimate = _checked(writing, form)
    writing.add(
        Approval(
            job_id=job.id,
            estimate_id=None if estimate is None else estimate.id,
            given_by=form.given_by,
            given_on=writing.on,
            how=form.how,
            up_to=form.up_to.minor,
            note=form.note,
        )
    )
    job.approved_on = writing.on
    job.declined_on = None
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def prefill_approve_job(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give whoever has to approve, and the newest estimate with what it comes to at most."""
    job = job_to_approve(reading, job_id)
    found: dict[str, Any] = {"given_by": _who(reading, job)}
    estimate = last_estimate(reading, job_id)
    if estimate is not None:
        found["estimate"] = estimate.number
        found["up_to"] = reading.money(estimate.net_high + estimate.tax_high)
    return found


def _who(reading: Reading, job: Job) -> str:
    """Give the client's name, or the owners' of the agreement where they are to pay."""
    agreement = last_agreement(reading, job.stay_id) if job.bill_to == "owner" else None
    if agreement is None:
        return name_of(reading, job.client_id)
    return ", ".join(name_of(reading, party.person_id) for party in agreement.owners)


def preview_approve_job(reading: Reading, form: ApproveJob) -> Preview:
    """Say what was estimated and approved before, and up to what can be billed with this."""
    job, estimate = _checked(reading, form)
    lines: list[Line] = []
    warnings: list[str] = []
    manners = reading.ledger.manners
    if estimate is not None:
        low = reading.money(estimate.net_low + estimate.tax_low)
        high = reading.money(estimate.net_high + estimate.tax_high)
        least = _("at least {amount}").format(amount=show_amount(low, manners, dash=False))
        lines.append(Line(estimate.number, "" if low == high else least, high))
        if form.on > estimate.valid_until:
            warnings.append(
                _("{estimate} was valid until {day}.").format(
                    estimate=estimate.number, day=show_day(estimate.valid_until, manners)
                )
            )
        if form.up_to < low:
            warnings.append(_("That is less than the work is estimated to come to."))
    before = approved_now(reading, job.id)
    if before is not None:
        lines.append(Line(_("Approved before, and replaced"), "", before))
    excess = reading.shop().allowed_excess
    most = most_allowed(form.up_to, excess)
    if most == form.up_to:
        how = ""
    else:
        how = _("with the {rate} that the settings allow above it").format(rate=show_rate(excess, manners))
    lines.append(Line(_("Can be billed, at most"), how, most, strong=True))
    return Preview(N_("What is approved"), tuple(lines), tuple(warnings))


def run_decline_job(writing: Writing, form: DeclineJob) -> Outcome:
    """Record that the work is not wanted; what was approved before counts no more."""
    job = job_to_decline(writing, form.job_id)
    estimate = last_estimate(writing, job.id)
    check_day(job, form.on)
    writing.add(
        Approval(
            job_id=job.id,
            estimate_id=None if estimate is None else estimate.id,
            given_by=form.given_by,
            given_on=writing.on,
            how=form.how,
            up_to=0,
            note=form.note,
        )
    )
    job.declined_on = writing.on
    job.approved_on = None
    job.waits_for = ""
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def prefill_decline_job(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give whoever has to decide."""
    return {"given_by": _who(reading, job_to_decline(reading, job_id))}


def preview_decline_job(reading: Reading, form: DeclineJob) -> Preview:
    """Say what was approved until now, and whether a deposit is to be given back."""
    job = job_to_decline(reading, form.job_id)
    check_day(job, form.on)
    lines = []
    approved = approved_now(reading, job.id)
    if approved:
        lines.append(Line(_("Approved until now, and no more"), "", approved))
    deposit = deposit_held(reading, job.id)
    if deposit:
        lines.append(Line(_("Deposit to give back"), "", deposit, strong=True))
    return Preview(N_("What declining means"), tuple(lines))


def refuse_no_approval(reading: Reading, job_id: int) -> None:
    """Refuse to approve work on a job that ended, is billed, or for which nobody is asked to pay."""
    job_to_approve(reading, job_id)


def refuse_no_decline(reading: Reading, job_id: int) -> None:
    """Refuse to decline work that has begun, or was declined already."""
    job_to_decline(reading, job_id)


APPROVE_JOB = Act(
    name="approve_job",
    text=N_("Record the approval"),
    subject=Subject.JOB,
    form=ApproveJob,
    run=run_approve_job,
    subject_input="job_id",
    allowed=refuse_no_approval,
    prefill=prefill_approve_job,
    preview=preview_approve_job,
    opposite="decline_job",
    help=N_("Who agreed, how, and up to what amount in all."),
)
DECLINE_JOB = Act(
    name="decline_job",
    text=N_("Record that it is declined"),
    subject=Subject.JOB,
    form=DeclineJob,
    run=run_decline_job,
    subject_input="job_id",
    allowed=refuse_no_decline,
    prefill=prefill_decline_job,
    preview=preview_decline_job,
    opposite="approve_job",
)
ACTS = (APPROVE_JOB, DECLINE_JOB)
