"""What the account of a sale for what was owed states, from its record and what it set aside."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import LienSale, Person, Reminder, Sale, Settlement, SettlementShare
from shopledger.papers.lien_sale import LienSaleFacts
from shopledger.papers.parts import AmountLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_
from shopledger.queries.facts.jobs import bill_standing, job_head, job_named
from shopledger.queries.facts.parties import lines_of
from shopledger.rules.uncollected import lien_split
from shopledger.store.unit import Reading


def lien_sale_facts(reading: Reading, job_id: int, number: str, on: date) -> LienSaleFacts:
    """Give what the account of a job's lien sale states.

    Raises: NotFound: what the job is about was not sold so.
    """
    job = job_named(reading, job_id)
    sold = reading.session.scalars(select(LienSale).where(LienSale.job_id == job.id)).one_or_none()
    if sold is None:
        raise NotFound(N_("What the job {job} is about was not sold for what was owed."), job=job.number)
    price, due, costs = (reading.money(minor) for minor in (sold.price, sold.due, sold.costs))
    split = lien_split(price, due, costs)
    bill = bill_standing(reading, job.id)
    invoice = None if bill is None or bill.sale_id is None else reading.session.get_one(Sale, bill.sale_id)
    written = reading.session.scalars(
        select(Reminder.sent_on).where(Reminder.job_id == job.id).order_by(Reminder.after_days)
    )
    return LienSaleFacts(
        **job_head(reading, job, number, on),
        sold_on=sold.sold_on,
        sold_to=sold.sold_to,
        opened_on=job.opened_on,
        ready_on=job.ready_on,
        written=tuple(written),
        invoice_number="" if invoice is None else invoice.number,
        price=price,
        costs=costs,
        costs_left=split.costs_left,
        due=due,
        to_shop=split.to_shop,
        still_due=due - split.to_shop,
        surplus=split.surplus,
        held_for=_owners(reading, job.id),
        by_what_right=lines_of(sold.by_what_right),
    )


def _owners(reading: Reading, job_id: int) -> tuple[AmountLine, ...]:
    """Give what of the surplus was set aside for whom, under which number."""
    rows = reading.session.execute(
        select(Person.name, SettlementShare.minor, Settlement.number, Settlement.settled_on)
        .join(SettlementShare, SettlementShare.person_id == Person.id)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(Settlement.job_id == job_id)
        .order_by(SettlementShare.id)
    )
    return tuple(
        AmountLine(what=name, amount=reading.money(minor), on=on, reference=number)
        for name, minor, number, on in rows
    )
