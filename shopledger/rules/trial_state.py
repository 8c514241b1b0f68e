"""The state of a trial, which follows from its days and its lines' decisions and is stored nowhere."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from shopledger.quantities.words import N_

DUE_SOON_DAYS = 7
"""From how many days before its end a trial is due soon."""
OUT = "trial_out"
DUE_SOON = "trial_due_soon"
OVERDUE = "trial_overdue"
TO_BUY = "trial_to_buy"
TO_SETTLE = "trial_deposit"
OVER = "trial_over"

TRIAL_STATES: dict[str, str] = {
    OVERDUE: N_("overdue"),
    DUE_SOON: N_("due soon"),
    OUT: N_("out"),
    TO_BUY: N_("to be bought"),
    TO_SETTLE: N_("deposit to settle"),
    OVER: N_("over"),
}
"""The marked words of every state, what needs the shop first."""


@dataclass(frozen=True, slots=True)
class TrialDays:
    """What the state of a trial follows from: its end, how many lines wait to be decided, and to be bought."""

    due_on: date
    ended_on: date | None = None
    undecided: int = 0
    to_buy: int = 0


def trial_state(days: TrialDays, today: date) -> str:
    """Give the code of the state that a trial is in on a day; what is undecided counts before what is to be bought."""
    if days.ended_on is not None:
        return OVER
    if days.undecided:
        if days.due_on < today:
            return OVERDUE
        return DUE_SOON if days.due_on <= today + timedelta(days=DUE_SOON_DAYS) else OUT
    return TO_BUY if days.to_buy else TO_SETTLE
