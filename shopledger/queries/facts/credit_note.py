"""What a credit note states: the lines of an invoice that came back, and what became of the credit."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy import func, select

from shopledger.model import Payment, PaymentShare, Refund, RefundShare, SaleLine
from shopledger.papers.credit_note import CreditNoteFacts
from shopledger.papers.parts import PaymentLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.invoice import goods_line, lines_of_sale, method_words, sale_named, tax_facts
from shopledger.queries.facts.parties import head, party_facts
from shopledger.store.unit import Reading


def credit_note_facts(
    reading: Reading, sale_id: int, line_ids: Sequence[int], number: str, issued_on: date
) -> CreditNoteFacts:
    """Give what the credit note of some lines of a sale states: each as it was sold, to the unit.

    Shape:  what was paid for the lines and not given back yet is still owed to the buyer; the rest of the credit went
            off what was due on the invoice.
    Raises: NotFound: there is no such sale, or none of the lines is of it.
    """
    sale = sale_named(reading, sale_id)
    lines = [line for line in lines_of_sale(reading, sale_id) if line.id in line_ids]
    if not lines:
        raise NotFound(N_("{sale} has no such lines."), sale=sale.number)
    credited = total([reading.money(line.buyer_pays) for line in lines], reading.currency)
    refunds = _refunds(reading, lines)
    back = total([line.amount for line in refunds], reading.currency)
    paid = min(_paid_for(reading, lines), credited)
    return CreditNoteFacts(
        **head(reading, number, issued_on),
        invoice_number=sale.number,
        invoice_on=sale.sold_on,
        returned_on=max((line.returned_on or issued_on for line in lines), default=issued_on),
        buyer=party_facts(reading, sale.buyer_id),
        reason=" ".join(dict.fromkeys(line.returned_why for line in lines if line.returned_why)),
        lines=tuple(goods_line(reading, sale, line) for line in lines),
        tax=tax_facts(reading, sale, lines),
        total=credited,
        set_against=credited - paid,
        refunds=refunds,
        balance=paid - back,
    )


def _paid_for(reading: Reading, lines: Sequence[SaleLine]) -> Money:
    """Give what was received for the lines and did not bounce, before anything was given back."""
    paid = reading.session.scalar(
        select(func.sum(PaymentShare.minor))
        .join(Payment, Payment.id == PaymentShare.payment_id)
        .where(PaymentShare.sale_line_id.in_([line.id for line in lines]), Payment.bounced_on.is_(None))
    )
    return reading.money(int(paid or 0))


def _refunds(reading: Reading, lines: Sequence[SaleLine]) -> tuple[PaymentLine, ...]:
    """Give what was given back for the lines, refund by refund."""
    back = (
        select(RefundShare.refund_id, func.sum(RefundShare.minor).label("minor"))
        .where(RefundShare.sale_line_id.in_([line.id for line in lines]))
        .group_by(RefundShare.refund_id)
        .subquery()
    )
    rows = reading.session.execute(
        select(Refund, back.c.minor).join(back, back.c.refund_id == Refund.id).order_by(Refund.id)
    )
    return tuple(
        PaymentLine(
            on=refund.paid_on,
            what=_("Refund"),
            how=method_words(refund.method),
            reference=refund.reference or refund.number,
            amount=reading.money(int(minor)),
        )
        for refund, minor in rows
    )
