"""Engines: how a ledger's database is connected to, with the durability its promises need.

SQLite: one file is the whole ledger (`journal_mode=DELETE`, not WAL), and `synchronous=EXTRA` also flushes the folder,
without which an acknowledged act can be lost in a power cut. BEGIN is sent by us: the driver's own transactions leave a
migration half done when it is killed.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Mapping
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sqlalchemy import Connection, Engine, QueuePool, StaticPool, create_engine, event, make_url
from sqlalchemy.exc import DisconnectionError

SQLITE_PRAGMAS: Mapping[str, str] = {
    "foreign_keys": "ON",
    "recursive_triggers": "ON",
    "cell_size_check": "ON",
    "secure_delete": "ON",
    "fullfsync": "ON",
    "busy_timeout": "10000",
    "synchronous": "EXTRA",
}


def is_server(where: str | Path) -> bool:
    """Say whether a place is the address of a server's database, not of a file."""
    return isinstance(where, str) and where.startswith(("postgresql://", "postgresql+psycopg://"))


def name_of(where: str | Path) -> str:
    """Give a place's name as a user knows it: the file's, or the server's database; never a password."""
    if is_server(where):
        return make_url(str(where)).database or "PostgreSQL"
    return Path(where).name


def make_engine(where: str | Path, *, mode: str = "rw") -> Engine:
    """Give an engine for a ledger; nothing is opened yet.

    Shape:  `mode` is of SQLite's URIs: "rw", "rwc" to create the file, "ro" to read only.
    """
    if is_server(where):
        return _postgresql(str(where), read_only=mode == "ro")
    return _sqlite(Path(where), mode)


def _sqlite(path: Path, mode: str) -> Engine:
    address = f"file:{quote(str(path.absolute()))}?mode={mode}"

    def connect() -> sqlite3.Connection:
        connection = sqlite3.connect(address, uri=True, isolation_level=None, check_same_thread=False)
        try:
            for name, value in SQLITE_PRAGMAS.items():
                connection.execute(f"PRAGMA {name}={value}")
            if mode == "ro":
                connection.execute("PRAGMA query_only=ON")
        except BaseException:
            connection.close()
            raise
        return connection

    # The pool for files is named: without a file in its address SQLAlchemy would take the one for memory.
    engine = create_engine("sqlite+pysqlite://", creator=connect, poolclass=QueuePool)

    @event.listens_for(engine, "connect")
    def on_connected(_driver: Any, record: Any) -> None:
        record.info["file"] = _which_file(path)

    @event.listens_for(engine, "checkout")
    def on_checked_out(_driver: Any, record: Any, _proxy: Any) -> None:
        if record.info.get("file") != _which_file(path):  # a backup was put in its place: open that one
            raise DisconnectionError("the file was replaced")

    _begin_by_us(engine)
    return engine


def _which_file(path: Path) -> tuple[int, int] | None:
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _begin_by_us(engine: Engine) -> None:
    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        kind = connection.get_execution_options().get("ledger_begin", "DEFERRED")
        connection.exec_driver_sql(f"BEGIN {kind}")


def memory_engine() -> Engine:
    """Give an engine for an empty SQLite database in memory, where the migrations show what they make."""
    engine = create_engine(
        "sqlite+pysqlite://",
        creator=lambda: sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False),
        poolclass=StaticPool,
    )
    _begin_by_us(engine)
    return engine


def _postgresql(url: str, *, read_only: bool) -> Engine:
    url = url.replace("postgresql://", "postgresql+psycopg://", 1)
    options: dict[str, Any] = {"isolation_level": "READ COMMITTED"}
    engine = create_engine(url, pool_pre_ping=True, **options)
    if read_only:
        return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
    return engine


def for_writing(engine: Engine) -> Engine:
    """Give the engine whose transactions take the write lock at once."""
    return engine.execution_options(ledger_begin="IMMEDIATE")


def for_reading(engine: Engine) -> Engine:
    """Give the engine whose transactions see one snapshot and write nothing."""
    if engine.dialect.name == "sqlite":
        return engine
    return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
