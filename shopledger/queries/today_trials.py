"""Trials that wait: overdue or due soon, each with what is out; and what is kept and not invoiced yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, and_, exists, func, select

from shopledger.model import Person, Stay, Trial, TrialLine, TrialReminder
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import instrument_words
from shopledger.queries.due_lines import DueLine, Section, first_rows, several, tone_of
from shopledger.queries.instrument_standing import days_until
from shopledger.queries.shapes import Subject, Tone
from shopledger.rules.trial_state import DUE_SOON_DAYS

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

_UNDECIDED = TrialLine.decided_on.is_(None)
_KEPT = and_(TrialLine.decision == "bought", TrialLine.sale_id.is_(None))


def trials_due(reading: Reading, today: date) -> Section:
    """Give the trials that are overdue or due soon, the longest overdue first.

    An overdue one leads to a letter first, and to taking back once a letter went out after its day.
    """
    reminded = exists().where(TrialReminder.trial_id == Trial.id, TrialReminder.sent_on > Trial.due_on)
    rows, count = first_rows(
        reading,
        select(Trial.id, Trial.due_on, Person.name, reminded.label("is_reminded"))
        .join(Person, Person.id == Trial.person_id)
        .where(
            Trial.ended_on.is_(None),
            exists().where(TrialLine.trial_id == Trial.id, _UNDECIDED),
            Trial.due_on <= today + timedelta(days=DUE_SOON_DAYS),
        )
        .order_by(Trial.due_on, Trial.id),
    )
    what = _things(reading, [row.id for row in rows], _UNDECIDED)
    lines = tuple(
        DueLine(
            Subject.TRIAL,
            row.id,
            what[row.id],
            _("on trial with {player}, {left}").format(player=row.name, left=days_until(row.due_on, today)),
            row.due_on,
            tone_of(row.due_on, today),
            ("take_trial_back",) if row.is_reminded else ("remind_of_trial", "take_trial_back"),
        )
        for row in rows
    )
    return Section("trials", N_("Trials overdue and due"), lines, count, "stock", "trials", "due")


def kept_on_trial(reading: Reading, today: date) -> Section:
    """Give the trials of which something is to be bought and not invoiced yet."""
    del today
    decided = func.min(TrialLine.decided_on)
    rows, count = first_rows(
        reading,
        select(Trial.id, Trial.number, Person.name, decided.label("decided_on"))
        .join(Person, Person.id == Trial.person_id)
        .join(TrialLine, TrialLine.trial_id == Trial.id)
        .where(_KEPT)
        .group_by(Trial.id, Trial.number, Person.name)
        .order_by(decided, Trial.id),
    )
    what = _things(reading, [row.id for row in rows], _KEPT)
    lines = tuple(
        DueLine(
            Subject.TRIAL,
            row.id,
            what[row.id],
            _("{player} keeps it: to be sold on an invoice").format(player=row.name),
            row.decided_on,
            Tone.LATE,
            ("sell_kept",),
        )
        for row in rows
    )
    return Section("kept", N_("Kept from a trial"), lines, count, "stock", "trials", "to_buy")


def _things(reading: Reading, trial_ids: Sequence[int], which: ColumnElement[bool]) -> Mapping[int, str]:
    """Give in short what of each trial fulfils a condition."""
    found: dict[int, list[tuple[int | None, str]]] = {trial_id: [] for trial_id in trial_ids}
    for trial_id, instrument_id, what in reading.session.execute(
        select(TrialLine.trial_id, Stay.instrument_id, TrialLine.what)
        .outerjoin(Stay, Stay.id == TrialLine.stay_id)
        .where(TrialLine.trial_id.in_(trial_ids), which)
        .order_by(TrialLine.trial_id, TrialLine.n)
    ):
        found[trial_id].append((instrument_id, what))
    keys = [key for things in found.values() for key, _what in things if key is not None]
    named = instrument_words(reading, keys)
    return {
        trial_id: several(named.get(key or 0, what) for key, what in things)
        for trial_id, things in found.items()
    }
