"""Jobs on what was lost in the shop: they end with it; a deposit stays the client's until it is given back."""

from __future__ import annotations

from sqlalchemy import select

from shopledger.acts.working import MOST_MINUTES, clock_of, clocked
from shopledger.model import Job, Stay
from shopledger.store.unit import Writing


def end_jobs_of_lost(writing: Writing, stay: Stay) -> None:
    """End the job that is open on a stay; a clock that runs is stopped, at a day where nobody had stopped it."""
    for job in writing.session.scalars(
        select(Job).where(Job.stay_id == stay.id, Job.ended_on.is_(None)).order_by(Job.id)
    ).all():
        clock = clock_of(writing, job.id)
        if clock is not None and clock.started_at is not None:
            clock.minutes = min(MOST_MINUTES, clocked(clock.started_at, writing.at))
        job.waits_for = ""
        job.ended_on, job.ending = writing.on, "lost"
    writing.session.flush()
