"""What a set-up sheet states: each measure and string before and after the work, and the difference."""

from __future__ import annotations

from datetime import date

from sqlalchemy import func, select

from shopledger.model import Measurement, SetupString
from shopledger.papers.setup_sheet import SetupFacts, SetupMeasureFacts, SetupStringFacts
from shopledger.quantities.measured import Measured, other_unit_of
from shopledger.quantities.words import _
from shopledger.queries.facts.jobs import job_head, job_named
from shopledger.queries.setup import SetupMeasure, StringOn, setup_of
from shopledger.store.unit import Reading


def setup_facts(reading: Reading, job_id: int, number: str, on: date) -> SetupFacts:
    """Give what the set-up sheet of a job states.

    Raises: NotFound: there is no such job.
    """
    job = job_named(reading, job_id)
    found = setup_of(reading, job_id)
    return SetupFacts(
        **job_head(reading, job, number, on),
        set_up_on=_last_taken(reading, job_id) or on,
        measures=tuple(_measure(reading, one) for one in found.measures),
        strings=tuple(
            SetupStringFacts(
                place=_("No. {n}").format(n=pair.n), before=_string(pair.before), after=_string(pair.after)
            )
            for pair in found.strings
        ),
    )


def _last_taken(reading: Reading, job_id: int) -> date | None:
    """Give the day of the last reading of a job."""
    days = (
        reading.session.scalar(
            select(func.max(Measurement.taken_on)).where(
                Measurement.job_id == job_id, Measurement.stage != ""
            )
        ),
        reading.session.scalar(select(func.max(SetupString.taken_on)).where(SetupString.job_id == job_id)),
    )
    return max((day for day in days if day is not None), default=None)


def _measure(reading: Reading, one: SetupMeasure) -> SetupMeasureFacts:
    words = one.words
    return SetupMeasureFacts(
        label=words[:1].upper() + words[1:],
        before="" if one.before is None else one.before.typed,
        before_other=_other(reading, one.before),
        after="" if one.after is None else one.after.typed,
        after_other=_other(reading, one.after),
        difference=one.difference(reading.ledger.manners),
    )


def _other(reading: Reading, figure: Measured | None) -> str:
    return "" if figure is None else other_unit_of(figure, reading.ledger.manners)


def _string(on: StringOn | None) -> str:
    return "" if on is None else ", ".join(word for word in (on.pitch, on.what, on.gauge) if word)
