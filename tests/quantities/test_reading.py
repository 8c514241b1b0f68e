"""Amounts, rates and counts as people type them: what is read, and how the rest is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.reading import read_amount, read_count, read_rate
from shopledger.quantities.showing import show_amount, show_money, show_rate

AMERICAN = Manners(money_prefix="$")
GERMAN = Manners(language="de", decimal=",", group=".", money_suffix="\u00a0€")
SWISS = Manners(language="de", group="\u2019", money_prefix="CHF\u00a0")
FRENCH = Manners(language="fr", decimal=",", group="\u202f", money_suffix="\u00a0€")
INDIAN = Manners(grouping=(3, 2), money_prefix="₹")
JAPANESE = Manners(language="ja", money_prefix="￥")
EVERY = [
    (AMERICAN, "USD"),
    (GERMAN, "EUR"),
    (SWISS, "CHF"),
    (FRENCH, "EUR"),
    (INDIAN, "INR"),
    (JAPANESE, "JPY"),
    (PLAIN, "KWD"),
]


@pytest.mark.parametrize(
    ("typed", "manners", "currency", "plain"),
    [
        ("12,000.50", AMERICAN, "USD", "12000.50"),
        ("12000.5", AMERICAN, "USD", "12000.50"),
        ("12 000.50", AMERICAN, "USD", "12000.50"),
        ("$12,000", AMERICAN, "USD", "12000.00"),
        ("$ 12,000.00", AMERICAN, "USD", "12000.00"),
        ("12000 USD", AMERICAN, "USD", "12000.00"),
        ("usd 12000", AMERICAN, "USD", "12000.00"),
        (".5", AMERICAN, "USD", "0.50"),
        ("-5", AMERICAN, "USD", "-5.00"),
        ("\u22125.00", AMERICAN, "USD", "-5.00"),
        ("\u2212$5.00", AMERICAN, "USD", "-5.00"),
        ("$-5.00", AMERICAN, "USD", "-5.00"),
        ("12.000,50", GERMAN, "EUR", "12000.50"),
        ("12.000,50 €", GERMAN, "EUR", "12000.50"),
        ("12.000", GERMAN, "EUR", "12000.00"),
        ("12000,5", GERMAN, "EUR", "12000.50"),
        ("12\u2019000.50", SWISS, "CHF", "12000.50"),
        ("12'000.50", SWISS, "CHF", "12000.50"),
        ("CHF 12'000.50", SWISS, "CHF", "12000.50"),
        ("12\u202f000,50\u00a0€", FRENCH, "EUR", "12000.50"),
        ("12\u00a0000,50", FRENCH, "EUR", "12000.50"),
        ("12 000,50", FRENCH, "EUR", "12000.50"),
        ("12,34,567.50", INDIAN, "INR", "1234567.50"),
        ("1,234", JAPANESE, "JPY", "1234"),
        ("￥1,234", JAPANESE, "JPY", "1234"),
        ("1.234", PLAIN, "KWD", "1.234"),
        ("999999999999999", AMERICAN, "USD", "999999999999999.00"),
    ],
)
def test_an_amount_is_read_as_its_locale_writes_it(
    typed: str, manners: Manners, currency: str, plain: str
) -> None:
    assert read_amount(typed, currency, manners).plain() == plain


@pytest.mark.parametrize(
    ("typed", "manners", "currency", "says"),
    [
        ("12000.50", GERMAN, "EUR", "here “,” stands before the decimals. If 12.000,50 is meant"),
        ("1.50", GERMAN, "EUR", "If 1,50 is meant"),
        ("12,000.50", GERMAN, "EUR", "If 12.000,50 is meant"),
        ("12.000,50", AMERICAN, "USD", "If 12,000.50 is meant"),
        ("12,50", AMERICAN, "USD", "If 12.50 is meant"),
        ("1,2345.00", AMERICAN, "USD", "between groups of three figures"),
        ("12,34,567.50", AMERICAN, "USD", "between groups of three figures"),
        ("12.00.000,00", GERMAN, "EUR", "between groups of three figures"),
        ("5 EUR", AMERICAN, "USD", "is in EUR, but this ledger is kept in USD"),
        ("gbp5", AMERICAN, "USD", "is in GBP"),
        ("€5", AMERICAN, "USD", "bears the sign “€”"),
        ("1.005", AMERICAN, "USD", "has 3 decimals, but USD has 2"),
        ("1234.00", JAPANESE, "JPY", "JPY has none"),
        ("9999999999999999", AMERICAN, "USD", "at most 15"),
        ("", AMERICAN, "USD", "missing: write it as 12,000.50"),
    ],
)
def test_a_refused_amount_says_what_would_be_right(
    typed: str, manners: Manners, currency: str, says: str
) -> None:
    with pytest.raises(Typed) as refused:
        read_amount(typed, currency, manners, field="price")
    assert says in refused.value.sentence(manners)
    assert refused.value.field == "price"


@pytest.mark.parametrize(
    "typed",
    [
        "abc", "1e5", "1E5", "1e99999999", "NaN", "nan", "Infinity", "-inf", "1_000", "0x10", "１２", "٣٤", "²", "½",
        "--5", "+5", "5-", "(5)", "5.", "1.2.3", "1..2", ",5", "5,", "1,,000", "1 , 000", "1 000,000.00", "$", "-",
        "USD", "$5$", "5%", "5\x00", "5\n6", "5 6", "\u202e5", "9" * 10_000, "1," * 4000,
    ],
)  # fmt: skip
def test_what_is_no_amount_is_refused_in_a_sentence(typed: str) -> None:
    with pytest.raises(Typed) as refused:
        read_amount(typed, "USD", AMERICAN)
    assert len(refused.value.sentence(AMERICAN)) < 250


@pytest.mark.parametrize(("manners", "currency"), EVERY)
@given(minor=st.integers(-(10**14), 10**14))
def test_a_shown_amount_reads_back_to_the_unit(manners: Manners, currency: str, minor: int) -> None:
    money = Money(minor, currency)
    assert read_amount(show_amount(money, manners, dash=False), currency, manners) == money
    assert read_amount(show_money(money, manners), currency, manners) == money


@pytest.mark.parametrize(("manners", "currency"), EVERY)
@given(text=st.text(alphabet="0123456789.,'\u2019\u202f\u00a0 -\u2212$€eE", max_size=20))
def test_near_amounts_are_read_or_refused(manners: Manners, currency: str, text: str) -> None:
    try:
        money = read_amount(text, currency, manners)
    except Typed as refused:
        assert refused.sentence(manners)
    else:
        # Nothing typed is dropped: the figures of the amount are those that were typed, in their order.
        typed = "".join(letter for letter in text if letter.isdigit()).lstrip("0")
        read = str(abs(money.minor)) if money.minor else ""
        assert read == typed or read.rstrip("0") == typed.rstrip("0")


@pytest.mark.parametrize(
    ("typed", "manners", "rate"),
    [
        ("20%", PLAIN, Fraction(1, 5)),
        ("20 %", PLAIN, Fraction(1, 5)),
        ("20\u00a0%", GERMAN, Fraction(1, 5)),
        ("8.25%", PLAIN, Fraction(33, 400)),
        ("8,25 %", GERMAN, Fraction(33, 400)),
        ("0.2", PLAIN, Fraction(1, 5)),
        ("0,2", GERMAN, Fraction(1, 5)),
        ("1/3", PLAIN, Fraction(1, 3)),
        ("1 / 3", PLAIN, Fraction(1, 3)),
        ("100%", PLAIN, Fraction(1)),
        ("0", PLAIN, Fraction(0)),
        ("0%", PLAIN, Fraction(0)),
    ],
)
def test_a_rate_is_read_exactly(typed: str, manners: Manners, rate: Fraction) -> None:
    assert read_rate(typed, manners) == rate


@pytest.mark.parametrize(
    ("typed", "manners", "says"),
    [
        ("20", PLAIN, "write 20% if percent is meant"),
        ("1", PLAIN, "two things"),
        ("101%", PLAIN, "above 100%"),
        ("1.5", PLAIN, "above 100%"),
        ("-1%", PLAIN, "below 0"),
        ("\u22121%", PLAIN, "below 0"),
        ("8,25%", PLAIN, "Write it as 8.25%"),
        ("8.25%", GERMAN, "Write it as 8,25%"),
        ("1/0", PLAIN, "divides by zero"),
        ("", PLAIN, "missing"),
        ("fifth", PLAIN, "not a rate"),
        ("1e-1", PLAIN, "not a rate"),
        ("２0%", PLAIN, "not a rate"),
        ("9" * 5000 + "%", PLAIN, "digits"),
    ],
)
def test_a_refused_rate_says_what_would_be_right(typed: str, manners: Manners, says: str) -> None:
    with pytest.raises(Typed) as refused:
        read_rate(typed, manners, field="commission")
    assert says in refused.value.sentence(manners)
    assert refused.value.field == "commission"


@pytest.mark.parametrize("manners", [PLAIN, GERMAN, FRENCH])
@given(rate=st.fractions(0, 1, max_denominator=10_000))
def test_a_shown_rate_reads_back_exactly(manners: Manners, rate: Fraction) -> None:
    assert read_rate(show_rate(rate, manners), manners) == rate


@pytest.mark.parametrize(("typed", "n"), [("0", 0), ("12", 12), ("1,200", 1200), ("1 200", 1200), (" 7 ", 7)])
def test_a_count_is_read(typed: str, n: int) -> None:
    assert read_count(typed) == n


@pytest.mark.parametrize(
    "typed", ["", "-1", "1.5", "1.0", "one", "１", "1e3", "12,00", "9" * 400, "1000000000001"]
)
def test_what_is_no_count_is_refused(typed: str) -> None:
    with pytest.raises(Typed) as refused:
        read_count(typed, field="strings")
    assert refused.value.field == "strings"


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    for manners, currency in EVERY:
        try:
            read_amount(text, currency, manners)
        except Typed as refused:
            assert refused.sentence(manners)
    for read in (read_rate, read_count):
        try:
            read(text)
        except Typed as refused:
            assert str(refused)
