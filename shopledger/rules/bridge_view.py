"""The side view of the strings over the bridge as a drawing needs it: points to scale, and the forces as arrows.

Nothing is drawn here; window and paper draw the same points, each in its own way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shopledger.rules.bridge import STRAIGHT_DEG, Geometry, Point
from shopledger.rules.strings import SetUp, pull_of

AFTERLENGTH_SHARE = 1 / 6
"""The afterlength as a share of the string length, where only an angle was measured: common practice of makers."""

ARROW_SHARE = 1 / 4
"""How long the arrow of the tension is, as a share of the string length: chosen for the eye."""


@dataclass(frozen=True, slots=True)
class Arrow:
    """A force at a point: where the arrow begins and ends in the drawing, and how large the force is in newtons."""

    begin: Point
    end: Point
    newtons: float


@dataclass(frozen=True, slots=True)
class SideView:
    """The drawing in millimetres of the instrument, one scale for both directions.

    Shape:   `foot` is the point of the reference line under the bridge top; `to_nut` and `to_tail` are the pulls of all
             strings at the bridge top, `load` their sum, all three to one scale; where `to_scale` is False only an
             angle was measured: nut and tail are drawn to either side of an upright bridge, the afterlength as usual.
    """

    geometry: Geometry
    foot: Point
    to_nut: Arrow
    to_tail: Arrow
    load: Arrow
    angle_deg: float
    length_mm: float
    to_scale: bool

    @property
    def corners(self) -> tuple[Point, Point]:
        """The lower left and the upper right corner of all that is drawn."""
        points = [
            self.geometry.nut,
            self.geometry.bridge_top,
            self.geometry.tail,
            self.foot,
            *(arrow.end for arrow in (self.to_nut, self.to_tail, self.load)),
        ]
        along = [point.along_mm for point in points]
        heights = [point.height_mm for point in points]
        return Point(min(along), min(heights)), Point(max(along), max(heights))


def side_view(set_up: SetUp) -> SideView:
    """Give the drawing of a set-up: strings, bridge, angle, and the forces of all strings together."""
    pull = pull_of(set_up)
    over = set_up.over
    geometry = over if isinstance(over, Geometry) else _upright(over.length_mm, over.angle_deg)
    top = geometry.bridge_top
    nut_way, tail_way = _way(top, geometry.nut), _way(top, geometry.tail)
    mm_per_n = ARROW_SHARE * set_up.length_mm / pull.tension_n
    to_nut = _arrow(top, nut_way, pull.tension_n, mm_per_n)
    to_tail = _arrow(top, tail_way, pull.tension_n, mm_per_n)
    summed = (nut_way[0] + tail_way[0], nut_way[1] + tail_way[1])
    end = Point(
        top.along_mm + summed[0] * pull.tension_n * mm_per_n,
        top.height_mm + summed[1] * pull.tension_n * mm_per_n,
    )
    return SideView(
        geometry=geometry,
        foot=Point(top.along_mm, 0.0),
        to_nut=to_nut,
        to_tail=to_tail,
        load=Arrow(top, end, pull.load_n),
        angle_deg=pull.angle_deg,
        length_mm=pull.length_mm,
        to_scale=isinstance(over, Geometry),
    )


def _upright(length_mm: float, angle_deg: float) -> Geometry:
    """Give a side view for a measured angle: an upright bridge, both sides falling alike, the lower end on the line."""
    fall = math.radians((STRAIGHT_DEG - angle_deg) / 2)
    after = AFTERLENGTH_SHARE * length_mm
    top = Point(length_mm * math.cos(fall), length_mm * math.sin(fall))
    tail = Point(top.along_mm + after * math.cos(fall), top.height_mm - after * math.sin(fall))
    return Geometry(Point(0.0, 0.0), top, tail)


def _way(begin: Point, end: Point) -> tuple[float, float]:
    """Give the direction from one point to another, of length one."""
    along, height = end.along_mm - begin.along_mm, end.height_mm - begin.height_mm
    distance = math.hypot(along, height)
    return along / distance, height / distance


def _arrow(begin: Point, way: tuple[float, float], newtons: float, mm_per_n: float) -> Arrow:
    """Give the arrow of a force that goes a way."""
    length = newtons * mm_per_n
    return Arrow(begin, Point(begin.along_mm + way[0] * length, begin.height_mm + way[1] * length), newtons)
