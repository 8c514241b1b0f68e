"""Forces in newtons, and the two other units in which strings are sold and loads are spoken of."""

from __future__ import annotations

import re
from enum import StrEnum

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

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


_TYPED = re.compile(r"(?P<number>[0-9]{1,6}(?:[.,][0-9]{1,6})?)\s?(?P<unit>[a-z]+)?\.?", re.ASCII)
_CALLED = {
    "n": ForceUnit.NEWTON,
    "kgf": ForceUnit.KILOGRAM_FORCE,
    "kp": ForceUnit.KILOGRAM_FORCE,
    "kg": ForceUnit.KILOGRAM_FORCE,
    "lbf": ForceUnit.POUND_FORCE,
    "lb": ForceUnit.POUND_FORCE,
    "lbs": ForceUnit.POUND_FORCE,
}
"""What each unit is called where a force is typed: the trade says kilograms and pounds of a tension."""


def read_force(
    text: str, default: ForceUnit = ForceUnit.NEWTON, manners: Manners = PLAIN, *, field: str = "force"
) -> float:
    """Read a force as people type it: `58.8`, `58,8 N`, `6 kgf`, `13.2 lb`.

    Units:  newtons; a figure without a unit is in `default`.
    Raises: Typed: it is no force, or is nothing.
    """
    match = _TYPED.fullmatch(" ".join(text.split()).lower())
    unit = None if match is None else _CALLED.get(match["unit"], default if not match["unit"] else None)
    if match is None or unit is None:
        raise Typed(
            N_("“{text}” is no force. Write it as 58.8 N, as 6 kgf or as 13.2 lbf."),
            field=field,
            text=brief(text),
        )
    force = in_newtons(float(match["number"].replace(",", ".")), unit)
    if not force:
        raise Typed(N_("“{text}” has to be above 0."), field=field, text=brief(text))
    return force
