"""Estimating: what a job will come to, at least and at most, line by line, and until when that holds.

An estimate is never changed: a further one replaces it, filled from the one before.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import func, select

from shopledger.acts.declare import Act, Outcome
from shopledger.acts.estimating_forms import EstimateJob, EstimateRow
from shopledger.acts.lots import goods_of
from shopledger.acts.opening import job_in_work
from shopledger.acts.papers import leave_paper
from shopledger.acts.price_list import offered_item
from shopledger.acts.working import check_day
from shopledger.model import Estimate, EstimateLine, Job
from shopledger.papers.workshop import time_words
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day, show_rate
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.jobs import approved_now
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.shop import work_tax_now, work_taxed
from shopledger.rules.estimating import (
    Estimated,
    LineRange,
    WorkWanted,
    amounts_of,
    for_time,
    reckon_estimate,
)
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, slots=True)
class ReadyEstimateLine:
    """A line that can be estimated."""

    row: EstimateRow
    kind: str
    what: str
    minutes: int | None
    amounts: LineRange


@dataclass(frozen=True, slots=True)
class ReadyEstimate:
    """An estimate that can be made."""

    job: Job
    lines: tuple[ReadyEstimateLine, ...]
    discount: Money
    reckoned: Estimated
    valid_until: date


def job_to_estimate(reading: Reading, job_id: int) -> Job:
    """Give a job whose work can still be estimated.

    Raises: NotFound: there is no such job. Refused: it ended, is billed, or is ready.
    """
    job = job_in_work(reading, job_id)
    if job.ready_on is not None:
        raise Refused(
            N_("The job {job} is ready since {day}. Put it back on the bench, if more is to be done."),
            job=job.number,
            day=job.ready_on,
        )
    return job


def last_estimate(reading: Reading, job_id: int) -> Estimate | None:
    """Give the newest estimate of a job; None where none was made."""
    return reading.session.scalars(
        select(Estimate).where(Estimate.job_id == job_id).order_by(Estimate.n.desc()).limit(1)
    ).first()


def ready_estimate(reading: Reading, form: EstimateJob) -> ReadyEstimate:
    """Give what a form estimates, with everything that could refuse it asked.

    Raises: Typed, Refused, NotFound: it can't be estimated so; the field names why.
    """
    job = job_to_estimate(reading, form.job_id)
    check_day(job, form.on)
    if form.hourly_rate.minor < 0:
        raise Typed(N_("The hourly rate can't be below zero."), field="hourly_rate")
    if form.tax_rate is not None and not 0 <= form.tax_rate <= 1:
        raise Typed(
            N_("{rate} is out of bounds. A rate is from 0% to 100%."), field="tax_rate", rate=form.tax_rate
        )
    shop = reading.shop()
    valid_until = form.valid_until or form.on + timedelta(days=shop.estimate_days)
    if valid_until < form.on:
        raise Typed(
            N_("It can't be valid until {day}, before it is made on {made}."),
            field="valid_until",
            day=valid_until,
            made=form.on,
        )
    taxed = work_taxed(reading) if form.tax_rate is not None else {}
    lines = tuple(_ready_line(reading, form, n, taxed) for n in range(len(form.lines)))
    discount = form.discount or reading.money(0)
    reckoned = reckon_estimate(
        [line.amounts for line in lines],
        discount,
        form.tax_rate,
        by_invoice=shop.work_tax_basis == "invoice",
    )
    return ReadyEstimate(job, lines, discount, reckoned, valid_until)


def _ready_line(reading: Reading, form: EstimateJob, n: int, taxed: Mapping[str, bool]) -> ReadyEstimateLine:
    """Give a line with its words, its time and its amounts, from the price list or the goods where it names them."""
    row, path = form.lines[n], f"lines[{n}]"
    kind, what, minutes, price = row.kind, row.what.strip(), row.minutes, None
    if row.work_item_id is not None:
        if row.goods_id is not None:
            raise Typed(
                N_("Work and a part are two lines: choose one of them here."), field=f"{path}.goods_id"
            )
        item = offered_item(reading, row.work_item_id, f"{path}.work_item_id")
        kind, what = "labour", what or item.what
        if minutes is None and item.minutes is not None:
            minutes = item.minutes * row.quantity
        price = None if item.price is None else reading.money(item.price)
    elif row.goods_id is not None:
        goods = goods_of(reading, row.goods_id, f"{path}.goods_id")
        kind, what = "part", what or goods.what
        price = None if goods.price is None else reading.money(goods.price)
    if not what:
        raise Typed(
            N_("What is done? Choose it from the price list, choose a part, or write it."),
            field=f"{path}.what",
        )
    if kind != "labour" and (minutes is not None or row.minutes_high is not None):
        raise Typed(
            N_("Time belongs to work: write it on a line of its own."),
            field=f"{path}.minutes" if minutes is not None else f"{path}.minutes_high",
        )
    wanted = WorkWanted(
        minutes=minutes,
        minutes_high=row.minutes_high,
        quantity=row.quantity,
        price=price,
        amount=row.amount,
        amount_high=row.amount_high,
    )
    try:
        amounts = amounts_of(wanted, form.hourly_rate)
    except Typed as error:
        error.field = f"{path}.{error.field}"
        raise
    if amounts is None:
        raise Typed(
            N_("What does “{what}” come to? Type its time or its amount."), field=f"{path}.amount", what=what
        )
    return ReadyEstimateLine(row, kind, what, minutes, LineRange(*amounts, taxed.get(kind, False)))


def run_estimate_job(writing: Writing, form: EstimateJob) -> Outcome:
    """Make an estimate and leave its paper; a job that was declined waits for its client again."""
    from shopledger.queries.facts.estimate import estimate_facts

    ready = ready_estimate(writing, form)
    job, low, high = ready.job, ready.reckoned.low, ready.reckoned.high
    n = writing.session.scalar(select(func.max(Estimate.n)).where(Estimate.job_id == job.id)) or 0
    made = writing.add(
        Estimate(
            number=writing.number("estimate"),
            job_id=job.id,
            n=n + 1,
            made_on=writing.on,
            valid_until=ready.valid_until,
            hourly_rate=form.hourly_rate.minor,
            discount=ready.discount.minor,
            tax_rate=form.tax_rate,
            tax_basis=writing.shop().work_tax_basis,
            note=form.note,
            net_low=low.net.minor,
            net_high=high.net.minor,
            tax_low=low.tax.minor,
            tax_high=high.tax.minor,
        )
    )
    for at, line in enumerate(ready.lines, 1):
        writing.put(
            EstimateLine(
                estimate_id=made.id,
                n=at,
                kind=line.kind,
                what=line.what,
                minutes=line.minutes,
                minutes_high=line.row.minutes_high,
                goods_id=line.row.goods_id,
                quantity=line.row.quantity,
                low=line.amounts.low.minor,
                high=line.amounts.high.minor,
                is_taxed=line.amounts.is_taxed,
            )
        )
    job.estimated_on = writing.on
    job.declined_on = None
    writing.session.flush()
    facts = estimate_facts(writing, made.id, made.number, writing.on)
    paper = leave_paper(
        writing,
        "estimate",
        facts,
        instrument_id=job.instrument_id,
        person_id=job.client_id,
        job_id=job.id,
    )
    return Outcome(Subject.JOB, job.id, frozenset({Subject.JOB}), (paper,))


def prefill_estimate_job(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give the estimate before as it was, or an empty line; the rate of the shop and its tax."""
    before = last_estimate(reading, job_id)
    shop = reading.shop()
    on = reading.ledger.today()
    found: dict[str, Any] = {"valid_until": on + timedelta(days=shop.estimate_days)}
    if before is None:
        if shop.work_rate is not None:
            found["hourly_rate"] = reading.money(shop.work_rate)
        return {**found, "lines": (EstimateRow(),), "tax_rate": work_tax_now(reading, on)}
    hourly = reading.money(before.hourly_rate)
    lines = reading.session.scalars(
        select(EstimateLine).where(EstimateLine.estimate_id == before.id).order_by(EstimateLine.n)
    )
    return {
        **found,
        "lines": tuple(_row_again(reading, line, hourly) for line in lines),
        "hourly_rate": hourly,
        "discount": reading.money(before.discount) if before.discount else None,
        "tax_rate": before.tax_rate,
        "note": before.note,
    }


def _row_again(reading: Reading, line: EstimateLine, hourly: Money) -> EstimateRow:
    """Give a line as it could have been typed: without its amounts where they follow from the time."""
    low, high = reading.money(line.low), reading.money(line.high)
    by_time = line.minutes is not None and low == for_time(hourly, line.minutes)
    at_most = low if line.minutes_high is None else for_time(hourly, line.minutes_high)
    return EstimateRow(
        goods_id=line.goods_id,
        what=line.what,
        kind=line.kind,
        minutes=line.minutes,
        minutes_high=line.minutes_high,
        quantity=line.quantity,
        amount=None if by_time else low,
        amount_high=None if high == at_most else high,
    )


def preview_estimate_job(reading: Reading, form: EstimateJob) -> Preview:
    """Give what the estimate comes to, line by line, at least and at most, with its tax."""
    ready = ready_estimate(reading, form)
    low, high = ready.reckoned.low, ready.reckoned.high
    lines = [
        Line(
            line.what if line.row.quantity == 1 else f"{line.row.quantity} × {line.what}",
            _join(_time_of(line), _at_least(reading, line.amounts.low, line.amounts.high)),
            line.amounts.high,
        )
        for line in ready.lines
    ]
    if ready.discount:
        lines.append(Line(_("Discount"), "", -ready.discount))
    if form.tax_rate is not None:
        lines.append(Line(_("Net"), _at_least(reading, low.net, high.net), high.net))
        rate = show_rate(form.tax_rate, reading.ledger.manners)
        label = _("Tax, {rate}").format(rate=rate)
        lines.append(Line(label, _at_least(reading, low.tax, high.tax), high.tax))
    valid = _("valid until {day}").format(day=show_day(ready.valid_until, reading.ledger.manners))
    lines.append(
        Line(_("Total"), _at_least(reading, low.total, high.total), high.total, strong=True, note=valid)
    )
    return Preview(N_("What it comes to"), tuple(lines), tuple(_beyond(reading, ready)))


def _join(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _time_of(line: ReadyEstimateLine) -> str:
    if line.minutes is None:
        return ""
    least = time_words(line.minutes)
    most = line.row.minutes_high
    if most is None or most == line.minutes:
        return least
    return _("{least} to {most}").format(least=least, most=time_words(most))


def _at_least(reading: Reading, low: Money, high: Money) -> str:
    """Say from what amount it begins, where that can't be known."""
    if low == high:
        return ""
    return _("at least {amount}").format(amount=show_amount(low, reading.ledger.manners, dash=False))


def _beyond(reading: Reading, ready: ReadyEstimate) -> Sequence[str]:
    """Say that what was approved is not enough for it."""
    approved = approved_now(reading, ready.job.id)
    most = ready.reckoned.high.total
    if approved is None or not approved or most <= approved:
        return ()
    return (
        _(
            "{approved} is approved so far: what is above it needs a further approval before it is done."
        ).format(approved=show_amount(approved, reading.ledger.manners)),
    )


def refuse_no_estimate(reading: Reading, job_id: int) -> None:
    """Refuse to estimate a job that ended, is billed, or is ready."""
    job_to_estimate(reading, job_id)


ESTIMATE_JOB = Act(
    name="estimate_job",
    text=N_("Estimate"),
    subject=Subject.JOB,
    form=EstimateJob,
    run=run_estimate_job,
    subject_input="job_id",
    allowed=refuse_no_estimate,
    prefill=prefill_estimate_job,
    preview=preview_estimate_job,
    help=N_("Lines of work, parts and bought-in services, at least and at most, with tax."),
    papers=("estimate",),
)
ACTS = (ESTIMATE_JOB,)
