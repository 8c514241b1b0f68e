"""Numbers proved: every series counts without gaps, and what each counter says was given is there."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from sqlalchemy import select

from shopledger.model import (
    Agreement,
    Charge,
    Counter,
    Damage,
    Estimate,
    FeePayment,
    Goods,
    Instrument,
    Job,
    Loss,
    Paper,
    Payment,
    Payout,
    Person,
    Placing,
    Refund,
    Sale,
    Settlement,
    Shipment,
    Stay,
    StockTake,
    Trial,
    Valuation,
    Wish,
)
from shopledger.quantities.words import N_
from shopledger.rules.claims import claim_number
from shopledger.rules.series import SERIES
from shopledger.store.proof.finding import Proof

TABLE_OF: dict[str, Any] = {
    "person": Person,
    "instrument": Instrument,
    "stay": Stay,
    "agreement": Agreement,
    "sale": Sale,
    "payment": Payment,
    "refund": Refund,
    "settlement": Settlement,
    "payout": Payout,
    "charge": Charge,
    "fee": FeePayment,
    "loss": Loss,
    "job": Job,
    "estimate": Estimate,
    "goods": Goods,
    "trial": Trial,
    "placing": Placing,
    "shipment": Shipment,
    "valuation": Valuation,
    "damage": Damage,
    "stock_take": StockTake,
    "wish": Wish,
}
"""The record that carries the numbers of a series; those of the other series stand on papers only."""


def _written(series: str, year: int, n: int) -> str:
    """Give a number as it was given: a job's is its claim number, with its digit of check."""
    return claim_number(year, n) if series == "job" else SERIES[series].write(year, n)


def prove_numbers(proof: Proof) -> None:
    """Compare the numbers given in each series and year with those that are there."""
    given: dict[str, set[str]] = defaultdict(set)
    for series, year, last in proof.rows(select(Counter.series, Counter.year, Counter.last)):
        if series in SERIES:
            given[series] |= {_written(series, year, n) for n in range(1, last + 1)}
        elif series != "deed":  # acts are compared with their own counter
            proof.wrong("number", series, N_("There is no series of numbers called {series}."), series=series)
    given["person"].add(SERIES["person"].write(0, 0))  # the shop itself
    papers = set(proof.connection.scalars(select(Paper.number)))
    for series, rule in SERIES.items():
        record = TABLE_OF.get(series)
        there = (
            {number for number in papers if number.startswith(f"{rule.letters} ")}
            if record is None
            else set(proof.connection.scalars(select(record.number)))
        )
        for number in sorted(given[series] - there):
            proof.wrong(
                "number", number, N_("The number {number} was given, but nothing carries it."), number=number
            )
        for number in sorted(there - given[series]):
            proof.wrong("number", number, N_("The number {number} was never given."), number=number)
        if record is not None:
            own = {number for number in papers if number.startswith(f"{rule.letters} ")}
            for number in sorted({number.partition("/")[0] for number in own} - there):
                proof.wrong(
                    "paper",
                    number,
                    N_("There is a paper {number}, but what it is about isn't there."),
                    number=number,
                )
