"""The manners of a locale, checked against the library of locales itself and against published ways of writing."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from babel.dates import format_skeleton
from babel.localedata import locale_identifiers
from babel.numbers import format_currency
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.money import Money
from shopledger.quantities.reading import read_amount, read_day
from shopledger.quantities.showing import show_day, show_money
from shopledger.store.manners import locales, manners_of

PLACES = [
    ("en_US", "USD"),
    ("en_GB", "GBP"),
    ("de_DE", "EUR"),
    ("de_CH", "CHF"),
    ("fr_FR", "EUR"),
    ("ja_JP", "JPY"),
    ("en_IN", "INR"),
    ("sv_SE", "SEK"),
]


def _straight(shown: str) -> str:
    return shown.replace("\u2019", "'")


@pytest.mark.parametrize(
    ("locale", "currency", "shown"),
    [
        # As babel 2.18 shows 1234.5 (run): the spaces are no-break spaces. In Switzerland the sign between groups is
        # an apostrophe, typographic up to CLDR 47 and straight from 48 on; each is compared as the straight one.
        ("en_US", "USD", "$1,234.50"),
        ("de_DE", "EUR", "1.234,50\u00a0€"),
        ("de_CH", "CHF", "CHF\u00a01'234.50"),
    ],
)
def test_money_is_shown_as_the_locale_shows_it(locale: str, currency: str, shown: str) -> None:
    assert _straight(show_money(Money(123450, currency), manners_of(locale, currency))) == shown


@pytest.mark.parametrize(("locale", "currency"), PLACES)
@given(minor=st.integers(0, 10**12))
def test_money_agrees_with_the_library_of_locales(locale: str, currency: str, minor: int) -> None:
    # Oracle: format_currency of babel, run here; CLDR and ISO 4217 agree on the decimals of these currencies.
    money = Money(minor, currency)
    exact = Decimal(money.plain())
    shown, told = (
        show_money(money, manners_of(locale, currency)),
        format_currency(exact, currency, locale=locale),
    )
    if "'" in shown:
        # babel 2.19 takes two straight apostrophes for a quotation in its own pattern and leaves them out.
        shown, told = shown.replace("'", ""), told.replace("'", "")
    assert shown == told


@pytest.mark.parametrize(("locale", "currency"), PLACES)
@given(day=st.dates(date(1500, 1, 1), date(2199, 12, 31)))
def test_days_agree_with_the_library_of_locales(locale: str, currency: str, day: date) -> None:
    # Oracle: babel's format of day, short month and year, run here.
    assert show_day(day, manners_of(locale, currency)) == format_skeleton("yMMMd", day, locale=locale)


@pytest.mark.parametrize(("locale", "currency"), PLACES)
def test_what_is_shown_can_be_typed(locale: str, currency: str) -> None:
    manners = manners_of(locale, currency)
    money = Money(-123_456_789, currency)
    assert read_amount(show_money(money, manners), currency, manners) == money
    for month in range(1, 13):
        day = date(2026, month, 28)
        assert read_day(show_day(day, manners), manners) == day


def test_every_locale_there_is_has_manners() -> None:
    day = date(2026, 3, 4)
    for locale in locale_identifiers():
        manners = manners_of(locale, "USD")
        assert len(manners.months) == len(manners.months_long) == 12
        assert sorted(manners.order) == ["d", "m", "y"]
        assert show_day(day, manners) == format_skeleton("yMMMd", day, locale=locale), locale


def test_a_code_in_letters_is_set_off_from_the_figures() -> None:
    # Unicode CLDR, currencySpacing: a letter beside a figure gets a no-break space between (babel leaves it out).
    assert show_money(Money(500, "CHF"), manners_of("en_US", "CHF")) == "CHF\u00a05.00"


def test_a_tag_with_a_hyphen_is_the_same_locale() -> None:
    assert manners_of("de-CH", "CHF") == manners_of("de_CH", "CHF")


@pytest.mark.parametrize(
    ("locale", "nearest"), [("de_CHH", "de_CH"), ("en_USA", "en_US"), ("", "en_US"), ("../../etc", "en_US")]
)
def test_an_unknown_locale_is_refused_with_the_nearest(locale: str, nearest: str) -> None:
    with pytest.raises(Typed) as refused:
        manners_of(locale, "USD")
    assert refused.value.field == "locale"
    assert f"write it as {nearest}." in str(refused.value)
    assert nearest in locales()
