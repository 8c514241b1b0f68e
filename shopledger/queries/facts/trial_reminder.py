"""What the letter about a trial's end states: what is undecided with the player, and which letters went before."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import TrialReminder
from shopledger.papers.trial_reminder import TrialReminderFacts
from shopledger.queries.facts.trials import lent_facts, trial_head
from shopledger.queries.on_trial import lines_of_trial, trial_named
from shopledger.store.unit import Reading


def trial_reminder_facts(reading: Reading, trial_id: int, number: str, on: date) -> TrialReminderFacts:
    """Give what a letter about a trial states that is written on a day.

    Raises: NotFound: there is no such trial.
    """
    trial = trial_named(reading, trial_id)
    earlier = reading.session.scalars(
        select(TrialReminder.sent_on)
        .where(TrialReminder.trial_id == trial_id, TrialReminder.sent_on < on)
        .order_by(TrialReminder.sent_on)
    )
    undecided = [line for line in lines_of_trial(reading, trial_id) if line.decided_on is None]
    return TrialReminderFacts(
        **trial_head(reading, trial, number, on),
        sent_on=on,
        lines=lent_facts(reading, undecided),
        earlier=tuple(earlier),
    )
