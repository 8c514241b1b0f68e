"""The money of a job: what it was estimated and approved at, what it cost the shop, was billed, is paid and owed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import Estimate, JobBill, Person, field_of
from shopledger.papers.workshop import time_words
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import _
from shopledger.queries.facts.jobs import approved_now, bill_standing, deposits_paid
from shopledger.queries.job_costs import job_cost, repair_charges
from shopledger.queries.owing import sale_money
from shopledger.queries.sheet_shapes import Line

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def money_of_job(reading: Reading, row: Row[Any]) -> tuple[Line, ...]:
    """Give the figures of a job (all columns of its record), in the order in which they come about."""
    return (*_said(reading, row.id), *_cost(reading, row.id), *_billed(reading, row.id))


def _said(reading: Reading, job_id: int) -> tuple[Line, ...]:
    """Give what it was said to come to, what is approved, and what was paid beforehand."""
    manners = reading.ledger.manners
    lines: list[Line] = []
    made = reading.session.scalars(
        select(Estimate).where(Estimate.job_id == job_id).order_by(Estimate.n.desc()).limit(1)
    ).first()
    if made is not None:
        low, high = reading.money(made.net_low + made.tax_low), reading.money(made.net_high + made.tax_high)
        how = made.number
        if low != high:
            how = _("{number}, at least {low}").format(number=how, low=show_amount(low, manners, dash=False))
        lines.append(Line(_("Estimated"), how, high))
    approved = approved_now(reading, job_id)
    if approved:
        lines.append(Line(_("Approved up to"), amount=approved))
    deposit = deposits_paid(reading, job_id)
    if deposit is not None:
        lines.append(Line(_("Paid beforehand"), amount=deposit))
    return tuple(lines)


def _cost(reading: Reading, job_id: int) -> tuple[Line, ...]:
    """Give what parts and services cost the shop, and the time spent beside it."""
    cost = job_cost(reading, job_id)
    time = time_words(cost.minutes) if cost.minutes else ""
    lines = [
        Line(label, amount=amount)
        for label, amount in ((_("Parts, at cost"), cost.parts), (_("Services, at cost"), cost.services))
        if amount.minor
    ]
    if lines or time:
        how = _("with {time} of work").format(time=time) if time else ""
        lines.append(Line(_("It cost the shop"), how, cost.whole, strong=True))
    return tuple(lines)


def _billed(reading: Reading, job_id: int) -> tuple[Line, ...]:
    """Give what the bill that stands comes to, who bears it, and what of it is paid and owed."""
    bill = bill_standing(reading, job_id)
    if bill is None:
        return ()
    manners = reading.ledger.manners
    bearer = _(field_of(JobBill.bill_to).choice_word(bill.bill_to))
    on = _("to {bearer}, {day}").format(bearer=bearer, day=show_day(bill.billed_on, manners))
    lines = [Line(_("Billed, net"), on, reading.money(bill.net))]
    if bill.tax:
        lines.append(Line(_("Tax"), amount=reading.money(bill.tax)))
    lines.append(Line(_("Billed"), amount=reading.money(bill.net + bill.tax), strong=True))
    for charge in repair_charges(reading, job_id):
        name = reading.session.scalar(select(Person.name).where(Person.id == charge.person_id))
        lines.append(
            Line(
                _("Charged to {name}").format(name=name),
                f"{charge.number}, {show_day(charge.charged_on, manners)}",
                reading.money(charge.minor),
            )
        )
    if bill.sale_id is not None:
        money = sale_money(reading, bill.sale_id)
        lines.append(Line(_("Paid"), amount=money.paid))
        words = _("to give back to the client") if money.owes.minor < 0 else ""
        lines.append(Line(_("Client owes"), amount=money.owes, strong=True, note=words))
    return tuple(lines)
