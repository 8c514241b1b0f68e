"""Lengths: exact, kept as they were typed, in millimetres or in inches with fractions.

A length is a whole number of nanometres, since an inch is 25,400,000 of them and a sixty-fourth of an inch 396,875.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, AsTyped, Manners
from shopledger.quantities.words import N_

NM_PER_MM = 1_000_000
NM_PER_INCH = 25_400_000  # 1 in = 25.4 mm exactly (international inch of 1959)
LONGEST_NM = 10_000 * NM_PER_MM

_GLYPHS = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_UNITS = {
    "mm": "mm", "cm": "cm", "in": "in", "inch": "in", "inches": "in", '"': "in", "\u2033": "in", "\u201d": "in",
}  # fmt: skip
_SHAPE = re.compile(
    r"""(?P<whole>\d{1,6}(?:[.,]\d{1,6})?)?                              # 352 or 352.5
        (?:(?:^|(?<=\d)[\s\-\u2013]+)(?P<top>\d{1,4})\s?/\s?(?P<bottom>\d{1,4}))?  # 1/8, set off by space or dash
        \s?(?P<unit>mm|cm|inches|inch|in|"|\u2033|\u201d)?$""",
    re.VERBOSE | re.ASCII,
)


@dataclass(frozen=True, slots=True)
class Length(AsTyped):
    """A length and the words in which it was typed; two lengths are equal where both are.

    Units:  nanometres.
    """

    nm: int
    typed: str

    @property
    def mm(self) -> Fraction:
        """The length in millimetres, exactly."""
        return Fraction(self.nm, NM_PER_MM)

    @property
    def inches(self) -> Fraction:
        """The length in inches, exactly."""
        return Fraction(self.nm, NM_PER_INCH)

    @property
    def in_inches(self) -> bool:
        """Whether it was typed in inches."""
        return not self.typed.rstrip().lower().endswith(("mm", "cm"))


def read_length(
    text: str, *, default_unit: str = "mm", manners: Manners = PLAIN, field: str = "length"
) -> Length:
    """Read a length as people type it: `352`, `352.5 mm`, `14 1/8"`, `16½`, `16-1/2"`, `16.5 in`.

    Units:  without a unit, `default_unit` ("mm" or "in"), but a fraction without a unit is in inches.
    Raises: Typed: it is no length, is zero or beyond ten metres, or no whole number of nanometres.
    """
    tidy = " ".join(text.split())
    spread = "".join(f" {_GLYPHS[letter]}" if letter in _GLYPHS else letter for letter in tidy).strip()
    match = _SHAPE.match(" ".join(spread.lower().split()))
    if match is None or (match["whole"] is None and match["top"] is None):
        raise Typed(
            N_("{field}: “{text}” is no length. Write it as 352.5 mm or as 14 1/8 in."),
            field=field,
            text=text[:60],
        )
    if match["top"] is not None and match["bottom"].strip("0") == "":
        raise Typed(
            N_("{field}: “{text}” divides by zero. Write it as 14 1/8 in."), field=field, text=text[:60]
        )
    if (
        match["top"] is not None
        and match["whole"] is not None
        and (not match["whole"].isdigit() or int(match["top"]) >= int(match["bottom"]))
    ):
        raise Typed(
            N_("{field}: “{text}” mixes two ways of writing. Write it as 14 1/8 in or as 14.125 in."),
            field=field,
            text=text[:60],
        )
    unit = _UNITS[match["unit"]] if match["unit"] else ("in" if match["top"] else default_unit)
    number = Fraction((match["whole"] or "0").replace(",", "."))
    if match["top"] is not None:
        number += Fraction(int(match["top"]), int(match["bottom"]))
    nm = number * {"mm": NM_PER_MM, "cm": 10 * NM_PER_MM, "in": NM_PER_INCH}[unit]
    if nm.denominator != 1:
        raise Typed(
            N_(
                "{field}: “{text}” is finer than can be kept. Use halves to sixty-fourths of an inch, or decimals."
            ),
            field=field,
            text=text[:60],
        )
    if not 0 < nm <= LONGEST_NM:
        raise Typed(N_("{field}: “{text}” has to be above 0 and at most 10 m."), field=field, text=text[:60])
    typed = tidy if match["unit"] else f"{tidy} {unit}"
    return Length(int(nm), typed)


def other_unit(length: Length, manners: Manners = PLAIN) -> str:
    """Give the length in the unit it was not typed in: millimetres to a tenth, or inches to the nearest sixty-fourth.

    An inexact figure is marked by the sign for "about".
    """
    if length.in_inches:
        tenths = length.mm * 10
        near = int(tenths + Fraction(1, 2))
        sign = "" if tenths == near else "\u2248 "
        return f"{sign}{near // 10}{manners.decimal}{near % 10} mm" if near % 10 else f"{sign}{near // 10} mm"
    parts = length.inches * 64
    near = int(parts + Fraction(1, 2))
    sign = "" if parts == near else "\u2248 "
    whole, rest = divmod(near, 64)
    if not rest:
        return f"{sign}{whole} in"
    fraction = Fraction(rest, 64)
    lead = f"{whole} " if whole else ""
    return f"{sign}{lead}{fraction.numerator}/{fraction.denominator} in"
