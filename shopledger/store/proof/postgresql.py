"""The form of a ledger on a server: what the model asks for, and what the database's own catalogue says is there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sqlalchemy import (
    CheckConstraint,
    Connection,
    ForeignKeyConstraint,
    Index,
    PrimaryKeyConstraint,
    Table,
    UniqueConstraint,
    text,
)
from sqlalchemy.dialects.postgresql.psycopg import PGDialect_psycopg
from sqlalchemy.schema import CreateIndex

from shopledger.model import tables
from shopledger.store.guards import POSTGRESQL_EXTRAS

DIALECT = PGDialect_psycopg()  # type: ignore[no-untyped-call]  # the library leaves its dialects untyped

BESIDE = {"alembic_version": "table", "alembic_version.version_num": "varchar(32) not null"}
"""What alembic keeps beside the model's tables: the revision."""


def form_wanted() -> dict[str, str]:
    """Give what a ledger on a server is made of, by name: tables, columns, constraints, indexes."""
    wanted = dict(BESIDE)
    wanted["alembic_version_pkc"] = evened("alembic_version primary key (version_num)")
    for table in tables("postgresql").sorted_tables:
        wanted[table.name] = "table"
        for column in table.columns:
            kind = column.type.compile(dialect=DIALECT).lower()
            null = "" if column.nullable else " not null"
            wanted[f"{table.name}.{column.name}"] = f"{kind}{null}"
        for name, words in _constraints(table):
            wanted[name] = evened(f"{table.name} {words}")
        for index in table.indexes:
            wanted[str(index.name)] = evened(_index_words(index))
    for name, words in POSTGRESQL_EXTRAS.items():
        wanted[name] = evened(words)
    return wanted


def _constraints(table: Table) -> Iterator[tuple[str, str]]:
    for constraint in table.constraints:
        name = str(constraint.name)
        match constraint:
            case PrimaryKeyConstraint():
                yield name, f"primary key ({', '.join(constraint.columns.keys())})"
            case UniqueConstraint():
                yield name, f"unique ({', '.join(constraint.columns.keys())})"
            case CheckConstraint():
                yield name, f"check ({constraint.sqltext})"
            case ForeignKeyConstraint():
                there = [element.column for element in constraint.elements]
                late = " deferrable initially deferred" if constraint.deferrable else ""
                yield (
                    name,
                    f"foreign key ({', '.join(constraint.column_keys)}) references "
                    f"{there[0].table.name}({', '.join(column.name for column in there)}){late}",
                )


def _index_words(index: Index) -> str:
    return str(CreateIndex(index).compile(dialect=DIALECT))


def form_there(connection: Connection) -> dict[str, str]:
    """Give what the catalogue says is there, in the same words."""
    there: dict[str, str] = {}
    for name, kind in connection.execute(text(_RELATIONS)):
        there[name] = kind
    for name, words in connection.execute(text(_COLUMNS)):
        there[name] = words
    for name, words in connection.execute(text(_CONSTRAINTS)):
        there[name] = evened(words)
    for name, words in connection.execute(text(_INDEXES)):
        there[name] = evened(words)
    return there


_HERE = "current_schema()::regnamespace"
_RELATIONS = (
    "SELECT relname, CASE relkind WHEN 'r' THEN 'table' ELSE 'relation ' || relkind::text END FROM pg_class "
    f"WHERE relnamespace = {_HERE} AND relkind IN ('r', 'v', 'm', 'f', 'p')"
)
_COLUMNS = (
    "SELECT c.relname || '.' || a.attname, replace(replace(format_type(a.atttypid, a.atttypmod),"
    " 'character varying', 'varchar'), 'timestamp with time zone', 'timestamp with time zone')"
    " || CASE WHEN a.attnotnull THEN ' not null' ELSE '' END "
    "FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid "
    f"WHERE c.relnamespace = {_HERE} AND c.relkind = 'r' AND a.attnum > 0 AND NOT a.attisdropped"
)
_CONSTRAINTS = (
    "SELECT o.conname, c.relname || ' ' || pg_get_constraintdef(o.oid, true) "
    "FROM pg_constraint o JOIN pg_class c ON c.oid = o.conrelid "
    f"WHERE c.relnamespace = {_HERE} AND o.contype <> 'n'"
)
_INDEXES = (
    "SELECT i.relname, pg_get_indexdef(x.indexrelid) || CASE WHEN x.indisvalid THEN '' ELSE ' invalid' END "
    "FROM pg_index x JOIN pg_class i ON i.oid = x.indexrelid JOIN pg_class c ON c.oid = x.indrelid "
    f"WHERE c.relnamespace = {_HERE} AND c.relkind = 'r' "
    "AND NOT EXISTS (SELECT 1 FROM pg_constraint o WHERE o.conindid = x.indexrelid AND o.contype IN ('p', 'u'))"
)

_CASTS = re.compile(r"::[a-z]+")
_NOISE = re.compile(r'[\s()\[\]"]+')


def evened(words: str) -> str:
    """Give words of SQL without what one side writes and the other doesn't: brackets, casts, the schema's name.

    A server keeps `kind IN ('a', 'b')` as `kind = ANY (ARRAY['a'::text, 'b'::text])`; both become one.
    """
    bare = _CASTS.sub("", words.lower().replace("public.", "").replace("using btree", ""))
    bare = re.sub(r"=\s*any\s*\(\s*\(?array", " in ", bare)
    return _NOISE.sub("", bare)
