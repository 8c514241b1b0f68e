"""How a string lies over its bridge, seen from the side, and what it presses on it.

Assumed throughout: the tension is the same on both sides of the bridge, and the bridge stands along the bisector of the
angle. Then the load is 2 T cos(θ/2), θ being the included angle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

STRAIGHT_DEG = 180.0


@dataclass(frozen=True, slots=True)
class Point:
    """A point of the side view: the distance along the reference line and the height above it, in millimetres."""

    along_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Measured:
    """A string length and an included angle over the bridge, both as measured."""

    length_mm: float
    angle_deg: float


@dataclass(frozen=True, slots=True)
class Geometry:
    """The side view of a string: nut, bridge top and tail (saddle or edge of the tailpiece), in this order."""

    nut: Point
    bridge_top: Point
    tail: Point

    @property
    def length_mm(self) -> float:
        """The string length: the distance from the nut to the bridge top."""
        return _distance(self.nut, self.bridge_top)

    @property
    def afterlength_mm(self) -> float:
        """The distance from the bridge top to the tail."""
        return _distance(self.bridge_top, self.tail)

    @property
    def angle_deg(self) -> float:
        """The included angle over the bridge, straight where the bridge top isn't above the line nut to tail."""
        top = self.bridge_top
        to_nut = (self.nut.along_mm - top.along_mm, self.nut.height_mm - top.height_mm)
        to_tail = (self.tail.along_mm - top.along_mm, self.tail.height_mm - top.height_mm)
        across = to_nut[0] * to_tail[1] - to_nut[1] * to_tail[0]
        together = to_nut[0] * to_tail[0] + to_nut[1] * to_tail[1]
        return math.degrees(math.atan2(across, together)) if across > 0 else STRAIGHT_DEG

    @property
    def straight_height_mm(self) -> float:
        """The height at which the bridge top would lie on the straight line from nut to tail."""
        share = (self.bridge_top.along_mm - self.nut.along_mm) / (self.tail.along_mm - self.nut.along_mm)
        return self.nut.height_mm + share * (self.tail.height_mm - self.nut.height_mm)

    def with_bridge_height(self, height_mm: float) -> Geometry:
        """Give the same side view with another height of the bridge top."""
        return replace(self, bridge_top=Point(self.bridge_top.along_mm, height_mm))


Over = Measured | Geometry
"""How the strings lie over the bridge: as measured, or by a side view. Either knows `length_mm` and `angle_deg`."""


def load_n(tension_n: float, angle_deg: float) -> float:
    """Give what a string of this tension presses on the bridge.

    Units:   newtons; the included angle in degrees.
    Source:  the sum of two equal pulls, 2 T cos(θ/2); Hart, The Violin (18 lb at 154.32° give 8 lb).
    """
    return 2 * tension_n * math.sin(math.radians((STRAIGHT_DEG - angle_deg) / 2))


def angle_for_load_deg(load: float, tension_n: float) -> float:
    """Give the included angle at which a tension gives a load, from 180° for no load to 0° for twice the tension.

    Units:   newtons.
    """
    return STRAIGHT_DEG - 2 * math.degrees(math.asin(load / (2 * tension_n)))


def _distance(one: Point, other: Point) -> float:
    """Give the distance between two points in millimetres."""
    return math.hypot(other.along_mm - one.along_mm, other.height_mm - one.height_mm)
