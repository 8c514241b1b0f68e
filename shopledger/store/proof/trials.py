"""Trials proved: ends as agreed and extended, lines decided by what became of them, deposits of their players."""

from __future__ import annotations

import json
from collections import defaultdict
from itertools import pairwise
from typing import Any

from sqlalchemy import func, select

from shopledger.model import (
    Custody,
    Entry,
    Paper,
    Payment,
    Refund,
    Sale,
    SaleLine,
    Trial,
    TrialExtension,
    TrialLine,
)
from shopledger.quantities.words import N_
from shopledger.rules.custody import HERE, LOST
from shopledger.store.proof.finding import Proof

_WHAT = "trial"


def prove_trials(proof: Proof) -> None:
    """Compare every trial with its agreement, its extensions, sales, moves and deposits."""
    lines = _grouped(proof, select(TrialLine).order_by(TrialLine.trial_id, TrialLine.n))
    held = _held(proof)
    agreements = proof.pairs(select(Paper.number, Paper.facts).where(Paper.kind == "trial_agreement"))
    ends = _grouped(proof, select(TrialExtension).order_by(TrialExtension.id))
    for trial in proof.rows(select(Trial).order_by(Trial.id)):
        of = lines[trial.id]
        _agreed(proof, trial, of, agreements.get(trial.number), ends[trial.id])
        _ended(proof, trial, of, held.get(trial.id, 0))
    _lines(proof)
    _players(proof)


def _grouped(proof: Proof, question: Any) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for row in proof.rows(question):
        found[row.trial_id].append(row)
    return found


def _held(proof: Proof) -> dict[int, int]:
    """Give by trial what is held of its deposits: paid, neither set off, kept nor given back."""
    deposits = {
        row.id: row
        for row in proof.rows(
            select(Payment.id, Payment.trial_id, Payment.number, Payment.minor).where(
                Payment.trial_id.is_not(None), Payment.bounced_on.is_(None)
            )
        )
    }
    used: dict[int, int] = defaultdict(int)
    for question in (
        select(Payment.deposit_id, func.sum(Payment.minor)).where(
            Payment.deposit_id.is_not(None), Payment.bounced_on.is_(None)
        ),
        select(Refund.deposit_id, func.sum(Refund.minor)).where(Refund.deposit_id.is_not(None)),
    ):
        for deposit_id, minor in proof.rows(question.group_by(question.selected_columns[0])):
            used[deposit_id] += int(minor)
    held: dict[int, int] = defaultdict(int)
    for key, row in deposits.items():
        left = int(row.minor) - used[key]
        held[row.trial_id] += left
        if left < 0:
            proof.wrong(
                _WHAT,
                row.number,
                N_("Of the deposit {number}, {over} more was set off, kept or given back than was paid."),
                number=row.number,
                over=proof.money(-left),
            )
    return held


def _agreed(proof: Proof, trial: Any, lines: list[Any], facts: str | None, ends: list[Any]) -> None:
    """A trial has the lines, values and end that its agreement states, and any later end by an extension."""
    stated = {} if facts is None else json.loads(facts)
    values = [(line["n"], line["value"]["minor"]) for line in stated.get("lines", ())]
    if not lines or values != [(line.n, line.value) for line in lines]:
        proof.wrong(
            _WHAT,
            trial.number,
            N_("{trial} doesn't have the lines and values that its agreement states."),
            trial=trial.number,
        )
    first = ends[0].due_before_on if ends else trial.due_on
    in_turn = all(one.due_on == after.due_before_on for one, after in pairwise(ends))
    if (
        [stated.get("began_on"), stated.get("due_on")] != [str(trial.began_on), str(first)]
        or not in_turn
        or (ends and ends[-1].due_on != trial.due_on)
    ):
        proof.wrong(
            _WHAT,
            trial.number,
            N_("{trial} began or is due on a day that was neither agreed nor extended to."),
            trial=trial.number,
        )


def _ended(proof: Proof, trial: Any, lines: list[Any], held: int) -> None:
    """A trial is over when every line is decided and sold, back or lost, and nothing of its deposit is held."""
    out = any(
        line.decided_on is None or (line.decision == "bought" and line.sale_id is None) for line in lines
    )
    if (trial.ended_on is not None) != (not out and not held):
        proof.wrong(
            _WHAT,
            trial.number,
            N_("{trial} is over or goes on, but what is out and {held} of its deposit say otherwise."),
            trial=trial.number,
            held=proof.money(held),
        )
    days = [line.decided_on for line in lines if line.decided_on is not None]
    days += [trial.due_on] if trial.ended_on is None else [trial.ended_on]
    if min(days) < trial.began_on or (trial.ended_on is not None and max(days) > trial.ended_on):
        proof.wrong(
            _WHAT,
            trial.number,
            N_("{trial} was decided or ended before it began, or decided after it ended."),
            trial=trial.number,
        )


def _lines(proof: Proof) -> None:
    """A line that was bought is sold to its player, one that came back or was lost moved so on that day."""
    moved = {
        (row.stay_id, row.place, row.since)
        for row in proof.rows(select(Custody.stay_id, Custody.place, Custody.since))
    }
    buyers = proof.pairs(select(Sale.id, Sale.buyer_id))
    sold = {(row.sale_id, row.stay_id) for row in proof.rows(select(SaleLine.sale_id, SaleLine.stay_id))}
    for line in proof.rows(
        select(TrialLine, Trial.number, Trial.person_id)
        .join(Trial, Trial.id == TrialLine.trial_id)
        .order_by(TrialLine.id)
    ):
        if line.decision == "bought" and line.sale_id is not None:
            fits = buyers.get(line.sale_id) == line.person_id and (
                line.stay_id is None or (line.sale_id, line.stay_id) in sold
            )
        else:
            fits = line.sale_id is None
        if line.stay_id is not None and line.decision in ("returned", "lost"):
            place = HERE if line.decision == "returned" else LOST
            fits = fits and (line.stay_id, place, line.decided_on) in moved
        if not fits:
            proof.wrong(
                _WHAT,
                line.number,
                N_("Line {n} of {trial} is decided, but by no sale to its player, no return and no loss."),
                n=line.n,
                trial=line.number,
            )


def _booked_for(source: str) -> str:
    """Give the number of the trial that an entry booked a deposit for; nothing of another entry."""
    number = source.removesuffix(" deposit")
    return number if number != source and number.startswith("TR ") else ""


def _players(proof: Proof) -> None:
    """A deposit of a trial is its player's, and that of the trial it was booked for."""
    for row in proof.rows(
        select(Payment.number, Trial.number.label("trial"), Entry.source)
        .join(Entry, Entry.id == Payment.entry_id)
        .outerjoin(Trial, Trial.id == Payment.trial_id)
        .order_by(Payment.id)
    ):
        if _booked_for(row.source) != (row.trial or ""):
            proof.wrong(
                _WHAT,
                row.number,
                N_("The deposit {number} was booked for “{booked}”, but stands with “{trial}”."),
                number=row.number,
                booked=_booked_for(row.source),
                trial=row.trial or "",
            )
    for row in proof.rows(
        select(Payment.number, Trial.number.label("trial"))
        .join(Trial, Trial.id == Payment.trial_id)
        .where(Payment.person_id != Trial.person_id)
        .order_by(Payment.id)
    ):
        proof.wrong(
            _WHAT,
            row.number,
            N_("The deposit {number} is held for {trial}, but its player didn't pay it."),
            number=row.number,
            trial=row.trial,
        )
