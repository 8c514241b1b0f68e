"""The history of a trial: out from its first day to its last, marked with extensions, letters, decisions and money."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import Payment, Refund, Sale, TrialExtension, TrialReminder
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import _
from shopledger.queries.on_trial import LineOfTrial
from shopledger.queries.papers import numbered
from shopledger.queries.place_states import ON_TRIAL
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import History, Mark, MarkKind, Span

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

Event = tuple[Mark, str]
"""A mark, and the number of its paper."""


def history_of_trial(reading: Reading, row: Row[Any], lines: tuple[LineOfTrial, ...]) -> History:
    """Give the whole history of a trial (all columns of its record), marks in the order of their days."""
    events = [
        (
            Mark(row.began_on, MarkKind.HANDOVER, _("Went out, {number}").format(number=row.number)),
            row.number,
        ),
        *_agreed(reading, row),
        *_decided(reading, lines),
        *_money(reading, row),
    ]
    if row.ended_on is not None:
        events.append((Mark(row.ended_on, MarkKind.OTHER, _("The trial is over")), ""))
    papers = numbered(reading, [number for _mark, number in events if number])
    marks = [replace(mark, paper_id=papers.get(number)) for mark, number in events]
    # sorted() is stable: of marks on one day those gathered first stay first.
    return History(_spans(row, lines), tuple(sorted(marks, key=lambda mark: mark.on)))


def _spans(row: Row[Any], lines: tuple[LineOfTrial, ...]) -> tuple[Span, ...]:
    """Give the stretch during which something was out."""
    until: date | None = None
    if not any(line.is_out for line in lines):
        until = max((line.decided_on for line in lines if line.decided_on is not None), default=row.ended_on)
    if until is not None and until <= row.began_on:
        return ()
    return (Span(row.began_on, until, ON_TRIAL, _(ON_TRIAL.word)),)


def _agreed(reading: Reading, row: Row[Any]) -> list[Event]:
    """Mark the signature, extensions and letters."""
    manners = reading.ledger.manners
    events: list[Event] = []
    if row.signed_on is not None:
        events.append((Mark(row.signed_on, MarkKind.TERMS, _("Signed by both")), row.number))
    extensions = reading.session.execute(
        select(TrialExtension.agreed_on, TrialExtension.due_on)
        .where(TrialExtension.trial_id == row.id)
        .order_by(TrialExtension.id)
    )
    for on, due_on in extensions:
        words = _("Extended until {day}").format(day=show_day(due_on, manners))
        events.append((Mark(on, MarkKind.TERMS, words), ""))
    letters = reading.session.scalars(
        select(TrialReminder.sent_on).where(TrialReminder.trial_id == row.id).order_by(TrialReminder.id)
    )
    events += [(Mark(on, MarkKind.OTHER, _("Reminded of its end")), "") for on in letters]
    return events


def _decided(reading: Reading, lines: tuple[LineOfTrial, ...]) -> list[Event]:
    """Mark what came back, is to be bought, was sold or lost."""
    words = {
        "returned": _("Came back: {what}"),
        "bought": _("To be bought: {what}"),
        "lost": _("Lost: {what}"),
    }
    events: list[Event] = []
    for line in lines:
        if line.decision is None or line.decided_on is None:
            continue
        told = words[line.decision].format(what=line.words)
        events.append((Mark(line.decided_on, MarkKind.OTHER, told), ""))
        if line.sale_id is not None:
            sale = reading.session.get_one(Sale, line.sale_id)
            told = _("Sold: {what} ({number})").format(what=line.words, number=sale.number)
            events.append(
                (Mark(sale.sold_on, MarkKind.SALE, told, None, (Subject.SALE, sale.id)), sale.number)
            )
    return events


def _money(reading: Reading, row: Row[Any]) -> list[Event]:
    """Mark deposits as they came in, and what was given back of them."""
    manners = reading.ledger.manners

    def amount(minor: int) -> str:
        return show_amount(reading.money(minor), manners)

    paid = (Payment.trial_id == row.id, Payment.deposit_id.is_(None))
    events: list[Event] = []
    for number, on, minor in reading.session.execute(
        select(Payment.number, Payment.received_on, Payment.minor).where(*paid).order_by(Payment.id)
    ):
        words = _("Deposit {amount} received ({number})").format(amount=amount(minor), number=number)
        events.append((Mark(on, MarkKind.MONEY, words), number))
    back = (
        select(Refund.number, Refund.paid_on, Refund.minor)
        .join(Payment, Payment.id == Refund.deposit_id)
        .where(*paid)
        .order_by(Refund.id)
    )
    for number, on, minor in reading.session.execute(back):
        words = _("Deposit {amount} given back ({number})").format(amount=amount(minor), number=number)
        events.append((Mark(on, MarkKind.MONEY, words), number))
    return events
