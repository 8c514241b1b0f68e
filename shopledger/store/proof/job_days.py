"""The days of jobs proved: estimated, approved and declined as their records say; begun, ready and billed in order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.model import Approval, Estimate, Job, JobBill, WorkTime
from shopledger.quantities.words import N_, _
from shopledger.store.proof.finding import Proof

DONE = frozenset({"collected", "stays", "lien"})
"""How a job ends whose work was done."""
SAYS = {
    "estimated_on": N_("{job} was estimated on {said} by its own days, on {wanted} by its estimates."),
    "approved_on": N_("{job} was approved on {said} by its own days, on {wanted} by its approvals."),
    "declined_on": N_("{job} was declined on {said} by its own days, on {wanted} by its approvals."),
}


@dataclass(frozen=True, slots=True)
class _Known:
    """What the days of jobs are compared with: by job the newest of each, and what is under way."""

    estimates: Mapping[int, Any]
    approvals: Mapping[int, Any]
    billed: Mapping[int, date]
    running: frozenset[int]


def prove_days_of_jobs(proof: Proof) -> None:
    """Go through the days of every job."""
    known = _known(proof)
    columns = Job.__table__.c
    for job in proof.rows(select(*columns).order_by(Job.id)):
        for name, wanted in _decided(job.id, known).items():
            said = getattr(job, name)
            if said != wanted:
                proof.wrong(
                    "job",
                    job.number,
                    SAYS[name],
                    job=job.number,
                    said=said or _("no day"),
                    wanted=wanted or _("no day"),
                )
        if not _in_order(job, known):
            proof.wrong(
                "job",
                job.number,
                N_(
                    "{job}: its days don't follow from each other: begun {begun}, ready {ready}, billed {billed}, "
                    "declined {declined}, ended {ended}."
                ),
                job=job.number,
                begun=job.begun_on or _("no day"),
                ready=job.ready_on or _("no day"),
                billed=known.billed.get(job.id) or _("no day"),
                declined=job.declined_on or _("no day"),
                ended=job.ended_on or _("no day"),
            )


def _known(proof: Proof) -> _Known:
    return _Known(
        # In the order of their numbers, so that the newest of a job is the one that stays.
        estimates={
            row.job_id: row
            for row in proof.rows(
                select(Estimate.job_id, Estimate.id, Estimate.made_on).order_by(Estimate.job_id, Estimate.n)
            )
        },
        approvals={
            row.job_id: row
            for row in proof.rows(
                select(Approval.job_id, Approval.estimate_id, Approval.given_on, Approval.up_to).order_by(
                    Approval.id
                )
            )
        },
        billed=proof.pairs(select(JobBill.job_id, JobBill.billed_on).where(JobBill.taken_back_on.is_(None))),
        running=frozenset(
            proof.connection.scalars(select(WorkTime.job_id).where(WorkTime.minutes.is_(None)))
        ),
    )


def _decided(job_id: int, known: _Known) -> Mapping[str, date | None]:
    """Give the days on which a job was estimated, approved and declined, as its newest records have them."""
    estimate, approval = known.estimates.get(job_id), known.approvals.get(job_id)
    approved = declined = None
    if approval is not None and approval.up_to:
        approved = approval.given_on
    elif approval is not None and approval.estimate_id == (None if estimate is None else estimate.id):
        declined = approval.given_on  # an estimate made after a refusal asks anew
    return {
        "estimated_on": None if estimate is None else estimate.made_on,
        "approved_on": approved,
        "declined_on": declined,
    }


def _in_order(job: Any, known: _Known) -> bool:
    """Tell whether what was begun, ready, billed, declined and ended agrees."""
    begun, ready, billed = job.begun_on, job.ready_on, known.billed.get(job.id)
    if ready is not None and (begun is None or begun > ready or job.id in known.running):
        return False
    if job.declined_on is not None and begun is not None:
        return False
    if billed is not None and (ready is None or ready > billed):
        return False
    if job.ending in DONE:
        return ready is not None
    return job.ending != "declined" or job.declined_on is not None
