"""The rows of the table of trials: which belong to a view, in which order, and what each says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, and_, case, func, literal, select, type_coerce

from shopledger.model import Person, Stay, Trial, TrialLine
from shopledger.queries.declared import column_of, instrument_words, shown, table_fields
from shopledger.queries.on_trial import deposits_held, is_out
from shopledger.queries.shapes import Row, Subject
from shopledger.queries.states import TRIAL_STATES
from shopledger.rules import trial_state as states
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def _lines(*which: ColumnElement[bool]) -> ColumnElement[bool]:
    """Give the condition that a trial has lines like these."""
    return select(TrialLine.id).where(TrialLine.trial_id == Trial.id, *which).correlate(Trial).exists()


def undecided() -> ColumnElement[bool]:
    """Give the condition that something of a trial waits to be decided."""
    return _lines(TrialLine.decided_on.is_(None))


def to_buy() -> ColumnElement[bool]:
    """Give the condition that something of a trial is to be bought and not sold yet."""
    return _lines(TrialLine.decision == "bought", TrialLine.sale_id.is_(None))


def state_code(today: date) -> ColumnElement[str]:
    """Give the state of a trial as the database says it: what `rules.trial_state` says, as a test compares."""
    soon = today + timedelta(days=states.DUE_SOON_DAYS)
    return case(
        (Trial.ended_on.is_not(None), literal(states.OVER)),
        (and_(undecided(), Trial.due_on < today), literal(states.OVERDUE)),
        (and_(undecided(), Trial.due_on <= soon), literal(states.DUE_SOON)),
        (undecided(), literal(states.OUT)),
        (to_buy(), literal(states.TO_BUY)),
        else_=literal(states.TO_SETTLE),
    )


def _view(view: str, today: date) -> list[ColumnElement[bool]]:
    """Give what holds for the rows of a view."""
    going = Trial.ended_on.is_(None)
    match view:
        case "open":
            return [going]
        case "due":
            return [going, undecided(), Trial.due_on <= today + timedelta(days=states.DUE_SOON_DAYS)]
        case "overdue":
            return [going, undecided(), Trial.due_on < today]
        case "to_buy":
            return [going, to_buy()]
        case "back":
            return [Trial.ended_on.is_not(None)]
        case _:
            return []


def _value_out() -> ColumnElement[Any]:
    """Give the value of what of a trial is out."""
    out = (
        select(func.sum(TrialLine.value))
        .where(TrialLine.trial_id == Trial.id, is_out())
        .correlate(Trial)
        .scalar_subquery()
    )
    return type_coerce(out, BigInteger())


def _sorted_by(column: str, today: date) -> ColumnElement[Any]:
    """Give what a column is sorted by; numbers are given in the order of the keys."""
    match column:
        case "person_id":
            return func.lower(Person.name)
        case "value":
            return _value_out()
        case "state":
            return case({code: n for n, code in enumerate(TRIAL_STATES)}, value=state_code(today))
        case _ if column in table_fields(Trial) and column != "number":
            found: ColumnElement[Any] = column_of(Trial, column)
            return found
        case _:
            return type_coerce(Trial.id, BigInteger())


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the trials of a view that fit what is typed, sorted; those without a value come last."""
    today = reading.ledger.today()
    order = _sorted_by(sort, today)
    question: Select[Any] = select(type_coerce(Trial.id, BigInteger())).where(*_view(view, today))
    if sort == "person_id":
        question = question.join(Person, Person.id == Trial.person_id)
    found = matching(reading.session, Subject.TRIAL.value, words)
    if found is not None:
        question = question.where(Trial.id.in_(found.scalar_subquery()))
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(),
        Trial.id.desc() if descending else Trial.id.asc(),
    )
    return reading.session.connection().execute(question).scalars().all()


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these trials in this order; of those that are gone there is no row."""
    wanted = list(ids)
    fields = table_fields(Trial)
    rows = reading.session.execute(
        select(
            Trial.id,
            Person.name,
            _value_out(),
            state_code(reading.ledger.today()),
            *(column_of(Trial, name) for name in fields),
        )
        .join(Person, Person.id == Trial.person_id)
        .where(Trial.id.in_(wanted))
    ).all()
    things = _things(reading, wanted)
    held = deposits_held(reading, wanted)
    found: dict[int, Row] = {}
    for key, player, value, code, *values in rows:
        cells = [
            player if name == "person_id" else shown(reading, field, cell)
            for (name, field), cell in zip(fields.items(), values, strict=True)
        ]
        deposit = held.get(key, 0)
        found[key] = Row(
            key,
            (
                *cells,
                things.get(key, ""),
                reading.money(int(value)) if value else None,
                reading.money(deposit) if deposit else None,
                TRIAL_STATES[code],
            ),
        )
    return tuple(found[key] for key in ids if key in found)


def _things(reading: Reading, trial_ids: Sequence[int]) -> Mapping[int, str]:
    """Give what is lent by each trial in words, in the order of its paper."""
    rows = reading.session.execute(
        select(TrialLine.trial_id, TrialLine.what, Stay.instrument_id)
        .outerjoin(Stay, Stay.id == TrialLine.stay_id)
        .where(TrialLine.trial_id.in_(trial_ids))
        .order_by(TrialLine.trial_id, TrialLine.n)
    ).all()
    named = instrument_words(reading, [key for _trial, _what, key in rows if key is not None])
    found: dict[int, list[str]] = {}
    for trial_id, what, key in rows:
        found.setdefault(trial_id, []).append(what if key is None else named[key])
    return {trial_id: ", ".join(words) for trial_id, words in found.items()}
