"""The other way round: which angle, bridge height or string length gives a load or a tension that is wanted.

What can't be reached is refused with the range that can. Forward and inverse agree to 1e-9.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from shopledger.quantities.errors import Refused
from shopledger.quantities.figures import Figure
from shopledger.quantities.words import N_
from shopledger.rules.bridge import Geometry, angle_for_load_deg, load_n
from shopledger.rules.strings import SetUp, pull_of

SHORTEST_MM, LONGEST_MM = 50.0, 3000.0
"""Between which string lengths is looked: common sense, no source; a kit's string and a double bass's lie within."""

HIGHEST_SHARE = 2.0
"""Up to which multiple of the given bridge height is looked."""

_STEPS = 64
_ROUNDING = 1e-12
"""By which share two ways of working out one load may differ."""


@dataclass(frozen=True, slots=True)
class WantedLoad:
    """A load on the bridge that all strings together shall have."""

    newtons: float


@dataclass(frozen=True, slots=True)
class WantedTension:
    """A tension that all strings together shall have."""

    newtons: float


Wanted = WantedLoad | WantedTension


@dataclass(frozen=True, slots=True)
class Reached:
    """What gives that which is wanted: the set-up, and the one figure that was sought."""

    set_up: SetUp
    wanted: Wanted


def reach(set_up: SetUp, wanted: Wanted) -> Reached:
    """Give the set-up that has the wanted load or tension.

    A load is reached by the angle at the present tensions where the angle was measured, and by the height of the bridge
    top where there is a side view; a tension by the string length, at the same pitches.

    Raises:  Refused where it can't be reached, with the range that can.
    """
    match wanted:
        case WantedTension(newtons):
            return Reached(_length_for_tension(set_up, newtons), wanted)
        case WantedLoad(newtons):
            over = set_up.over
            reached = (
                _height_for_load(set_up, over, newtons)
                if isinstance(over, Geometry)
                else _angle_for_load(set_up, newtons)
            )
            return Reached(reached, wanted)


def _length_for_tension(set_up: SetUp, newtons: float) -> SetUp:
    """Give the set at the string length that has the tension; tension goes with the square of the length."""
    now = pull_of(set_up)
    least, most = (now.tension_n * (length / now.length_mm) ** 2 for length in (SHORTEST_MM, LONGEST_MM))
    if not least <= newtons <= most:
        raise Refused(
            N_(
                "{wanted} can't be reached: between string lengths of {shortest} and {longest} this set has {least}"
                " to {most}. Write a tension within that, or take other strings."
            ),
            field="wanted.tension_n",
            wanted=_newtons(newtons),
            shortest=Figure(SHORTEST_MM, 0, "mm"),
            longest=Figure(LONGEST_MM, 0, "mm"),
            least=_newtons(least).rounded_up(),
            most=_newtons(most).rounded_down(),
        )
    return set_up.at_length(now.length_mm * math.sqrt(newtons / now.tension_n))


def _angle_for_load(set_up: SetUp, newtons: float) -> SetUp:
    """Give the set over the angle that has the load, at the present tensions."""
    tension = pull_of(set_up).tension_n
    if not 0 <= newtons < 2 * tension:
        raise Refused(
            N_(
                "{wanted} can't be reached: at a tension of {tension} the load goes from {least} (straight) to below"
                " {most} (folded back). Write a load within that, or a heavier set."
            ),
            field="wanted.load_n",
            wanted=_newtons(newtons),
            tension=_newtons(tension),
            least=_newtons(0),
            most=_newtons(2 * tension).rounded_down(),
        )
    return set_up.at_angle(angle_for_load_deg(newtons, tension))


def _height_for_load(set_up: SetUp, geometry: Geometry, newtons: float) -> SetUp:
    """Give the set over the bridge height that has the load; of several heights, the lowest.

    The load is followed in steps from the straight line up, since a string that falls towards the bridge becomes
    shorter at first; in the step where the wanted load is passed, halving goes on until no number lies between.
    """
    low = geometry.straight_height_mm
    high = HIGHEST_SHARE * geometry.bridge_top.height_mm
    if high <= low:
        raise Refused(
            N_(
                "There is no height to look for: twice the given {height} isn't above the straight line from nut to"
                " tail, which passes at {low}. Measure heights from a line further down."
            ),
            field="geometry.bridge_top",
            height=Figure(geometry.bridge_top.height_mm, 2, "mm"),
            low=Figure(low, 2, "mm"),
        )

    now = pull_of(set_up)
    tension_by_square = now.tension_n / now.length_mm**2

    def load_at(height: float) -> float:
        moved = geometry.with_bridge_height(height)
        return load_n(tension_by_square * moved.length_mm**2, moved.angle_deg)

    heights = [low + (high - low) * step / _STEPS for step in range(_STEPS)] + [high]
    loads = [0.0] + [load_at(height) for height in heights[1:]]
    for n in range(_STEPS):
        if loads[n] <= newtons <= loads[n + 1] * (1 + _ROUNDING):
            found = _halved(load_at, newtons, heights[n], heights[n + 1])
            return set_up.at_bridge_height(geometry, found)
    raise Refused(
        N_(
            "{wanted} can't be reached: with the bridge top from {low} (straight) to {high} (twice the given height)"
            " the load goes from {least} to {most}. Write a load within that."
        ),
        field="wanted.load_n",
        wanted=_newtons(newtons),
        low=Figure(low, 2, "mm"),
        high=Figure(high, 2, "mm"),
        least=_newtons(0),
        most=_newtons(max(loads)).rounded_down(),
    )


def _halved(load_at: Callable[[float], float], newtons: float, low: float, high: float) -> float:
    """Give the height between two at which the load is met, as near as numbers lie."""
    if load_at(high) <= newtons:
        return high
    while low < (middle := (low + high) / 2) < high:
        if load_at(middle) < newtons:
            low = middle
        else:
            high = middle
    return high


def _newtons(newtons: float) -> Figure:
    """Give a force as it is shown in a refusal."""
    return Figure(newtons, 2, "N")
