"""The history of a sale: its marks from the invoice to the last payout."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import select

from shopledger.model import (
    Job,
    Payment,
    Payout,
    PayoutShare,
    Person,
    Refund,
    SaleLine,
    Settlement,
    SettlementShare,
)
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import _
from shopledger.queries.declared import row_of
from shopledger.queries.papers import numbered
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import History, Mark, MarkKind

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def payouts_of(reading: Reading, line_ids: Sequence[int]) -> Sequence[Any]:
    """Give the parts of payouts that paid settlements of these lines: number, paid_on, minor, name."""
    return reading.session.execute(
        select(Payout.number, Payout.paid_on, PayoutShare.minor, Person.name)
        .join(PayoutShare, PayoutShare.payout_id == Payout.id)
        .join(SettlementShare, SettlementShare.id == PayoutShare.settlement_share_id)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .join(Person, Person.id == Payout.person_id)
        .where(Settlement.sale_line_id.in_(line_ids))
        .order_by(Payout.id, PayoutShare.id)
    ).all()


def history_of_sale(
    reading: Reading, row: Any, buyer: str, lines: Sequence[SaleLine], consigned: Sequence[int]
) -> History:
    """Give the marks of a sale, from the invoice to the last payout."""
    manners = reading.ledger.manners
    events: list[tuple[date, MarkKind, str, str]] = [
        (row.sold_on, MarkKind.SALE, _("Sold to {name}").format(name=buyer), row.number)
    ]
    for payment in reading.session.execute(
        select(
            Payment.number,
            Payment.received_on,
            Payment.minor,
            Payment.method,
            Payment.cleared_on,
            Payment.bounced_on,
        ).where(Payment.sale_id == row.id)
    ):
        amount = show_amount(reading.money(payment.minor), manners)
        words = _("{amount} received ({number})").format(amount=amount, number=payment.number)
        events.append((payment.received_on, MarkKind.MONEY, words, payment.number))
        if payment.bounced_on is not None:
            told = _("{number} held again") if payment.method == "deposit" else _("{number} came back")
            events.append((payment.bounced_on, MarkKind.MONEY, told.format(number=payment.number), ""))
        elif payment.cleared_on is not None and payment.cleared_on != payment.received_on:
            events.append(
                (payment.cleared_on, MarkKind.MONEY, _("{number} cleared").format(number=payment.number), "")
            )
    for refund in reading.session.execute(
        select(Refund.number, Refund.paid_on, Refund.minor).where(Refund.sale_id == row.id)
    ):
        words = _("{amount} given back").format(amount=show_amount(reading.money(refund.minor), manners))
        events.append((refund.paid_on, MarkKind.MONEY, words, refund.number))
    for line in lines:
        if line.returned_on is not None:
            events.append(
                (line.returned_on, MarkKind.SALE, _("Taken back: {what}").format(what=line.what), "")
            )
    for settled in reading.session.execute(
        select(Settlement.number, Settlement.settled_on).where(Settlement.sale_line_id.in_(consigned))
    ):
        words = _("Settled, account sales {number}").format(number=settled.number)
        events.append((settled.settled_on, MarkKind.MONEY, words, settled.number))
    for payout in payouts_of(reading, consigned):
        words = _("Paid {amount} to {name}").format(
            amount=show_amount(reading.money(payout.minor), manners), name=payout.name
        )
        events.append((payout.paid_on, MarkKind.MONEY, words, payout.number))
    papers = numbered(reading, [number for _on, _kind, _words, number in events if number])
    marks = [Mark(on, kind, words, papers.get(number)) for on, kind, words, number in events]
    if row.job_id is not None:
        marks.append(_of_job(reading, row.job_id))
    return History((), tuple(sorted(marks, key=lambda mark: mark.on)))


def _of_job(reading: Reading, job_id: int) -> Mark:
    """Give the mark that leads from an invoice to the job which it bills: the day its work was ready."""
    job = row_of(reading, Job, job_id)
    words = _("Work of job {number}").format(number=job.number)
    return Mark(job.ready_on or job.opened_on, MarkKind.OTHER, words, None, (Subject.JOB, job_id))
