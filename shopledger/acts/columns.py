"""From a form's values to a record's columns: one way for every kind of field."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

from shopledger.model import Bracket, Record, asked_of
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, check_inputs
from shopledger.quantities.lengths import Length
from shopledger.quantities.money import Money
from shopledger.quantities.numbers import nearest
from shopledger.quantities.words import N_

R = TypeVar("R", bound=Record)

MOST_MINOR = 10**15
"""More than any amount that can be typed has."""


def in_column(name: str, field: Field, value: Any, currency: str) -> Any:
    """Give a checked value as its column stores it.

    Raises: Typed: the value can't be so, or is money of another currency.
    """
    field.check(name, value)
    check_money(value, currency, name)
    if isinstance(value, Money):
        if value.minor < 0:
            raise Typed(N_("{label} can't be below zero."), field=name, label=field.label)
        return value.minor
    if isinstance(value, Length):
        return value.nm
    if field.kind is Kind.ROWS:
        for row in value or ():
            check_inputs(row)
        return brackets_text(value) if value else ""
    return value


def check_money(form: object, currency: str, path: str = "") -> None:
    """Refuse money of another currency, or more of it than can be typed, anywhere in a form.

    Raises: Typed: the field is its path, as `lines[1].price` or `terms.floor`.
    """
    if isinstance(form, Money):
        if form.currency != currency:
            raise Typed(
                N_("The amount is in {other}: this ledger is kept in {currency}."),
                field=path,
                other=form.currency,
                currency=currency,
            )
        if abs(form.minor) >= MOST_MINOR:
            raise Typed(N_("The amount is too large: type a smaller one."), field=path)
    elif isinstance(form, Mapping):
        for name, value in form.items():
            check_money(value, currency, f"{path}.{name}")
    elif isinstance(form, tuple):
        for n, row in enumerate(form):
            check_money(row, currency, f"{path}[{n}]")
    elif is_dataclass(form) and not isinstance(form, type | Length):
        for each in fields(form):
            check_money(getattr(form, each.name), currency, f"{path}.{each.name}" if path else each.name)


def filled(record: type[R], values: Mapping[str, Any], currency: str, *, path: str, **given: Any) -> R:
    """Make a record from a group of typed values and what the program gives.

    Raises: Typed: a value can't be so or belongs to no field of the record; the field is its path in the form.
    """
    return record(**{**_columns(record, values, currency, path, whole=True), **given})


def refill(record: Record, values: Mapping[str, Any], currency: str, *, path: str) -> None:
    """Write the typed values into a record, leaving what was not typed.

    Raises: Typed, as `filled`.
    """
    for name, value in _columns(type(record), values, currency, path, whole=False).items():
        setattr(record, name, value)


def _columns(
    record: type[Record], values: Mapping[str, Any], currency: str, path: str, *, whole: bool
) -> dict[str, Any]:
    fields = asked_of(record)
    for name in values:
        if name not in fields:
            raise Typed(
                N_("There is no field “{name}”. Write it as {nearest}."),
                field=f"{path}.{name}",
                name=name,
                nearest=nearest(name, fields) or "",
            )
    columns = {}
    for name, field in fields.items():
        if not whole and name not in values:
            continue
        value = values.get(name)
        if value is None and name not in values and not field.required:
            continue  # the column's own default stands
        if value is None and field.kind in {Kind.TEXT, Kind.LINES}:
            value = ""
        columns[name] = in_column(f"{path}.{name}", field, value, currency)
    return columns


def brackets_text(brackets: tuple[Bracket, ...]) -> str:
    """Give brackets as the text of their column, in the form of the reckoning's command."""
    rows = [
        {"rate": str(bracket.rate)} | ({} if bracket.up_to is None else {"up_to": bracket.up_to.plain()})
        for bracket in brackets
    ]
    return json.dumps(rows, sort_keys=True)
