"""Instruments and work that wait: agreements and holds that end, work promised, work not collected, copies."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import exists, func, select

from shopledger.model import (
    Agreement,
    Hold,
    Job,
    JobBill,
    Person,
    Reminder,
    SafeCopy,
    Stay,
    Terms,
)
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.declared import instrument_words
from shopledger.queries.due_lines import SHOWN, DueLine, Section, first_rows, tone_of
from shopledger.queries.instrument_standing import days_until
from shopledger.queries.shapes import Subject, Tone
from shopledger.rules.uncollected import REMINDER_DAYS, reminder_due

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

AGREEMENT_DAYS, WORK_DAYS, HOLD_DAYS, COPY_DAYS = 30, 7, 3, 7
"""How many days before its end an agreement, promised work and a hold are told of; how old a copy may be."""


def _of_instruments(
    reading: Reading, rows: Sequence[Any], today: date, says: str, acts: tuple[str, ...]
) -> tuple[DueLine, ...]:
    """Give the lines of rows with an `instrument_id` and a `due_on`; `says` may name any other column of theirs."""
    named = instrument_words(reading, [row.instrument_id for row in rows])
    return tuple(
        DueLine(
            Subject.INSTRUMENT,
            row.instrument_id,
            named[row.instrument_id],
            _(says).format(left=days_until(row.due_on, today), **row._mapping),
            row.due_on,
            tone_of(row.due_on, today),
            acts,
        )
        for row in rows
    )


def agreements_ending(reading: Reading, today: date) -> Section:
    """Give the agreements that are over or end within a month, the oldest end first."""
    later = Terms.__table__.alias("later")
    rows, count = first_rows(
        reading,
        select(Stay.instrument_id, Agreement.number, Terms.ends_on.label("due_on"))
        .join(Terms, Terms.agreement_id == Agreement.id)
        .join(Stay, Stay.id == Agreement.stay_id)
        .where(
            Agreement.ended_on.is_(None),
            Stay.ended_on.is_(None),
            Terms.ends_on <= today + timedelta(days=AGREEMENT_DAYS),
            ~exists().where(later.c.agreement_id == Terms.agreement_id, later.c.n > Terms.n),
        )
        .order_by(Terms.ends_on, Agreement.id),
    )
    lines = _of_instruments(
        reading, rows, today, N_("agreement {number}, {left}"), ("renew", "end_agreement")
    )
    return Section("agreements", N_("Agreements ending"), lines, count, "stock", "stock", "ending_soon")


def holds_ending(reading: Reading, today: date) -> Section:
    """Give the holds whose day is over or near."""
    rows, count = first_rows(
        reading,
        select(Stay.instrument_id, Hold.until.label("due_on"), Person.name)
        .join(Stay, Stay.id == Hold.stay_id)
        .join(Person, Person.id == Hold.person_id)
        .where(Hold.ended_on.is_(None), Hold.until <= today + timedelta(days=HOLD_DAYS))
        .order_by(Hold.until, Hold.id),
    )
    lines = _of_instruments(reading, rows, today, N_("on hold for {name}, {left}"), ("sell", "end_hold"))
    return Section("holds", N_("Holds ending"), lines, count, "stock", "stock", "here")


def work_promised(reading: Reading, today: date) -> Section:
    """Give the jobs promised for a day that is near or over and that are not ready."""
    rows, count = first_rows(
        reading,
        select(
            Job.id,
            Job.number,
            Job.instrument_id,
            Job.promised_on,
            Job.waits_for,
            Job.begun_on,
            Job.approved_on,
            Job.estimated_on,
            Person.name,
        )
        .join(Person, Person.id == Job.client_id)
        .where(
            Job.ended_on.is_(None),
            Job.ready_on.is_(None),
            Job.declined_on.is_(None),
            Job.promised_on <= today + timedelta(days=WORK_DAYS),
        )
        .order_by(Job.promised_on, Job.id),
    )
    named = instrument_words(reading, [row.instrument_id for row in rows])
    lines = tuple(
        DueLine(
            Subject.JOB,
            row.id,
            f"{row.number} {named[row.instrument_id]}",
            _("promised to {client}, {left}; it waits for {part}").format(
                client=row.name, left=days_until(row.promised_on, today), part=row.waits_for
            )
            if row.waits_for
            else _("promised to {client}, {left}").format(
                client=row.name, left=days_until(row.promised_on, today)
            ),
            row.promised_on,
            tone_of(row.promised_on, today),
            _next_in_work(row),
        )
        for row in rows
    )
    return Section("promised", N_("Work promised"), lines, count, "workshop", "jobs", "open")


def _next_in_work(job: Any) -> tuple[str, ...]:
    """Give the acts that bring a job on from where it stands."""
    if job.waits_for:
        return ("part_came",)
    if job.begun_on is not None:
        return ("mark_ready",)
    if job.approved_on is not None:
        return ("put_on_bench",)
    return ("approve_job",) if job.estimated_on is not None else ("estimate_job", "approve_job")


def uncollected(reading: Reading, today: date) -> Section:
    """Give the work for which a reminder is due: ready, or declined, and not fetched for a month and more."""
    since = func.coalesce(Job.ready_on, Job.declined_on)
    last = (
        select(func.coalesce(func.max(Reminder.after_days), 0))
        .where(Reminder.job_id == Job.id)
        .correlate(Job)
        .scalar_subquery()
    )
    billed = exists().where(JobBill.job_id == Job.id, JobBill.taken_back_on.is_(None))
    found = (
        reading.session.connection()
        .execute(
            select(
                Job.id,
                Job.number,
                Job.instrument_id,
                Job.ready_on,
                Person.name,
                since.label("since"),
                last.label("last"),
                billed.label("is_billed"),
            )
            .join(Person, Person.id == Job.client_id)
            .where(Job.ended_on.is_(None), since <= today - timedelta(days=REMINDER_DAYS[0]))
            .order_by(since, Job.id)
        )
        .all()
    )
    due = [row for row in found if reminder_due(row.since, today, (row.last,)) is not None]
    shown = due[:SHOWN]
    named = instrument_words(reading, [row.instrument_id for row in shown])
    lines = tuple(
        DueLine(
            Subject.JOB,
            row.id,
            f"{row.number} {named[row.instrument_id]}",
            _("{client} has not fetched it for {n} days: a reminder is due").format(
                client=row.name, n=(today - row.since).days
            ),
            row.since,
            Tone.SOON,
            # A letter says what is to be paid: what was worked is billed first.
            ("remind",) if row.is_billed or row.ready_on is None else ("bill_job",),
        )
        for row in shown
    )
    return Section("uncollected", N_("Not collected"), lines, len(due), "workshop", "jobs", "ready")


def copies(reading: Reading, today: date) -> Section:
    """Say how old the last known copy of the ledger is, where it is too old or there is none."""
    row = reading.session.execute(
        select(SafeCopy.made_on, SafeCopy.where_kept).order_by(SafeCopy.made_on.desc()).limit(1)
    ).first()
    name, title = "copies", N_("Copies of the ledger")
    if row is not None and (today - row.made_on).days <= COPY_DAYS:
        return Section(name, title, (), 0)
    if row is None:
        what, says, on = _("No copy is known"), _("make one, keep it elsewhere, and note it here"), None
    else:
        what = _("The last copy is {old} old").format(
            old=count_words("{n} day", "{n} days", (today - row.made_on).days)
        )
        says, on = _("kept: {where}").format(where=row.where_kept), row.made_on
    line = DueLine(Subject.SHOP, 0, what, says, on, Tone.LATE, ("note_copy",))
    return Section(name, title, (line,), 1)
