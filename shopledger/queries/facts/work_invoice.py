"""What the invoice of a job states, or the statement of one that is charged to an owner, to the shop, or to nobody."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import select

from shopledger.model import Charge, Estimate, Job, JobBill, JobBillLine, Person, Sale, SaleLine
from shopledger.papers.parts import AmountLine
from shopledger.papers.work_invoice import WorkInvoiceFacts, WorkLineFacts
from shopledger.papers.workshop import TaxOnWork
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_
from shopledger.queries.facts.invoice import lines_of_sale, standing_payments, taken_on_sale
from shopledger.queries.facts.jobs import approved_now, job_head, job_named
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.owing import charge_stands
from shopledger.store.unit import Reading


def work_invoice_facts(
    reading: Reading, bill_id: int, number: str, on: date, note: str = ""
) -> WorkInvoiceFacts:
    """Give what the invoice or statement of a bill states, paid as it is now.

    Shape:  goods bought along stand behind the work; `note` is that of a statement, an invoice keeps its own.
    Raises: NotFound: there is no such bill.
    """
    bill = reading.session.get(JobBill, bill_id)
    if bill is None:
        raise NotFound(N_("There is no bill {id} in this ledger."), id=str(bill_id))
    job = job_named(reading, bill.job_id)
    sale = None if bill.sale_id is None else reading.session.get_one(Sale, bill.sale_id)
    goods = () if sale is None else _goods(reading, sale)
    net = reading.money(bill.net + sum(line.price for line in goods))
    tax = reading.money(bill.tax + sum(line.sales_tax for line in goods))
    whole = net + tax
    payments = (
        ()
        if sale is None
        else taken_on_sale(
            reading, sale.id, lines_of_sale(reading, sale.id), standing_payments(reading, sale.id)
        )
    )
    charged = _charged(reading, bill) if bill.bill_to == "owner" else ()
    earlier = None if job.earlier_job_id is None else reading.session.get_one(Job, job.earlier_job_id)
    to_shop = bill.bill_to == "shop"
    return WorkInvoiceFacts(
        **job_head(reading, job, number, on),
        bill_to=bill.bill_to,
        billed_on=bill.billed_on,
        lines=(*_lines(reading, bill), *(_goods_line(reading, line) for line in goods)),
        net=net,
        tax=_tax(reading, bill, sale),
        tax_amount=tax,
        total=whole,
        payments=payments,
        balance=None
        if bill.bill_to != "client"
        else whole - total([line.amount for line in payments], reading.currency),
        charged=charged,
        shop_bears=whole - total([line.amount for line in charged], reading.currency)
        if bill.bill_to == "owner"
        else None,
        cost=reading.money(bill.cost) if to_shop else None,
        minutes=bill.minutes if to_shop else None,
        approved=approved_now(reading, job.id),
        earlier_claim="" if earlier is None else earlier.number,
        notes=lines_of(note if sale is None else sale.note),
    )


def _goods(reading: Reading, sale: Sale) -> tuple[SaleLine, ...]:
    """Give the lines of goods bought along on the invoice of a job."""
    return tuple(line for line in lines_of_sale(reading, sale.id) if line.kind != "work")


def _goods_line(reading: Reading, line: SaleLine) -> WorkLineFacts:
    return WorkLineFacts(
        kind="goods",
        what=line.what,
        quantity=line.quantity,
        amount=reading.money(line.price),
        taxed=bool(line.sales_tax),
    )


def _lines(reading: Reading, bill: JobBill) -> tuple[WorkLineFacts, ...]:
    """Give the lines, each hour's rate where time at a known rate is the amount."""
    rates = _known_rates(reading, bill.job_id)
    rows = reading.session.scalars(
        select(JobBillLine).where(JobBillLine.bill_id == bill.id).order_by(JobBillLine.n)
    )
    return tuple(
        WorkLineFacts(
            kind=line.kind,
            what=line.what,
            minutes=line.minutes,
            hourly=_hourly(line, reading.money(line.minor), rates),
            quantity=line.quantity,
            amount=reading.money(line.minor),
            taxed=line.is_taxed,
        )
        for line in rows
    )


def _known_rates(reading: Reading, job_id: int) -> tuple[Money, ...]:
    """Give the rates an hour may have been billed at: those estimated, the newest first, then the shop's."""
    estimated = reading.session.scalars(
        select(Estimate.hourly_rate).where(Estimate.job_id == job_id).order_by(Estimate.n.desc())
    )
    rates = [*estimated]
    if (own := reading.shop().work_rate) is not None:
        rates.append(own)
    return tuple(reading.money(rate) for rate in dict.fromkeys(rates))


def _hourly(line: JobBillLine, amount: Money, rates: tuple[Money, ...]) -> Money | None:
    """Give the rate at which a line's time is its amount; None where it has another price."""
    if line.minutes is None or line.minor <= 0:
        return None
    hours = Fraction(line.minutes, 60)
    return next((rate for rate in rates if rate.times(hours) == amount), None)


def _tax(reading: Reading, bill: JobBill, sale: Sale | None) -> TaxOnWork:
    """Give how the tax was reckoned; the rate is known where the bill is an invoice."""
    rate = sale.tax_rate if sale is not None and sale.tax_scheme == "sales_tax" else None
    return TaxOnWork(rate=rate or None, basis=reading.shop().work_tax_basis)


def _charged(reading: Reading, bill: JobBill) -> tuple[AmountLine, ...]:
    """Give what each owner was charged with for the job on the bill's day and was not reversed since."""
    rows = reading.session.execute(
        select(Charge, Person.name)
        .join(Person, Person.id == Charge.person_id)
        .where(
            Charge.job_id == bill.job_id,
            Charge.kind == "repair",
            Charge.charged_on == bill.billed_on,
            charge_stands(),
        )
        .order_by(Charge.id)
    )
    return tuple(
        AmountLine(
            what=name, amount=reading.money(charge.minor), on=charge.charged_on, reference=charge.number
        )
        for charge, name in rows
    )
