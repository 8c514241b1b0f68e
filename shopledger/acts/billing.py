"""Billing a job: to the client by an invoice, to an owner's account, at the shop's own cost, or under warranty."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopledger.acts.billing_lines import done_lines
from shopledger.acts.billing_ready import BillJob, ReadyBill, job_to_bill, ready_bill
from shopledger.acts.billing_sale import (
    NOTHING,
    invoice_lines,
    refuse_deposit_of_another,
    refuse_uncleared,
    write_invoice,
)
from shopledger.acts.charging import record_charge
from shopledger.acts.declare import Act, Outcome
from shopledger.acts.deposits import deposits_for_job, left_of
from shopledger.acts.estimating import last_estimate
from shopledger.acts.owning import shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.terms import live_line
from shopledger.model import Job, JobBill, JobBillLine, Stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money, total
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import N_, _
from shopledger.queries.job_costs import JobCost, job_cost
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.shop import work_tax_now
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset(
    {
        Subject.JOB,
        Subject.SALE,
        Subject.INSTRUMENT,
        Subject.PERSON,
        Subject.GOODS,
        Subject.ENTRY,
        Subject.ACCOUNT,
    }
)
NOT_BILLED = {
    "client": N_("Not billed: above what was approved"),
    "owner": N_("Not billed: above what was approved"),
    "shop": N_("Borne by the shop"),
    "warranty": N_("Under warranty"),
}
"""What is said of the part of the work that is not billed, by who pays."""


def _ready(reading: Reading, form: BillJob) -> ReadyBill:
    """Give what can be billed, deposits and goods asked too."""
    ready = ready_bill(reading, form)
    if ready.job.ready_on is not None and form.on < ready.job.ready_on:
        raise Typed(
            N_("The job {job} was ready on {day}: it can't be billed before."),
            field="on",
            job=ready.job.number,
            day=ready.job.ready_on,
        )
    if ready.bill_to == "owner" and not ready.billed.total:
        raise Refused(NOTHING, field="bill_to")
    if ready.bill_to == "client":
        refuse_uncleared(reading, ready.job)
        return ready
    refuse_deposit_of_another(reading, ready.job)
    if form.goods:
        raise Typed(
            N_("Goods go with an invoice to the client. Sell them on one of their own."), field="goods"
        )
    return ready


def run_bill_job(writing: Writing, form: BillJob) -> Outcome:
    """Bill a job: its lines on record, what it posts by who pays, and the invoice or statement."""
    ready = _ready(writing, form)
    job, cost = ready.job, job_cost(writing, ready.job.id)
    papers: list[int] = []
    bill = JobBill(
        job_id=job.id,
        billed_on=writing.on,
        bill_to=ready.bill_to,
        net=ready.billed.net.minor,
        tax=ready.billed.tax.minor,
        cost=cost.whole.minor,
        minutes=cost.minutes,
    )
    if ready.bill_to == "client":
        sale, papers = write_invoice(writing, form, ready)
        bill.sale_id, number = sale.id, sale.number
    else:
        number = writing.number("statement")
    if ready.bill_to == "shop":
        bill.entry_id = _into_cost(writing, job, cost)
    if ready.bill_to == "owner":
        papers = _charge_owners(writing, ready)
    job.bill_to = ready.bill_to
    if ready.earlier is not None:
        job.earlier_job_id = ready.earlier.id
    writing.add(bill)
    _write_lines(writing, bill, ready)
    return Outcome(Subject.JOB, job.id, CHANGED, (_paper(writing, bill, job, number, form.note), *papers))


def _write_lines(writing: Writing, bill: JobBill, ready: ReadyBill) -> None:
    """Write the lines as they were asked, then what comes off them, so that they add up to the net."""
    for n, line in enumerate(ready.lines, 1):
        row = line.row
        writing.put(
            JobBillLine(
                bill_id=bill.id,
                n=n,
                kind=row.kind,
                what=row.what,
                minutes=row.minutes,
                quantity=row.quantity,
                minor=line.amount.minor,
                is_taxed=line.is_taxed,
            )
        )
    off = ((_("Discount"), ready.discount), (_(NOT_BILLED[ready.bill_to]), ready.unbilled))
    for n, (words, amount) in enumerate(off, len(ready.lines) + 1):
        if amount:
            writing.put(
                JobBillLine(
                    bill_id=bill.id,
                    n=n,
                    kind="labour",
                    what=words,
                    quantity=1,
                    minor=-amount.minor,
                    is_taxed=any(line.is_taxed for line in ready.lines),
                )
            )
    writing.session.flush()


def _charge_owners(writing: Writing, ready: ReadyBill) -> list[int]:
    """Charge each owner with their share, the shop's own left out; give the charge notes."""
    shop = shop_person(writing)
    return [
        record_charge(
            writing,
            person_id=owner_id,
            kind="repair",
            what=_("Repair, job {claim}").format(claim=ready.job.number),
            minor=share.amount.minor,
            credit=[Amount("goods_sales", -share.net.minor), Amount("sales_tax", -share.tax.minor)],
            stay_id=ready.job.stay_id,
            job_id=ready.job.id,
        )
        for owner_id, share in zip(ready.owner_ids, ready.shares, strict=True)
        if share.amount and owner_id != shop
    ]


def _into_cost(writing: Writing, job: Job, cost: JobCost) -> int | None:
    """Make parts and services part of what the shop's own instrument cost; of any other they stay an expense."""
    stay = writing.session.get_one(Stay, job.stay_id)
    if not grows(writing, stay) or not cost.whole:
        return None
    stay.cost = (stay.cost or 0) + cost.whole.minor
    return writing.book(
        [
            Amount("stock", cost.whole.minor),
            Amount("goods_used", -cost.parts.minor),
            Amount("services", -cost.services.minor),
        ],
        f"{job.number} part of the cost, {stay.number}",
    )


def grows(reading: Reading, stay: Stay) -> bool:
    """Tell whether work adds to what an instrument cost: it is the shop's own, in the shop, and not sold."""
    return stay.reason == "own" and stay.ended_on is None and live_line(reading, stay.id) is None


def _paper(writing: Writing, bill: JobBill, job: Job, number: str, note: str) -> int:
    from shopledger.queries.facts.work_invoice import work_invoice_facts

    facts = work_invoice_facts(writing, bill.id, number, writing.on, note)
    return leave_paper(
        writing,
        "work_invoice",
        facts,
        instrument_id=job.instrument_id,
        person_id=job.client_id,
        sale_id=bill.sale_id,
        job_id=job.id,
    )


def prefill_bill_job(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give who pays, what was done or estimated, and the shop's tax on work, or the estimate's own."""
    job = job_to_bill(reading, job_id)
    estimate = last_estimate(reading, job_id)
    found: dict[str, Any] = {"bill_to": job.bill_to, "lines": done_lines(reading, job)}
    if job.bill_to in {"client", "owner"}:
        found["tax_rate"] = work_tax_now(reading, reading.ledger.today())
        if estimate is not None:
            # Another rate than the shop's of that day was meant, none included.
            if estimate.tax_rate != work_tax_now(reading, estimate.made_on):
                found["tax_rate"] = estimate.tax_rate
            if estimate.discount:
                found["discount"] = reading.money(estimate.discount)
    if job.earlier_job_id is not None:
        found["earlier_claim"] = reading.session.get_one(Job, job.earlier_job_id).number
    return found


def preview_bill_job(reading: Reading, form: BillJob) -> Preview:
    """Give what the bill comes to, how it is allowed, and who pays what of it."""
    ready = _ready(reading, form)
    whole = total([line.amount for line in ready.lines], reading.currency)
    lines = [Line(_("The lines"), amount=whole)]
    if ready.discount:
        lines.append(Line(_("Discount"), amount=-ready.discount))
    if ready.unbilled:
        lines.append(Line(_(NOT_BILLED[ready.bill_to]), amount=-ready.unbilled))
    if ready.billed.tax:
        lines.append(Line(_("Tax"), amount=ready.billed.tax))
    lines.append(Line(_("Billed for the work"), _approved(reading, ready), ready.billed.total, strong=True))
    if ready.bill_to == "client":
        lines += _to_pay(reading, form, ready)
    elif ready.bill_to == "owner":
        lines += _borne(reading, ready)
    else:
        lines += _costs(reading, ready)
    return Preview(ready.job.number, tuple(lines))


def _approved(reading: Reading, ready: ReadyBill) -> str:
    if ready.approved is None:
        return ""
    amount = show_amount(ready.approved, reading.ledger.manners, dash=False)
    return _("{amount} is approved").format(amount=amount)


def _to_pay(reading: Reading, form: BillJob, ready: ReadyBill) -> list[Line]:
    """Give the goods bought along, the deposit set off, and what is left to pay."""
    _sell, sold = invoice_lines(reading, form, ready)
    lines = [Line(line.what, amount=line.buyer_pays) for line in sold if line.form.kind != "work"]
    pays = total([line.buyer_pays for line in sold], reading.currency)
    held = sum(left_of(reading, deposit) for deposit in deposits_for_job(reading, ready.job.id))
    if not held and not lines:
        return []
    deposit = Money(min(held, pays.minor), pays.currency)
    if held:
        lines.append(Line(_("Deposit set off"), amount=-deposit))
    if held > pays.minor:
        lines.append(Line(_("Deposit given back"), amount=reading.money(held - pays.minor)))
    return [*lines, Line(_("Left to pay"), amount=pays - deposit, strong=True)]


def _borne(reading: Reading, ready: ReadyBill) -> list[Line]:
    """Give what each owner is charged with, and what the shop bears."""
    assert ready.agreement is not None
    shop = shop_person(reading)
    lines, left = [], ready.billed.total
    for owner, share in zip(ready.agreement.owners, ready.shares, strict=True):
        if share.amount and owner.person_id != shop:
            lines.append(Line(_("Charged to {name}").format(name=owner.name), amount=share.amount))
            left -= share.amount
    if left:
        lines.append(Line(_("Borne by the shop"), amount=left))
    return lines


def _costs(reading: Reading, ready: ReadyBill) -> list[Line]:
    """Give what the job cost the shop, and whether that becomes part of an instrument's cost."""
    cost = job_cost(reading, ready.job.id)
    stay = reading.session.get_one(Stay, ready.job.stay_id)
    grown = ready.bill_to == "shop" and grows(reading, stay)
    how = _("part of what the instrument cost") if grown else ""
    return [Line(_("Parts and services, at cost"), how, cost.whole)]


def refuse_unbillable(reading: Reading, job_id: int) -> None:
    """Refuse to bill what is billed, declined, gone, or not ready."""
    job_to_bill(reading, job_id)


BILL_JOB = Act(
    name="bill_job",
    text=N_("Bill the work"),
    subject=Subject.JOB,
    form=BillJob,
    run=run_bill_job,
    subject_input="job_id",
    allowed=refuse_unbillable,
    prefill=prefill_bill_job,
    preview=preview_bill_job,
    opposite="take_back_bill",
    papers=("work_invoice", "charge_note", "refund_receipt"),
)
ACTS = (BILL_JOB,)
