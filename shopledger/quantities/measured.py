"""What was measured, whatever its unit: a length, a mass or an angle, read and shown by the unit of the measure."""

from __future__ import annotations

from enum import Enum
from fractions import Fraction

from shopledger.quantities.angles import MDEG_PER_DEGREE, Angle, read_angle, show_angle
from shopledger.quantities.errors import Typed
from shopledger.quantities.lengths import NM_PER_INCH, NM_PER_MM, Length, other_unit, read_length
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.masses import (
    MG_PER_GRAM,
    MG_PER_OUNCE,
    Mass,
    other_mass_unit,
    read_mass,
    show_mass,
)
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_, _

Measured = Length | Mass | Angle
"""A figure and the words in which it was typed."""


class Dimension(Enum):
    """What sort of thing a figure measures; its value is the unit in which whole numbers of it are kept."""

    LENGTH = "nm"
    MASS = "mg"
    ANGLE = "mdeg"


UNITS: dict[str, tuple[Dimension, Fraction]] = {
    "mm": (Dimension.LENGTH, Fraction(NM_PER_MM)),
    "in": (Dimension.LENGTH, Fraction(NM_PER_INCH)),
    "g": (Dimension.MASS, Fraction(MG_PER_GRAM)),
    "kg": (Dimension.MASS, Fraction(1_000 * MG_PER_GRAM)),
    "oz": (Dimension.MASS, MG_PER_OUNCE),
    "lb": (Dimension.MASS, 16 * MG_PER_OUNCE),
    "\u00b0": (Dimension.ANGLE, Fraction(MDEG_PER_DEGREE)),
}
"""The units a measure can be typed in: of what they are, and how many of the kept units one of them is."""
NEAR = {"mm": 500_000, "in": 500_000, "g": 500, "kg": 50_000, "oz": 5_000, "lb": 50_000, "\u00b0": 500}
"""How far what is found by a single figure may be off, by its unit, in the whole numbers that are kept: half a
millimetre or gram.
"""

_KINDS = {Dimension.LENGTH: N_("a length"), Dimension.MASS: N_("a weight"), Dimension.ANGLE: N_("an angle")}


def dimension_of(figure: Measured) -> Dimension:
    """Give what sort of thing a figure measures."""
    if isinstance(figure, Length):
        return Dimension.LENGTH
    return Dimension.MASS if isinstance(figure, Mass) else Dimension.ANGLE


def kept(figure: Measured) -> int:
    """Give the whole number that is kept of a figure: nanometres, milligrams or thousandths of a degree."""
    if isinstance(figure, Length):
        return figure.nm
    return figure.mg if isinstance(figure, Mass) else figure.mdeg


def measured(dimension: Dimension, number: int, typed: str) -> Measured:
    """Give the figure of a kept number and the words in which it was typed."""
    match dimension:
        case Dimension.LENGTH:
            return Length(number, typed)
        case Dimension.MASS:
            return Mass(number, typed)
        case Dimension.ANGLE:
            return Angle(number, typed)


def measured_of(nm: int | None, mg: int | None, mdeg: int | None, typed: str) -> Measured:
    """Give the figure of a stored reading, of whose three numbers just one is there."""
    if nm is not None:
        return Length(nm, typed)
    return Mass(mg, typed) if mg is not None else Angle(mdeg or 0, typed)


def read_measured(text: str, *, unit: str = "mm", manners: Manners = PLAIN, field: str = "value") -> Measured:
    """Read a figure as people type it for a measure of a unit; without a unit of its own, that unit is meant.

    Raises: Typed: it can't be read, or is of another sort than the measure, such as a weight where a length is due.
    """
    dimension = UNITS[unit][0]
    try:
        return _read(text, unit, manners, field)
    except Typed:
        other = _of_other_sort(text, dimension, manners)
        if other is None:
            raise
        raise _other_sort(other, unit, text, field) from None


def refuse_other_sort(figure: Measured, unit: str, *, field: str = "value") -> None:
    """Refuse a figure that is of another sort than a measure of a unit.

    Raises: Typed, as `read_measured`.
    """
    dimension = UNITS[unit][0]
    if dimension_of(figure) is not dimension:
        raise _other_sort(figure, unit, figure.typed, field)


def _other_sort(figure: Measured, unit: str, text: str, field: str) -> Typed:
    dimension = UNITS[unit][0]
    return Typed(
        N_("“{text}” is {found}, but {due} is measured here: write it in {unit}."),
        field=field,
        text=brief(text),
        found=_(_KINDS[dimension_of(figure)]),
        due=_(_KINDS[dimension]),
        unit=unit,
    )


def _of_other_sort(text: str, due: Dimension, manners: Manners) -> Measured | None:
    """Give what a text would be if another sort were due; only where it names its unit itself."""
    if text.strip()[-1:].isdigit():
        return None
    for dimension, unit in ((Dimension.LENGTH, "mm"), (Dimension.MASS, "g"), (Dimension.ANGLE, "\u00b0")):
        if dimension is due:
            continue
        try:
            return _read(text, unit, manners)
        except Typed:
            continue
    return None


def _read(text: str, unit: str, manners: Manners, field: str = "value") -> Measured:
    """Read a figure of just the unit's sort."""
    dimension = UNITS[unit][0]
    if dimension is Dimension.LENGTH:
        return read_length(text, default_unit=unit, manners=manners, field=field)
    if dimension is Dimension.MASS:
        return read_mass(text, default_unit=unit, manners=manners, field=field)
    return read_angle(text, manners=manners, field=field)


def other_unit_of(figure: Measured, manners: Manners = PLAIN) -> str:
    """Give the figure in the unit it was not typed in; of an angle nothing, since it has no other."""
    if isinstance(figure, Length):
        return other_unit(figure, manners)
    return other_mass_unit(figure, manners) if isinstance(figure, Mass) else ""


def show_measured(dimension: Dimension, number: int, manners: Manners = PLAIN) -> str:
    """Give a kept number in millimetres, grams or degrees, exactly, without noughts at the end."""
    if dimension is Dimension.MASS:
        return show_mass(number, manners)
    if dimension is Dimension.ANGLE:
        return show_angle(number, manners)
    whole, rest = divmod(abs(number), NM_PER_MM)
    fine = f"{rest:06d}".rstrip("0")
    sign = manners.minus if number < 0 else ""
    return f"{sign}{whole}{manners.decimal + fine if fine else ''} mm"


def show_grown(dimension: Dimension, number: int, manners: Manners = PLAIN) -> str:
    """Give by how much a figure grew, with its sign: `+0.5 mm`, `−12 g`, `0°`."""
    return ("+" if number > 0 else "") + show_measured(dimension, number, manners)


def show_grown_in_inches(nm: int, manners: Manners = PLAIN) -> str:
    """Give by how much a length grew in inches with its sign, exactly: `+1/32 in`, `−1 1/16 in`, `0 in`.

    Units:  nanometres in, inches out.
    """
    whole, rest = divmod(abs(Fraction(nm, NM_PER_INCH)), 1)
    parts = [str(whole)] if whole or not rest else []
    if rest:
        parts.append(f"{rest.numerator}/{rest.denominator}")
    sign = "+" if nm > 0 else manners.minus if nm < 0 else ""
    return f"{sign}{' '.join(parts)} in"


def difference_words(before: Measured, after: Measured, manners: Manners = PLAIN) -> str:
    """Say by how much a figure grew, in inches where both were typed so."""
    dimension = dimension_of(before)
    grown = kept(after) - kept(before)
    if isinstance(before, Length) and isinstance(after, Length) and before.in_inches and after.in_inches:
        return show_grown_in_inches(grown, manners)
    return show_grown(dimension, grown, manners)
