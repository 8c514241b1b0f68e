"""Where things are, proved: moves follow each other, an ended stay was left, what is out is out by its own trial."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from sqlalchemy import and_, or_, select

from shopledger.model import (
    Custody,
    Instrument,
    Placing,
    Shipment,
    ShipmentLine,
    Stay,
    Trial,
    TrialLine,
)
from shopledger.quantities.words import N_
from shopledger.rules.custody import GONE, HANDED_OVER, LOST, ON_TRIAL
from shopledger.store.proof.finding import Proof

_WHAT = "custody"


def prove_custody(proof: Proof) -> None:
    """Go through all moves of each instrument as they were written, and compare them with what they are of."""
    moves = list(
        proof.rows(
            select(
                Custody.id,
                Custody.stay_id,
                Custody.place,
                Custody.since,
                Custody.holder,
                Custody.person_id,
                Custody.trial_id,
                Custody.placing_id,
                Custody.shipment_id,
                Stay.instrument_id,
                Stay.came_in_on,
                Instrument.number,
            )
            .join(Stay, Stay.id == Custody.stay_id)
            .join(Instrument, Instrument.id == Stay.instrument_id)
            .order_by(Custody.id)
        )
    )
    of_instrument: dict[int, list[Any]] = defaultdict(list)
    of_stay: dict[int, list[Any]] = defaultdict(list)
    for move in moves:
        of_instrument[move.instrument_id].append(move)
        of_stay[move.stay_id].append(move)
    for each in of_instrument.values():
        _in_order(proof, each)
    _stays(proof, of_stay)
    _trials(proof, moves, of_stay)
    _elsewhere(proof, moves)


def _in_order(proof: Proof, moves: Sequence[Any]) -> None:
    """A later move is not of an earlier day; a stay goes on after another one where its sale was taken back."""
    for before, after in pairwise(moves):
        if after.since < before.since:
            proof.wrong(
                _WHAT,
                after.number,
                N_(
                    "{instrument} moved on {day}, written after its move of {later}: the days are out of order."
                ),
                instrument=after.number,
                day=after.since,
                later=before.since,
            )
    for move in moves:
        if move.since < move.came_in_on:
            proof.wrong(
                _WHAT,
                move.number,
                N_("{instrument} moved on {day}, before it came in."),
                instrument=move.number,
                day=move.since,
            )


def _stays(proof: Proof, of_stay: dict[int, list[Any]]) -> None:
    """A stay is somewhere from its first day on; it has ended where its last move took it out of the shop's care."""
    for stay in proof.rows(select(Stay.id, Stay.number, Stay.came_in_on, Stay.ended_on, Stay.ending)):
        moves = of_stay.get(stay.id)
        if not moves or moves[0].since != stay.came_in_on:
            proof.wrong(
                _WHAT,
                stay.number,
                N_("{stay} came in on {day}, but nothing says where it was from that day on."),
                stay=stay.number,
                day=stay.came_in_on,
            )
            continue
        last = moves[-1]
        if stay.ended_on is None:
            fits = last.place not in GONE
        elif stay.ending == "lost":
            fits = (last.place, last.since) == (LOST, stay.ended_on)
        else:
            fits = (last.place, last.since) == (HANDED_OVER, stay.ended_on)
        if not fits:
            proof.wrong(
                _WHAT,
                stay.number,
                N_("{stay} has ended or goes on, but its last move, to {place} on {day}, doesn't say so."),
                stay=stay.number,
                place=last.place,
                day=last.since,
            )


def _trials(proof: Proof, moves: Sequence[Any], of_stay: dict[int, list[Any]]) -> None:
    """What is on trial is there by a line of that trial, with its player; what a trial has out is there."""
    players = proof.pairs(select(Trial.id, Trial.person_id))
    lines = {(row.trial_id, row.stay_id) for row in proof.rows(select(TrialLine.trial_id, TrialLine.stay_id))}
    for move in moves:
        lent = (move.trial_id, move.stay_id) in lines
        with_player = move.holder == "carrier" or move.person_id == players.get(move.trial_id)
        if (move.place == ON_TRIAL) != (move.trial_id is not None) or (
            move.trial_id is not None and not (lent and with_player)
        ):
            proof.wrong(
                _WHAT,
                move.number,
                N_("{instrument} went out on {day}, but by no line of a trial of whoever has it."),
                instrument=move.number,
                day=move.since,
            )
    out = or_(
        TrialLine.decided_on.is_(None), and_(TrialLine.decision == "bought", TrialLine.sale_id.is_(None))
    )
    for row in proof.rows(
        select(Trial.id, Trial.number, TrialLine.n, TrialLine.stay_id)
        .join(Trial, Trial.id == TrialLine.trial_id)
        .where(out, TrialLine.stay_id.is_not(None))
    ):
        last = of_stay[row.stay_id][-1] if of_stay.get(row.stay_id) else None
        if last is None or (last.place, last.trial_id) != (ON_TRIAL, row.id):
            proof.wrong(
                _WHAT,
                row.number,
                N_("Line {n} of {trial} is out, but its instrument is not with the player."),
                n=row.n,
                trial=row.number,
            )


def _elsewhere(proof: Proof, moves: Sequence[Any]) -> None:
    """A move by a placing or a shipment is of a thing that was placed or sent by it."""
    placed = {(row.id, row.stay_id) for row in proof.rows(select(Placing.id, Placing.stay_id))}
    sent = {
        (row.id, row.stay_id)
        for row in proof.rows(
            select(Shipment.id, ShipmentLine.stay_id).join(
                ShipmentLine, ShipmentLine.shipment_id == Shipment.id
            )
        )
    }
    for move in moves:
        by_placing = move.placing_id is None or (move.placing_id, move.stay_id) in placed
        by_shipment = move.shipment_id is None or (move.shipment_id, move.stay_id) in sent
        if not by_placing or not by_shipment:
            proof.wrong(
                _WHAT,
                move.number,
                N_("{instrument} moved on {day} by a placing or a shipment of something else."),
                instrument=move.number,
                day=move.since,
            )
