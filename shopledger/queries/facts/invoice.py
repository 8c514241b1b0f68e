"""What an invoice states: its lines, tax, what was paid and allowed, and what is still due."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from functools import partial

from sqlalchemy import bindparam, select

from shopledger.model import Instrument, Payment, Refund, Sale, SaleLine, field_of
from shopledger.papers.invoice import InvoiceFacts
from shopledger.papers.parts import GoodsLine, PartExchangeLine, PaymentLine, TaxFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_named, maker_words, name_of, sort_of
from shopledger.queries.facts.parties import head, lines_of, party_facts
from shopledger.queries.facts.reckoned import case_of_line
from shopledger.store.unit import Reading

# Put together once, since every sale states its invoice.
_LINES = select(SaleLine).where(SaleLine.sale_id == bindparam("sale")).order_by(SaleLine.n)
_REFUNDS = select(Refund).where(Refund.sale_id == bindparam("sale")).order_by(Refund.id)
_STANDING_PAYMENTS = (
    select(Payment)
    .where(Payment.sale_id == bindparam("sale"), Payment.bounced_on.is_(None))
    .order_by(Payment.id)
)


def invoice_facts(reading: Reading, sale_id: int, number: str, issued_on: date) -> InvoiceFacts:
    """Give what the invoice of a sale states; a returned line stands as its credit among what was paid.

    Raises: NotFound: there is no such sale.
    """
    sale = sale_named(reading, sale_id)
    lines = lines_of_sale(reading, sale_id)
    pays = total([reading.money(line.buyer_pays) for line in lines], reading.currency)
    standing = standing_payments(reading, sale_id)
    exchanges = _part_exchanges(reading, standing)
    payments = taken_on_sale(reading, sale_id, lines, standing)
    off = [line.allowance for line in exchanges] + [line.amount for line in payments]
    return InvoiceFacts(
        **head(reading, number, issued_on),
        sale_number="" if sale.number == number else sale.number,
        sold_on=sale.sold_on,
        buyer=party_facts(reading, sale.buyer_id),
        lines=tuple(goods_line(reading, sale, line) for line in lines),
        tax=tax_facts(reading, sale, lines),
        part_exchanges=exchanges,
        payments=payments,
        total=pays,
        balance=pays - total(off, reading.currency),
        approval_until=sale.approval_until,
        notes=lines_of(sale.note),
    )


def sale_named(reading: Reading, sale_id: int) -> Sale:
    """Give the record of a sale.

    Raises: NotFound: there is no such sale.
    """
    sale = reading.find(Sale, sale_id)
    if sale is None:
        raise NotFound(N_("There is no sale {id} in this ledger."), id=str(sale_id))
    return sale


def lines_of_sale(reading: Reading, sale_id: int) -> tuple[SaleLine, ...]:
    """Give all lines of a sale in the order of the invoice."""
    return reading.once(
        ("lines of sale", sale_id), lambda: tuple(reading.session.scalars(_LINES, {"sale": sale_id}))
    )


def just_sold(
    reading: Reading,
    sale_id: int,
    lines: Sequence[tuple[SaleLine, Sequence[tuple[int, Fraction]]]],
    *,
    unpaid: bool,
) -> None:
    """Say what a sale consists of that this unit wrote itself, so that its papers need not read it back.

    Shape:  `lines` are all of it, in the order of the invoice, each with whose it was by shares, in the order named;
            with `unpaid` nothing was paid or given back on it.
    """
    reading.once(("lines of sale", sale_id), lambda: tuple(line for line, _owners in lines))
    for line, owners in lines:
        reading.once(("owners of line", line.id), partial(tuple, owners))
    if unpaid:
        reading.once(("payments on sale", sale_id), lambda: ())
        reading.once(("refunds on sale", sale_id), lambda: ())


def taken_on_sale(
    reading: Reading, sale_id: int, lines: Sequence[SaleLine], payments: Sequence[Payment]
) -> tuple[PaymentLine, ...]:
    """Give what comes off an invoice: payments that did not bounce, credits for returned lines; refunds add to it."""
    return (
        *_payments(reading, payments),
        *_credits(reading, lines),
        *(_refund_line(reading, refund) for refund in refunds_of_sale(reading, sale_id)),
    )


def refunds_of_sale(reading: Reading, sale_id: int) -> tuple[Refund, ...]:
    """Give what was given back on a sale, in order."""
    return reading.once(
        ("refunds on sale", sale_id), lambda: tuple(reading.session.scalars(_REFUNDS, {"sale": sale_id}))
    )


def method_words(code: str) -> str:
    """Give in words how something was paid."""
    return _(field_of(Payment.method).choice_word(code))


def goods_line(reading: Reading, sale: Sale, line: SaleLine) -> GoodsLine:
    """Give a line as an invoice and a credit note show it."""
    instrument = None if line.instrument_id is None else instrument_named(reading, line.instrument_id)
    shows_tax = sale.tax_scheme == "sales_tax" and not sale.exempt
    return GoodsLine(
        kind=line.kind,
        what=line.what,
        number="" if instrument is None else instrument.number,
        details=() if instrument is None else _details(instrument, line.what),
        quantity=line.quantity,
        price=reading.money(line.price + line.discount),
        discount=reading.money(line.discount),
        amount=reading.money(line.price),
        tax=reading.money(line.sales_tax) if shows_tax else None,
    )


def _details(instrument: Instrument, what: str) -> tuple[str, ...]:
    """Give what sort of thing it is, and who made it where the line's own words don't say so."""
    standing, maker = maker_words(instrument)
    details = [sort_of(instrument)] if sort_of(instrument).lower() not in what.lower() else []
    if maker and maker not in what:
        details.append(", ".join(part for part in (f"{standing} {maker}", instrument.made_when) if part))
    return tuple(details)


def tax_facts(reading: Reading, sale: Sale, lines: Sequence[SaleLine]) -> TaxFacts:
    """Give the tax of some lines of a sale, reckoned line by line."""
    if sale.tax_scheme != "sales_tax":
        return TaxFacts(scheme=sale.tax_scheme)
    amount = total([reading.money(line.sales_tax) for line in lines], reading.currency)
    if sale.exempt:
        return TaxFacts(scheme="sales_tax", amount=amount, exempt_reason=sale.exempt_reason)
    taxable = total([_taxable(reading, line) for line in lines], reading.currency)
    return TaxFacts(scheme="sales_tax", rate=sale.tax_rate, taxable=taxable, amount=amount, basis="line")


def _taxable(reading: Reading, line: SaleLine) -> Money:
    """Give what of a line was taxed: what its reckoning says, else its price, or nothing where no tax fell on it."""
    case = case_of_line(line)
    if case is not None and case.tax.taxable is not None:
        return case.tax.taxable
    return reading.money(line.price if line.sales_tax else 0)


def _part_exchanges(reading: Reading, payments: Sequence[Payment]) -> tuple[PartExchangeLine, ...]:
    found = []
    for payment in payments:
        if payment.method == "part_exchange" and payment.instrument_id is not None:
            instrument = instrument_named(reading, payment.instrument_id)
            found.append(
                PartExchangeLine(
                    what=name_of(instrument), number=instrument.number, allowance=reading.money(payment.minor)
                )
            )
    return tuple(found)


def _payments(reading: Reading, payments: Sequence[Payment]) -> tuple[PaymentLine, ...]:
    return tuple(
        PaymentLine(
            on=payment.received_on,
            what=_("Deposit") if payment.method == "deposit" else _("Payment"),
            how=method_words(payment.method),
            reference=payment.reference or payment.number,
            amount=reading.money(payment.minor),
            cleared=payment.cleared_on is not None,
        )
        for payment in payments
        if payment.method != "part_exchange" or payment.instrument_id is None
    )


def standing_payments(reading: Reading, sale_id: int) -> Sequence[Payment]:
    """Give the payments on a sale that did not bounce."""
    return reading.once(
        ("payments on sale", sale_id),
        lambda: reading.session.scalars(_STANDING_PAYMENTS, {"sale": sale_id}).all(),
    )


def _credits(reading: Reading, lines: Sequence[SaleLine]) -> tuple[PaymentLine, ...]:
    """Give what returned lines are credited with."""
    return tuple(
        PaymentLine(
            on=line.returned_on,
            what=_("Credit for {what}").format(what=line.what),
            amount=reading.money(line.buyer_pays),
        )
        for line in lines
        if line.returned_on is not None
    )


def _refund_line(reading: Reading, refund: Refund) -> PaymentLine:
    return PaymentLine(
        on=refund.paid_on,
        what=_("Refund"),
        how=method_words(refund.method),
        reference=refund.reference or refund.number,
        amount=reading.money(-refund.minor),
    )
