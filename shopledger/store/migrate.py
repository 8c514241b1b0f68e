"""Migrations: bringing a ledger's database to the form this program needs, whole or not at all.

Importing alembic costs more than opening a window, so the stored revision is compared by plain SQL first.
"""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from sqlalchemy import Connection, Engine, text

from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_
from shopledger.store.guards import put_up

NEWEST = "0001"
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


def upgrade(engine: Engine, revision: str = "head") -> None:
    """Bring a database to a revision in one transaction, guards included."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(scripts()).replace("%", "%%"))
    from shopledger.store.engine import for_writing

    with for_writing(engine).begin() as connection:
        if connection.dialect.name == "sqlite":
            # Rows are moved while tables are rebuilt; references are checked again before the commit.
            connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        config.attributes["connection"] = connection
        command.upgrade(config, revision)
        put_up(connection)
