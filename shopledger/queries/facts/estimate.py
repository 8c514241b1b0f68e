"""What an estimate states: its lines at least and at most, discount, tax, until when it holds, what it replaces."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Estimate, EstimateLine
from shopledger.papers.estimate import EstimateFacts, EstimateLineFacts
from shopledger.papers.workshop import TaxOnWork
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_
from shopledger.queries.facts.jobs import approved_now, job_head, job_named
from shopledger.queries.facts.parties import lines_of
from shopledger.store.unit import Reading


def estimate_facts(reading: Reading, estimate_id: int, number: str, on: date) -> EstimateFacts:
    """Give what an estimate states.

    Raises: NotFound: there is no such estimate.
    """
    made = reading.session.get(Estimate, estimate_id)
    if made is None:
        raise NotFound(N_("There is no estimate {id} in this ledger."), id=str(estimate_id))
    job = job_named(reading, made.job_id)
    lines = reading.session.scalars(
        select(EstimateLine).where(EstimateLine.estimate_id == made.id).order_by(EstimateLine.n)
    )
    money = reading.money
    return EstimateFacts(
        **job_head(reading, job, number, on),
        made_on=made.made_on,
        valid_until=made.valid_until,
        wants=" ".join(lines_of(job.hears)),
        sees=" ".join(lines_of(job.sees)),
        hourly_rate=money(made.hourly_rate),
        lines=tuple(_line(reading, line) for line in lines),
        discount=money(made.discount),
        net_low=money(made.net_low),
        net_high=money(made.net_high),
        tax=TaxOnWork(rate=made.tax_rate or None, basis=made.tax_basis),
        tax_low=money(made.tax_low),
        tax_high=money(made.tax_high),
        total_low=money(made.net_low + made.tax_low),
        total_high=money(made.net_high + made.tax_high),
        replaces=_before(reading, made),
        approved=approved_now(reading, job.id),
        notes=lines_of(made.note),
    )


def _line(reading: Reading, line: EstimateLine) -> EstimateLineFacts:
    return EstimateLineFacts(
        kind=line.kind,
        what=line.what,
        minutes=line.minutes,
        minutes_high=line.minutes_high,
        quantity=line.quantity,
        low=reading.money(line.low),
        high=reading.money(line.high),
        taxed=line.is_taxed,
    )


def _before(reading: Reading, made: Estimate) -> str:
    """Give the number of the estimate that this one replaces; nothing for the first."""
    return (
        reading.session.scalar(
            select(Estimate.number)
            .where(Estimate.job_id == made.job_id, Estimate.n < made.n)
            .order_by(Estimate.n.desc())
            .limit(1)
        )
        or ""
    )
