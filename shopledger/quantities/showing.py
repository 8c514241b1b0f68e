"""How values are shown to people, in the manners of a locale that is handed down: amounts, days, rates.

Nothing here reads a locale from the machine, so the same facts are shown the same way everywhere.
"""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from shopledger.quantities import currencies
from shopledger.quantities.manners import PLAIN, Manners, Shown
from shopledger.quantities.money import Money

EN_DASH = "\u2013"
MOST_PERCENT_DECIMALS = 10
_PATTERN_PART = re.compile(r"'([^']*)'|(d+|M+|L+|y+)|([^'])")


def show_amount(money: Money, manners: Manners = PLAIN, *, dash: bool = True) -> str:
    """Give the amount with the locale's separators and without its currency: "1,234.50".

    Zero is an en dash unless `dash` is False; a negative amount has the locale's minus in front.
    """
    if money.minor == 0 and dash:
        return EN_DASH
    units = currencies.minor_units(money.currency)
    digits = str(abs(money.minor)).rjust(units + 1, "0")
    whole, decimals = (digits[:-units], digits[-units:]) if units else (digits, "")
    shown = _grouped(whole, manners)
    if decimals:
        shown += manners.decimal + decimals
    return (manners.minus if money.minor < 0 else "") + shown


def show_money(money: Money, manners: Manners = PLAIN) -> str:
    """Give the amount with its currency: by its sign where the manners have one, else "USD 1,234.50"."""
    minus = manners.minus if money.minor < 0 else ""
    shown = show_amount(abs(money), manners, dash=False)
    if manners.money_prefix or manners.money_suffix:
        return f"{minus}{manners.money_prefix}{shown}{manners.money_suffix}"
    return f"{minus}{money.currency} {shown}"


def show_day(day: date, manners: Manners = PLAIN) -> str:
    """Give the day by the locale's pattern: "4 Mar 2026"."""
    return "".join(_day_part(match, day, manners) for match in _PATTERN_PART.finditer(manners.day_pattern))


def show_rate(rate: Fraction, manners: Manners = PLAIN) -> str:
    """Give the rate as a percentage, "20%" or "8.25%", or as a fraction, "1/3", where none is exact."""
    percent = rate * 100
    scaled = percent * 10**MOST_PERCENT_DECIMALS
    if scaled.denominator != 1:
        return f"{rate.numerator}/{rate.denominator}".replace("-", manners.minus)
    digits = str(abs(scaled.numerator)).rjust(MOST_PERCENT_DECIMALS + 1, "0")
    whole, decimals = digits[:-MOST_PERCENT_DECIMALS], digits[-MOST_PERCENT_DECIMALS:].rstrip("0")
    shown = whole + (manners.decimal + decimals if decimals else "")
    return f"{manners.minus if rate < 0 else ''}{shown}%"


def show_value(value: object, manners: Manners = PLAIN) -> str:
    """Give a value of a sentence as its reader expects it: money, days, rates, measured figures, others as text."""
    if isinstance(value, Money):
        return show_money(value, manners)
    if isinstance(value, date):
        return show_day(value, manners)
    if isinstance(value, Fraction):
        return show_rate(value, manners)
    if isinstance(value, Shown):
        return value.shown(manners)
    if isinstance(value, (tuple, list)):
        return ", ".join(show_value(each, manners) for each in value)
    return str(value).replace("-", manners.minus) if isinstance(value, int) else str(value)


def _grouped(whole: str, manners: Manners) -> str:
    """Give digits in the locale's groups: the last group of one size, the groups before it of another."""
    last, further = manners.grouping
    if len(whole) <= last or not manners.group:
        return whole
    groups = [whole[-last:]]
    rest = whole[:-last]
    while rest:
        groups.insert(0, rest[-further:])
        rest = rest[:-further]
    return manners.group.join(groups)


def _day_part(match: re.Match[str], day: date, manners: Manners) -> str:
    """Give what one part of a day pattern stands for; quoted and other letters are themselves."""
    quoted, letters, other = match.groups()
    if letters is None:
        return other if other is not None else (quoted or "'")
    kind, width = letters[0], len(letters)
    if kind == "y":
        return f"{day.year % 100:02d}" if width == 2 else str(day.year).rjust(width, "0")
    if kind == "d":
        return str(day.day).rjust(width, "0")
    if width >= 4:
        return manners.months_long[day.month - 1]
    if width == 3:
        return manners.months[day.month - 1]
    return str(day.month).rjust(width, "0")
