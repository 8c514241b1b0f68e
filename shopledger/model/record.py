"""The base of all records: naming of constraints, STRICT tables, and the field declarations beside the columns.

Each mapped column is either a field, that is something a person types or reads, or hidden, with the reason. A test
demands it of every column.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from sqlalchemy import CheckConstraint, ForeignKey, Index, MetaData, Table, text
from sqlalchemy.orm import DeclarativeBase, MappedColumn, mapped_column
from sqlalchemy.types import TypeEngine

from shopledger.model.types import Day, Rate, Whole, Words, YesNo
from shopledger.quantities.fields import Field, Kind

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}

COLUMN_TYPE: Mapping[Kind, type[TypeEngine[Any]]] = {
    Kind.TEXT: Words,
    Kind.LINES: Words,
    Kind.MONEY: Whole,
    Kind.RATE: Rate,
    Kind.LENGTH: Whole,
    Kind.DAY: Day,
    Kind.COUNT: Whole,
    Kind.CHOICE: Words,
    Kind.YES_NO: YesNo,
    Kind.ROWS: Words,
    Kind.PERSON: Whole,
    Kind.INSTRUMENT: Whole,
    Kind.GOODS: Whole,
}
REFERS = {Kind.PERSON: "person.id", Kind.INSTRUMENT: "instrument.id", Kind.GOODS: "goods.id"}
"""The column that a field refers to where it isn't told another."""
_WHILE = "while"
"""Where an index keeps its condition for the dialects that are not loaded yet."""


class Record(DeclarativeBase):
    """What all records share."""

    metadata = MetaData(naming_convention=NAMING)
    kept: ClassVar[bool] = True
    """Whether what acts write here goes to the change record; not for the journal, which has a chain of its own."""

    def __init_subclass__(cls, **kw: Any) -> None:
        """Map the record, make its table STRICT, and hold its choices by named CHECKs."""
        super().__init_subclass__(**kw)
        table = cls.__table__
        assert isinstance(table, Table)
        table.dialect_options["sqlite"]["strict"] = True
        for column in list(table.columns):
            field = column.info.get("field")
            if field is None or field.kind is not Kind.CHOICE:
                continue
            codes = ", ".join(f"'{code}'" for code, _word in field.choices)
            table.append_constraint(
                CheckConstraint(f"{column.name} IN ({codes})", name=f"{column.name}_choice")
            )


def shown(field: Field, *, refers: str = "", default: Any = None, **kw: Any) -> MappedColumn[Any]:
    """Declare a column that is a field; its type follows from the field's kind.

    `refers` is the column a PERSON, INSTRUMENT or GOODS refers to, where it isn't the usual one.
    """
    target = refers or REFERS.get(field.kind, "")
    parts: list[Any] = [COLUMN_TYPE[field.kind]()]
    if target:
        parts.append(ForeignKey(target))
    if default is None and field.kind in {Kind.TEXT, Kind.LINES, Kind.ROWS} and not field.required:
        default = ""
    if default is None and field.kind is Kind.YES_NO:
        default = False
    nullable = kw.pop("nullable", not field.required and default is None)
    return mapped_column(*parts, info={"field": field}, nullable=nullable, default=default, **kw)


def hidden(column_type: TypeEngine[Any], reason: str, *, refers: str = "", **kw: Any) -> MappedColumn[Any]:
    """Declare a column that no person reads or types, with the reason."""
    parts: list[Any] = [column_type]
    if refers:
        parts.append(ForeignKey(refers))
    return mapped_column(*parts, info={"hidden": reason}, **kw)


def key() -> MappedColumn[Any]:
    """Declare the key of a record."""
    return hidden(Whole(), "the key", primary_key=True)


def link(to: str, **kw: Any) -> MappedColumn[Any]:
    """Declare a reference to another record's key."""
    return hidden(Whole(), "a reference", refers=to, **kw)


def single_while(name: str, column: str, condition: str) -> Index:
    """Give an index by which no two rows for which a condition holds have the same value of a column."""
    return Index(name, column, unique=True, sqlite_where=text(condition), info={_WHILE: condition})


def say_conditions_to_postgresql() -> None:
    """Hand the conditions of indexes on to PostgreSQL.

    Naming that dialect where an index is declared would load all of it, which takes longer than the first table.
    """
    for table in Record.metadata.tables.values():
        for index in table.indexes:
            if _WHILE in index.info:
                index.dialect_options["postgresql"]["where"] = text(index.info[_WHILE])


def fields_of(record: type[Record]) -> dict[str, Field]:
    """Give the declared fields of a record in the order of its columns, by the name of the attribute."""
    # Asked of the mapper past `inspect`, which would first make ready whatever else is mapped.
    columns = record.__mapper__.columns
    return {name: column.info["field"] for name, column in columns.items() if "field" in column.info}


def asked_of(record: type[Record]) -> dict[str, Field]:
    """Give the fields of a record that a person types, in order; what the program gives is left out."""
    return {name: field for name, field in fields_of(record).items() if not field.given}


def field_of(column: Any) -> Field:
    """Give the field of a mapped column, as `field_of(Instrument.maker)`."""
    field: Field = column.property.columns[0].info["field"]
    return field
