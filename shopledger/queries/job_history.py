"""The history of a job: where the instrument was while it went on, and what happened from the counter to collection."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, func, select

from shopledger.model import (
    Approval,
    ConditionReport,
    Estimate,
    Goods,
    GoodsIn,
    GoodsOut,
    JobBill,
    LienSale,
    Payment,
    Reminder,
    Sale,
    WorkTime,
    field_of,
)
from shopledger.papers.workshop import time_words
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import N_, _
from shopledger.queries.instrument_history import spans_of
from shopledger.queries.job_costs import services_bought
from shopledger.queries.papers import numbered
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import History, Mark, MarkKind, Span

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

ENDINGS = {
    "collected": N_("Collected"),
    "declined": N_("Declined, handed back"),
    "lien": N_("Sold for what was owed"),
    "stays": N_("Done; it stays with the shop"),
    "lost": N_("Lost in the shop"),
}


class JobHistorian:
    """Gathers the marks of one job (all columns of its record), each with the paper that tells of it."""

    def __init__(self, reading: Reading, row: Row[Any]) -> None:
        """Begin without marks."""
        self.reading = reading
        self.row = row
        self.events: list[tuple[Mark, str]] = []

    def mark(
        self,
        on: date | None,
        kind: MarkKind,
        words: str,
        number: str = "",
        subject: tuple[Subject, int] | None = None,
    ) -> None:
        """Add an event, if it has a day; `number` is that of its paper."""
        if on is not None:
            self.events.append((Mark(on, kind, words, None, subject), number))

    def amount(self, minor: int) -> str:
        """Give an amount in words of the reader's manners."""
        return show_amount(self.reading.money(minor), self.reading.ledger.manners, dash=False)

    def opened(self) -> None:
        """Mark the day it was left, and the reports of its condition."""
        row = self.row
        self.mark(row.opened_on, MarkKind.ARRIVAL, _("Left, {number}").format(number=row.number), row.number)
        reports = self.reading.session.execute(
            select(ConditionReport.number, ConditionReport.made_on, ConditionReport.occasion)
            .where(ConditionReport.job_id == row.id)
            .order_by(ConditionReport.id)
        )
        for number, on, occasion in reports:
            why = _(field_of(ConditionReport.occasion).choice_word(occasion))
            words = _("Condition report {number}, {occasion}").format(number=number, occasion=why)
            self.mark(on, MarkKind.OTHER, words, number)

    def agreed(self) -> None:
        """Mark estimates, and what was approved or declined."""
        session = self.reading.session
        made = session.execute(
            select(Estimate.number, Estimate.made_on, Estimate.net_high, Estimate.tax_high)
            .where(Estimate.job_id == self.row.id)
            .order_by(Estimate.n)
        )
        for number, on, net, tax in made:
            words = _("Estimate {number}, up to {amount}").format(
                number=number, amount=self.amount(net + tax)
            )
            self.mark(on, MarkKind.PRICE, words, number)
        given = session.execute(
            select(Approval.given_on, Approval.given_by, Approval.up_to)
            .where(Approval.job_id == self.row.id)
            .order_by(Approval.id)
        )
        for on, name, up_to in given:
            words = _("Declined by {name}").format(name=name)
            if up_to:
                words = _("Approved by {name}, up to {amount}").format(name=name, amount=self.amount(up_to))
            self.mark(on, MarkKind.TERMS, words)

    def worked(self) -> None:
        """Mark the work: time by the day, parts, services, and when it was ready."""
        session = self.reading.session
        self.mark(self.row.begun_on, MarkKind.OTHER, _("Work begun"))
        times = session.execute(
            select(WorkTime.worked_on, func.sum(WorkTime.minutes))
            .where(WorkTime.job_id == self.row.id, WorkTime.minutes > 0)
            .group_by(WorkTime.worked_on)
        )
        for on, minutes in times:
            self.mark(on, MarkKind.OTHER, _("Worked {time}").format(time=time_words(int(minutes or 0))))
        parts = session.execute(
            select(GoodsOut.went_on, func.sum(GoodsOut.quantity), Goods.what, Goods.id)
            .join(GoodsIn, GoodsIn.id == GoodsOut.goods_in_id)
            .join(Goods, Goods.id == GoodsIn.goods_id)
            .where(GoodsOut.job_id == self.row.id, GoodsOut.into_id.is_(None))
            .group_by(GoodsOut.went_on, Goods.what, Goods.id)
        )
        for on, quantity, what, goods_id in parts:
            self.mark(on, MarkKind.OTHER, f"{int(quantity)} × {what}", subject=(Subject.GOODS, goods_id))
        for service in services_bought(self.reading, self.row.id):
            words = _("{what} bought in at {amount}").format(
                what=service.what, amount=self.amount(service.cost)
            )
            self.mark(service.bought_on, MarkKind.MONEY, words)
        self.mark(self.row.ready_on, MarkKind.OTHER, _("Ready"))

    def billed(self) -> None:
        """Mark bills, those that were taken back too, and the client's payments."""
        session = self.reading.session
        bills = session.execute(
            select(JobBill, Sale.number)
            .outerjoin(Sale, Sale.id == JobBill.sale_id)
            .where(JobBill.job_id == self.row.id)
            .order_by(JobBill.id)
        )
        for bill, number in bills:
            about = None if bill.sale_id is None else (Subject.SALE, bill.sale_id)
            bearer = _(field_of(JobBill.bill_to).choice_word(bill.bill_to))
            words = _("Billed at {amount} to {bearer}").format(
                amount=self.amount(bill.net + bill.tax), bearer=bearer
            )
            self.mark(bill.billed_on, MarkKind.SALE, words, number or "", about)
            self.mark(bill.taken_back_on, MarkKind.SALE, _("Bill taken back"), "", about)
        of_job = select(JobBill.sale_id).where(JobBill.job_id == self.row.id, JobBill.sale_id.is_not(None))
        payments = session.execute(
            select(Payment.number, Payment.received_on, Payment.minor)
            .where(
                (Payment.job_id == self.row.id) | Payment.sale_id.in_(of_job.scalar_subquery()),
                Payment.deposit_id.is_(None),
            )
            .order_by(Payment.id)
        )
        for number, on, minor in payments:
            words = _("{amount} received ({number})").format(amount=self.amount(minor), number=number)
            self.mark(on, MarkKind.MONEY, words, number)

    def ended(self) -> None:
        """Mark reminders and the end."""
        session, row = self.reading.session, self.row
        for on, days in session.execute(
            select(Reminder.sent_on, Reminder.after_days).where(Reminder.job_id == row.id)
        ):
            self.mark(on, MarkKind.OTHER, _("Reminded after {n} days").format(n=days))
        surplus = session.execute(select(LienSale.price).where(LienSale.job_id == row.id)).first()
        if row.ended_on is not None:
            words = _(ENDINGS[row.ending or "collected"])
            if surplus is not None:
                words = _("Sold for what was owed, at {amount}").format(amount=self.amount(surplus.price))
            elif row.handed_to:
                words = _("{how}: {name}").format(how=words, name=row.handed_to)
            self.mark(row.ended_on, MarkKind.HANDOVER, words)


def _while_on(row: Row[Any], spans: tuple[Span, ...]) -> tuple[Span, ...]:
    """Give the stretches of custody as far as they fall into the days of a job."""
    found = []
    for span in spans:
        if span.until is not None and span.until <= row.opened_on:
            continue
        if row.ended_on is not None and span.since >= row.ended_on and span.since > row.opened_on:
            continue
        until = span.until
        if row.ended_on is not None and (until is None or until > row.ended_on):
            until = row.ended_on
        found.append(replace(span, since=max(span.since, row.opened_on), until=until))
    return tuple(found)


def history_of_job(reading: Reading, row: Row[Any]) -> History:
    """Give the whole history of a job (all columns of its record), marks in the order of their days."""
    historian = JobHistorian(reading, row)
    for gather in (historian.opened, historian.agreed, historian.worked, historian.billed, historian.ended):
        gather()
    papers = numbered(reading, [number for _mark, number in historian.events if number])
    marks = [replace(mark, paper_id=papers.get(number)) for mark, number in historian.events]
    # sorted() is stable: of marks on one day those gathered first stay first.
    return History(
        _while_on(row, spans_of(reading, [row.stay_id])), tuple(sorted(marks, key=lambda mark: mark.on))
    )
