"""The example shop, built once for all tests that look at it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from shopledger.example.building import build
from shopledger.example.shop import Built
from shopledger.store.ledger import Ledger, open_ledger


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Give the example, built into a folder that holds something else."""
    folder = tmp_path_factory.mktemp("example")
    (folder / "letter.txt").write_text("kept", encoding="utf-8")
    return build(folder)


@pytest.fixture(scope="session")
def example(built: Built) -> Iterator[Ledger]:
    """Give the example's ledger, open."""
    with open_ledger(built.ledger) as ledger:
        yield ledger
