"""What people type, read in the manners of their locale: amounts, rates, counts, lengths.

A reading is strict, since a guess about money is worse than a question: a sign between groups has to stand where groups
meet, and each refusal says what would be right. Days have a module of their own, `typed_days`.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from shopledger.quantities import currencies
from shopledger.quantities.errors import Typed
from shopledger.quantities.lengths import read_length
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.numbers import brief
from shopledger.quantities.rates import parse_rate
from shopledger.quantities.showing import show_amount, show_rate
from shopledger.quantities.typed_days import read_day
from shopledger.quantities.words import N_

__all__ = ["read_amount", "read_count", "read_day", "read_length", "read_rate"]

LONGEST_TYPED = 60
LARGEST_COUNT = 10**12

_SPACES = "\u0020\u00a0\u2007\u2009\u202f"
_APOSTROPHES = "'\u2019\u02bc"
_MINUSES = "-\u2212"
_FIGURES = re.compile(r"[0-9]+")
_CODE = re.compile(r"[A-Za-z]{3}")


def read_amount(text: str, currency: str, manners: Manners = PLAIN, *, field: str = "amount") -> Money:
    """Read an amount as people type it: "12,000.50", under German manners "12.000,50", with or without the currency.

    Shape:  at most one minus in front; the currency's sign or code before or after; at most 15 digits.
    Raises: Typed: no amount, a sign between groups in the wrong place, a decimal sign of another locale, more decimals
            than the currency has, another currency.
    """
    tidy = _tidy(text)
    example = show_amount(_example(currency), manners)
    if not tidy:
        raise Typed(N_("An amount is missing: write it as {example}."), field=field, example=example)
    bare = _without_currency(tidy, currency, manners, field)
    minus, figures = _without_minus(bare)
    number = _plain_number(figures, manners)
    if number is None:
        swapped = _swapped(figures, manners)
        if swapped is not None:
            raise Typed(
                N_(
                    "“{typed}” can't be read: here “{decimal}” stands before the decimals."
                    " If {meant} is meant, write it so."
                ),
                field=field,
                typed=brief(text),
                decimal=manners.decimal,
                meant=swapped,
            )
        if (
            manners.group
            and manners.group in figures
            and _plain_number(_without_groups(figures, manners), manners)
        ):
            raise Typed(
                N_(
                    "“{typed}” can't be read: “{group}” stands between groups of three figures and “{decimal}”"
                    " before the decimals. Write it as {example}."
                ),
                field=field,
                typed=brief(text),
                group=manners.group,
                decimal=manners.decimal,
                example=example,
            )
        raise Typed(
            N_("“{typed}” is no amount. Write it as {example}."),
            field=field,
            typed=brief(text),
            example=example,
        )
    money = _counted(number, text, currency, field)
    return -money if minus else money


def read_rate(text: str, manners: Manners = PLAIN, *, field: str = "rate") -> Fraction:
    """Read a rate as people type it: "20%", "8.25 %" (under German manners "8,25 %"), "0.2", "1/3".

    Units:  a fraction of one; 20% gives 1/5.
    Raises: Typed: no rate, below 0 or above 100%; a bare whole number, which could mean percent or not.
    """
    tidy = _tidy(text)
    if not tidy:
        raise Typed(
            N_("A rate is missing: write it as {example}."), field=field, example=_percent(20, manners)
        )
    if _FIGURES.fullmatch(tidy) and len(tidy) <= 3 and int(tidy) != 0:
        raise Typed(
            N_("“{typed}” can mean two things: write {percent} if percent is meant."),
            field=field,
            typed=brief(text),
            percent=f"{int(tidy)}%",
        )
    number = tidy
    for minus in _MINUSES:
        number = number.replace(minus, "-")
    # Only the locale's own decimal sign is read; a point is left to mean what it says under a locale that groups by it.
    if manners.decimal != ".":
        if "." in number:
            raise Typed(
                N_(
                    "“{typed}” can't be read: here “{decimal}” stands before the decimals. Write it as {example}."
                ),
                field=field,
                typed=brief(text),
                decimal=manners.decimal,
                example=show_rate(Fraction(33, 400), manners),
            )
        number = number.replace(manners.decimal, ".")
    elif "," in number:
        raise Typed(
            N_(
                "“{typed}” can't be read: here “{decimal}” stands before the decimals. Write it as {example}."
            ),
            field=field,
            typed=brief(text),
            decimal=manners.decimal,
            example=show_rate(Fraction(33, 400), manners),
        )
    number = re.sub(r"\s*([%/])\s*", r"\1", number)
    try:
        return parse_rate(number, field=field)
    except Typed as refusal:
        refusal.values["typed"] = brief(text)
        raise


def read_count(text: str, manners: Manners = PLAIN, *, field: str = "count") -> int:
    """Read a whole number from 0 up, with or without signs between its groups.

    Raises: Typed: no whole number, below zero, or too large to be a count.
    """
    number = _plain_number(_tidy(text), manners)
    if number is None or "." in number:
        raise Typed(
            N_("“{typed}” is no whole number from 0 up. Write it in figures, as {example}."),
            field=field,
            typed=brief(text),
            example="12",
        )
    if len(number) > 15 or int(number) > LARGEST_COUNT:
        raise Typed(N_("“{typed}” is too large for a count."), field=field, typed=brief(text))
    return int(number)


def _tidy(text: str) -> str:
    """Give the text in composed letters without space around it, cut well beyond the longest that can be right."""
    return unicodedata.normalize("NFC", text[: 4 * LONGEST_TYPED]).strip()


def _example(currency: str) -> Money:
    """Give an amount that shows both signs of a locale."""
    return Money(
        12_000 * 10 ** currencies.minor_units(currency) + (50 if currencies.minor_units(currency) else 0),
        currency,
    )


def _percent(whole: int, manners: Manners) -> str:
    return show_rate(Fraction(whole, 100), manners)


def _without_currency(text: str, currency: str, manners: Manners, field: str) -> str:
    """Give the text without the ledger's currency before or after it.

    Raises: Typed: it names another currency.
    """
    signs = {manners.money_prefix.strip(), manners.money_suffix.strip(), currency, currency.lower()} - {""}
    minus, rest = (text[0], text[1:].lstrip()) if text[0] in _MINUSES else ("", text)
    for sign in sorted(signs, key=len, reverse=True):
        if rest.startswith(sign):
            return minus + rest[len(sign) :].lstrip()
        if rest.endswith(sign):
            return minus + rest[: -len(sign)].rstrip()
    for named in (rest[:3], rest[-3:]):
        if _CODE.fullmatch(named) and currencies.known(named.upper()):
            raise Typed(
                N_(
                    "“{typed}” is in {other}, but this ledger is kept in {currency}. Write the amount in {currency}."
                ),
                field=field,
                typed=brief(text),
                other=named.upper(),
                currency=currency,
            )
    for letter in (rest[:1], rest[-1:]):
        if letter and unicodedata.category(letter) == "Sc":
            raise Typed(
                N_(
                    "“{typed}” bears the sign “{sign}”, but this ledger is kept in {currency}."
                    " Write it without the sign."
                ),
                field=field,
                typed=brief(text),
                sign=letter,
                currency=currency,
            )
    return text


def _without_minus(text: str) -> tuple[bool, str]:
    """Give whether a minus stands in front, and the rest."""
    if text and text[0] in _MINUSES:
        return True, text[1:].lstrip()
    return False, text


def _group_signs(manners: Manners) -> str:
    """Give every letter that may stand between groups: the locale's own with its look-alikes, and spaces always."""
    if manners.group and manners.group in _APOSTROPHES:
        return _APOSTROPHES + _SPACES
    return _SPACES + manners.group


def _plain_number(text: str, manners: Manners) -> str | None:
    """Give the number as figures with a point before the decimals, or None where it is not written as it has to be."""
    whole, sign, decimals = text.partition(manners.decimal)
    if sign and not re.fullmatch(r"[0-9]+", decimals):
        return None
    if sign and not whole:
        whole = "0"
    groups = re.split(f"[{re.escape(_group_signs(manners))}]", whole)
    if not all(_FIGURES.fullmatch(group) for group in groups):
        return None
    if len(groups) > 1:
        used = {letter for letter in whole if not letter.isdigit()}
        last, further = manners.grouping
        sizes = [len(group) for group in groups]
        if (
            len(used) > 1
            or sizes[-1] != last
            or any(size != further for size in sizes[1:-1])
            or sizes[0] > further
        ):
            return None
    return "".join(groups) + (f".{decimals}" if sign else "")


def _without_groups(figures: str, manners: Manners) -> str:
    return figures.replace(manners.group, "")


def _swapped(figures: str, manners: Manners) -> str | None:
    """Give the amount as it would be written here, where the text is right in a locale with the other decimal sign."""
    other = "," if manners.decimal == "." else "."
    if other not in figures:
        return None
    there = Manners(decimal=other, group=manners.decimal)
    number = _plain_number(figures, there)
    if number is None or "." not in number or len(number) > LONGEST_TYPED:
        return None
    whole, _sign, decimals = number.partition(".")
    # Shown as an amount of a currency without decimals, the whole part gets the locale's groups.
    shown = show_amount(Money(int(whole), "JPY"), manners, dash=False)
    return f"{shown}{manners.decimal}{decimals}"


def _counted(number: str, text: str, currency: str, field: str) -> Money:
    """Give the amount that plain figures stand for, refusals showing what was really typed."""
    try:
        return Money.parse(number, currency, field=field)
    except Typed as refusal:
        refusal.values["typed"] = brief(text)
        raise
