"""A reader of exports that knows nothing of the writer: CSV by the letter of RFC 4180, values by the README's forms."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from sqlalchemy import Column

from shopledger.model.types import Bytes, Day, Instant, Rate, Whole, Words, YesNo
from shopledger.quantities.fields import Kind


def read_csv(path: Path) -> list[list[str | None]]:
    """Give the rows of a CSV; None where nothing stands between two commas, which a usual reader can't tell from ""."""
    text = path.read_bytes().decode("utf-8")
    rows: list[list[str | None]] = []
    row: list[str | None] = []
    at = 0
    while at < len(text):
        if text[at] == '"':
            value, at = _quoted(text, at + 1)
        else:
            end = min(place for place in (text.find(",", at), text.find("\r\n", at)) if place >= 0)
            value, at = text[at:end] or None, end
        row.append(value)
        if text[at] == ",":
            at += 1
            if text.startswith("\r\n", at):
                row.append(None)
            else:
                continue
        assert text.startswith("\r\n", at), text[at - 20 : at + 20]
        at += 2
        rows.append(row)
        row = []
    return rows


def _quoted(text: str, at: int) -> tuple[str, int]:
    parts = []
    while True:
        end = text.index('"', at)
        parts.append(text[at:end])
        if not text.startswith('""', end):
            return "".join(parts), end + 1
        parts.append('"')
        at = end + 2


def value_of(column: Column[object], field: str | None, decimals: int) -> object:
    """Give the value that a field of an export stands for, as the column holds it."""
    if field is None:
        return None
    known = column.info.get("field")
    if (known is not None and known.kind is Kind.MONEY) or (column.table.name, column.name) == (
        "posting",
        "amount",
    ):
        minor = Decimal(field) * 10**decimals
        assert minor == int(minor)
        return int(minor)
    match column.type:
        case Words():
            return field
        case YesNo():
            return {"true": True, "false": False}[field]
        case Rate():
            return Fraction(field)
        case Day():
            return date.fromisoformat(field)
        case Instant():
            return datetime.fromisoformat(field)
        case Bytes():
            return bytes.fromhex(field)
        case Whole():
            return int(field)
    raise AssertionError(column.type)
