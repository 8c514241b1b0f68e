"""The invoice of a job: its lines of work, and goods bought along with it, as a sale to the client."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from shopledger.acts.billing_ready import BillJob, ReadyBill
from shopledger.acts.deposits import deposits_for_job, left_of, set_off
from shopledger.acts.owning import shop_person
from shopledger.acts.people import person_of
from shopledger.acts.selling import write_line
from shopledger.acts.selling_forms import Sell, SellLine
from shopledger.acts.selling_lines import ready_lines
from shopledger.acts.selling_ready import Ready
from shopledger.model import Job, Sale
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.words import N_
from shopledger.rules.billing import WorkAmount, taxes_beside
from shopledger.store.unit import Reading, Writing

NOTHING = N_("Nothing is left to pay on this bill. Bill it to the shop itself, or under warranty.")


def invoice_lines(reading: Reading, form: BillJob, ready: ReadyBill) -> tuple[Sell, tuple[Ready, ...]]:
    """Give a bill to the client as the form of a sale with its lines reckoned: the work first, then the goods.

    Work of which nothing is left to pay stands on the bill alone, since a line of a sale has a price.

    Raises: Typed, Refused: the goods can't be sold so, or nothing at all is to be paid.
    """
    reckoned = zip(ready.lines, ready.billed.nets, ready.billed.taxes, strict=True)
    work = [(line, net, tax) for line, net, tax in reckoned if net]
    lines = [
        SellLine(
            kind="work", what=line.row.what, quantity=line.row.quantity, price=net, taxable=line.is_taxed
        )
        for line, net, _tax in work
    ]
    lines += [
        SellLine(
            kind="accessory",
            goods_id=row.goods_id,
            what=row.what,
            quantity=row.quantity,
            price=row.price,
            taxable=row.taxable,
        )
        for row in form.goods
    ]
    if not lines:
        raise Refused(NOTHING, field="bill_to")
    sell = Sell(
        op_id=form.op_id,
        on=form.on,
        by=form.by,
        buyer_id=ready.job.client_id,
        lines=tuple(lines),
        tax_scheme="none" if form.tax_rate is None else "sales_tax",
        tax_rate=form.tax_rate,
        note=form.note,
    )
    try:
        found = ready_lines(reading, sell, person_of(reading, ready.job.client_id))
    except (Typed, Refused) as error:
        error.field = _of_goods(error.field, len(work))
        raise
    taxed = [
        replace(sold, asking=line.amount, sales_tax=tax, buyer_pays=net + tax)
        for sold, (line, net, tax) in zip(found[: len(work)], work, strict=True)
    ]
    return sell, (*taxed, *_goods(reading, form, ready, found[len(work) :]))


def _goods(reading: Reading, form: BillJob, ready: ReadyBill, found: Sequence[Ready]) -> tuple[Ready, ...]:
    """Give the lines of goods with their tax as it falls beside that of the work."""
    taxes = taxes_beside(
        ready.billed,
        [line.is_taxed for line in ready.lines],
        [WorkAmount(sold.price, sold.form.taxable) for sold in found],
        form.tax_rate,
        by_invoice=reading.shop().work_tax_basis == "invoice",
    )
    return tuple(
        replace(sold, sales_tax=tax, buyer_pays=sold.price + tax)
        for sold, tax in zip(found, taxes, strict=True)
    )


def _of_goods(field: str | None, lines_of_work: int) -> str | None:
    """Give the input of the bill that a refusal of a line of the sale is about."""
    match = re.fullmatch(r"lines\[(\d+)\](.*)", field or "")
    return field if match is None else f"goods[{int(match[1]) - lines_of_work}]{match[2]}"


def write_invoice(writing: Writing, form: BillJob, ready: ReadyBill) -> tuple[Sale, list[int]]:
    """Write a bill to the client as a sale and set the job's deposits off against it; give the receipts it leaves."""
    job = ready.job
    sell, lines = invoice_lines(writing, form, ready)
    buyer, shop = person_of(writing, job.client_id), shop_person(writing)
    sale = writing.add(
        Sale(
            number=writing.number("sale"),
            buyer_id=buyer.id,
            sold_on=writing.on,
            tax_scheme=sell.tax_scheme,
            tax_rate=sell.tax_rate,
            note=form.note,
            job_id=job.id,
        )
    )
    for line in lines:
        write_line(writing, sell, sale, line, buyer, shop)
    return sale, set_off(writing, sale, deposits_for_job(writing, job.id))


def refuse_uncleared(reading: Reading, job: Job) -> None:
    """Refuse to deal with deposits of a job that have not cleared.

    Raises: Refused, with what to do.
    """
    for deposit in deposits_for_job(reading, job.id):
        if deposit.cleared_on is None and left_of(reading, deposit):
            raise Refused(
                N_("The deposit {number} has not cleared. Record that it cleared or came back first."),
                number=deposit.number,
            )


def refuse_deposit_of_another(reading: Reading, job: Job) -> None:
    """Refuse that another pays while a deposit of the client is held."""
    if any(left_of(reading, deposit) for deposit in deposits_for_job(reading, job.id)):
        raise Refused(
            N_("A deposit of {client} is held for the job {job}: give it back before another pays."),
            field="bill_to",
            client=person_of(reading, job.client_id).name,
            job=job.number,
        )
