"""Counts of the stock proved: one goes on at most, and an ended one says of each thing what its paper says."""

from __future__ import annotations

import json
from collections import defaultdict
from typing import Any

from sqlalchemy import select

from shopledger.model import Instrument, Paper, Stay, StockTake, StockTakeLine
from shopledger.quantities.words import N_
from shopledger.store.proof.finding import Proof

_WHAT = "count"


def prove_counts(proof: Proof) -> None:
    """Compare every count with its lines, and with the paper it left when it ended."""
    lines: dict[int, list[Any]] = defaultdict(list)
    for row in proof.rows(
        select(
            StockTakeLine.stock_take_id,
            StockTakeLine.was_expected,
            StockTakeLine.seen_at,
            Instrument.number,
        )
        .join(Stay, Stay.id == StockTakeLine.stay_id)
        .join(Instrument, Instrument.id == Stay.instrument_id)
    ):
        lines[row.stock_take_id].append(row)
    papers = proof.pairs(select(Paper.number, Paper.facts).where(Paper.kind == "stock_take"))
    going = []
    for count in proof.rows(select(StockTake).order_by(StockTake.id)):
        of = lines[count.id]
        if any(not line.was_expected and line.seen_at is None for line in of):
            proof.wrong(
                _WHAT,
                count.number,
                N_("{count} has a thing that was neither expected nor seen."),
                count=count.number,
            )
        if count.ended_on is None:
            going.append(count.number)
        elif count.ended_on < count.began_on:
            proof.wrong(_WHAT, count.number, N_("{count} ended before it began."), count=count.number)
        elif not _as_its_paper(of, papers.get(count.number)):
            proof.wrong(
                _WHAT,
                count.number,
                N_("{count} doesn't say of each thing what its paper says."),
                count=count.number,
            )
    if len(going) > 1:
        proof.wrong(
            _WHAT, going[-1], N_("Counts go on beside each other: {counts}."), counts=", ".join(going)
        )


def _as_its_paper(lines: list[Any], facts: str | None) -> bool:
    """Say whether the lines are those that the paper names under each of its headings."""
    if facts is None:
        return False
    stated = json.loads(facts)
    told = {
        "missing": [line.number for line in lines if line.was_expected and line.seen_at is None],
        "seen": [line.number for line in lines if line.was_expected and line.seen_at is not None],
        "unexpected": [line.number for line in lines if not line.was_expected],
    }
    return all(
        sorted(numbers) == sorted(one["number"] for one in stated[heading])
        for heading, numbers in told.items()
    )
