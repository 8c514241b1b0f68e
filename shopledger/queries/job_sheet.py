"""The page about a job: what is wanted, seen, estimated, approved and done, where it stands, its money and papers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import (
    Approval,
    Estimate,
    EstimateLine,
    Instrument,
    Job,
    JobNote,
    Person,
    Stay,
    WorkTime,
    field_of,
    fields_of,
)
from shopledger.papers.workshop import time_words
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.condition import reports_of_stay
from shopledger.queries.declared import facts_of, instrument_words, row_of
from shopledger.queries.instrument_sheet import title_of
from shopledger.queries.job_costs import services_bought
from shopledger.queries.job_history import history_of_job
from shopledger.queries.job_money import money_of_job
from shopledger.queries.job_standing import standing_of, state_now
from shopledger.queries.lots import parts_used
from shopledger.queries.papers import papers_of
from shopledger.queries.photographs import photographs_of_instrument, photographs_of_job
from shopledger.queries.setup import setup_facts
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, Sheet, Shot

if TYPE_CHECKING:
    from shopledger.quantities.money import Money
    from shopledger.store.unit import Reading

COURSE = (
    "estimated_on",
    "approved_on",
    "begun_on",
    "waits_for",
    "ready_on",
    "declined_on",
    "ended_on",
    "ending",
    "handed_to",
    "identity_seen",
    "condition_out",
    "owing_agreed",
)
"""Fields that tell the course of a job; all others tell what is wanted."""
DASH = "\u2013"


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about a job.

    Raises: NotFound: there is no such job.
    """
    row = row_of(reading, Job, id)
    instrument = row_of(reading, Instrument, row.instrument_id)
    return Sheet(
        subject=Subject.JOB,
        id=id,
        title=f"{row.number} {title_of(instrument)}",
        line=_line(reading, row, instrument),
        standing=standing_of(reading, row),
        state=state_now(row),
        groups=(
            Group(N_("What is wanted"), _wanted(reading, row)),
            Group(N_("What came with it"), _came_with(reading, row)),
            Group(N_("Estimates"), _estimates(reading, id)),
            Group(N_("Approvals"), _approvals(reading, id)),
            Group(
                N_("Course of the work"),
                facts_of(reading, Job, row, without=fields_of(Job).keys() - set(COURSE)),
            ),
            Group(N_("Time"), _time(reading, id)),
            Group(N_("Parts"), _parts(reading, id)),
            Group(N_("Services bought in"), _services(reading, id)),
            Group(N_("Notes"), _notes(reading, id)),
            Group(N_("Set-up before and after"), setup_facts(reading, id)),
            *reports_of_stay(reading, row.stay_id),
        ),
        money=money_of_job(reading, row),
        money_title=N_("What it comes to"),
        papers=papers_of(reading, job_id=id),
        photographs=_photographs(reading, row),
        history=history_of_job(reading, row),
    )


def _line(reading: Reading, row: Row[Any], instrument: Row[Any]) -> str:
    """Give the client, how to reach them, and the instrument's number."""
    client = reading.session.execute(
        select(Person.name, Person.phone, Person.email).where(Person.id == row.client_id)
    ).one()
    reached = client.phone or client.email
    return " · ".join(part for part in (client.name, reached, instrument.number) if part)


def _photographs(reading: Reading, row: Row[Any]) -> tuple[Shot, ...]:
    """Give the job's photographs, else the newest of the instrument."""
    return photographs_of_job(reading, row.id) or photographs_of_instrument(reading, row.instrument_id)[:1]


def _wanted(reading: Reading, row: Row[Any]) -> tuple[Fact, ...]:
    facts = [
        *facts_of(reading, Job, row, without=("number", *COURSE)),
        Fact(N_("Instrument"), instrument_words(reading, [row.instrument_id])[row.instrument_id]),
    ]
    if row.earlier_job_id is not None:
        earlier = row_of(reading, Job, row.earlier_job_id)
        facts.append(Fact(N_("Earlier job"), earlier.number, " ".join(earlier.hears.split())))
    return tuple(facts)


def _came_with(reading: Reading, row: Row[Any]) -> tuple[Fact, ...]:
    others = fields_of(Stay).keys() - {"number", "came_with", "insured_value"}
    return facts_of(reading, Stay, row_of(reading, Stay, row.stay_id), without=others)


def _amounts(reading: Reading, low: int, high: int) -> str:
    """Give an amount, or from which to which it can come to."""
    manners = reading.ledger.manners
    ends = (show_amount(reading.money(minor), manners, dash=False) for minor in dict.fromkeys((low, high)))
    return f" {DASH} ".join(ends)


def _estimates(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    """Give the estimates, the newest first, and the lines of the newest."""
    manners = reading.ledger.manners
    made = reading.session.scalars(
        select(Estimate).where(Estimate.job_id == job_id).order_by(Estimate.n.desc())
    ).all()
    facts = [
        Fact(
            one.number,
            _amounts(reading, one.net_low + one.tax_low, one.net_high + one.tax_high),
            _("made on {day}, valid until {until}").format(
                day=show_day(one.made_on, manners), until=show_day(one.valid_until, manners)
            ),
        )
        for one in made
    ]
    if made:
        lines = reading.session.scalars(
            select(EstimateLine).where(EstimateLine.estimate_id == made[0].id).order_by(EstimateLine.n)
        )
        facts += [Fact(line.what, _amounts(reading, line.low, line.high), _how_much(line)) for line in lines]
    return tuple(facts)


def _how_much(line: EstimateLine) -> str:
    """Give what sort of line it is, and its time or quantity."""
    words = [_(field_of(EstimateLine.kind).choice_word(line.kind))]
    if line.minutes is not None:
        most = line.minutes_high or line.minutes
        words.append(f" {DASH} ".join(time_words(n) for n in dict.fromkeys((line.minutes, most))))
    elif line.quantity != 1:
        words.append(f"{line.quantity} ×")
    return ", ".join(words)


def _approvals(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    """Give the approvals, the newest, which counts, first."""
    manners = reading.ledger.manners
    rows = reading.session.execute(
        select(Approval, Estimate.number)
        .outerjoin(Estimate, Estimate.id == Approval.estimate_id)
        .where(Approval.job_id == job_id)
        .order_by(Approval.id.desc())
    )
    facts = []
    for one, estimate in rows:
        said = [
            one.given_by,
            show_day(one.given_on, manners),
            _(field_of(Approval.how).choice_word(one.how)),
            estimate,
            one.note,
        ]
        told = ", ".join(part for part in said if part)
        if one.up_to:
            facts.append(Fact(field_of(Approval.up_to).label, reading.money(one.up_to), told))
        else:
            facts.append(Fact(N_("Declined"), told))
    return tuple(facts)


def _time(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    rows = reading.session.scalars(
        select(WorkTime)
        .where(WorkTime.job_id == job_id, WorkTime.minutes.is_distinct_from(0))
        .order_by(WorkTime.worked_on, WorkTime.id)
    ).all()
    facts = [
        Fact(
            show_day(one.worked_on, manners),
            _("the clock runs") if one.minutes is None else time_words(one.minutes),
            ", ".join(part for part in (one.what, one.worked_by) if part),
        )
        for one in rows
    ]
    if len(rows) > 1:
        facts.append(Fact(N_("In all"), time_words(sum(one.minutes or 0 for one in rows))))
    return tuple(facts)


def _parts(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    return tuple(
        Fact(f"{part.what}, {part.number}", str(part.quantity), _cost(reading, part.cost))
        for part in parts_used(reading, job_id)
    )


def _cost(reading: Reading, cost: Money) -> str:
    return _("at {cost} in all").format(cost=show_amount(cost, reading.ledger.manners, dash=False))


def _services(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    return tuple(
        Fact(
            one.what,
            reading.money(one.price),
            ", ".join(
                part
                for part in (
                    one.supplier,
                    show_day(one.bought_on, manners),
                    _cost(reading, reading.money(one.cost)),
                )
                if part
            ),
        )
        for one in services_bought(reading, job_id)
    )


def _notes(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    rows = reading.session.execute(
        select(JobNote.noted_on, JobNote.words).where(JobNote.job_id == job_id).order_by(JobNote.id.desc())
    )
    return tuple(Fact(show_day(on, manners), words) for on, words in rows)
