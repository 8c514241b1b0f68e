"""Services that the shop buys in for a job: paid and booked at cost, charged to the job at a price; and given back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import job_in_work
from shopledger.acts.paying import above_zero
from shopledger.acts.working import check_day, job_to_work_on, refuse_no_work_on, work_begins
from shopledger.model import JobService
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.job_costs import services_bought
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.JOB, Subject.ENTRY, Subject.ACCOUNT})


@dataclass(frozen=True, kw_only=True)
class BuyService(Form):
    """A service bought in for a job, and paid."""

    job_id: int
    what: str = ask(Field(N_("What"), required=True, help=N_("Such as turning a foot, or plating.")))
    supplier: str = ask(Field(N_("From")), default="")
    cost: Money = ask(Field(N_("Cost"), Kind.MONEY, required=True))
    price: Money | None = ask(Field(N_("Charged to the job"), Kind.MONEY, help=N_("Empty: what it cost.")))


@dataclass(frozen=True, kw_only=True)
class GiveServiceBack(Form):
    """A service that was not done after all, or was mistyped: its money is back."""

    job_id: int
    service: int = ask(
        Field(N_("Which"), Kind.COUNT, required=True, help=N_("1 for the first that was bought in.")),
        default=1,
    )


def run_buy_service(writing: Writing, form: BuyService) -> Outcome:
    """Pay for a service and book it; work that is agreed has begun with it."""
    job = job_to_work_on(writing, form.job_id)
    check_day(job, writing.on)
    if not form.what.strip():
        raise Typed(N_("What was bought in? Say it in a few words."), field="what")
    cost = above_zero(form.cost, writing.currency, "cost")
    price = cost if form.price is None else form.price.minor
    if price < 0:
        raise Typed(N_("The price can't be below zero."), field="price")
    entry = writing.book([Amount("services", cost), Amount("bank", -cost)], f"{job.number} {form.what}")
    work_begins(writing, job)
    writing.add(
        JobService(
            job_id=job.id,
            what=form.what.strip(),
            supplier=form.supplier,
            bought_on=writing.on,
            cost=cost,
            price=price,
            entry_id=entry,
        )
    )
    return Outcome(Subject.JOB, job.id, CHANGED)


def preview_buy_service(reading: Reading, form: BuyService) -> Preview:
    """Say what it costs the shop and what the job is charged."""
    job = job_to_work_on(reading, form.job_id)
    price = form.cost if form.price is None else form.price
    warnings = (_("It is charged below what it cost."),) if price.minor < form.cost.minor else ()
    return Preview(
        job.number,
        (
            Line(_("It costs the shop"), amount=form.cost),
            Line(_("Charged to the job"), amount=price, strong=True),
        ),
        warnings,
    )


def _chosen(reading: Reading, form: GiveServiceBack) -> JobService:
    bought = services_bought(reading, job_in_work(reading, form.job_id).id)
    if not 1 <= form.service <= len(bought):
        raise Typed(N_("Which service is it? Type a number from 1 to {n}."), field="service", n=len(bought))
    return bought[form.service - 1]


def run_give_service_back(writing: Writing, form: GiveServiceBack) -> Outcome:
    """Reverse what a service cost; the job isn't charged with it any more."""
    refuse_no_service(writing, form.job_id)
    service = _chosen(writing, form)
    job = job_in_work(writing, form.job_id)
    writing.reverse(service.entry_id, f"{job.number} {service.what} given back")
    service.cost = service.price = 0
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def preview_give_service_back(reading: Reading, form: GiveServiceBack) -> Preview:
    """Say which it is and what comes back."""
    service = _chosen(reading, form)
    return Preview(
        service.what, (Line(_("Comes back to the shop"), amount=reading.money(service.cost), strong=True),)
    )


def refuse_no_service(reading: Reading, job_id: int) -> None:
    """Refuse to give back where none was bought in."""
    job = job_in_work(reading, job_id)
    if not services_bought(reading, job.id):
        raise Refused(N_("No service was bought in for the job {job}."), job=job.number)


def prefill_give_service_back(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give the one that was bought in last."""
    return {"service": max(1, len(services_bought(reading, job_id)))}


BUY_SERVICE = Act(
    name="buy_service",
    text=N_("Buy in a service"),
    subject=Subject.JOB,
    form=BuyService,
    run=run_buy_service,
    subject_input="job_id",
    allowed=refuse_no_work_on,
    preview=preview_buy_service,
    opposite="give_service_back",
)
GIVE_SERVICE_BACK = Act(
    name="give_service_back",
    text=N_("Give a service back"),
    subject=Subject.JOB,
    form=GiveServiceBack,
    run=run_give_service_back,
    subject_input="job_id",
    allowed=refuse_no_service,
    prefill=prefill_give_service_back,
    preview=preview_give_service_back,
    opposite="buy_service",
)
ACTS = (BUY_SERVICE, GIVE_SERVICE_BACK)
