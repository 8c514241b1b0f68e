"""The lines a bill begins with: work as it was last estimated, parts and services as they were really used."""

from __future__ import annotations

from sqlalchemy import select

from shopledger.acts.billing_ready import WorkRow
from shopledger.acts.estimating import last_estimate
from shopledger.model import EstimateLine, Job
from shopledger.quantities.words import _
from shopledger.queries.job_costs import job_cost, services_bought
from shopledger.queries.lots import parts_used
from shopledger.store.unit import Reading


def done_lines(reading: Reading, job: Job) -> tuple[WorkRow, ...]:
    """Give the lines of a bill: work from the newest estimate, else the time spent; parts and services as used.

    Where an estimate says at least and at most, the least stands; where no part was used, those estimated do.
    """
    estimated = _estimated(reading, job.id)
    used = (*_parts(reading, job.id), *_services(reading, job.id))
    work = tuple(row for row in estimated if row.kind == "labour") or _time(reading, job.id)
    return (*work, *(used or tuple(row for row in estimated if row.kind != "labour")))


def _estimated(reading: Reading, job_id: int) -> tuple[WorkRow, ...]:
    made = last_estimate(reading, job_id)
    if made is None:
        return ()
    lines = reading.session.scalars(
        select(EstimateLine).where(EstimateLine.estimate_id == made.id).order_by(EstimateLine.n)
    )
    return tuple(
        WorkRow(
            kind=line.kind,
            what=line.what,
            minutes=line.minutes,
            quantity=line.quantity,
            amount=reading.money(line.low),
        )
        for line in lines
    )


def _time(reading: Reading, job_id: int) -> tuple[WorkRow, ...]:
    minutes = job_cost(reading, job_id).minutes
    return (WorkRow(kind="labour", what=_("Work"), minutes=minutes),) if minutes else ()


def _parts(reading: Reading, job_id: int) -> tuple[WorkRow, ...]:
    return tuple(
        WorkRow(
            kind="part",
            what=part.what,
            quantity=part.quantity,
            amount=None if part.price is None else part.price.times(part.quantity),
        )
        for part in parts_used(reading, job_id)
    )


def _services(reading: Reading, job_id: int) -> tuple[WorkRow, ...]:
    return tuple(
        WorkRow(kind="service", what=one.what, amount=reading.money(one.price))
        for one in services_bought(reading, job_id)
    )
