"""Taking the bill of a job back, to the cent, so that it can be billed anew: invoice, charges or cost."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from shopledger.acts.billing import CHANGED, grows
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import job_of
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import sale_of
from shopledger.acts.returning import standing_lines, take_lines_back
from shopledger.model import Job, JobBill, JobNote, Payment, Sale, Stay
from shopledger.quantities.errors import Refused
from shopledger.quantities.fields import Field, ask
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.jobs import bill_standing
from shopledger.queries.job_costs import repair_charges
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class TakeBackBill(Form):
    """The bill of a job was wrong."""

    job_id: int
    why: str = ask(Field(N_("Why"), required=True))


def _standing(reading: Reading, job_id: int) -> tuple[Job, JobBill]:
    """Give a job with the bill that can be taken back.

    Raises: Refused: it has none, or what it billed is gone for good.
    """
    job = job_of(reading, job_id)
    bill = bill_standing(reading, job.id)
    if bill is None:
        raise Refused(N_("The job {job} is not billed."), job=job.number)
    if job.ending == "lien":
        raise Refused(
            N_("What the job {job} was about was sold for what was owed on {day}: its bill stands."),
            job=job.number,
            day=job.ended_on,
        )
    if bill.entry_id is not None and not grows(reading, reading.session.get_one(Stay, job.stay_id)):
        raise Refused(
            N_(
                "The work is part of what the instrument cost, and it is sold or gone: the bill of {job} stands."
            ),
            job=job.number,
        )
    return job, bill


def run_take_back_bill(writing: Writing, form: TakeBackBill) -> Outcome:
    """Reverse what a bill booked; deposits are held again, other money is to be given back; the work stays."""
    job, bill = _standing(writing, form.job_id)
    papers: list[int] = []
    if bill.sale_id is not None:
        sale = sale_of(writing, bill.sale_id)
        _free_deposits(writing, sale)
        papers = take_lines_back(writing, sale, standing_lines(writing, sale.id), form.why)
    papers += _reverse_charges(writing, job, form.why)
    if bill.entry_id is not None:
        writing.reverse(bill.entry_id, f"{job.number} bill taken back")
        stay = writing.session.get_one(Stay, job.stay_id)
        stay.cost = (stay.cost or 0) - bill.cost
    bill.taken_back_on = writing.on
    words = _("Bill of {day} taken back: {why}").format(
        day=show_day(bill.billed_on, writing.ledger.manners), why=form.why
    )
    writing.add(JobNote(job_id=job.id, noted_on=writing.on, words=words))
    return Outcome(Subject.JOB, job.id, CHANGED, tuple(papers))


def _free_deposits(writing: Writing, sale: Sale) -> None:
    """Hold the deposits that were set off again, so that the next bill sets them off or they are given back."""
    set_off = writing.session.scalars(
        select(Payment)
        .where(Payment.sale_id == sale.id, Payment.method == "deposit", Payment.bounced_on.is_(None))
        .order_by(Payment.id)
    ).all()
    for payment in set_off:
        writing.reverse(payment.entry_id, f"{sale.number} deposit {payment.reference} held again")
        payment.bounced_on, payment.cleared_on = writing.on, None
    writing.session.flush()


def _reverse_charges(writing: Writing, job: Job, why: str) -> list[int]:
    """Reverse what owners were charged with for a job, each with a note to their credit."""
    from shopledger.queries.facts.charge_note import charge_back_facts

    papers = []
    for charge in repair_charges(writing, job.id):
        writing.reverse(charge.entry_id, f"{charge.number} taken back")
        facts = charge_back_facts(writing, charge.id, f"{charge.number}/2", writing.on, why)
        papers.append(leave_paper(writing, "charge_note", facts, person_id=charge.person_id, job_id=job.id))
    return papers


def preview_take_back_bill(reading: Reading, form: TakeBackBill) -> Preview:
    """Say what is taken back and what money is to be given back."""
    job, bill = _standing(reading, form.job_id)
    lines = [Line(_("Taken back"), amount=reading.money(bill.net + bill.tax), strong=True)]
    if bill.sale_id is not None:
        set_off = sum(
            reading.session.scalars(
                select(Payment.minor).where(
                    Payment.sale_id == bill.sale_id, Payment.method == "deposit", Payment.bounced_on.is_(None)
                )
            )
        )
        paid = sale_money(reading, bill.sale_id).paid.minor - set_off
        if set_off:
            lines.append(Line(_("Deposit held again"), amount=reading.money(set_off)))
        if paid:
            lines.append(Line(_("To give back on the invoice"), amount=reading.money(paid)))
    return Preview(job.number, tuple(lines))


def refuse_no_bill(reading: Reading, job_id: int) -> None:
    """Refuse to take a bill back where none stands, or what it billed is gone."""
    _standing(reading, job_id)


TAKE_BACK_BILL = Act(
    name="take_back_bill",
    text=N_("Take the bill back"),
    subject=Subject.JOB,
    form=TakeBackBill,
    run=run_take_back_bill,
    subject_input="job_id",
    allowed=refuse_no_bill,
    preview=preview_take_back_bill,
    opposite="bill_job",
    papers=("credit_note", "charge_note"),
)
ACTS = (TAKE_BACK_BILL,)
