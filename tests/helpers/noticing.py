"""Something that stands in a ledger is changed past the acts: the proof notices it, and says so in a sentence."""

from __future__ import annotations

from pathlib import Path
from unittest.mock import patch

from shopledger.store import prove
from shopledger.store.proof.finding import Wrong
from tests.helpers.tampering import tamper


def wrong_with(place: str | Path, *kinds: str) -> list[Wrong]:
    """Give what the checks of these kinds find: the others, which find a change too, take longer and prove nothing."""
    checks = tuple((kind, check) for kind, check in prove.CHECKS if kind in kinds)
    assert {kind for kind, _check in checks} == set(kinds)
    with patch.object(prove, "CHECKS", checks):
        return [one for one in prove.prove(place) if one.what in kinds]


def notice(place: str | Path, name: str, planted: str, undone: str, *kinds: str) -> None:
    """Change what stands there, see that the checks of these kinds say so in whole sentences, and undo it.

    Shape:  `planted` and `undone` are statements; `name` says what is planted.
    """
    tamper(place, planted)
    found = wrong_with(place, *kinds)
    assert found, name
    for one in found:
        assert one.says.endswith("."), one
        assert "{" not in one.says
        assert "can't be read" not in one.says, (name, one)
    tamper(place, undone)
