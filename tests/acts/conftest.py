"""A shop to try acts in, on both databases or on a file alone, and one in which acts are only refused."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.helpers.shops import StillShop, TriedShop


def _tried(place: str | Path) -> Iterator[TriedShop]:
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()
    assert tried.wrong() == []


@pytest.fixture
def shop(file_place: Path) -> Iterator[TriedShop]:
    """Give a shop in a file; whatever was done in it, its proof finds nothing."""
    yield from _tried(file_place)


@pytest.fixture
def any_shop(place: str | Path) -> Iterator[TriedShop]:
    """Give a shop, on each of the two databases; whatever was done in it, its proof finds nothing."""
    yield from _tried(place)


@pytest.fixture(scope="session")
def still(file_template: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[StillShop]:
    """Give a shop with something in every state; tests only try there what is refused."""
    path = tmp_path_factory.mktemp("still") / "shop.ledger"
    shutil.copy(file_template, path)
    still = StillShop(path)
    yield still
    still.ledger.close()
    assert still.wrong() == []
