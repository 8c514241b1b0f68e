"""CSV for people: what a spreadsheet would reckon is text in it, and everything else is as it was."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date

import pytest

from shopledger.quantities.manners import PLAIN
from shopledger.quantities.money import Money
from shopledger.quantities.spreadsheet import guarded, written_for_people


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+44 555 0100",
        "-17",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "\nwords",
        "  =1+1",
        "\u00a0=1",
        "\uff1d1+1",
        "\uff0b1",
        "\uff0d1",
        "\uff20x",
        "\u22121",
        "|calc",
        "%0A",
    ],
)
def test_what_begins_like_a_formula_is_text(text: str) -> None:
    # Which beginnings a spreadsheet takes for a formula: common practice, no source.
    assert guarded(text) == f"'{text}"


@pytest.mark.parametrize(
    "text", ["", "EM 84", "1/2 = a half", "here", "\u2013", "'=1", "No. 011", "17 \u2212 1"]
)
def test_other_texts_are_as_they_were(text: str) -> None:
    assert guarded(text) == text


def test_amounts_days_and_counts_are_read_back() -> None:
    made = written_for_people(
        [('a \u201cb\u201d, "c"\nd', Money(-1250, "EUR"), date(2026, 3, 4), 3, None), ()], PLAIN
    )
    text = made.decode("utf-8-sig")
    assert made.startswith(b"\xef\xbb\xbf")
    assert text.endswith("\r\n\r\n")
    (row, empty) = csv.reader(io.StringIO(text, newline=""))
    assert row == ['a \u201cb\u201d, "c"\nd', "-12.50", "2026-03-04", "3", ""]
    assert empty == []


def test_a_locale_with_a_decimal_comma_parts_by_semicolons() -> None:
    made = written_for_people([("a;b", Money(1250, "EUR"), 2)], replace(PLAIN, decimal=","))
    assert made.decode("utf-8-sig") == '"a;b";12,50;2\r\n'
