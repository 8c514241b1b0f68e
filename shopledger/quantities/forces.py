"""Forces in newtons, and the two other units in which strings are sold and loads are spoken of."""

from __future__ import annotations

from enum import StrEnum

STANDARD_GRAVITY = 9.80665
"""Metres per second squared, exactly: 3rd General Conference on Weights and Measures, 1901."""

POUND_KG = 0.45359237
"""Kilograms in a pound, exactly: the international pound of 1959."""


class ForceUnit(StrEnum):
    """A unit of force."""

    NEWTON = "N"
    KILOGRAM_FORCE = "kgf"
    POUND_FORCE = "lbf"


NEWTONS = {
    ForceUnit.NEWTON: 1.0,
    ForceUnit.KILOGRAM_FORCE: STANDARD_GRAVITY,
    ForceUnit.POUND_FORCE: 4.4482216152605,
}
"""Newtons in one of each unit, exactly.

Source: NIST Special Publication 811, appendix B.8: kilogram-force 9.80665, pound-force 0.45359237 × 9.80665.
"""


def in_newtons(force: float, unit: ForceUnit) -> float:
    """Give a force of that unit in newtons."""
    return force * NEWTONS[unit]


def newtons_in(newtons: float, unit: ForceUnit) -> float:
    """Give a force in newtons in that unit."""
    return newtons / NEWTONS[unit]
