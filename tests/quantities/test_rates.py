"""Rates: three ways to write one, and what is none."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.rates import parse_rate


@pytest.mark.parametrize(
    ("typed", "rate"),
    [
        ("20%", Fraction(1, 5)),
        ("0.2", Fraction(1, 5)),
        ("0.20", Fraction(1, 5)),
        ("1/3", Fraction(1, 3)),
        ("2/6", Fraction(1, 3)),
        ("8.25%", Fraction(33, 400)),
        ("0%", Fraction(0)),
        ("0", Fraction(0)),
        ("-0%", Fraction(0)),
        ("100%", Fraction(1)),
        ("1", Fraction(1)),
        ("3/3", Fraction(1)),
        ("33.333333%", Fraction(33333333, 10**8)),
    ],
)
def test_percentages_decimals_and_fractions_are_exact(typed: str, rate: Fraction) -> None:
    assert parse_rate(typed) == rate


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("-1%", "below 0"),
        ("-0.01", "below 0"),
        ("-1/3", "below 0"),
        ("100.01%", "above 100%"),
        ("20", "above 100%"),
        ("4/3", "above 100%"),
        ("1/0", "divides by zero"),
        ("1/00", "divides by zero"),
        ("9" * 100_000, "too many digits"),
        ("1/" + "9" * 100_000, "too many digits"),
    ],
)
def test_a_rate_out_of_bounds_is_refused(typed: str, says: str) -> None:
    with pytest.raises(Typed, match=says) as refused:
        parse_rate(typed, field="terms.commission.rate")
    assert refused.value.field == "terms.commission.rate"
    assert len(str(refused.value)) < 150


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "%",
        " 20%",
        "20 %",
        "20%%",
        "2e1%",
        "NaN",
        "Infinity",
        "1/3%",
        "1/-3",
        "1 1/2",
        ".2",
        "5.%",
        "½",
        "２０%",
        "0,2",
        "1_0%",
        "20%\n",
        "x" * 100000,
    ],
)
def test_anything_else_is_no_rate(typed: str) -> None:
    with pytest.raises(Typed, match="is not a rate"):
        parse_rate(typed)


@settings(deadline=None, print_blob=True)
@given(st.fractions(0, 1, max_denominator=10**9))
def test_every_fraction_of_one_reads_back(rate: Fraction) -> None:
    assert parse_rate(f"{rate.numerator}/{rate.denominator}") == rate
