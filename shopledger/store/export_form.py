"""The forms of values in an export: how each is written, and the words that say so to whoever reads it later."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from fractions import Fraction
from typing import Any

from shopledger.quantities.days import instant_text
from shopledger.quantities.money import Money

HOW_TO_READ = """\
This folder is a whole shop ledger in open formats, format {format}, ledger revision {revision}, currency {currency}.

  NAME.csv          one file a table, rows by their key; the first line names the columns
  journal.csv       the journal: entry, date, account, person, debit, credit, currency, source; an amount stands in
                    one of the two columns, accounts by their code, people by their number
  papers/           the papers as they were issued, by their number (a stroke in a number is a dash here)
  files/            pictures and scans, by the SHA-256 that the tables name
  manifest.json     the SHA-256 of every other file

CSV as in RFC 4180: UTF-8 without a mark at its beginning, comma, lines ended by CR LF, text in double quotes (a quote
within is doubled; line feeds within stay). Nothing between two commas is no value; "" is an empty text. Texts are
never altered: open a file as text columns where a sheet would take a text for a formula.

  amounts           decimal, with the decimals of the currency: 11250.00 (also negative: -25.00)
  shares and rates  exact fractions: 1/3, 1/5
  lengths           whole nanometres; the column "typed" has them as they were typed
  days              2025-03-04
  instants          UTC, 2025-03-04T09:00:00.000000Z
  yes and no        true, false
  bytes             hexadecimal (the salts of the change record)
"""


def written(value: Any, currency: str | None = None) -> str | None:
    """Give a value as a field of CSV, quotes included; None for no value.

    Shape:  with `currency` a whole number is an amount in minor units.
    """
    match value:
        case None:
            return None
        case bool():
            return "true" if value else "false"
        case int():
            return str(value) if currency is None else Money(value, currency).plain()
        case Money():
            return value.plain()
        case Fraction():
            return f"{value.numerator}/{value.denominator}"
        case datetime():
            return instant_text(value)
        case date():
            return value.isoformat()
        case bytes() | memoryview():
            return bytes(value).hex()
        case _:
            return '"' + str(value).replace('"', '""') + '"'


def csv_line(fields: Iterable[str | None]) -> bytes:
    """Give one line of CSV from fields that are written already."""
    return (",".join(field or "" for field in fields) + "\r\n").encode()
