"""What is elsewhere proved: a placing that goes on is where its dealer is, one that ended says how."""

from __future__ import annotations

from sqlalchemy import func, select

from shopledger.model import Custody, Placing, Stay
from shopledger.quantities.words import N_
from shopledger.store.proof.finding import Proof


def prove_away(proof: Proof) -> None:
    """Compare every placing with where its instrument is by the newest row of custody."""
    newest = select(func.max(Custody.id)).where(Custody.stay_id == Placing.stay_id).correlate(Placing)
    for row in proof.rows(
        select(
            Placing.number,
            Placing.id,
            Placing.since,
            Placing.ended_on,
            Placing.ending,
            Custody.place,
            Custody.placing_id,
            Stay.ended_on.label("left_on"),
        )
        .join(Stay, Stay.id == Placing.stay_id)
        .outerjoin(Custody, Custody.id == newest.scalar_subquery())
        .order_by(Placing.id)
    ):
        if (row.ended_on is None) != (row.ending is None) or (row.ended_on or row.since) < row.since:
            proof.wrong(
                "placing",
                row.number,
                N_("{placing} doesn't say when and how it ended, or ended before it began."),
                placing=row.number,
            )
        if row.ended_on is None and (row.left_on, row.place, row.placing_id) != (None, "away", row.id):
            proof.wrong(
                "placing",
                row.number,
                N_("{placing} goes on, but its instrument is not with that dealer."),
                placing=row.number,
            )
