"""What a job cost the shop and what of it became part of an instrument's cost; who was charged with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import Charge, Job, JobBill, JobService, WorkTime
from shopledger.quantities.money import Money
from shopledger.queries.lots import parts_used
from shopledger.queries.owing import charge_stands

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class JobCost:
    """What a job cost the shop: its parts first in first out, the services bought in, and the time spent.

    Units:  time in minutes; a clock that still runs counts nothing.
    """

    parts: Money
    services: Money
    minutes: int

    @property
    def whole(self) -> Money:
        """Parts and services together."""
        return self.parts + self.services


def job_cost(reading: Reading, job_id: int) -> JobCost:
    """Give what a job cost the shop so far."""
    parts = sum(part.cost.minor for part in parts_used(reading, job_id))
    services = reading.session.scalar(select(func.sum(JobService.cost)).where(JobService.job_id == job_id))
    minutes = reading.session.scalar(select(func.sum(WorkTime.minutes)).where(WorkTime.job_id == job_id))
    return JobCost(reading.money(parts), reading.money(int(services or 0)), int(minutes or 0))


def services_bought(reading: Reading, job_id: int) -> Sequence[JobService]:
    """Give the services bought in for a job, in order; those given back are left out."""
    return reading.session.scalars(
        select(JobService).where(JobService.job_id == job_id, JobService.cost > 0).order_by(JobService.id)
    ).all()


def work_in_cost(reading: Reading, stay_id: int) -> int:
    """Give what of a stay's cost is work on the shop's own instrument and not what was paid for it, in minor units."""
    found = reading.session.scalar(
        select(func.sum(JobBill.cost))
        .join(Job, Job.id == JobBill.job_id)
        .where(Job.stay_id == stay_id, JobBill.entry_id.is_not(None), JobBill.taken_back_on.is_(None))
    )
    return int(found or 0)


def repair_charges(reading: Reading, job_id: int) -> Sequence[Charge]:
    """Give what owners are charged with for a job, in order; what was taken back is left out."""
    return reading.session.scalars(
        select(Charge)
        .where(Charge.job_id == job_id, Charge.kind == "repair", charge_stands())
        .order_by(Charge.id)
    ).all()
