"""What is changed of estimates and of the numbers of jobs past the acts is noticed: planted and undone in turn."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from shopledger.acts.estimating_forms import EstimateRow
from shopledger.store.prove import prove
from tests.helpers.noticing import notice
from tests.helpers.shops import TriedShop, eur

PLANTED = {
    "a line at least": ("estimate_line SET low = low - 1 WHERE n = 1", "low = low + 1", "estimate"),
    "a line at most": ("estimate_line SET high = high + 1 WHERE n = 2", "high = high - 1", "estimate"),
    "a discount": ("estimate SET discount = discount + 1 WHERE n = 1", "discount = discount - 1", "estimate"),
    "a discount beyond it": ("estimate SET discount = 99999 WHERE n = 1", "discount = 500", "estimate"),
    "net": ("estimate SET net_high = net_high + 1 WHERE n = 1", "net_high = net_high - 1", "estimate"),
    "tax": ("estimate SET tax_low = tax_low - 1 WHERE n = 1", "tax_low = tax_low + 1", "estimate"),
    "a number of an estimate": (
        "estimate SET number = 'ES 2026-009' WHERE n = 1",
        "number = 'ES 2026-001'",
        "number",
    ),
    "a claim number": ("job SET number = '26-0001-8' WHERE id = 1", "number = '26-0001-7'", "number"),
}


@pytest.fixture
def shop(place: str | Path) -> Iterator[TriedShop]:
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()


def test_each_is_noticed(shop: TriedShop) -> None:
    left = {"client": {"name": "Wil Dray"}, "instrument": {"kind": "cello"}, "hears": "it buzzes"}
    job = shop.act("open_job", **left).id
    rows = (
        EstimateRow(what="Seam", minutes=30, minutes_high=90),
        EstimateRow(kind="part", what="Peg", amount=eur("20.00"), amount_high=eur("25.00")),
    )
    given = {"hourly_rate": eur("84.00"), "discount": eur("5.00"), "tax_rate": Fraction(1, 10)}
    shop.act("estimate_job", job_id=job, lines=rows, **given)
    assert prove(shop.ledger.where) == []
    for name, (planted, undone, kind) in PLANTED.items():
        table, _set, where = planted.partition(" SET ")
        undo = f"UPDATE {table} SET {undone} WHERE {where.partition(' WHERE ')[2]}"
        notice(shop.ledger.where, name, f"UPDATE {planted}", undo, kind)
    # Each was put right again: what is left of one would be taken for the next.
    assert prove(shop.ledger.where) == []
