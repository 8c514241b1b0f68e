"""The proof finds nothing where nothing is wrong, on both databases, and refuses what it can't read."""

from __future__ import annotations

from shopledger.store.ledger import Ledger
from shopledger.store.prove import prove
from tests.helpers.story import some_entries, tell


def test_a_new_ledger_is_sound(ledger: Ledger) -> None:
    assert prove(ledger.where) == []


def test_a_told_ledger_is_sound(ledger: Ledger) -> None:
    tell(ledger)
    some_entries(ledger)
    assert prove(ledger.where) == []
