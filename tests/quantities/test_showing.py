"""How amounts, days and rates are shown, in the manners handed down."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from shopledger.quantities.lengths import read_length
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day, show_money, show_rate, show_value

GERMAN = Manners(
    language="de",
    decimal=",",
    group=".",
    day_pattern="dd.MM.y",
    money_suffix="\u00a0€",
)
SWISS = Manners(language="de", group="\u2019", money_prefix="CHF\u00a0")
AMERICAN = Manners(money_prefix="$", day_pattern="MMM d, y", order="mdy")
INDIAN = Manners(grouping=(3, 2))


def test_money_is_shown_as_the_locale_data_show_it() -> None:
    # babel 2.18, format_currency(1234.5, …) in en_US, de_DE and de_CH; run.
    assert show_money(Money(123450, "USD"), AMERICAN) == "$1,234.50"
    assert show_money(Money(123450, "EUR"), GERMAN) == "1.234,50\u00a0€"
    assert show_money(Money(123450, "CHF"), SWISS) == "CHF\u00a01\u2019234.50"


def test_without_a_sign_the_currency_stands_as_its_code() -> None:
    assert show_money(Money(123450, "USD")) == "USD 1,234.50"
    assert show_money(Money(-123450, "USD")) == "\u2212USD 1,234.50"
    assert show_money(Money(0, "JPY")) == "JPY 0"


@pytest.mark.parametrize(
    ("minor", "currency", "manners", "shown"),
    [
        (123456789, "USD", PLAIN, "1,234,567.89"),
        (-5, "USD", PLAIN, "\u22120.05"),
        (100, "JPY", PLAIN, "100"),
        (1234567, "JPY", PLAIN, "1,234,567"),
        (1234567, "KWD", PLAIN, "1,234.567"),
        (123456789, "INR", INDIAN, "12,34,567.89"),
        (123456789, "EUR", GERMAN, "1.234.567,89"),
        (99999, "USD", Manners(group=""), "999.99"),
        (9999900, "USD", Manners(group=""), "99999.00"),
    ],
)
def test_amounts_have_the_locales_separators(minor: int, currency: str, manners: Manners, shown: str) -> None:
    assert show_amount(Money(minor, currency), manners) == shown


def test_zero_is_a_dash_in_a_column_and_digits_in_a_sentence() -> None:
    assert show_amount(Money(0, "USD")) == "\u2013"
    assert show_amount(Money(0, "USD"), dash=False) == "0.00"


@pytest.mark.parametrize(
    ("pattern", "shown"),
    [
        ("d MMM y", "4 Mar 2026"),
        ("d MMMM y", "4 March 2026"),
        ("dd.MM.y", "04.03.2026"),
        ("M/d/yy", "3/4/26"),
        ("y-MM-dd", "2026-03-04"),
        ("d 'de' MMM 'de' y", "4 de Mar de 2026"),
        ("d. LLL y", "4. Mar 2026"),
        ("y'年'M'月'd'日'", "2026年3月4日"),
        ("d ''yy", "4 '26"),
    ],
)
def test_days_follow_the_locales_pattern(pattern: str, shown: str) -> None:
    assert show_day(date(2026, 3, 4), Manners(day_pattern=pattern)) == shown


@pytest.mark.parametrize(
    ("rate", "shown"),
    [
        (Fraction(1, 5), "20%"),
        (Fraction(33, 400), "8.25%"),
        (Fraction(1, 3), "1/3"),
        (Fraction(1, 6), "1/6"),
        (Fraction(0), "0%"),
        (Fraction(1), "100%"),
        (Fraction(1, 1024), "0.09765625%"),
        (Fraction(-1, 5), "\u221220%"),
        (Fraction(-1, 3), "\u22121/3"),
    ],
)
def test_rates_are_percentages_where_they_are_exact(rate: Fraction, shown: str) -> None:
    assert show_rate(rate) == shown


def test_rates_use_the_locales_decimal_sign() -> None:
    assert show_rate(Fraction(33, 400), GERMAN) == "8,25%"


def test_each_kind_of_value_is_shown_as_its_reader_expects_it() -> None:
    assert show_value(Money(500, "USD")) == "USD 5.00"
    assert show_value(date(2026, 3, 4)) == "4 Mar 2026"
    assert show_value(Fraction(1, 4)) == "25%"
    assert show_value(read_length('14 1/8"', field="body")) == '14 1/8"'
    assert show_value(1042) == "1042"
    assert show_value(-3) == "\u22123"
    assert show_value("a-b") == "a-b"
    assert show_value(("buyer", "owner")) == "buyer, owner"
    assert show_value([Money(500, "USD"), 2]) == "USD 5.00, 2"
