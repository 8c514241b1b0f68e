"""Estimates proved: their lines, discount and tax, reckoned anew, come to what each of them says it comes to."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from sqlalchemy import select

from shopledger.model import Estimate, EstimateLine
from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_
from shopledger.rules.estimating import LineRange, reckon_estimate
from shopledger.store.proof.finding import Proof


def prove_estimates(proof: Proof) -> None:
    """Reckon every estimate anew from its lines."""
    lines: dict[int, list[Any]] = defaultdict(list)
    for line in proof.rows(select(*EstimateLine.__table__.c).order_by(EstimateLine.n)):
        lines[line.estimate_id].append(line)
    for made in proof.rows(select(*Estimate.__table__.c).order_by(Estimate.id)):
        try:
            reckoned = reckon_estimate(
                [
                    LineRange(proof.money(line.low), proof.money(line.high), bool(line.is_taxed))
                    for line in lines[made.id]
                ],
                proof.money(made.discount),
                made.tax_rate,
                by_invoice=made.tax_basis == "invoice",
            )
        except Typed as error:
            proof.wrong("estimate", made.number, error.message, **error.values)
            continue
        low, high = reckoned.low, reckoned.high
        for said, wanted in (
            (made.net_low, low.net),
            (made.net_high, high.net),
            (made.tax_low, low.tax),
            (made.tax_high, high.tax),
        ):
            if said != wanted.minor:
                proof.wrong(
                    "estimate",
                    made.number,
                    N_("{number} says {said} where its lines come to {wanted}."),
                    number=made.number,
                    said=proof.money(said),
                    wanted=wanted,
                )
