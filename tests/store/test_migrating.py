"""Migrations: from every revision to the newest the ledger is what the model says, whole or not at all, and guarded.

The comparison is alembic's own, with the plugins of `migrations/env.py` (a CHECK is compared by its name only with
`alembic.ext.checkconstraint_byname`); the proof compares the words.
"""

from __future__ import annotations

import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from importlib import resources
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, inspect

from shopledger.model import tables
from shopledger.quantities.errors import Trouble
from shopledger.store import migrate
from shopledger.store.engine import for_writing, make_engine
from shopledger.store.guards import departures, standing
from shopledger.store.ledger import open_ledger
from shopledger.store.proof.postgresql import form_there
from shopledger.store.proof.schema import sqlite_form
from shopledger.store.prove import prove
from tests.helpers.ledgers import Server, copied

PLUGINS = ["alembic.autogenerate.*", "alembic.ext.checkconstraint_byname"]


def revisions() -> list[str]:
    config = Config()
    config.set_main_option("script_location", str(migrate.scripts()))
    return [script.revision for script in ScriptDirectory.from_config(config).walk_revisions()][::-1]


@pytest.fixture(params=["sqlite", "postgresql"])
def engines(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[list[Engine]]:
    """Two empty databases of one kind."""
    if request.param == "sqlite":
        places: list[str | Path] = [tmp_path / "empty.ledger", tmp_path / "another.ledger"]
    else:
        server: Server = request.getfixturevalue("server")
        places = [server.empty(), server.empty()]
    found = [make_engine(place, mode="rwc") for place in places]
    yield found
    for each in found:
        each.dispose()


@pytest.fixture
def engine(engines: list[Engine]) -> Engine:
    return engines[0]


def differences(connection: Connection) -> list[object]:
    context = MigrationContext.configure(
        connection,
        opts={
            "autogenerate_plugins": PLUGINS,
            "include_object": lambda _thing, name, *_more: (
                not (name or "").startswith(("search_fts", "search_words"))
            ),
        },
    )
    return list(compare_metadata(context, tables(connection.dialect.name)))


def test_the_newest_revision_is_the_scripts_head() -> None:
    assert revisions()[-1] == migrate.NEWEST
    assert revisions() == sorted(revisions())


def test_a_new_ledger_is_what_all_migrations_lead_to(engines: list[Engine]) -> None:
    new, upgraded = engines
    migrate.create(new)
    migrate.upgrade(upgraded)
    with new.connect() as connection:
        assert differences(connection) == []
        assert migrate.stored_revision(connection) == migrate.NEWEST
        assert departures(connection) == {}
    form = sqlite_form if new.dialect.name == "sqlite" else form_there
    with new.connect() as one, upgraded.connect() as other:
        assert form(one) == form(other)
        assert standing(one) == standing(other)


def test_a_new_ledger_that_can_not_be_made_to_its_end_leaves_nothing(
    engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_guards(_connection: Connection) -> None:
        raise OSError("no room")

    monkeypatch.setattr(migrate, "put_up", no_guards)
    with pytest.raises(OSError, match="no room"):
        migrate.create(engine)
    with engine.connect() as connection:
        assert inspect(connection).get_table_names() == []


@pytest.mark.parametrize("first", revisions())
def test_upgrade_from_every_revision_and_the_model_agree(engine: Engine, first: str) -> None:
    migrate.upgrade(engine, first)
    migrate.upgrade(engine)
    with engine.connect() as connection:
        assert differences(connection) == []
        assert migrate.stored_revision(connection) == migrate.NEWEST
        assert departures(connection) == {}


def test_a_difference_would_be_found(engine: Engine) -> None:
    migrate.upgrade(engine)
    with for_writing(engine).begin() as connection:
        connection.exec_driver_sql("DROP INDEX uq_sale_line_live")
        connection.exec_driver_sql("ALTER TABLE person ADD COLUMN secret TEXT")
        assert len(differences(connection)) == 2


def test_upgrading_again_changes_nothing(engine: Engine) -> None:
    migrate.upgrade(engine)
    with engine.connect() as connection:
        assert departures(connection) == {}
    migrate.upgrade(engine)
    with engine.connect() as connection:
        assert departures(connection) == {}


def test_a_guard_that_was_changed_is_put_right_by_an_upgrade(told_file: Path) -> None:
    file = sqlite3.connect(told_file)
    file.execute("DROP TRIGGER guard_seal")
    file.execute("CREATE TRIGGER guard_seal BEFORE INSERT ON seal BEGIN SELECT 1; END")
    file.commit()
    file.close()
    engine = make_engine(told_file)
    migrate.upgrade(engine)
    with engine.connect() as connection:
        assert departures(connection) == {}
    engine.dispose()


def test_the_scripts_are_found_beside_a_checkout_or_in_an_installed_program() -> None:
    folder = migrate.scripts()
    assert (folder / "env.py").is_file()
    inside = Path(str(resources.files("shopledger"))) / "_migrations"
    assert folder == (inside if inside.is_dir() else Path(migrate.__file__).parents[2] / "migrations")


NEXT = f'''
"""A later revision, for tests only: tables are rebuilt, which on SQLite drops what watches them."""
import sqlalchemy as sa
from alembic import op
from shopledger.model import types

revision = "9999"
down_revision = "{migrate.NEWEST}"
branch_labels = None
depends_on = None


def upgrade():
    for table in ("person", "instrument", "sale", "sale_line", "entry", "posting", "paper"):
        rebuilt = "always" if op.get_bind().dialect.name == "sqlite" else "never"
        with op.batch_alter_table(table, recreate=rebuilt) as batch:
            batch.add_column(sa.Column("later", types.Words(), nullable=True))
    op.execute("UPDATE person SET later = 'moved ' || number")
'''


@pytest.fixture
def later(tmp_path: Path) -> Path:
    """Give migrations with a further revision that rebuilds tables which much refers to and guards watch."""
    folder = tmp_path / "later"
    shutil.copytree(migrate.scripts(), folder)
    (folder / "versions" / "9999_later.py").write_text(NEXT)
    return folder


def test_tables_are_rebuilt_with_their_rows_references_and_guards(
    told_place: str | Path, later: Path
) -> None:
    engine = make_engine(told_place)
    migrate.upgrade(engine, folder=later)
    with engine.connect() as connection:
        assert migrate.stored_revision(connection) == "9999"
        assert departures(connection) == {}
        assert connection.exec_driver_sql("SELECT later FROM person WHERE id = 2").scalar() == "moved P 001"
        if isinstance(told_place, Path):
            assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    engine.dispose()


def test_a_migration_that_leaves_a_broken_reference_changes_nothing(told_file: Path, later: Path) -> None:
    script = later / "versions" / "9999_later.py"
    script.write_text(NEXT + '    op.execute("DELETE FROM instrument WHERE id = 1")\n')
    before = told_file.read_bytes()
    engine = make_engine(told_file)
    with pytest.raises(Trouble, match="Nothing was changed"):
        migrate.upgrade(engine, folder=later)
    engine.dispose()
    assert told_file.read_bytes() == before


def test_a_ledger_of_a_later_program_is_refused_in_words(told_place: str | Path, later: Path) -> None:
    engine = make_engine(told_place)
    migrate.upgrade(engine, folder=later)
    engine.dispose()
    with pytest.raises(Trouble, match="newer version"):
        open_ledger(told_place)
    with pytest.raises(Trouble, match="newer version"):
        prove(told_place)


CHILD = """
    import sys
    from pathlib import Path
    from shopledger.store import migrate
    from shopledger.store.engine import make_engine

    print("ready", flush=True)
    sys.stdin.readline()
    migrate.upgrade(make_engine(Path(sys.argv[1])), folder=Path(sys.argv[2]))
    print("done", flush=True)
"""
KILLS = 12
"""The short form; promise 4 asks for 200 a migration in the long one."""


@pytest.mark.skipif(
    sys.platform == "win32", reason="a program is killed by a signal, which Windows doesn't have"
)
def test_a_killed_migration_leaves_the_ledger_whole(told_template: Path, later: Path, tmp_path: Path) -> None:
    """Kill a program while it migrates: afterwards the ledger is of the one revision or of the other, never between.

    Where the kill falls is drawn by the number of rows the child's database file has grown to, not by a clock: the
    rollback journal beside the file shows that the migration is under way.
    """
    seed = random.randrange(2**32)
    print("seed", seed)
    draw = random.Random(seed)
    for n in range(KILLS):
        folder = tmp_path / str(n)
        folder.mkdir()
        path = copied(told_template, folder)
        journal = path.with_name(path.name + "-journal")
        child = subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(CHILD), str(path), str(later)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            cwd=Path(__file__).parents[2],
        )
        with child:
            assert child.stdin is not None
            assert child.stdout is not None
            assert child.stdout.readline() == b"ready\n"
            child.stdin.write(b"\n")
            child.stdin.flush()
            looks = draw.randrange(1, 400)
            while child.poll() is None and looks:
                looks -= journal.exists()
            child.send_signal(signal.SIGKILL)
        engine = make_engine(path)
        with engine.connect() as connection:
            revision = migrate.stored_revision(connection)
            tables = connection.exec_driver_sql(
                "SELECT name FROM sqlite_schema WHERE name LIKE '_alembic_tmp%'"
            ).all()
            columns = (
                connection.exec_driver_sql("SELECT name FROM pragma_table_info('person')").scalars().all()
            )
            assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
            assert departures(connection) == {}
        engine.dispose()
        assert tables == []
        assert (revision == "9999") == ("later" in columns)
        if revision == migrate.NEWEST:
            assert prove(path) == []
