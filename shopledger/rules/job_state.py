"""The state of a job, which follows from the days on which things happened and is stored nowhere."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.quantities.words import N_

TO_ESTIMATE = "to_estimate"
WAITS_FOR_CLIENT = "waits_for_client"
AGREED = "agreed"
ON_BENCH = "on_bench"
WAITS_FOR_PART = "waits_for_part"
READY = "ready"
DECLINED = "declined"
COLLECTED = "collected"
RETURNED = "declined_returned"
LIEN = "lien"
STAYS = "stays"
LOST = "job_lost"

JOB_STATES: dict[str, str] = {
    TO_ESTIMATE: N_("to be estimated"),
    WAITS_FOR_CLIENT: N_("waiting for the client"),
    AGREED: N_("agreed"),
    ON_BENCH: N_("on the bench"),
    WAITS_FOR_PART: N_("waiting for a part"),
    READY: N_("ready"),
    DECLINED: N_("declined, to be returned"),
    COLLECTED: N_("collected"),
    RETURNED: N_("declined and returned"),
    LIEN: N_("sold for what was owed"),
    STAYS: N_("done; it stays with the shop"),
    LOST: N_("lost in the shop"),
}
"""The marked words of every state, in the order in which a job goes through them."""
OPEN_STATES = (TO_ESTIMATE, WAITS_FOR_CLIENT, AGREED, ON_BENCH, WAITS_FOR_PART, READY, DECLINED)
"""Those of a job that has not ended."""
_ENDED = {"collected": COLLECTED, "declined": RETURNED, "lien": LIEN, "stays": STAYS, "lost": LOST}


@dataclass(frozen=True, slots=True)
class JobDays:
    """The days of a job from which its state follows."""

    estimated_on: date | None = None
    approved_on: date | None = None
    begun_on: date | None = None
    waits_for: str = ""
    ready_on: date | None = None
    declined_on: date | None = None
    ended_on: date | None = None
    ending: str | None = None


def job_state(days: JobDays) -> str:
    """Give the code of the state that a job is in: what came last in its course counts."""
    if days.ended_on is not None:
        return _ENDED[days.ending or "collected"]
    steps = (
        (days.ready_on is not None, READY),
        (bool(days.waits_for), WAITS_FOR_PART),
        (days.begun_on is not None, ON_BENCH),
        (days.approved_on is not None, AGREED),
        (days.declined_on is not None, DECLINED),
        (days.estimated_on is not None, WAITS_FOR_CLIENT),
    )
    return next((state for reached, state in steps if reached), TO_ESTIMATE)
