"""What the proof notices of placings: one that goes on without its instrument being there, one that ended in no way."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from shopledger.store.prove import prove
from tests.helpers.away import may_go, placing
from tests.helpers.shops import TriedShop
from tests.helpers.tampering import run


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("UPDATE placing SET ended_on = NULL, ending = NULL WHERE id = 1", "is not with that dealer"),
        ("UPDATE placing SET ending = NULL WHERE id = 1", "when and how it ended"),
        ("UPDATE placing SET ended_on = '2026-01-01' WHERE id = 1", "when and how it ended"),
        ("UPDATE placing SET stay_id = 1 WHERE id = 2", "is not with that dealer"),
    ],
)
def test_a_placing_that_is_not_so_is_noticed(shop: TriedShop, tmp_path: Path, change: str, says: str) -> None:
    first, second = may_go(shop), may_go(shop)
    placing(shop, first)
    shop.act("placing_back", instrument_id=first)
    placing(shop, second)
    assert shop.wrong() == []
    copy = Path(shutil.copy(shop.ledger.where, tmp_path / "copy.ledger"))
    run(copy, change)
    assert any(says in wrong.says for wrong in prove(copy))
