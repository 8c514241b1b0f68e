"""What is asked of everything that is to go out of the shop's hands, whoever is to have it."""

from __future__ import annotations

from shopledger.acts.describing import instrument_of
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import refuse_sold
from shopledger.model import Stay
from shopledger.model.stays import OFFERED
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_
from shopledger.queries.facts.jobs import job_going_on
from shopledger.queries.on_trial import refuse_on_trial
from shopledger.queries.standing import last_stay
from shopledger.store.unit import Reading


def free_to_go(reading: Reading, instrument_id: int, not_offered: str) -> tuple[Stay, str]:
    """Give the stay and the number of an instrument that is offered for sale and neither sold, out nor at work.

    Shape:  `not_offered` is the sentence for what is here for another reason, with its {instrument}.
    Raises: NotFound, Refused: it is not so.
    """
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    number = instrument_of(reading, instrument_id).number
    refuse_on_trial(reading, stay.id, number)
    job = job_going_on(reading, stay.id)
    if job is not None:
        raise Refused(
            N_("{instrument} has the job {job} open. Go to that job and end it first."),
            instrument=number,
            job=job,
        )
    if stay.reason not in OFFERED:
        raise Refused(not_offered, instrument=number)
    return stay, number


def not_here(instrument: str) -> Refused:
    """Give the refusal of what can't go out since it isn't here; `instrument` is its number."""
    return Refused(
        N_("{instrument} is not here. Record that it came back before it goes out."), instrument=instrument
    )


def refuse_not_here(reading: Reading, instrument_id: int, instrument: str) -> None:
    """Refuse to let out what isn't here; `instrument` is its number."""
    now = last_stay(reading, instrument_id)
    if now is None or now.place != "here":
        raise not_here(instrument)
