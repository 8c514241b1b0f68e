"""What a payment receipt states: what came in, from whom, what it went to, and where the invoice stands."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import (
    Entry,
    Hold,
    Instrument,
    Job,
    Loss,
    Payment,
    PaymentShare,
    Sale,
    SaleLine,
    Stay,
    Trial,
)
from shopledger.papers.parts import AmountLine
from shopledger.papers.payment_receipt import PaymentReceiptFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import total
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import name_of
from shopledger.queries.facts.invoice import method_words
from shopledger.queries.facts.parties import head, party_facts
from shopledger.queries.owing import sale_money
from shopledger.rules.journal import FEE_BACK
from shopledger.store.unit import Reading


def payment_receipt_facts(
    reading: Reading, payment_id: int, number: str, issued_on: date
) -> PaymentReceiptFacts:
    """Give what the receipt of a payment states; the invoice stands as it does with this payment.

    Raises: NotFound: there is no such payment.
    """
    payment = reading.session.get(Payment, payment_id)
    if payment is None:
        raise NotFound(N_("There is no payment {id} in this ledger."), id=str(payment_id))
    amount = reading.money(payment.minor)
    sale = None if payment.sale_id is None else reading.session.get_one(Sale, payment.sale_id)
    money = None if sale is None else sale_money(reading, sale.id)
    return PaymentReceiptFacts(
        **head(reading, number, issued_on),
        received_on=payment.received_on,
        payer=party_facts(reading, payment.person_id),
        amount=amount,
        method=method_words(payment.method),
        reference=payment.reference,
        deposit=sale is None and any((payment.hold_id, payment.job_id, payment.trial_id)),
        cleared_on=payment.cleared_on,
        invoice_number="" if sale is None else sale.number,
        applied=_applied(reading, payment),
        invoiced=None if money is None else money.pays,
        paid_before=None if money is None else money.paid - amount,
        balance=None if money is None else money.owes,
    )


def _applied(reading: Reading, payment: Payment) -> tuple[AmountLine, ...]:
    """Give what a payment went to: lines of the invoice, a deposit, a claim; what is left over is on account."""
    rows = reading.session.execute(
        select(SaleLine.what, PaymentShare.minor)
        .join(SaleLine, SaleLine.id == PaymentShare.sale_line_id)
        .where(PaymentShare.payment_id == payment.id, PaymentShare.minor != 0)
        .order_by(SaleLine.n)
    )
    lines = [AmountLine(what=what, amount=reading.money(minor)) for what, minor in rows]
    left = reading.money(payment.minor) - total([line.amount for line in lines], reading.currency)
    if left:
        lines.append(AmountLine(what=_left_words(reading, payment), amount=left))
    return tuple(lines)


def _left_words(reading: Reading, payment: Payment) -> str:
    """Give what a payment without lines is for."""
    if payment.hold_id is not None:
        until, instrument = reading.session.execute(
            select(Hold.until, Instrument)
            .join(Stay, Stay.id == Hold.stay_id)
            .join(Instrument, Instrument.id == Stay.instrument_id)
            .where(Hold.id == payment.hold_id)
        ).one()
        return _("Deposit for {instrument} ({number}), held until {day}").format(
            instrument=name_of(instrument),
            number=instrument.number,
            day=show_day(until, reading.ledger.manners),
        )
    if payment.trial_id is not None:
        trial = reading.session.get_one(Trial, payment.trial_id)
        return _("Deposit for the trial {number}, due back by {day}").format(
            number=trial.number, day=show_day(trial.due_on, reading.ledger.manners)
        )
    if payment.job_id is not None and payment.sale_id is None:
        job = reading.session.get_one(Job, payment.job_id)
        return _("Deposit for the job {number}").format(number=job.number)
    if payment.loss_id is not None:
        loss = reading.session.get_one(Loss, payment.loss_id)
        return _("Claim for the loss {number}").format(number=loss.number)
    if payment.sale_id is not None:
        return _("On account")
    back = reading.session.scalar(select(Entry.act).where(Entry.id == payment.entry_id)) == FEE_BACK
    return _("Fee paid back to the shop") if back else _("Owed to the shop")
