"""Migrations: bringing a ledger's database to the form this program needs, whole or not at all.

Importing alembic costs more than opening a window, so the stored revision is compared by plain SQL first.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, text

from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_
from shopledger.store.guards import put_up, take_down

if TYPE_CHECKING:
    from alembic.config import Config

NEWEST = "0003"
"""The revision this program works with; a test compares it with the migrations."""


def stored_revision(connection: Connection) -> str | None:
    """Give the revision a database is at, None where it holds no ledger."""
    if connection.dialect.name == "sqlite":
        there = connection.execute(
            text("SELECT 1 FROM sqlite_schema WHERE name = 'alembic_version'")
        ).scalar()
    else:
        there = connection.execute(text("SELECT to_regclass('alembic_version')")).scalar()
    if not there:
        return None
    revision = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return None if revision is None else str(revision)


def scripts() -> Path:
    """Give the folder of the migrations: inside an installed program, or beside a checkout."""
    inside = Path(str(resources.files("shopledger"))) / "_migrations"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "migrations"


def refuse_unknown(revision: str | None, name: str) -> None:
    """Refuse a ledger that a newer program made, or a file that holds none.

    Raises: Trouble, with what to do.
    """
    if revision is None:
        raise Trouble(N_("{name} is no ledger of this program. Choose another file."), name=name)
    if revision > NEWEST:
        raise Trouble(
            N_("{name} was made by a newer version of this program. Install that version to open it."),
            name=name,
        )


def create(engine: Engine) -> None:
    """Give an empty database the form that this program needs, in one transaction, guards included.

    It is made at once, as the model has it: going through all revisions takes several times as long, and a test
    demands that both ways lead to the same.
    """
    from alembic.migration import MigrationContext
    from alembic.script import ScriptDirectory

    from shopledger.model import tables
    from shopledger.store.engine import for_writing

    with for_writing(engine).begin() as connection:
        tables(connection.dialect.name).create_all(connection, checkfirst=False)
        MigrationContext.configure(connection).stamp(ScriptDirectory.from_config(_config(scripts())), "head")
        put_up(connection)


def upgrade(engine: Engine, revision: str = "head", folder: Path | None = None) -> None:
    """Bring a database to a revision in one transaction, guards included.

    Shape:  `folder` holds the migrations, where they aren't the program's own.
    Raises: Trouble: a row refers to one that isn't there; nothing was changed.
    """
    from alembic import command

    config = _config(folder or scripts())
    from shopledger.store.engine import for_writing

    with for_writing(engine).connect() as connection, _tables_rebuilt(connection), connection.begin():
        take_down(connection)
        config.attributes["connection"] = connection
        command.upgrade(config, revision)
        if connection.dialect.name == "sqlite":
            _refuse_broken_references(connection)
        put_up(connection)


def _config(folder: Path) -> Config:
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    return config


@contextmanager
def _tables_rebuilt(connection: Connection) -> Iterator[None]:
    """Let tables be rebuilt on SQLite: while one is dropped and named anew, the rows that refer to it point nowhere.

    The switch works only outside a transaction, so it goes to the driver, before BEGIN.
    """
    if connection.dialect.name != "sqlite":
        yield
        return
    driver = connection.connection.cursor()
    driver.execute("PRAGMA foreign_keys=OFF")
    try:
        yield
    finally:
        driver.execute("PRAGMA foreign_keys=ON")
        driver.close()


def _refuse_broken_references(connection: Connection) -> None:
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if broken is not None:
        raise Trouble(
            N_(
                "The ledger can't be brought to this version: a row of {table} refers to one that isn't there. "
                "Nothing was changed. Go through it with the version that made it, or restore a backup."
            ),
            table=str(broken[0]),
        )
