"""The fields of a record as a form asks for them, and what they begin with."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import ColumnDefault, inspect

from shopledger.model import Record, asked_of
from shopledger.quantities.fields import Field, Kind

_AS_STORED = frozenset({Kind.MONEY, Kind.LENGTH, Kind.ROWS})
"""Kinds whose columns hold another type than a form does; none of them begins with a value."""


def group_fields(record: type[Record]) -> Mapping[str, Field]:
    """Give the fields of a record that a person types, in order."""
    return asked_of(record)


def group_beginning(record: type[Record]) -> Mapping[str, object]:
    """Give what the fields of a new record begin with, by name; those that begin empty are left out."""
    columns = inspect(record).column_attrs
    found: dict[str, object] = {}
    for name, field in asked_of(record).items():
        default = columns[name].columns[0].default
        if (
            field.kind not in _AS_STORED
            and isinstance(default, ColumnDefault)
            and default.is_scalar
            and default.arg
        ):
            found[name] = default.arg
    return found
