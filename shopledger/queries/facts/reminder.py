"""What a reminder states: what waits to be collected since when, and what is to be paid for it."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Reminder
from shopledger.papers.reminder import ReminderFacts
from shopledger.quantities.money import Money
from shopledger.queries.facts.jobs import bill_standing, job_head, job_named, stay_of
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.owing import sale_money
from shopledger.store.unit import Reading


def reminder_facts(reading: Reading, job_id: int, after_days: int, number: str, on: date) -> ReminderFacts:
    """Give what the reminder of a job states after so many days.

    Units:  days since it was ready, or since the work was declined.
    Raises: NotFound: there is no such job.
    """
    job = job_named(reading, job_id)
    earlier = reading.session.scalars(
        select(Reminder.sent_on)
        .where(Reminder.job_id == job_id, Reminder.after_days < after_days)
        .order_by(Reminder.after_days)
    )
    return ReminderFacts(
        **job_head(reading, job, number, on),
        after_days=after_days,
        sent_on=on,
        ready_on=job.ready_on,
        opened_on=job.opened_on,
        declined=job.declined_on is not None and job.ready_on is None,
        came_with=lines_of(stay_of(reading, job).came_with),
        due=_due(reading, job_id),
        earlier=tuple(earlier),
    )


def _due(reading: Reading, job_id: int) -> Money | None:
    """Give what the client still owes on the invoice; None where there is none."""
    bill = bill_standing(reading, job_id)
    return None if bill is None or bill.sale_id is None else sale_money(reading, bill.sale_id).owes
