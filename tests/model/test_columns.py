"""Every mapped column is a field or hidden with a reason, and money and lengths are whole numbers on both databases."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from sqlalchemy import CheckConstraint, Column
from sqlalchemy.dialects import postgresql, sqlite

from shopledger.model import tables
from shopledger.model.types import Day, Instant, Rate, Whole, YesNo
from shopledger.quantities.fields import Field, Kind

COLUMNS = [column for table in tables().sorted_tables for column in table.columns]


def name(column: Column[Any]) -> str:
    return f"{column.table.name}.{column.name}"


@pytest.mark.parametrize("column", COLUMNS, ids=name)
def test_a_column_is_a_field_or_hidden_with_a_reason(column: Column[Any]) -> None:
    field, reason = column.info.get("field"), column.info.get("hidden")
    assert (field is None) != (reason is None)
    if field is not None:
        assert isinstance(field, Field)
        assert field.label
        assert field.kind is not Kind.CHOICE or field.choices
    else:
        assert len(reason) > 3


@pytest.mark.parametrize("column", COLUMNS, ids=name)
def test_a_column_lies_in_a_type_that_a_strict_table_takes(column: Column[Any]) -> None:
    # https://sqlite.org/stricttables.html: INT, INTEGER, REAL, TEXT, BLOB, ANY; REAL is for no value of ours.
    kind = column.type.compile(dialect=sqlite.dialect())
    assert kind in {"INTEGER", "TEXT", "BLOB"}
    assert column.table.dialect_options["sqlite"]["strict"]


@pytest.mark.parametrize(
    "column",
    [
        each
        for each in COLUMNS
        if each.info.get("field") and each.info["field"].kind in {Kind.MONEY, Kind.LENGTH}
    ]
    + [tables().tables["posting"].c.amount],
    ids=name,
)
def test_money_and_lengths_are_whole_numbers(column: Column[Any]) -> None:
    assert isinstance(column.type, Whole)
    assert column.type.compile(dialect=sqlite.dialect()) == "INTEGER"
    assert column.type.compile(dialect=postgresql.dialect()) == "BIGINT"


@pytest.mark.parametrize(
    "value", [1.0, 0.1, Decimal("1"), Decimal("1.5"), "1", True, Fraction(1), float("nan")]
)
def test_whole_numbers_refuse_anything_else(value: object) -> None:
    for dialect in (sqlite.dialect(), postgresql.dialect()):
        with pytest.raises(TypeError, match="a whole number is needed"):
            Whole().process_bind_param(value, dialect)  # type: ignore[arg-type]


def test_sums_come_out_whole() -> None:
    # PostgreSQL sums BIGINT to numeric, which a driver gives as Decimal.
    assert Whole().process_result_value(Decimal(12), postgresql.dialect()) == 12
    assert isinstance(Whole().process_result_value(Decimal(12), postgresql.dialect()), int)


def test_days_and_instants_are_not_mixed_up() -> None:
    with pytest.raises(TypeError, match="a day is needed"):
        Day().process_bind_param(datetime(2025, 3, 4, tzinfo=UTC), sqlite.dialect())
    with pytest.raises(TypeError, match="its time zone"):
        Instant().process_bind_param(datetime(2025, 3, 4), sqlite.dialect())
    written = Instant().process_bind_param(datetime(2025, 3, 4, 9, tzinfo=UTC), sqlite.dialect())
    assert written == "2025-03-04T09:00:00.000000Z"
    assert Instant().process_result_value(written, sqlite.dialect()) == datetime(2025, 3, 4, 9, tzinfo=UTC)
    assert Day().process_bind_param(date(2025, 3, 4), sqlite.dialect()) == "2025-03-04"


def test_rates_are_exact() -> None:
    assert Rate().process_bind_param(Fraction(2, 6), sqlite.dialect()) == "1/3"
    assert Rate().process_result_value("1/3", sqlite.dialect()) == Fraction(1, 3)
    assert YesNo().process_bind_param(True, sqlite.dialect()) == 1


def test_every_constraint_has_a_name() -> None:
    # A constraint without a name can be neither compared nor dropped by a migration.
    for table in tables().tables.values():
        for constraint in table.constraints:
            assert constraint.name, (table.name, constraint)
        for index in table.indexes:
            assert index.name


def test_choices_are_held_by_the_database() -> None:
    for column in COLUMNS:
        field = column.info.get("field")
        if field is not None and field.kind is Kind.CHOICE:
            words = [
                str(each.sqltext)
                for each in column.table.constraints
                if isinstance(each, CheckConstraint)
                and each.name == f"ck_{column.table.name}_{column.name}_choice"
            ]
            assert len(words) == 1
            assert all(f"'{code}'" in words[0] for code, _word in field.choices)
