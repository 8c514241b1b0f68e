"""The manners of a locale, taken from the library of locales and handed down as a value.

This is the one place that asks for a locale's separators, names of months and way with money; everything else is given
the answer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.numbers import brief, nearest
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from babel import Locale

NO_BREAK_SPACE = "\u00a0"


def manners_of(locale: str, currency: str) -> Manners:
    """Give the manners of a locale such as "de_CH", with money in the ledger's currency.

    Numbers are shown in Western figures in every locale, since amounts are typed in them.

    Raises: Typed: there is no such locale; the nearest known one is named.
    Source: Unicode CLDR, as the package `babel` carries it; the day is its pattern for day, short month and year.
    """
    from babel import Locale, UnknownLocaleError

    try:
        data = Locale.parse(locale.strip().replace("-", "_"))
    except (UnknownLocaleError, ValueError, TypeError):
        raise Typed(
            N_("“{locale}” is no locale that is known: write it as {nearest}."),
            field="locale",
            locale=brief(locale),
            nearest=_nearest_locale(locale),
        ) from None
    symbols = data.number_symbols.get("latn") or {}
    prefix, suffix = _around_money(data.currency_formats["standard"].pattern, _sign(data, currency))
    # Some locales ask for the year of the week, which differs at the turn of the year: the calendar's is meant.
    pattern = str(data.datetime_skeletons.get("yMMMd", PLAIN.day_pattern)).replace("Y", "y")
    names = data.months["format"]
    return Manners(
        language=data.language,
        decimal=symbols.get("decimal", PLAIN.decimal),
        group=symbols.get("group", PLAIN.group),
        grouping=data.decimal_formats[None].grouping,
        months=tuple(names["abbreviated"][n] for n in range(1, 13)),
        months_long=tuple(names["wide"][n] for n in range(1, 13)),
        day_pattern=pattern,
        order=_order(pattern),
        money_prefix=prefix,
        money_suffix=suffix,
    )


def locales() -> tuple[str, ...]:
    """Give the names of all known locales in alphabetical order, for a list to choose from."""
    from babel.localedata import locale_identifiers

    return tuple(sorted(locale_identifiers()))


def _nearest_locale(locale: str) -> str:
    """Give the known locale that looks most like the word."""
    return nearest(locale, locales()) or "en_US"


def _sign(locale: Locale, currency: str) -> str:
    """Give the sign that the locale puts with amounts of a currency: "$", "CHF"."""
    from babel.numbers import get_currency_symbol

    return str(get_currency_symbol(currency, locale=locale))


def _around_money(pattern: str, sign: str) -> tuple[str, str]:
    """Give what stands before and after an amount, from a pattern such as "¤#,##0.00" or "#,##0.00 ¤".

    A sign that ends in a letter is set off from the figures by a space that doesn't break.
    """
    positive = pattern.split(";")[0]
    figures = [n for n, letter in enumerate(positive) if letter in "#0"]
    prefix, suffix = positive[: figures[0]], positive[figures[-1] + 1 :]
    if prefix.endswith("¤") and sign[-1:].isalpha():
        prefix += NO_BREAK_SPACE
    if suffix.startswith("¤") and sign[:1].isalpha():
        suffix = NO_BREAK_SPACE + suffix
    return prefix.replace("¤", sign), suffix.replace("¤", sign)


def _order(pattern: str) -> str:
    """Give the order of day, month and year in a pattern, as "dmy"."""
    places = {
        "d": pattern.find("d"),
        "m": max(pattern.find("M"), pattern.find("L")),
        "y": pattern.find("y"),
    }
    return "".join(sorted(places, key=lambda part: places[part]))
