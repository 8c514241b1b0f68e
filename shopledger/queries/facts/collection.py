"""What a collection slip states: handed over to whom, in which condition, and what is paid or left owing."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Job, JobBill, JobBillLine, Sale
from shopledger.papers.collection import CollectionFacts
from shopledger.quantities.money import Money
from shopledger.queries.facts.instruments import labelled
from shopledger.queries.facts.jobs import bill_standing, job_head, job_named, stay_of
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.owing import sale_money
from shopledger.store.unit import Reading


def collection_facts(reading: Reading, job_id: int, number: str, on: date) -> CollectionFacts:
    """Give what the collection slip of a job states; what is paid stands as it does now.

    Raises: NotFound: there is no such job.
    """
    job = job_named(reading, job_id)
    stay = stay_of(reading, job)
    bill = bill_standing(reading, job_id)
    invoice, money = _money(reading, bill)
    return CollectionFacts(
        **job_head(reading, job, number, on),
        handed_over_on=job.ended_on or on,
        handed_to=job.handed_to,
        identity_seen=job.identity_seen,
        came_with=lines_of(stay.came_with),
        condition=labelled(job.condition_out or stay.condition_out),
        work_done=_work_done(reading, bill),
        declined=_was_declined(job),
        invoice_number=invoice,
        billed=None if money is None else money[0],
        paid=None if money is None else money[1],
        balance=None if money is None else money[0] - money[1],
        owing_agreed=" ".join(lines_of(job.owing_agreed)),
    )


def _was_declined(job: Job) -> bool:
    """Tell whether it goes back because the work was declined."""
    return job.ending == "declined" or (job.ending is None and job.declined_on is not None)


def _money(reading: Reading, bill: JobBill | None) -> tuple[str, tuple[Money, Money] | None]:
    """Give the invoice's number with what it asks for and what is paid of it; nothing where the client has none."""
    if bill is None or bill.sale_id is None:
        return "", None
    sale = reading.session.get_one(Sale, bill.sale_id)
    money = sale_money(reading, sale.id)
    return sale.number, (money.pays, money.paid)


def _work_done(reading: Reading, bill: JobBill | None) -> tuple[str, ...]:
    """Give what was billed, line by line, without what was taken off."""
    if bill is None:
        return ()
    rows = reading.session.scalars(
        select(JobBillLine.what)
        .where(JobBillLine.bill_id == bill.id, JobBillLine.minor >= 0)
        .order_by(JobBillLine.n)
    )
    return tuple(rows)
