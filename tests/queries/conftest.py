"""A shop with something in every state, on both databases, in which tests only read."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import event

from shopledger.store.ledger import Ledger
from shopledger.store.unit import Reading
from tests.helpers.shops import TriedShop
from tests.queries.busy import BusyShop


@pytest.fixture(scope="session", params=["sqlite", "postgresql"])
def busy(
    request: pytest.FixtureRequest, file_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[BusyShop]:
    """Give the shop on each of the two databases; tests only read it."""
    if request.param == "sqlite":
        path: Path | str = tmp_path_factory.mktemp("busy") / "shop.ledger"
        shutil.copy(file_template, path)
    else:
        path = request.getfixturevalue("server").furnished()
    shop = BusyShop(path)
    yield shop
    shop.ledger.close()


@pytest.fixture
def reading(busy: BusyShop) -> Iterator[Reading]:
    """Give a snapshot of the shop."""
    with busy.ledger.read() as found:
        yield found


@pytest.fixture
def shop(file_place: Path) -> Iterator[TriedShop]:
    """Give a shop in a file, to do acts in."""
    tried = TriedShop(file_place)
    yield tried
    tried.ledger.close()


@pytest.fixture
def any_shop(place: str | Path) -> Iterator[TriedShop]:
    """Give a shop to do acts in, on each of the two databases; whatever was done in it, its proof finds nothing."""
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()
    assert tried.wrong() == []


@pytest.fixture
def counted() -> Callable[[Ledger, Callable[[], object]], int]:
    """Give a function that counts the questions put to the database while something runs."""

    def count(ledger: Ledger, doing: Callable[[], object]) -> int:
        asked: list[str] = []

        def on_asked(*said: object) -> None:
            asked.append(str(said[2]))

        event.listen(ledger.engine, "before_cursor_execute", on_asked)
        try:
            doing()
        finally:
            event.remove(ledger.engine, "before_cursor_execute", on_asked)
        return len(asked)

    return count
