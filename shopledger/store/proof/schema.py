"""The form of the database proved: tables, indexes, checks and guards are as the program makes them, word for word."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from sqlalchemy import Connection, text

from shopledger.quantities.words import N_
from shopledger.store.guards import departures, standing
from shopledger.store.proof.finding import Proof

MISSING = N_("{name} is missing: the ledger was altered by something other than this program.")
CHANGED = N_("{name} is not as the program makes it: the ledger was altered by something else.")
UNKNOWN = N_("{name} is none of the program's: the ledger was altered by something else.")
SAYS = {"missing": MISSING, "changed": CHANGED, "unknown": UNKNOWN}


def prove_guards(proof: Proof) -> None:
    """Compare the triggers (and on PostgreSQL their functions) with the guards' list."""
    for name, how in sorted(departures(proof.connection).items()):
        proof.wrong("guard", name, SAYS[how], name=name)


def prove_schema(proof: Proof) -> None:
    """Compare what the database is made of with what the program makes."""
    if proof.on_sqlite:
        wanted, there = _as_made(), sqlite_form(proof.connection)
    else:
        from shopledger.store.proof.postgresql import form_there, form_wanted

        wanted, there = form_wanted(), form_there(proof.connection)
    guards = standing(proof.connection)
    for name in sorted(wanted.keys() | there.keys()):
        if name in guards:  # triggers have their own check
            continue
        if name not in there:
            proof.wrong("schema", name, MISSING, name=name)
        elif name not in wanted:
            proof.wrong("schema", name, UNKNOWN, name=name)
        elif wanted[name] != there[name]:
            proof.wrong("schema", name, CHANGED, name=name)


@cache
def _as_made() -> Mapping[str, str]:
    """Give the form of a database that the program has just made, without its triggers."""
    from shopledger.store.engine import memory_engine
    from shopledger.store.guards import take_down
    from shopledger.store.migrate import create

    engine = memory_engine()
    try:
        create(engine)
        with engine.begin() as connection:
            take_down(connection)
            return sqlite_form(connection)
    finally:
        engine.dispose()


def sqlite_form(connection: Connection) -> dict[str, str]:
    """Give the words that made each table and index of a SQLite database, by name, spaces and quotes evened out.

    The columns and constraints of a table come in the order of their words: what a migration adds comes after what was
    there, and one that rebuilds a table writes its constraints in any order.
    """
    rows = connection.execute(text("SELECT name, type, tbl_name, coalesce(sql, '') FROM sqlite_schema"))
    return {
        name: f"{kind} {table} {_ordered(_SPACES.sub(' ', words).replace(chr(34), ''))}"
        for name, kind, table, words in rows
        if not name.startswith("sqlite_stat")  # what ANALYZE leaves changes nothing
    }


_SPACES = re.compile(r"\s+")
_STROKE = re.compile(r"'[^']*'|[(),]")


def _ordered(words: str) -> str:
    """Give the words that made a table with its columns and constraints in order; other words as they are."""
    begun, depth, parts = words.find("("), 0, []
    if begun < 0 or not words.startswith("CREATE TABLE "):
        return words
    last, end = begun + 1, len(words)
    for stroke in _STROKE.finditer(words, begun):
        depth += {"(": 1, ")": -1}.get(stroke[0], 0)
        if (stroke[0] == "," and depth == 1) or depth == 0:
            parts.append(words[last : stroke.start()].strip())
            last = stroke.end()
        if depth == 0:
            end = stroke.start()
            break
    return f"{words[:begun]}({', '.join(sorted(parts))}{words[end:]}"
