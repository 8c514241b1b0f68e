"""A shop whose papers are read: its story told once on a file, and once more on a server where a test asks."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.helpers.ledgers import migrated
from tests.queries.facts.story import SHOP, Told, tell


@pytest.fixture(scope="session")
def told(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Told]:
    """Give the shop after its story; tests only read it."""
    path: Path = tmp_path_factory.mktemp("papers") / "shop.ledger"
    with migrated(path, SHOP) as ledger:
        yield tell(ledger)
