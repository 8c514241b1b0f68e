"""Money: published roundings, divisions by largest remainder, and what may not be mixed or mistyped."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.errors import Bug, Typed
from shopledger.quantities.money import Money, round_half_away, share_out, total

anywhere = settings(deadline=None, print_blob=True)
minors = st.integers(-(10**15), 10**15)
rates = st.fractions(0, 1, max_denominator=10**6)


def eur(text: str) -> Money:
    return Money.parse(text, "EUR")


def usd(text: str) -> Money:
    return Money.parse(text, "USD")


@pytest.mark.parametrize(
    ("amount", "percent", "tax"),
    [
        # EN 16931 sample invoice ubl-tc434-example2: 365.125 goes up, half-even would give 365.12.
        ("1460.50", 25, "365.13"),
        # The same invoice: its second rate, and the line that is exempt.
        ("1.00", 15, "0.15"),
        ("-25.00", 0, "0.00"),
        # EN 16931 samples, BIS3 positive and negative: the reversal mirrors to the cent.
        ("625743.54", 25, "156435.89"),
        ("-625743.54", 25, "-156435.89"),
        # EN 16931 sample invoice ubl-tc434-example1: two rates.
        ("183.23", 6, "10.99"),
        ("46.37", 21, "9.74"),
    ],
)
def test_a_rate_is_rounded_once_half_away_from_zero(amount: str, percent: int, tax: str) -> None:
    assert eur(amount).times(Fraction(percent, 100)) == eur(tax)


def test_the_tax_is_carried_to_the_third_decimal() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324 (e.g. R.I. Gen. Laws 44-18.1-25): 0.125 gives 0.13.
    assert usd("1.00").times(Fraction("0.125")) == usd("0.13")


def test_a_whole_invoice_adds_up_to_its_published_totals() -> None:
    # EN 16931 sample invoice ubl-tc434-example2, whole.
    lines = total([eur(line) for line in ("1273.00", "-3.96", "4.96", "-25.00", "187.50")], "EUR")
    net = lines - eur("100.00") + eur("100.00")
    at_fifteen, exempt = eur("1.00"), eur("-25.00")
    at_twenty_five = net - at_fifteen - exempt
    tax = at_twenty_five.times(Fraction(1, 4)) + at_fifteen.times(Fraction(15, 100))
    assert (net, tax, net + tax) == (eur("1436.50"), eur("365.28"), eur("1801.78"))
    assert net + tax - eur("1000.00") == eur("801.78")


def test_the_gross_of_an_invoice_with_two_rates() -> None:
    # EN 16931 sample invoice ubl-tc434-example1.
    net = eur("183.23") + eur("46.37")
    tax = eur("183.23").times(Fraction(6, 100)) + eur("46.37").times(Fraction(21, 100))
    assert tax == eur("20.73")
    assert net + tax == eur("250.33")


def test_an_amount_converted_between_currencies_is_rounded_half_up() -> None:
    # EC Regulation 1103/97 article 5, Slovenian changeover examples.
    assert round_half_away(Fraction("24.785") * 100) == 2479


def test_sums_that_break_floating_point_numbers_are_exact() -> None:
    # EN 16931 sample on rule BR-CO-10.
    assert total([eur("720.81"), eur("0.01"), -eur("720.81"), -eur("0.01")], "EUR") == Money.zero("EUR")


@pytest.mark.parametrize(
    ("votes", "seats", "shares"),
    [
        # Computed with the library `apportionment` (largest remainder, untied cases).
        ([247_000, 185_000, 459_000, 400_000, 413_000], 42, [6, 5, 11, 10, 10]),
        ([50, 30, 20], 7, [4, 2, 1]),
    ],
)
def test_largest_remainder_agrees_with_a_library(votes: list[int], seats: int, shares: list[int]) -> None:
    assert share_out(seats, votes) == shares


def test_of_equal_fractions_the_first_named_is_served_first() -> None:
    # The rule of this ledger (common practice, no source).
    assert share_out(100, [1, 1, 1]) == [34, 33, 33]
    assert share_out(200, [1, 1, 1]) == [67, 67, 66]
    assert share_out(5, [Fraction(1, 2), Fraction(1, 2)]) == [3, 2]


def test_a_negative_amount_divides_like_its_absolute_value() -> None:
    assert share_out(-100, [1, 1, 1]) == [-34, -33, -33]
    assert Money(-5, "USD").shared([1, 1]) == (Money(-3, "USD"), Money(-2, "USD"))


def test_nothing_divides_into_nothing_and_something_not_between_nobody() -> None:
    assert share_out(0, [0, 0]) == [0, 0]
    assert share_out(0, []) == []
    for nobody in ([], [0, 0]):
        with pytest.raises(Bug, match="between nobody"):
            share_out(1, nobody)
    with pytest.raises(Bug, match="below zero"):
        share_out(1, [2, -1])


@anywhere
@given(minors, st.lists(st.fractions(0, 10**6, max_denominator=10**4), min_size=1, max_size=9))
def test_parts_add_up_and_none_is_a_unit_off_its_exact_share(amount: int, weights: list[Fraction]) -> None:
    if sum(weights) == 0:
        weights[0] = Fraction(1)
    parts = share_out(amount, weights)
    assert sum(parts) == amount
    whole = sum(weights)
    assert all(abs(part - amount * weight / whole) < 1 for part, weight in zip(parts, weights, strict=True))
    assert share_out(-amount, weights) == [-part for part in parts]


@anywhere
@given(minors, rates)
def test_a_reversal_negates_a_rounded_figure_to_the_unit(amount: int, rate: Fraction) -> None:
    money = Money(amount, "USD")
    assert (-money).times(rate) == -money.times(rate)
    assert abs(money.times(rate).minor - amount * rate) <= Fraction(1, 2)


@anywhere
@given(minors, st.sampled_from(["USD", "JPY", "KWD"]))
def test_plain_text_reads_back_as_the_same_amount(amount: int, currency: str) -> None:
    money = Money(amount % 10**15, currency)
    assert Money.parse(money.plain(), currency) == money
    if money:
        assert Money.parse((-money).plain(), currency) == -money


def test_halves_differ_by_the_odd_unit() -> None:
    assert Money(5, "USD").halves() == (Money(2, "USD"), Money(3, "USD"))
    assert Money(-5, "USD").halves() == (Money(-2, "USD"), Money(-3, "USD"))
    assert Money(4, "USD").halves() == (Money(2, "USD"), Money(2, "USD"))


@pytest.mark.parametrize(
    ("minor", "currency", "plain"),
    [
        (1_125_000, "USD", "11250.00"),
        (-5, "USD", "-0.05"),
        (0, "USD", "0.00"),
        (7, "JPY", "7"),
        (-1234, "KWD", "-1.234"),
    ],
)
def test_plain_text_has_the_decimals_of_its_currency(minor: int, currency: str, plain: str) -> None:
    assert Money(minor, currency).plain() == plain


def test_fewer_decimals_than_the_currency_has_are_read() -> None:
    assert usd("5") == Money(500, "USD")
    assert usd("5.1") == Money(510, "USD")
    assert usd("-0.00") == Money(0, "USD")
    assert usd("9999999999999.99") == Money(999_999_999_999_999, "USD")


@pytest.mark.parametrize(
    "typed",
    [
        "",
        " 1",
        "1 ",
        "1\n",
        "1.",
        ".5",
        "+1",
        "--1",
        "1e5",
        "1E5",
        "NaN",
        "Infinity",
        "-Infinity",
        "1_000",
        "1,000",
        "0x10",
        "１２",
        "٣",
        "1.2.3",
        "1/2",
        "−1",
        "ten",
        "1\x00",
    ],
)
def test_anything_but_plain_digits_is_refused(typed: str) -> None:
    with pytest.raises(Typed, match="is not an amount") as refused:
        Money.parse(typed, "USD", field="price")
    assert refused.value.field == "price"
    assert "1250.00" in str(refused.value)
    assert len(str(refused.value).splitlines()) == 1


@pytest.mark.parametrize(
    ("typed", "currency", "says"),
    [
        ("1.000", "USD", "has 3 decimals, but USD has 2"),
        ("1.0", "JPY", "has decimals, but JPY has none"),
        ("1.0000", "KWD", "has 4 decimals, but KWD has 3"),
        ("1234567890123456", "USD", "has 16 digits"),
        ("9" * 100_000, "USD", "has 100000 digits"),
    ],
)
def test_too_fine_or_too_large_an_amount_is_refused(typed: str, currency: str, says: str) -> None:
    with pytest.raises(Typed, match=says) as refused:
        Money.parse(typed, currency)
    assert len(str(refused.value)) < 150


def test_two_currencies_never_meet() -> None:
    for meet in (
        lambda: usd("1") + eur("1"),
        lambda: usd("1") - eur("1"),
        lambda: usd("1") < eur("1"),
        lambda: usd("1") >= eur("1"),
    ):
        with pytest.raises(Bug, match="one currency"):
            meet()
    assert usd("1") != eur("1")


def test_nothing_but_whole_units_is_money() -> None:
    for wrong in (1.0, True, "1", Fraction(1)):
        with pytest.raises(TypeError, match="whole minor units"):
            Money(wrong, "USD")  # type: ignore[arg-type]
    for add in (lambda: usd("1") + 1, lambda: usd("1") - 1.0, lambda: usd("1") < 2, lambda: usd("1") >= 2):
        with pytest.raises(TypeError):
            add()


def test_amounts_are_ordered_and_true_where_not_zero() -> None:
    assert usd("1") < usd("2") <= usd("2")
    assert usd("2") > usd("1") >= usd("1")
    assert max(usd("1"), usd("2"), usd("-3")) == usd("2")
    assert abs(usd("-3")) == usd("3")
    assert usd("0.01")
    assert not Money.zero("USD")
    assert total([], "USD") == Money.zero("USD")
