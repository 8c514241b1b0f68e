"""Whoever means to change a ledger unnoticed, with every means that whoever holds the file or the server has."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import psycopg


def is_file(place: str | Path) -> bool:
    """Say whether the ledger is a file."""
    return isinstance(place, Path)


@contextmanager
def raw(place: str | Path) -> Iterator[Any]:
    """Give a driver's own connection to a ledger, committed at the end; on SQLite references are watched."""
    if isinstance(place, Path):
        file = sqlite3.connect(place, isolation_level=None)
        try:
            file.execute("PRAGMA foreign_keys=ON")
            file.execute("BEGIN IMMEDIATE")
            yield file
            file.execute("COMMIT")
        finally:
            file.close()
    else:
        with closing(psycopg.connect(str(place))) as server:
            yield server
            server.commit()


def run(place: str | Path, *statements: str) -> None:
    """Run statements in one transaction, as anybody who can log in may."""
    with raw(place) as connection:
        for statement in statements:
            connection.execute(statement)


def tamper(place: str | Path, *statements: str) -> None:
    """Run statements with every guard out of the way, and leave the guards standing as before.

    On SQLite the triggers are dropped and put back word for word, and references are not watched; on a server its
    owner turns triggers and references off for the session.
    """
    if isinstance(place, Path):
        file = sqlite3.connect(place, isolation_level=None)
        try:
            file.execute("PRAGMA foreign_keys=OFF")
            file.execute("BEGIN IMMEDIATE")
            triggers = file.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
            for name, _words in triggers:
                file.execute(f"DROP TRIGGER {name}")
            for statement in statements:
                file.execute(statement)
            for _name, words in triggers:
                file.execute(words)
            file.execute("COMMIT")
        finally:
            file.close()
    else:
        with closing(psycopg.connect(str(place))) as server:
            server.execute("SET session_replication_role = replica")
            for statement in statements:
                server.execute(statement)
            server.commit()


def rewrite_form(path: Path, *changes: tuple[str, str, str]) -> None:
    """Change the words of SQLite's own schema table: (name, what stands there, what shall stand there)."""
    file = sqlite3.connect(path, isolation_level=None)
    try:
        file.execute("PRAGMA writable_schema=ON")
        for name, old, new in changes:
            (words,) = file.execute("SELECT sql FROM sqlite_schema WHERE name = ?", (name,)).fetchone()
            assert old in words, words
            file.execute("UPDATE sqlite_schema SET sql = ? WHERE name = ?", (words.replace(old, new), name))
    finally:
        file.close()
