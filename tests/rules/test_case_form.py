"""Numbers and days of the written form, each within what it may be."""

from __future__ import annotations

import json
from datetime import date

import pytest

from shopledger.quantities.errors import Typed
from shopledger.rules.case_form import Bounds, Form, line_of, number_text, parse_json

LENGTHS = Bounds(50.0, 3000.0)


def form(text: str) -> Form:
    """Give the form of an object that has the value under the key `it`."""
    return Form(parse_json(f'{{"it": {text}}}'), "part", ("it", "other"))


@pytest.mark.parametrize(
    ("text", "number"), [("50", 50.0), ("3000", 3000.0), ("328.5", 328.5), ("3.285e2", 328.5)]
)
def test_a_number_within_its_bounds(text: str, number: float) -> None:
    assert form(text).number("it", LENGTHS) == number
    assert form(text).needed_number("it", LENGTHS, "328.0") == number


@pytest.mark.parametrize("text", ["49.999", "3000.001", "-50", "1e999", "9" * 500])
def test_a_number_out_of_its_bounds(text: str) -> None:
    with pytest.raises(Typed) as refused:
        form(text).number("it", LENGTHS)
    assert line_of(refused.value).startswith("part.it: ")
    assert line_of(refused.value).endswith("can't be used here. Write a number from 50 to 3000.")


@pytest.mark.parametrize("text", ["NaN", "Infinity", "-Infinity", "true", '"328"', "[]", "{}"])
def test_what_is_no_number(text: str) -> None:
    with pytest.raises(Typed) as refused:
        form(text).number("it", LENGTHS)
    assert line_of(refused.value).startswith("part.it: ")


def test_a_bound_may_be_excluded() -> None:
    above = Bounds(0.0, 180.0, open_below=True)
    assert above.hold(1e-9)
    assert not above.hold(0.0)
    with pytest.raises(Typed, match="Write a number above 0 and at most 180"):
        form("0").number("it", above)


def test_a_number_left_out() -> None:
    assert form("null").number("it", LENGTHS) is None
    with pytest.raises(Typed, match=r"This is missing\. Write it, such as 328\.0"):
        form("null").needed_number("it", LENGTHS, "328.0")


@pytest.mark.parametrize(
    ("number", "text"), [(5.0, "5"), (0.01, "0.01"), (-3.0, "-3"), (1e300, "1e+300"), (float("inf"), "inf")]
)
def test_a_number_as_short_as_it_can_be(number: float, text: str) -> None:
    assert number_text(number) == text


def test_a_day_of_the_calendar() -> None:
    assert form('"2026-03-05"').day("it") == date(2026, 3, 5)
    assert form('"2024-02-29"').day("it") == date(2024, 2, 29)
    assert form("null").day("it") is None


@pytest.mark.parametrize(
    "typed",
    ["2026-02-29", "2026-3-5", "20260305", "2026-W10-4", "5 Mar 2026", "", "0000-01-01", "２０２６-03-05"],
)
def test_what_is_no_day(typed: str) -> None:
    with pytest.raises(Typed, match="is no day of the calendar"):
        form(json.dumps(typed)).day("it")


def test_a_number_is_no_day() -> None:
    with pytest.raises(Typed, match=r"Here stands the number 2026\. Write the day as text"):
        form("2026").day("it")
