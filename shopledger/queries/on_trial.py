"""What is out on trial: the line of a stay that has not come back, and the lines and deposits of one trial."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, and_, bindparam, func, or_, select
from sqlalchemy.orm import aliased

from shopledger.model import Instrument, Payment, Person, Refund, Stay, Trial, TrialLine
from shopledger.quantities.errors import NotFound, Refused
from shopledger.quantities.words import N_
from shopledger.queries.declared import instrument_words

if TYPE_CHECKING:
    from shopledger.quantities.money import Money
    from shopledger.store.unit import Reading


def is_out() -> ColumnElement[bool]:
    """Give the condition that a line is still with the player: not decided, or to be bought and not sold yet."""
    return or_(
        TrialLine.decided_on.is_(None),
        and_(TrialLine.decision == "bought", TrialLine.sale_id.is_(None)),
    )


_OUT_OF_STAY = (
    select(
        TrialLine.id,
        Trial.id,
        Trial.number,
        Trial.person_id,
        Person.name,
        Trial.due_on,
        TrialLine.n,
        TrialLine.decision,
    )
    .join(Trial, Trial.id == TrialLine.trial_id)
    .join(Person, Person.id == Trial.person_id)
    .where(TrialLine.stay_id == bindparam("stay"), is_out())
    .order_by(TrialLine.id.desc())
    .limit(1)
)


@dataclass(frozen=True, slots=True)
class OnTrial:
    """The line by which an instrument is out: with whom, until when, whether it is to be bought."""

    line_id: int
    trial_id: int
    number: str
    person_id: int
    name: str
    due_on: date
    n: int
    decision: str | None


@dataclass(frozen=True, slots=True)
class LineOfTrial:
    """One thing of a trial as it stands: `words` name it, `is_out` says that it is still with the player."""

    id: int
    n: int
    stay_id: int | None
    instrument_id: int | None
    words: str
    value: int
    report_out_id: int | None
    report_back_id: int | None
    condition_out: str
    condition_back: str
    decided_on: date | None
    decision: str | None
    sale_id: int | None

    @property
    def is_out(self) -> bool:
        """Whether it is still with the player."""
        return self.decided_on is None or (self.decision == "bought" and self.sale_id is None)


def trial_named(reading: Reading, trial_id: int) -> Trial:
    """Give a trial's record.

    Raises: NotFound, in words.
    """
    trial = reading.find(Trial, trial_id)
    if trial is None:
        raise NotFound(N_("There is no such trial in the ledger. Choose one from the table of trials."))
    return trial


def on_trial(reading: Reading, stay_id: int) -> OnTrial | None:
    """Give by which line of which trial a stay is out; None where it isn't on trial."""
    found = reading.once(("on trial", stay_id), lambda: reading.rows(_OUT_OF_STAY, {"stay": stay_id}).first())
    return None if found is None else OnTrial(*found)


def refuse_on_trial(reading: Reading, stay_id: int, instrument: str) -> None:
    """Refuse what can't be done with an instrument that is out on trial; `instrument` is its number.

    Raises: Refused, with whom it is and until when.
    """
    out = on_trial(reading, stay_id)
    if out is not None:
        raise Refused(
            N_("{instrument} is on trial with {player} until {day} ({trial}). Take it back first."),
            instrument=instrument,
            player=out.name,
            day=out.due_on,
            trial=out.number,
        )


def lines_of_trial(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    """Give the lines of a trial in the order of its paper."""
    rows = reading.session.execute(
        select(TrialLine, Stay.instrument_id)
        .outerjoin(Stay, Stay.id == TrialLine.stay_id)
        .where(TrialLine.trial_id == trial_id)
        .order_by(TrialLine.n)
    ).all()
    named = instrument_words(reading, [key for _line, key in rows if key is not None])
    return tuple(
        LineOfTrial(
            id=line.id,
            n=line.n,
            stay_id=line.stay_id,
            instrument_id=key,
            words=line.what if key is None else named[key],
            value=line.value,
            report_out_id=line.report_out_id,
            report_back_id=line.report_back_id,
            condition_out=line.condition_out,
            condition_back=line.condition_back,
            decided_on=line.decided_on,
            decision=line.decision,
            sale_id=line.sale_id,
        )
        for line, key in rows
    )


def deposits_of_trial(reading: Reading, trial_id: int) -> Sequence[Payment]:
    """Give the deposits paid for a trial that did not bounce, in order."""
    return reading.session.scalars(
        select(Payment)
        .where(
            Payment.trial_id == trial_id,
            Payment.sale_id.is_(None),
            Payment.deposit_id.is_(None),
            Payment.bounced_on.is_(None),
        )
        .order_by(Payment.id)
    ).all()


def deposit_held_for(reading: Reading, trial_id: int) -> Money:
    """Give what is still held of the deposits for a trial: neither set off, forfeited nor given back."""
    return reading.money(deposits_held(reading, [trial_id]).get(trial_id, 0))


def deposits_held(reading: Reading, trial_ids: Sequence[int]) -> Mapping[int, int]:
    """Give by trial what is still held of its deposits, in minor units; trials without any are left out."""
    paid = aliased(Payment)
    of_trials = (paid.trial_id.in_(trial_ids), paid.deposit_id.is_(None), paid.bounced_on.is_(None))
    parts = (
        (1, select(paid.trial_id, func.sum(paid.minor)).where(*of_trials)),
        (
            -1,
            select(paid.trial_id, func.sum(Payment.minor))
            .join(Payment, Payment.deposit_id == paid.id)
            .where(*of_trials, Payment.bounced_on.is_(None)),
        ),
        (
            -1,
            select(paid.trial_id, func.sum(Refund.minor))
            .join(Refund, Refund.deposit_id == paid.id)
            .where(*of_trials),
        ),
    )
    held: dict[int, int] = {}
    for sign, question in parts:
        for trial_id, minor in reading.session.execute(question.group_by(paid.trial_id)):
            if trial_id is not None:
                held[trial_id] = held.get(trial_id, 0) + sign * int(minor or 0)
    return held


def kinds_out(reading: Reading, trial_id: int) -> tuple[str, ...]:
    """Give the kinds of the instruments of a trial that are still with the player."""
    return tuple(
        reading.session.scalars(
            select(Instrument.kind)
            .join(Stay, Stay.instrument_id == Instrument.id)
            .join(TrialLine, TrialLine.stay_id == Stay.id)
            .where(TrialLine.trial_id == trial_id, is_out())
            .order_by(TrialLine.n)
        )
    )
