"""What is stored proved by itself: the file's integrity, references, and that each value has the form of its column."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    ForeignKeyConstraint,
    Select,
    Table,
    literal_column,
    select,
    text,
)

from shopledger.model import tables
from shopledger.model.types import Day, Instant, Rate, Words, YesNo
from shopledger.quantities.words import N_
from shopledger.store.proof.finding import Proof

READ_ELSEWHERE = frozenset({"entry", "posting", "seal", "account", "deed", "change", "change_value"})
"""Tables whose every text another check reads, and so finds what is no text."""


def prove_file(proof: Proof) -> None:
    """Let SQLite go through its own file; a server keeps its files itself."""
    if not proof.on_sqlite:
        return
    for (said,) in proof.connection.execute(text("PRAGMA integrity_check(100)")):
        if said != "ok":
            proof.wrong("file", "", N_("The file is damaged: {said}."), said=str(said))


def prove_references(proof: Proof) -> None:
    """Find rows that refer to rows that aren't there."""
    for table in tables().sorted_tables:
        for constraint in table.constraints:
            if isinstance(constraint, ForeignKeyConstraint):
                _prove_reference(proof, table, constraint)


def _prove_reference(proof: Proof, table: Table, constraint: ForeignKeyConstraint) -> None:
    # Written out: of some eighty questions like this, composing them would take most of the proof's time.
    column, target = constraint.elements[0].parent.name, constraint.elements[0].column
    question = (
        f'SELECT one."{_key_of(table).name}", one."{column}" FROM "{table.name}" AS one '
        f'LEFT JOIN "{target.table.name}" AS other ON other."{target.name}" = one."{column}" '
        f'WHERE one."{column}" IS NOT NULL AND other."{target.name}" IS NULL'
    )
    for key, there in proof.connection.exec_driver_sql(question):
        where = f"{table.name} {key}"
        proof.wrong(
            "reference",
            where,
            N_("{row} refers to {other} {there}, which isn't there."),
            row=where,
            other=target.table.name,
            there=str(there),
        )


def _key_of(table: Table) -> Any:
    return next(iter(table.primary_key.columns))


def prove_values(proof: Proof) -> None:
    """Find values that don't have the form of their column: days, instants, rates, yes and no, text."""
    for table in tables().sorted_tables:
        for where, column in _ill_formed(proof, table):
            proof.wrong(
                "value",
                where,
                N_("{row} holds something in {column} that can't be there."),
                row=where,
                column=column,
            )


def _ill_formed(proof: Proof, table: Table) -> Iterator[tuple[str, str]]:
    key = _key_of(table).name
    for column in table.columns:
        if isinstance(column.type, Rate):
            yield from _ill_rates(proof, table, column)
        elif proof.on_sqlite and (check := _SQLITE_CHECKS.get(type(column.type))):
            name = f'"{column.name}"'
            question: Select[Any] = select(literal_column(f'"{key}"')).select_from(table)
            ill = text(f"{name} IS NOT NULL AND NOT coalesce({check.format(c=name)}, 0)")
            for (found,) in proof.connection.execute(question.where(ill)):
                yield f"{table.name} {found}", column.name
    if proof.on_sqlite and table.name not in READ_ELSEWHERE:
        yield from _ill_texts(proof, table, key)


_DIGIT = "[0-9]"
_DAY_FORM = f"{_DIGIT * 4}-{_DIGIT * 2}-{_DIGIT * 2}"
_SQLITE_CHECKS = {
    Day: f"({{c}} GLOB '{_DAY_FORM}' AND date({{c}}) = {{c}})",
    Instant: (
        f"({{c}} GLOB '{_DAY_FORM}T{_DIGIT * 2}:{_DIGIT * 2}:{_DIGIT * 2}.{_DIGIT * 6}Z' "
        "AND date(substr({c}, 1, 10)) = substr({c}, 1, 10) AND time(substr({c}, 12, 8)) = substr({c}, 12, 8))"
    ),
    YesNo: "({c} IN (0, 1))",
}


def _ill_rates(proof: Proof, table: Table, column: Column[Any]) -> Iterator[tuple[str, str]]:
    key = _key_of(table)
    stored: ColumnElement[Any] = literal_column(f'"{column.name}"')
    for found, written in proof.rows(select(key, stored).select_from(table).where(column.is_not(None))):
        try:
            rate = Fraction(written)
            fine = f"{rate.numerator}/{rate.denominator}" == written
        except (ValueError, ZeroDivisionError, TypeError):
            fine = False
        if not fine:
            yield f"{table.name} {found}", column.name


def _ill_texts(proof: Proof, table: Table, key: str) -> Iterator[tuple[str, str]]:
    """Find text that is no UTF-8: SQLite keeps whatever bytes it was given, and a driver fails on them."""
    names = [column.name for column in table.columns if isinstance(column.type, Words)]
    if not names:
        return
    driver: Any = proof.connection.connection.driver_connection
    usual, driver.text_factory = driver.text_factory, bytes
    try:
        columns = ", ".join(f'"{name}"' for name in names)
        rows = driver.execute(f'SELECT "{key}", {columns} FROM "{table.name}"').fetchall()
    finally:
        driver.text_factory = usual
    for row in rows:
        for name, value in zip(names, row[1:], strict=True):
            if isinstance(value, bytes) and not _is_text(value):
                found = row[0].decode(errors="replace") if isinstance(row[0], bytes) else row[0]
                yield f"{table.name} {found}", name


def _is_text(value: bytes) -> bool:
    try:
        value.decode()
    except UnicodeDecodeError:
        return False
    return True
