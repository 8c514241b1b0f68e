"""Money that waits: sales to settle, owners to pay, buyers who owe, payments that have not cleared."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import func, select

from shopledger.model import (
    Hold,
    Job,
    Payment,
    Person,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    Stay,
    Trial,
)
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import instrument_words
from shopledger.queries.due import left_of_share, owner_lines
from shopledger.queries.due_lines import SHOWN, DueLine, Section, first_rows, several, tone_of
from shopledger.queries.owing import sales_money
from shopledger.queries.sale_states import to_settle, unpaid
from shopledger.queries.shapes import Subject, Tone

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def owners_to_pay(reading: Reading, today: date) -> Section:
    """Give the owners for whom money is set aside, the oldest first; late where the shop promised to pay sooner."""
    left = left_of_share()
    within = timedelta(days=reading.shop().pay_within_days)
    rows, count = first_rows(
        reading,
        select(
            Person.id,
            Person.name,
            func.sum(left).label("held"),
            func.min(Settlement.settled_on).label("since"),
        )
        .join(SettlementShare, SettlementShare.person_id == Person.id)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(left > 0)
        .group_by(Person.id, Person.name)
        .order_by(func.min(Settlement.settled_on), Person.id),
    )
    lines = tuple(
        DueLine(
            Subject.PERSON,
            row.id,
            row.name,
            _("set aside and not paid yet"),
            row.since,
            tone_of(row.since + within, today),
            ("pay_owner",),
            reading.money(int(row.held)),
        )
        for row in rows
    )
    return Section("owners_to_pay", N_("Owners to pay"), lines, count, "accounts", "owners", "to_pay")


def sales_to_settle(reading: Reading, today: date) -> Section:
    """Give the sales of which something is due to owners now that is not set aside yet."""
    due = to_settle(reading)
    shown = due[:SHOWN]
    sold = reading.session.execute(
        select(SaleLine.id, SaleLine.sale_id).where(SaleLine.sale_id.in_(shown), SaleLine.kind == "consigned")
    )
    line_of = {line_id: sale_id for line_id, sale_id in sold}  # noqa: C416 - rows have keys()
    sums: dict[int, int] = {}
    for owner in owner_lines(reading, list(line_of), today):
        sale_id = line_of[owner.line_id]
        sums[sale_id] = sums.get(sale_id, 0) + owner.due.minor
    rows = reading.session.execute(
        select(Sale.id, Sale.number, Sale.sold_on).where(Sale.id.in_(shown)).order_by(Sale.id)
    ).all()
    what = _sold(reading, shown)
    lines = tuple(
        DueLine(
            Subject.SALE,
            row.id,
            f"{row.number} {what.get(row.id, '')}".strip(),
            _("the buyer's money has cleared: to be settled with the owner"),
            row.sold_on,
            Tone.LATE,
            ("settle",),
            reading.money(sums.get(row.id, 0)),
        )
        for row in rows
    )
    return Section("to_settle", N_("To settle"), lines, len(due), "sales", "sales", "to_settle")


def buyers_owing(reading: Reading, today: date) -> Section:
    """Give the sales of which the buyer owes something, the oldest first."""
    del today
    found = (
        reading.session.connection()
        .execute(
            select(Sale.id, Sale.number, Sale.sold_on, Person.name)
            .join(Person, Person.id == Sale.buyer_id)
            .where(unpaid())
            .order_by(Sale.sold_on, Sale.id)
        )
        .all()
    )
    money = sales_money(reading, [row.id for row in found])
    owing = [row for row in found if money[row.id].owes.minor > 0]
    shown = owing[:SHOWN]
    what = _sold(reading, [row.id for row in shown])
    lines = tuple(
        DueLine(
            Subject.SALE,
            row.id,
            f"{row.number} {what.get(row.id, '')}".strip(),
            _("owed by {buyer}").format(buyer=row.name),
            row.sold_on,
            Tone.SOON,
            ("take_payment",),
            money[row.id].owes,
        )
        for row in shown
    )
    return Section("buyers_owing", N_("Buyers who owe"), lines, len(owing), "sales", "sales", "open")


def payments_to_clear(reading: Reading, today: date) -> Section:
    """Give the payments and deposits that were received and have neither cleared nor bounced, the oldest first."""
    del today
    rows, count = first_rows(
        reading,
        select(
            Payment.id, Payment.number, Payment.minor, Payment.received_on, Payment.sale_id, Payment.job_id,
            Payment.trial_id, Stay.instrument_id, Payment.person_id, Person.name, Sale.number.label("sale"),
            Job.number.label("job"), Trial.number.label("trial"),
        )
        .join(Person, Person.id == Payment.person_id)
        .outerjoin(Sale, Sale.id == Payment.sale_id)
        .outerjoin(Job, Job.id == Payment.job_id)
        .outerjoin(Trial, Trial.id == Payment.trial_id)
        .outerjoin(Hold, Hold.id == Payment.hold_id)
        .outerjoin(Stay, Stay.id == Hold.stay_id)
        .where(Payment.cleared_on.is_(None), Payment.bounced_on.is_(None))
        .order_by(Payment.received_on, Payment.id),
    )  # fmt: skip
    held = instrument_words(reading, [row.instrument_id for row in rows if row.instrument_id is not None])
    lines: list[DueLine] = []
    for row in rows:
        subject, key, what, acts = _paid_for(row, held)
        lines.append(
            DueLine(
                subject,
                key,
                " ".join(word for word in (row.number, row.name) if word),
                _("received for {what}, not cleared yet").format(what=what)
                if what
                else _("received, not cleared yet"),
                row.received_on,
                Tone.SOON,
                acts,
                reading.money(row.minor),
            )
        )
    return Section("to_clear", N_("Payments to clear"), tuple(lines), count, "sales", "sales", "open")


def _paid_for(payment: Any, held: Mapping[int, str]) -> tuple[Subject, int, str, tuple[str, ...]]:
    """Give what a payment is about, how that is named, and the act by which it clears."""
    if payment.sale_id is not None:
        return Subject.SALE, payment.sale_id, payment.sale, ("clear_payments",)
    if payment.job_id is not None:
        return Subject.JOB, payment.job_id, payment.job, ("clear_job_deposit",)
    if payment.trial_id is not None:
        return Subject.TRIAL, payment.trial_id, payment.trial, ("clear_trial_deposit",)
    if payment.instrument_id is not None:
        about = payment.instrument_id
        return Subject.INSTRUMENT, about, held[about], ("clear_deposit",)
    return Subject.PERSON, payment.person_id, "", ()


def _sold(reading: Reading, sale_ids: list[int]) -> dict[int, str]:
    """Give in short what each sale sold."""
    found: dict[int, list[str]] = {}
    for sale_id, words in reading.session.execute(
        select(SaleLine.sale_id, SaleLine.what)
        .where(SaleLine.sale_id.in_(sale_ids))
        .order_by(SaleLine.sale_id, SaleLine.n)
    ):
        found.setdefault(sale_id, []).append(words)
    return {sale_id: several(words) for sale_id, words in found.items()}
