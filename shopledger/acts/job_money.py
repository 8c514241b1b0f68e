"""Money for a job before its bill: a deposit taken, cleared, come back, or given back."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.deposits import (
    bounce,
    deposits_for_job,
    give_back_deposit,
    left_of,
    still_held,
    take_deposit,
)
from shopledger.acts.opening import job_in_work, job_of
from shopledger.acts.paying import clear
from shopledger.acts.working import check_day
from shopledger.model import Job, Payment
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import Refused
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.JOB, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})


@dataclass(frozen=True, kw_only=True)
class TakeJobDeposit(Form):
    """A deposit of the client, held until the bill."""

    job_id: int
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="cash")
    reference: str = ask(Field(N_("Reference")), default="")
    cleared: bool = ask(
        Field(N_("Cleared already"), Kind.YES_NO, help=N_("Cash, or a transfer that has arrived."))
    )


@dataclass(frozen=True, kw_only=True)
class OfJobDeposits(Form):
    """What becomes of all deposits of a job."""

    job_id: int


@dataclass(frozen=True, kw_only=True)
class GiveJobDepositBack(Form):
    """The client gets the deposit back before any bill."""

    job_id: int
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")


def _job_of_client(reading: Reading, job_id: int) -> Job:
    job = job_in_work(reading, job_id)
    if job.bill_to != "client":
        raise Refused(
            N_("The job {job} is not paid for by its client: no deposit is taken for it."), job=job.number
        )
    return job


def _held(reading: Reading, job_id: int, *, cleared: bool) -> list[Payment]:
    return still_held(reading, deposits_for_job(reading, job_id), cleared=cleared)


def run_take_job_deposit(writing: Writing, form: TakeJobDeposit) -> Outcome:
    """Take a deposit for a job that is open and not billed."""
    job = _job_of_client(writing, form.job_id)
    check_day(job, form.on)
    paper = take_deposit(
        writing,
        job.client_id,
        job.number,
        form.amount,
        form.method,
        reference=form.reference,
        cleared=form.cleared,
        field="amount",
        job_id=job.id,
    )
    return Outcome(Subject.JOB, job.id, CHANGED, (paper,))


def refuse_no_deposit(reading: Reading, job_id: int) -> None:
    """Refuse a deposit where the job is billed, has ended, or is not the client's to pay."""
    _job_of_client(reading, job_id)


def refuse_none_waits(reading: Reading, job_id: int) -> None:
    """Refuse to clear where no deposit waits."""
    job = job_of(reading, job_id)
    if not _held(reading, job.id, cleared=False):
        raise Refused(N_("No deposit waits to clear."))


def run_clear_job_deposit(writing: Writing, form: OfJobDeposits) -> Outcome:
    """Record that the deposits of a job cleared."""
    refuse_none_waits(writing, form.job_id)
    for deposit in _held(writing, form.job_id, cleared=False):
        clear(writing, deposit)
    return Outcome(Subject.JOB, form.job_id, CHANGED)


def _whole(reading: Reading, job_id: int) -> list[Payment]:
    return [
        deposit for deposit in deposits_for_job(reading, job_id) if left_of(reading, deposit) == deposit.minor
    ]


def refuse_no_bounce(reading: Reading, job_id: int) -> None:
    """Refuse to record a deposit as come back where none is held whole."""
    job = job_of(reading, job_id)
    if not _whole(reading, job.id):
        raise Refused(N_("There is no deposit that could come back."))


def run_bounce_job_deposit(writing: Writing, form: OfJobDeposits) -> Outcome:
    """Undo the deposits of a job and their clearing; the job goes on."""
    refuse_no_bounce(writing, form.job_id)
    for deposit in _whole(writing, form.job_id):
        bounce(writing, deposit)
    return Outcome(Subject.JOB, form.job_id, CHANGED)


def refuse_nothing_held(reading: Reading, job_id: int) -> None:
    """Refuse to give back where no cleared deposit is held."""
    job = job_of(reading, job_id)
    if not _held(reading, job.id, cleared=True):
        raise Refused(N_("No deposit that has cleared is held for the job {job}."), job=job.number)


def run_give_job_deposit_back(writing: Writing, form: GiveJobDepositBack) -> Outcome:
    """Give what is held of the deposits of a job back to its client."""
    refuse_nothing_held(writing, form.job_id)
    papers = [
        give_back_deposit(writing, deposit, left_of(writing, deposit), form.method)
        for deposit in _held(writing, form.job_id, cleared=True)
    ]
    return Outcome(Subject.JOB, form.job_id, CHANGED, tuple(papers))


TAKE_JOB_DEPOSIT = Act(
    name="take_job_deposit",
    text=N_("Take a deposit"),
    subject=Subject.JOB,
    form=TakeJobDeposit,
    run=run_take_job_deposit,
    subject_input="job_id",
    allowed=refuse_no_deposit,
    opposite="give_job_deposit_back",
    help=N_("It is set off against the bill; what is above that is given back."),
    papers=("payment_receipt",),
)
CLEAR_JOB_DEPOSIT = Act(
    name="clear_job_deposit",
    text=N_("Record the deposit as cleared"),
    subject=Subject.JOB,
    form=OfJobDeposits,
    run=run_clear_job_deposit,
    subject_input="job_id",
    allowed=refuse_none_waits,
    opposite="bounce_job_deposit",
)
BOUNCE_JOB_DEPOSIT = Act(
    name="bounce_job_deposit",
    text=N_("The deposit came back"),
    subject=Subject.JOB,
    form=OfJobDeposits,
    run=run_bounce_job_deposit,
    subject_input="job_id",
    allowed=refuse_no_bounce,
)
GIVE_JOB_DEPOSIT_BACK = Act(
    name="give_job_deposit_back",
    text=N_("Give the deposit back"),
    subject=Subject.JOB,
    form=GiveJobDepositBack,
    run=run_give_job_deposit_back,
    subject_input="job_id",
    allowed=refuse_nothing_held,
    papers=("refund_receipt",),
)
ACTS = (TAKE_JOB_DEPOSIT, CLEAR_JOB_DEPOSIT, BOUNCE_JOB_DEPOSIT, GIVE_JOB_DEPOSIT_BACK)
