"""What a refund receipt states: what was given back, to whom, for what, and what is still owed."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Paper, Refund, RefundShare, Sale, SaleLine
from shopledger.papers.parts import AmountLine
from shopledger.papers.refund_receipt import RefundReceiptFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.invoice import method_words
from shopledger.queries.facts.parties import head, party_facts
from shopledger.queries.owing import balance, sale_money
from shopledger.store.unit import Reading


def refund_receipt_facts(
    reading: Reading, refund_id: int, number: str, issued_on: date
) -> RefundReceiptFacts:
    """Give what the receipt of a refund states.

    Raises: NotFound: there is no such refund.
    """
    refund = reading.session.get(Refund, refund_id)
    if refund is None:
        raise NotFound(N_("There is no refund {id} in this ledger."), id=str(refund_id))
    sale = None if refund.sale_id is None else reading.session.get_one(Sale, refund.sale_id)
    applied, reasons = _applied(reading, refund)
    return RefundReceiptFacts(
        **head(reading, number, issued_on),
        paid_on=refund.paid_on,
        payee=party_facts(reading, refund.person_id),
        amount=reading.money(refund.minor),
        method=method_words(refund.method),
        reference=refund.reference,
        credit_note_number="" if sale is None else _credit_note(reading, sale),
        invoice_number="" if sale is None else sale.number,
        reason=" ".join(dict.fromkeys(reason for reason in reasons if reason)),
        applied=applied,
        still_owed=_still_owed(reading, refund, sale),
    )


def _applied(reading: Reading, refund: Refund) -> tuple[tuple[AmountLine, ...], list[str]]:
    """Give what the money was for, and why the lines came back."""
    rows = reading.session.execute(
        select(SaleLine.what, SaleLine.returned_why, RefundShare.minor)
        .join(SaleLine, SaleLine.id == RefundShare.sale_line_id)
        .where(RefundShare.refund_id == refund.id, RefundShare.minor != 0)
        .order_by(SaleLine.n)
    ).all()
    lines = [AmountLine(what=what, amount=reading.money(minor)) for what, _why, minor in rows]
    left = reading.money(refund.minor) - total([line.amount for line in lines], reading.currency)
    if left:
        if refund.deposit_id is not None:
            words = _("Deposit given back")
        else:
            words = _("On account") if refund.sale_id is not None else _("Paid before and no longer owed")
        lines.append(AmountLine(what=words, amount=left))
    return tuple(lines), [why for _what, why, _minor in rows]


def _credit_note(reading: Reading, sale: Sale) -> str:
    """Give the number of the sale's newest credit note, if there is one."""
    return (
        reading.session.scalar(
            select(Paper.number)
            .where(Paper.kind == "credit_note", Paper.sale_id == sale.id)
            .order_by(Paper.id.desc())
            .limit(1)
        )
        or ""
    )


def _still_owed(reading: Reading, refund: Refund, sale: Sale | None) -> Money:
    """Give what is still to be given back: of the sale, of the person's deposits, or of what they paid as an owner."""
    if sale is None:
        account = "owners_owe" if refund.deposit_id is None else "deposits"
        return max(-balance(reading, account, refund.person_id), reading.money(0))
    over = [-line.owes for line in sale_money(reading, sale.id).lines if line.owes.minor < 0]
    return total(over, reading.currency)
