"""Masses: whole milligrams, kept as they were typed, in grams and kilograms or in ounces and pounds.

An ounce is no whole number of milligrams (it is 28,349.523125), so a mass typed in ounces is kept to the nearest
milligram, and is shown in the words in which it was typed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, AsTyped, Manners
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

MG_PER_GRAM = 1_000
MG_PER_OUNCE = Fraction("28349.523125")
"""Exactly: a sixteenth of the pound of 1959, 0.45359237 kg (NIST Special Publication 811, appendix B.8)."""
HEAVIEST_MG = 1_000_000 * MG_PER_GRAM

_UNITS: dict[str, tuple[str, Fraction]] = {
    "kg": ("kg", Fraction(1_000 * MG_PER_GRAM)),
    "g": ("g", Fraction(MG_PER_GRAM)),
    "gr": ("g", Fraction(MG_PER_GRAM)),
    "oz": ("oz", MG_PER_OUNCE),
    "lb": ("lb", 16 * MG_PER_OUNCE),
    "lbs": ("lb", 16 * MG_PER_OUNCE),
}
_GLYPHS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
_NUMBER = r"\d{1,7}(?:[.,]\d{1,6})?(?:[\s\-]+\d{1,3}/\d{1,3})?|\d{1,3}/\d{1,3}"
_SHAPE = re.compile(rf"(?P<number>{_NUMBER})\s?(?P<unit>kg|gr|g|oz|lbs|lb)?\.?$", re.ASCII)
_POUNDS_OUNCES = re.compile(rf"(?P<pounds>\d{{1,4}})\s?lbs?\.?,?\s(?P<ounces>{_NUMBER})\s?oz\.?$", re.ASCII)


@dataclass(frozen=True, slots=True)
class Mass(AsTyped):
    """A mass and the words in which it was typed; two masses are equal where both are.

    Units:  milligrams.
    """

    mg: int
    typed: str

    @property
    def grams(self) -> Fraction:
        """The mass in grams, exactly."""
        return Fraction(self.mg, MG_PER_GRAM)

    @property
    def in_ounces(self) -> bool:
        """Whether it was typed in ounces or pounds."""
        return self.typed.rstrip(". ").lower().endswith(("oz", "lb", "lbs"))


def read_mass(text: str, *, default_unit: str = "g", manners: Manners = PLAIN, field: str = "mass") -> Mass:
    """Read a mass as people type it: `61.5`, `61.5 g`, `2.8 kg`, `2 1/8 oz`, `6 lb`, `6 lb 4 oz`.

    Units:  without a unit, `default_unit` ("g", "kg", "oz" or "lb"); kept to the nearest milligram, halves up.
    Raises: Typed: it is no mass, is nothing, or is beyond a ton.
    """
    tidy = " ".join(text.split())
    if manners.decimal != "," and re.search(r"\d,\d{3}(?!\d)", tidy):
        raise Typed(
            N_("{field}: “{text}” can mean two things: write it without the comma, or with a point."),
            field=field,
            text=brief(text),
        )
    spread = tidy.lower()
    for glyph, fraction in _GLYPHS.items():
        spread = spread.replace(glyph, fraction)
    spread = " ".join(spread.split())
    both, one = _POUNDS_OUNCES.match(spread), _SHAPE.match(spread)
    typed = tidy
    if both is not None:
        number = _number(both["ounces"], text, field)
        exact = (16 * Fraction(both["pounds"]) + number) * MG_PER_OUNCE
    elif one is not None:
        unit, factor = _UNITS[one["unit"] or default_unit]
        exact = _number(one["number"], text, field) * factor
        typed = tidy if one["unit"] else f"{tidy} {unit}"
    else:
        raise Typed(
            N_("{field}: “{text}” is no weight. Write it as 61.5 g, as 2.8 kg or as 6 lb 4 oz."),
            field=field,
            text=brief(text),
        )
    mg = int(exact + Fraction(1, 2))
    if not 0 < mg <= HEAVIEST_MG:
        raise Typed(
            N_("{field}: “{text}” has to be above 0 and at most 1000 kg."), field=field, text=brief(text)
        )
    return Mass(mg, typed)


def _number(written: str, text: str, field: str) -> Fraction:
    """Give a number with decimals or a fraction behind it.

    Raises: Typed: it divides by zero, or has decimals and a fraction.
    """
    total = Fraction(0)
    parts = re.split(r"[\s\-]+", written)
    for part in parts:
        if part.partition("/")[2].strip("0") == "" and "/" in part:
            raise Typed(
                N_("{field}: “{text}” divides by zero. Write it as 2 1/8 oz."), field=field, text=brief(text)
            )
        total += Fraction(part.replace(",", "."))
    if len(parts) > 1 and not parts[0].isdigit():
        raise Typed(
            N_("{field}: “{text}” mixes two ways of writing. Write it as 2 1/8 oz or as 2.125 oz."),
            field=field,
            text=brief(text),
        )
    return total


def other_mass_unit(mass: Mass, manners: Manners = PLAIN) -> str:
    """Give the mass in the unit it was not typed in: grams to a tenth, or ounces to a hundredth.

    From a kilogram or a pound up it is given in these. An inexact figure is marked by the sign for "about".
    """
    if mass.in_ounces:
        grams = mass.grams
        if grams >= 1_000:
            return _decimals(grams / 1_000, 3, "kg", manners, exact=False)
        return _decimals(grams, 1, "g", manners, exact=False)
    ounces = Fraction(mass.mg) / MG_PER_OUNCE
    if ounces < 16:
        return _decimals(ounces, 2, "oz", manners, exact=True)
    return _decimals(ounces / 16, 2, "lb", manners, exact=True)


def show_mass(mg: int, manners: Manners = PLAIN) -> str:
    """Give a mass in grams, from a kilogram up in kilograms, to the milligram without noughts at the end.

    Units:  milligrams in; of a difference, a minus stands before it.
    """
    grams = Fraction(abs(mg), MG_PER_GRAM)
    unit, figure, places = ("kg", grams / 1_000, 6) if grams >= 1_000 else ("g", grams, 3)
    words = f"{int(figure * 10**places):0{places + 1}d}"
    whole, rest = words[:-places], words[-places:].rstrip("0")
    sign = manners.minus if mg < 0 else ""
    return f"{sign}{whole}{manners.decimal + rest if rest else ''} {unit}"


def _decimals(figure: Fraction, places: int, unit: str, manners: Manners, *, exact: bool) -> str:
    """Give a figure rounded to some decimals, with "about" where it is not just that."""
    scaled = figure * 10**places
    near = int(scaled + Fraction(1, 2))
    words = f"{near:0{places + 1}d}"
    whole, rest = words[:-places], words[-places:].rstrip("0")
    sign = "" if exact and scaled == near else "\u2248 "
    return f"{sign}{whole}{manners.decimal + rest if rest else ''} {unit}"
