"""CSV for people: lines that a spreadsheet opens as they are meant, and in which no text is taken for a formula.

The export of a whole ledger is another thing: there every text comes out as it is, since a reader wants it back as it
went in (`store.export`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from shopledger.quantities.manners import Manners
from shopledger.quantities.money import Money

MARK = "\ufeff"
"""The mark at the beginning by which spreadsheets tell UTF-8 from an older set of letters."""
# What spreadsheets take for the beginning of a formula, their wide forms too; common practice, no source.
_BEGINS_FORMULA = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20", "\u2212", "|", "%")
_LEADING = " \t\r\n\u00a0\ufeff\u200b"

Value = str | int | date | Money | None


def guarded(text: str) -> str:
    """Give a text that no spreadsheet reckons: one that would begin a formula has an apostrophe before it."""
    begins = text.lstrip(_LEADING)
    risky = begins.startswith(_BEGINS_FORMULA) or text.startswith(("\t", "\r", "\n"))
    return f"'{text}" if risky else text


def written_for_people(rows: Iterable[Sequence[Value]], manners: Manners) -> bytes:
    """Give a whole file of rows.

    Shape:  amounts as plain figures without their currency, with the decimal sign of the reader's locale; days as
            2025-03-04; where the decimal sign is a comma, fields are parted by semicolons, as spreadsheets of such a
            locale expect. Lines end in CR LF, texts stand in double quotes as in RFC 4180.
    """
    parting = ";" if manners.decimal == "," else ","
    lines = (parting.join(_field(value, manners) for value in row) for row in rows)
    return (MARK + "".join(f"{line}\r\n" for line in lines)).encode()


def _field(value: Value, manners: Manners) -> str:
    match value:
        case None | "":
            return ""
        case Money():
            return value.plain().replace(".", "," if manners.decimal == "," else ".")
        case int():
            return str(value)
        case date():
            return value.isoformat()
        case _:
            return '"' + guarded(value).replace('"', '""') + '"'
