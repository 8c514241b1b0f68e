"""Where an instrument goes: the one way a row of custody is written; rows are never changed, the newest one counts."""

from __future__ import annotations

from datetime import date

from sqlalchemy import bindparam, select

from shopledger.model import Custody, Instrument, Stay, Trial
from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_
from shopledger.store.unit import Writing

_OF_STAY = select(Stay.instrument_id).where(Stay.id == bindparam("stay")).scalar_subquery()
# Put together once: most acts that move an instrument ask it.
_LAST_MOVE = (
    select(Custody.since, Instrument.number)
    .join(Stay, Stay.id == Custody.stay_id)
    .join(Instrument, Instrument.id == Stay.instrument_id)
    .where(Instrument.id == _OF_STAY)
    .order_by(Custody.id.desc())
    .limit(1)
)


def move(
    writing: Writing,
    stay_id: int,
    place: str,
    *,
    holder: str | None = None,
    person_id: int | None = None,
    words: str = "",
    risk: str | None = None,
    insured_by: str | None = None,
    insured_for: int | None = None,
    trial_id: int | None = None,
    placing_id: int | None = None,
    shipment_id: int | None = None,
) -> Custody:
    """Say where an instrument is from the day of the act on; of two moves on one day the later one counts.

    Units:   `insured_for` in minor units of the shop's currency.
    Shape:   risk and insurance are left out where they follow from the agreement, as for what is in the shop.
    Raises:  Typed, naming `on`: it was moved after that day already, so that the days would contradict each other.
    """
    last = writing.session.execute(_LAST_MOVE, {"stay": stay_id}).first()
    if last is not None:
        refuse_before(writing.on, last[0], last[1])
    row: Custody = writing.add(
        Custody(
            stay_id=stay_id,
            place=place,
            since=writing.on,
            holder=holder,
            person_id=person_id,
            words=words,
            risk=risk,
            insured_by=insured_by,
            insured_for=insured_for,
            trial_id=trial_id,
            placing_id=placing_id,
            shipment_id=shipment_id,
        )
    )
    return row


def to_player(writing: Writing, stay_id: int, trial: Trial, value: int | None) -> None:
    """Say that an instrument is with the player of a trial, at its risk and value in minor units."""
    move(
        writing,
        stay_id,
        "on_trial",
        holder="player",
        person_id=trial.person_id,
        words=trial.number,
        risk=trial.risk,
        insured_by=trial.insured_by,
        insured_for=value,
        trial_id=trial.id,
    )


def refuse_before(on: date, since: date, instrument: str) -> None:
    """Refuse a day before the instrument came to where it is.

    Raises: Typed, naming `on`.
    """
    if on < since:
        raise Typed(
            N_("{instrument} came to where it is on {day}: nothing can happen to it before that day."),
            field="on",
            instrument=instrument,
            day=since,
        )
