"""Jobs in a line each: their state as the database says it, and how they stand on the pages of what they are about."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, case, literal, select

from shopledger.model import Job, Person
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.declared import instrument_words
from shopledger.queries.sheet_shapes import Fact
from shopledger.queries.states import JOB_STATES
from shopledger.rules import job_state as states

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

SHORT = 80
"""Letters of what is wanted that a line has."""


def state_code() -> ColumnElement[str]:
    """Give the state of a job as the database says it: what `rules.job_state` says, as a test compares."""
    ended = case(
        {"declined": states.RETURNED, "lien": states.LIEN, "stays": states.STAYS, "lost": states.LOST},
        value=Job.ending,
        else_=states.COLLECTED,
    )
    return case(
        (Job.ended_on.is_not(None), ended),
        (Job.ready_on.is_not(None), literal(states.READY)),
        (Job.waits_for != "", literal(states.WAITS_FOR_PART)),
        (Job.begun_on.is_not(None), literal(states.ON_BENCH)),
        (Job.approved_on.is_not(None), literal(states.AGREED)),
        (Job.declined_on.is_not(None), literal(states.DECLINED)),
        (Job.estimated_on.is_not(None), literal(states.WAITS_FOR_CLIENT)),
        else_=literal(states.TO_ESTIMATE),
    )


def in_short(words: str) -> str:
    """Give many words in one line of a few."""
    line = " ".join(words.split())
    return line if len(line) <= SHORT else line[: SHORT - 1].rstrip() + "…"


def jobs_of_instrument(reading: Reading, instrument_id: int) -> tuple[Fact, ...]:
    """Give the jobs on an instrument, whoever owned it then, newest first: what was wanted, for whom, its state."""
    rows = reading.session.execute(
        select(Job.number, Job.hears, Job.opened_on, Job.ended_on, Person.name, state_code())
        .join(Person, Person.id == Job.client_id)
        .where(Job.instrument_id == instrument_id)
        .order_by(Job.id.desc())
    )
    return tuple(
        Fact(
            number,
            in_short(hears),
            _("{day}, {name}, {state}").format(
                day=show_day(ended_on or opened_on, reading.ledger.manners),
                name=name,
                state=_(JOB_STATES[code].word),
            ),
        )
        for number, hears, opened_on, ended_on, name, code in rows
    )


def jobs_of_client(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    """Give the jobs that a person left, the newest first: on what, what was wanted, and how each is."""
    rows = reading.session.execute(
        select(Job.number, Job.instrument_id, Job.hears, Job.opened_on, Job.ended_on, state_code())
        .where(Job.client_id == person_id)
        .order_by(Job.id.desc())
    ).all()
    words = instrument_words(reading, [row.instrument_id for row in rows])
    return tuple(
        Fact(
            number,
            words[instrument_id],
            _("{wanted}, {day}, {state}").format(
                wanted=in_short(hears),
                day=show_day(ended_on or opened_on, reading.ledger.manners),
                state=_(JOB_STATES[code].word),
            ),
        )
        for number, instrument_id, hears, opened_on, ended_on, code in rows
    )
