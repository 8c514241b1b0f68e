"""Angles: whole thousandths of a degree, kept as they were typed, in degrees or degrees and minutes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, AsTyped, Manners
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

MDEG_PER_DEGREE = 1_000
WIDEST_MDEG = 180 * MDEG_PER_DEGREE

_SHAPE = re.compile(
    r"""(?P<degrees>\d{1,3}(?:[.,]\d{1,6})?)\s?
        (?P<unit>°|deg\.?|degrees?)?
        (?:\s?(?P<minutes>[0-5]?\d)\s?['\u2032\u2019])?$""",
    re.VERBOSE | re.ASCII,
)


@dataclass(frozen=True, slots=True)
class Angle(AsTyped):
    """An angle and the words in which it was typed; two angles are equal where both are.

    Units:  thousandths of a degree.
    """

    mdeg: int
    typed: str

    @property
    def degrees(self) -> Fraction:
        """The angle in degrees, exactly."""
        return Fraction(self.mdeg, MDEG_PER_DEGREE)


def read_angle(text: str, *, manners: Manners = PLAIN, field: str = "angle") -> Angle:
    """Read an angle as people type it: `157`, `157.5°`, `157,5 deg`, `157° 30'`.

    Raises: Typed: it is no angle, is nothing or beyond 180°, or finer than a thousandth of a degree.
    """
    tidy = " ".join(text.split())
    match = _SHAPE.match(tidy.lower())
    if match is None or (match["minutes"] and ("." in match["degrees"] or "," in match["degrees"])):
        raise Typed(
            N_("{field}: “{text}” is no angle. Write it in degrees, as 157.5°."),
            field=field,
            text=brief(text),
        )
    degrees = Fraction(match["degrees"].replace(",", ".")) + Fraction(int(match["minutes"] or 0), 60)
    thousandths = degrees * MDEG_PER_DEGREE
    if match["minutes"]:
        thousandths = Fraction(int(thousandths + Fraction(1, 2)))
    if thousandths.denominator != 1:
        raise Typed(
            N_("{field}: “{text}” is finer than can be kept. Write at most three decimals."),
            field=field,
            text=brief(text),
        )
    if not 0 < thousandths <= WIDEST_MDEG:
        raise Typed(
            N_("{field}: “{text}” has to be above 0° and at most 180°."), field=field, text=brief(text)
        )
    return Angle(int(thousandths), tidy if match["unit"] or match["minutes"] else f"{tidy}°")


def show_angle(mdeg: int, manners: Manners = PLAIN) -> str:
    """Give an angle in degrees without noughts at the end; of a difference, a minus stands before it.

    Units:  thousandths of a degree in.
    """
    whole, rest = divmod(abs(mdeg), MDEG_PER_DEGREE)
    fine = f"{rest:03d}".rstrip("0")
    sign = manners.minus if mdeg < 0 else ""
    return f"{sign}{whole}{manners.decimal + fine if fine else ''}°"
