"""Pictures of the example, drawn here: a cello, a viola da gamba, a violin or a bow on a ground the colour of paper."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw

WIDE, HIGH = 420, 640
FINER = 2
"""It is drawn so many times larger and made smaller, so that its edges are smooth."""

PAPER = (244, 238, 227)
SHADE = (226, 217, 201)
INK = (58, 44, 34)
EBONY = (46, 38, 34)
STRING = (205, 196, 178)
TONES = MappingProxyType(
    {
        "amber": (190, 124, 58),
        "chestnut": (140, 78, 42),
        "honey": (206, 152, 84),
        "cherry": (150, 66, 40),
        "umber": (110, 70, 44),
    }
)
"""The colours of varnish, by name."""

Point = tuple[float, float]

# Half of an outline from the neck down, as points of a smooth line: across from the middle, and down from the top
# of the body, both in parts of the body's length.
_VIOLIN_HALF: Sequence[Point] = (
    (0.0, 0.0), (0.06, 0.004), (0.15, 0.03), (0.215, 0.09), (0.232, 0.16), (0.222, 0.235), (0.2, 0.29), (0.196, 0.318),
    (0.212, 0.336), (0.176, 0.36), (0.153, 0.42), (0.151, 0.49), (0.168, 0.56), (0.2, 0.606), (0.232, 0.618),
    (0.222, 0.642), (0.246, 0.7), (0.282, 0.78), (0.284, 0.86), (0.25, 0.94), (0.16, 0.985), (0.06, 0.998), (0.0, 1.0),
)  # fmt: skip
_VIOL_HALF: Sequence[Point] = (
    (0.0, 0.0), (0.028, 0.0), (0.045, 0.03), (0.085, 0.09), (0.15, 0.15), (0.205, 0.22), (0.222, 0.3), (0.204, 0.38),
    (0.172, 0.43), (0.154, 0.49), (0.16, 0.56), (0.19, 0.612), (0.232, 0.652), (0.272, 0.73), (0.284, 0.82),
    (0.262, 0.91), (0.2, 0.965), (0.1, 0.994), (0.0, 1.0),
)  # fmt: skip


def _smooth(points: Sequence[Point], steps: int = 12) -> list[Point]:
    """Give a smooth line through the points (a Catmull-Rom spline)."""
    ends = [points[0], *points, points[-1]]
    line: list[Point] = []
    for before, here, there, after in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for step in range(steps):
            t = step / steps
            x, y = (
                0.5
                * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t**2 + (3 * q - p - 3 * r + s) * t**3)
                for p, q, r, s in zip(before, here, there, after, strict=True)
            )
            line.append((x, y))
    return [*line, points[-1]]


class _Pen:
    """Draws around a vertical middle line, in parts of a length."""

    def __init__(self, canvas: ImageDraw, middle: float, top: float, length: float) -> None:
        self.canvas = canvas
        self.middle, self.top, self.length = middle * FINER, top * FINER, length * FINER

    def at(self, points: Sequence[Point], side: float = 1) -> list[Point]:
        return [(self.middle + side * x * self.length, self.top + y * self.length) for x, y in points]

    def shape(self, points: Sequence[Point], fill: tuple[int, int, int], edge: bool = True) -> None:
        whole = [*self.at(points), *reversed(self.at(points, -1))]
        self.canvas.polygon(whole, fill=fill)
        if edge:
            self.canvas.line([*whole, whole[0]], fill=INK, width=FINER + 1, joint="curve")

    def both(self, points: Sequence[Point], width: float) -> None:
        for side in (1, -1):
            self.canvas.line(self.at(points, side), fill=INK, width=round(width * FINER), joint="curve")

    def dots(self, points: Sequence[Point], radius: float) -> None:
        for side in (1, -1):
            for x, y in self.at(points, side):
                r = radius * FINER
                self.canvas.ellipse((x - r, y - r, x + r, y + r), fill=INK)


_F_HOLE: Sequence[Point] = (
    (0.082, 0.45), (0.07, 0.47), (0.084, 0.5), (0.1, 0.54), (0.116, 0.58), (0.13, 0.61), (0.118, 0.632),
)  # fmt: skip
_C_HOLE: Sequence[Point] = (
    (0.098, 0.455), (0.125, 0.465), (0.138, 0.505), (0.136, 0.55), (0.12, 0.582), (0.096, 0.588),
)  # fmt: skip


def _inset(half: Sequence[Point]) -> list[Point]:
    return [(x * 0.925, 0.014 + y * 0.972) for x, y in half]


def _darker(colour: tuple[int, int, int], by: float) -> tuple[int, int, int]:
    red, green, blue = (round(part * by) for part in colour)
    return red, green, blue


def _bowed(canvas: ImageDraw, tone: tuple[int, int, int], *, kind: str, strings: int) -> None:
    """Draw an instrument from the front."""
    viol, length, stands = kind == "viola_da_gamba", _LENGTHS[kind], kind in _STANDING
    pen = _Pen(canvas, WIDE / 2, HIGH - (52 if stands else 40) - length, length)
    if stands:
        pen.shape(((0.006, 1.0), (0.004, 1.08)), INK)
    half = _smooth(_VIOL_HALF if viol else _VIOLIN_HALF)
    pen.shape(half, tone)
    pen.both(_inset(half)[3:-3], 0.8)
    neck = -0.5 if viol else -0.47
    pen.shape(((0.02, neck), (0.024, 0.05)), _darker(tone, 0.9))
    pen.shape(
        ((0.03, neck + 0.02), (0.034, neck + 0.05), (0.03, neck - 0.1), (0.016, neck - 0.17)),
        _darker(tone, 0.8),
    )
    for n in range((strings + 1) // 2):
        y = neck - 0.02 - n * 0.037
        pen.shape(((0.09, y), (0.094, y + 0.008), (0.03, y + 0.012)), EBONY, edge=False)
    pen.dots(((0.0, neck - 0.18),), 0.026 * length)
    pen.shape(((0.019, neck + 0.01), (0.036, 0.4 if viol else 0.37)), EBONY)
    if viol:  # frets are tied around the neck
        for n in range(7):
            y = neck + 0.06 + 0.068 * n * (1 - 0.045 * n)
            pen.canvas.line([*pen.at(((-0.026, y), (0.026, y)))], fill=STRING, width=FINER)
        pen.both(_smooth(_C_HOLE), 2.2)
    else:
        pen.both(_smooth(_F_HOLE), 2.4)
        pen.dots((_F_HOLE[0], _F_HOLE[-1]), 2.6)
    pen.shape(((0.03, 0.7), (0.052, 0.72), (0.026, 0.93), (0.01, 0.985)), EBONY)
    for n in range(strings):
        across = (n / (strings - 1) - 0.5) * 2
        line = [(across * 0.014, neck + 0.012), (across * 0.05, 0.545), (across * 0.036, 0.72)]
        pen.canvas.line(pen.at(line), fill=STRING, width=FINER)
    pen.shape(((0.056, 0.535), (0.066, 0.545), (0.07, 0.556)), (232, 205, 160))


def _bow(canvas: ImageDraw, tone: tuple[int, int, int]) -> None:
    """Draw a bow, upright, its stick to the left."""
    pen = _Pen(canvas, WIDE / 2, 40, HIGH - 80)
    bend = _smooth(((-0.03, 0.02), (-0.016, 0.2), (-0.008, 0.5), (-0.016, 0.8), (-0.024, 0.965)))
    canvas.line(pen.at(((0.012, 0.028), (0.012, 0.9))), fill=(214, 204, 184), width=5 * FINER)
    canvas.line(pen.at(bend), fill=INK, width=8 * FINER, joint="curve")
    canvas.line(pen.at(bend), fill=tone, width=6 * FINER, joint="curve")
    head = ((-0.036, 0.012), (-0.02, 0.0), (0.024, 0.022), (0.02, 0.036), (-0.022, 0.05))
    canvas.polygon(pen.at(head), fill=tone, outline=INK)
    frog = ((-0.02, 0.872), (0.006, 0.868), (0.022, 0.88), (0.022, 0.93), (-0.024, 0.932))
    canvas.polygon(pen.at(frog), fill=EBONY, outline=INK)
    canvas.line(pen.at(((-0.024, 0.965), (-0.026, 0.985))), fill=(176, 172, 164), width=8 * FINER)
    x, y = pen.at(((-0.002, 0.902),))[0]
    canvas.ellipse((x - 7, y - 7, x + 7, y + 7), fill=(222, 218, 208))


_LENGTHS = {"cello": 334.0, "piccolo_cello": 318.0, "viola_da_gamba": 324.0, "viola": 300.0, "violin": 280.0}
_STANDING = ("cello", "piccolo_cello", "viola_da_gamba")


@cache
def draw(kind: str, tone: str, strings: int = 6) -> bytes:
    """Give a picture of a kind of instrument in a tone of varnish.

    Shape:  a PNG of WIDE by HIGH pixels; the same answer each time.
    """
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (WIDE * FINER, HIGH * FINER), PAPER)
    canvas = ImageDraw.Draw(image)
    # The table that it lies on: a quiet band behind its foot.
    canvas.rectangle((0, (HIGH - 90) * FINER, WIDE * FINER, HIGH * FINER), fill=SHADE)
    if kind == "bow":
        _bow(canvas, TONES[tone])
    else:
        count = strings if kind == "viola_da_gamba" else 5 if kind == "piccolo_cello" else 4
        _bowed(canvas, TONES[tone], kind=kind, strings=count)
    kept = io.BytesIO()
    image.reduce(FINER).save(kept, "PNG", compress_level=1)  # the ledger writes it anew, and smaller
    return kept.getvalue()
