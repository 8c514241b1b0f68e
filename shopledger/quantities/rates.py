"""Rates as people and files write them: "20%", "0.2" or "1/3", always as exact fractions of one."""

from __future__ import annotations

import re
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

MOST_DIGITS = 30
_DECIMAL = re.compile(r"(-?)([0-9]+)(?:\.([0-9]+))?(%?)")
_FRACTION = re.compile(r"(-?)([0-9]+)/([0-9]+)")


def parse_rate(text: str, *, field: str = "rate") -> Fraction:
    """Read a rate written plainly: a percentage "8.25%", a decimal "0.0825" or a fraction "1/3".

    Units:   a fraction of one; 20% gives 1/5.
    Raises:  Typed for any other form, a rate below 0 or above 100%.
    """
    rate = _exact(text, field)
    if rate < 0:
        raise Typed(N_("“{typed}” is below 0. A rate is from 0% to 100%."), field=field, typed=brief(text))
    if rate > 1:
        raise Typed(
            N_("“{typed}” is above 100%. A rate is from 0% to 100%; a fifth is {example}."),
            field=field,
            typed=brief(text),
            example="20%",
        )
    return rate


def _exact(text: str, field: str) -> Fraction:
    """Give the fraction that the text stands for, whatever its size."""
    if sum(letter.isdigit() for letter in text) > MOST_DIGITS:
        raise Typed(
            N_("“{typed}” has too many digits. A rate has at most {most}."),
            field=field,
            typed=brief(text),
            most=MOST_DIGITS,
        )
    if match := _DECIMAL.fullmatch(text):
        minus, whole, decimals, percent = match.groups(default="")
        rate = Fraction(int(whole + decimals), 10 ** len(decimals) * (100 if percent else 1))
        return -rate if minus else rate
    if match := _FRACTION.fullmatch(text):
        minus, top, bottom = match.groups()
        if int(bottom) == 0:
            raise Typed(
                N_("“{typed}” divides by zero. Write a fraction such as 1/3."),
                field=field,
                typed=brief(text),
            )
        rate = Fraction(int(top), int(bottom))
        return -rate if minus else rate
    raise Typed(
        N_("“{typed}” is not a rate. Write a percentage (20%), a decimal (0.2) or a fraction (1/3)."),
        field=field,
        typed=brief(text),
    )
