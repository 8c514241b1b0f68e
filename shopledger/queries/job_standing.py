"""Where a job stands: the chip of its state, and in words since when, until when it is promised, and what is owed."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import Approval, Estimate, Job, WorkTime
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.jobs import approved_now, bill_standing
from shopledger.queries.instrument_standing import days_until
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import State
from shopledger.queries.states import JOB_STATES
from shopledger.rules import job_state as states
from shopledger.rules.job_state import JobDays, job_state

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

SENTENCES = {
    states.TO_ESTIMATE: (N_("Left on {day}, to be estimated."), "opened_on"),
    states.WAITS_FOR_CLIENT: (N_("Estimated on {day}; the client's answer is awaited."), "estimated_on"),
    states.AGREED: (N_("Agreed on {day}{up_to}; the work has not begun."), "approved_on"),
    states.ON_BENCH: (N_("On the bench since {day}."), "begun_on"),
    states.WAITS_FOR_PART: (N_("Waiting for {waits_for}."), ""),
    states.READY: (N_("Ready since {day}, to be collected."), "ready_on"),
    states.DECLINED: (N_("Declined on {day}, to be handed back as it is."), "declined_on"),
    states.COLLECTED: (N_("Collected on {day}{by}."), "ended_on"),
    states.RETURNED: (N_("Declined, and handed back on {day}{by}."), "ended_on"),
    states.LIEN: (N_("Sold on {day} for what was owed."), "ended_on"),
    states.STAYS: (N_("Done on {day}; it stays with the shop."), "ended_on"),
    states.LOST: (N_("Lost on {day} while the shop had it."), "ended_on"),
}
"""What is said of each state, and the day on which it began."""


def state_code_of(job: Row[Any] | Job) -> str:
    """Give the code of a job's state, from its record or all columns of it."""
    return job_state(JobDays(**{one.name: getattr(job, one.name) for one in fields(JobDays)}))


def state_now(row: Row[Any]) -> State:
    """Give the chip of a job (all columns of its record)."""
    return JOB_STATES[state_code_of(row)]


def standing_of(reading: Reading, row: Row[Any]) -> str:
    """Give where a job (all columns of its record) stands."""
    manners = reading.ledger.manners
    sentence, since = SENTENCES[state_now(row).code]
    approved = approved_now(reading, row.id)
    told = _(sentence).format(
        day=show_day(getattr(row, since), manners) if since else "",
        waits_for=row.waits_for,
        by=_(" by {name}").format(name=row.handed_to) if row.handed_to else "",
        up_to=""
        if approved is None
        else _(", up to {amount}").format(amount=show_amount(approved, manners, dash=False)),
    )
    further = (one(reading, row) for one in (_unanswered, _clock, _promised, _billed))
    return " ".join(part for part in (told, *further) if part)


def _unanswered(reading: Reading, row: Row[Any]) -> str:
    """Say where a further estimate was made after what is approved, while the work goes on."""
    if row.approved_on is None or row.ready_on is not None or row.ended_on is not None:
        return ""
    made = reading.session.execute(
        select(Estimate.id, Estimate.number, Estimate.made_on)
        .where(Estimate.job_id == row.id)
        .order_by(Estimate.n.desc())
        .limit(1)
    ).first()
    given = reading.session.execute(
        select(Approval.estimate_id, Approval.given_on)
        .where(Approval.job_id == row.id)
        .order_by(Approval.id.desc())
        .limit(1)
    ).first()
    if made is None or given is None or given.estimate_id == made.id or given.given_on > made.made_on:
        return ""
    if given.estimate_id is None and given.given_on == made.made_on:
        return ""
    return _("The estimate {number} of {day} is not answered yet.").format(
        number=made.number, day=show_day(made.made_on, reading.ledger.manners)
    )


def _clock(reading: Reading, row: Row[Any]) -> str:
    running = reading.session.scalar(
        select(WorkTime.id).where(WorkTime.job_id == row.id, WorkTime.minutes.is_(None))
    )
    return "" if running is None else _("The clock runs.")


def _promised(reading: Reading, row: Row[Any]) -> str:
    """Say until when the work is promised, while it is still to be done."""
    if row.promised_on is None or row.ended_on is not None or row.ready_on is not None:
        return ""
    return _("Promised for {day}, {left}.").format(
        day=show_day(row.promised_on, reading.ledger.manners),
        left=days_until(row.promised_on, reading.ledger.today()),
    )


def _billed(reading: Reading, row: Row[Any]) -> str:
    """Say what was billed to the client and what of it is owed."""
    bill = bill_standing(reading, row.id)
    if bill is None:
        return ""
    manners = reading.ledger.manners
    amount = show_amount(reading.money(bill.net + bill.tax), manners, dash=False)
    if bill.sale_id is None:
        return _("Billed at {amount} on {day}.").format(amount=amount, day=show_day(bill.billed_on, manners))
    owes = sale_money(reading, bill.sale_id).owes
    if owes.minor > 0:
        return _("The client owes {owes} of {amount}.").format(
            owes=show_amount(owes, manners, dash=False), amount=amount
        )
    return _("The bill of {amount} is paid.").format(amount=amount)
