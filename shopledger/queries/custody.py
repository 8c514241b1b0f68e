"""Custody asked: where one instrument is on a day, or every one of them, with whom, at whose risk and how insured."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import (
    Agreement,
    Custody,
    Instrument,
    Person,
    Placing,
    Shipment,
    Stay,
    Terms,
    Trial,
    field_of,
)
from shopledger.model.stays import BEARERS, HOLDERS, INSURERS
from shopledger.quantities.errors import NotFound
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.sheet_shapes import Fact, Group
from shopledger.rules import custody
from shopledger.rules.custody import Insured, Moved, Standing, last_move, standing

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class InCustody:
    """One instrument with where it is on a day; `reason` is that of its stay then, nothing before the first."""

    instrument_id: int
    reason: str
    at: Standing


def custody_on(
    reading: Reading, on: date, instrument_ids: Sequence[int] | None = None
) -> tuple[InCustody, ...]:
    """Give where every instrument is on a day, or these; also what was not in yet, handed over or lost, by number."""
    asked = select(Instrument.id).order_by(Instrument.id)
    if instrument_ids is not None:
        asked = asked.where(Instrument.id.in_(list(instrument_ids)))
    keys = tuple(reading.session.scalars(asked))
    moves = _moves(reading, instrument_ids)
    at = {key: last_move(moves.get(key, ()), on) for key in keys}
    stays = {
        row.id: row
        for row in reading.session.execute(
            select(Stay.id, Stay.reason, Stay.insured_value).where(
                Stay.id.in_([move.stay for move in at.values() if move is not None])
            )
        )
    }
    agreed = _insured(reading, on, list(stays))
    found = []
    for key in keys:
        move = at[key]
        if move is None:
            found.append(InCustody(key, "", standing((), on)))
            continue
        stay = stays[move.stay]
        found.append(
            InCustody(
                key,
                stay.reason,
                standing(
                    moves[key],
                    on,
                    reason=stay.reason,
                    insured=agreed.get(stay.id, ()),
                    insured_value=stay.insured_value,
                ),
            )
        )
    return tuple(found)


def custody_of(reading: Reading, instrument_id: int, on: date) -> InCustody:
    """Give where one instrument is on a day.

    Raises: NotFound: there is no such instrument.
    """
    found = custody_on(reading, on, [instrument_id])
    if not found:
        raise NotFound(N_("There is no instrument with the key {id} in this ledger."), id=instrument_id)
    return found[0]


def _moves(reading: Reading, instrument_ids: Sequence[int] | None) -> Mapping[int, list[Moved]]:
    """Give the rows of custody by instrument, as they were written."""
    question = (
        select(
            Stay.instrument_id,
            Custody.stay_id,
            Custody.place,
            Custody.since,
            Custody.holder,
            Custody.person_id,
            Custody.words,
            Custody.risk,
            Custody.insured_by,
            Custody.insured_for,
            Custody.trial_id,
            Custody.placing_id,
            Custody.shipment_id,
        )
        .join(Stay, Stay.id == Custody.stay_id)
        .order_by(Custody.id)
    )
    if instrument_ids is not None:
        question = question.where(Stay.instrument_id.in_(list(instrument_ids)))
    found: dict[int, list[Moved]] = defaultdict(list)
    for row in reading.rows(question, {}):
        key, stay, place, since, holder, person, words, risk, by, amount, trial, placing, shipment = row
        found[key].append(
            Moved(
                stay=stay,
                place=place,
                since=since,
                holder=holder,
                person_id=person,
                words=words,
                risk=risk,
                insured_by=by,
                insured_for=amount,
                trial_id=trial,
                placing_id=placing,
                shipment_id=shipment,
            )
        )
    return found


def _insured(reading: Reading, on: date, stay_ids: Sequence[int]) -> Mapping[int, list[Insured]]:
    """Give what was agreed of insurance up to a day, by stay, in the order it was agreed."""
    found: dict[int, list[Insured]] = defaultdict(list)
    for stay_id, since, by, value in reading.rows(
        select(Agreement.stay_id, Terms.agreed_on, Terms.insured_by, Terms.agreed_value)
        .join(Terms, Terms.agreement_id == Agreement.id)
        .where(Agreement.stay_id.in_(stay_ids), Terms.agreed_on <= on)
        .order_by(Terms.id),
        {},
    ):
        found[stay_id].append(Insured(since, by, value))
    return found


def place_words(at: Standing, names: Mapping[int, str]) -> str:
    """Give in words where something is and with whom."""
    word = _(custody.PLACES[at.place])
    name = names.get(at.person_id or 0, "")
    if at.place == custody.AWAY and at.holder is not None:
        holder = _(dict(HOLDERS)[at.holder])
        with_whom = _("{holder}, {name}").format(holder=holder, name=name) if name else holder
        return _("{place}: with {whom}").format(place=word, whom=with_whom)
    return _("{place}: with {whom}").format(place=word, whom=name) if name else word


def names_in(reading: Reading, found: Sequence[InCustody]) -> Mapping[int, str]:
    """Give the names of the people with whom things are, by their keys."""
    keys = {one.at.person_id for one in found if one.at.person_id is not None}
    rows = reading.session.execute(select(Person.id, Person.name).where(Person.id.in_(keys)))
    return {key: name for key, name in rows}  # noqa: C416 - a result has keys(), so dict() misreads it


def risk_words(at: Standing) -> str:
    """Give who bears the risk, or that nothing is agreed."""
    return _("nothing agreed") if at.risk is None else _(dict(BEARERS).get(at.risk, at.risk))


def insurer_words(code: str | None) -> str:
    """Give who insures something, or that nobody has said."""
    return _("nobody has said") if code is None else _(dict(INSURERS).get(code, code))


def where_it_is(reading: Reading, instrument_id: int) -> tuple[Group, ...]:
    """Give the facts of where an instrument is today, for its page; nothing of what is not in the shop's care."""
    one = custody_of(reading, instrument_id, reading.ledger.today())
    at = one.at
    if not at.in_care:
        return ()
    manners = reading.ledger.manners
    insured = insurer_words(at.insured_by)
    if at.insured_for is not None:
        insured = _("{by}, for {amount}").format(
            by=insured, amount=show_amount(reading.money(at.insured_for), manners, dash=False)
        )
    return (
        Group(
            N_("Where it is"),
            (
                Fact(N_("Where"), place_words(at, names_in(reading, [one])), at.words),
                Fact(field_of(Custody.since).label, at.since),
                Fact(field_of(Custody.risk).label, risk_words(at)),
                Fact(field_of(Custody.insured_by).label, insured),
                *_elsewhere(reading, at),
            ),
        ),
    )


def _elsewhere(reading: Reading, at: Standing) -> tuple[Fact, ...]:
    """Give what its trial, its placing and its shipment say."""
    facts: list[Fact] = []
    manners = reading.ledger.manners
    if at.trial_id is not None:
        trial = reading.session.get_one(Trial, at.trial_id)
        facts.append(Fact(field_of(Trial.due_on).label, trial.due_on, trial.number))
    if at.placing_id is not None:
        placing = reading.session.get_one(Placing, at.placing_id)
        facts.append(Fact(field_of(Placing.until).label, placing.until, placing.number))
        if placing.ending == "sold" and placing.ended_on is not None:
            facts.append(
                Fact(
                    field_of(Placing.ending).label,
                    _("sold by the dealer"),
                    show_day(placing.ended_on, manners),
                )
            )
    if at.shipment_id is not None:
        shipment = reading.session.get_one(Shipment, at.shipment_id)
        tracking = _("{carrier}, {tracking}").format(carrier=shipment.carrier, tracking=shipment.tracking)
        facts.append(
            Fact(
                field_of(Shipment.carrier).label,
                tracking if shipment.tracking else shipment.carrier,
                shipment.number,
            )
        )
    return tuple(facts)
