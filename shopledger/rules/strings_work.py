"""What comes of a set of strings as it is typed: tensions, load, what is wanted, what changes, how far it may be off.

Any figure may be missing or wrong: what is wrong is told by its field, and whatever can be worked out without it is.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from shopledger.quantities.densities import UG_PER_G, read_density
from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.figures import Figure
from shopledger.quantities.forces import ForceUnit, read_force
from shopledger.quantities.lengths import Length
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_
from shopledger.rules.bridge import Geometry, Measured, Over, Point
from shopledger.rules.bridge_view import SideView, side_view
from shopledger.rules.case_form import Bounds, number_text
from shopledger.rules.pitches import hz_of
from shopledger.rules.strings import Pull, SetUp, Strung, g_per_m_of, pull_of
from shopledger.rules.strings_case import (
    ANGLES,
    LENGTHS,
    PLACES,
    SHORTEST_AFTERLENGTH_MM,
    TENSIONS,
    TUNINGS,
)
from shopledger.rules.strings_change import (
    SetUpChange,
    Tolerances,
    Uncertain,
    compare,
    uncertainty_of,
)
from shopledger.rules.strings_form import BY_SIDE, StringsTyped, StringTyped
from shopledger.rules.strings_wanted import Reached, WantedLoad, WantedTension, reach

Wrong = tuple[str, LedgerError]
T = TypeVar("T")

_NUMBER = re.compile(r"(?P<sign>[-\u2212+]?)(?P<number>[0-9]{1,5}(?:[.,][0-9]{1,6})?)\s?(?P<unit>[a-z%°]*)")
_ON_THE_LINE_MM = 1e-9
_EXAMPLES = {
    "Hz": Figure(440.0, 0, "Hz"),
    "°": Figure(157.5, 1, "°"),
    "mm": Figure(33.5, 1, "mm"),
    "%": Figure(2.0, 0, "%"),
}


@dataclass(frozen=True, slots=True)
class Worked:
    """What comes of it; None where it can't be worked out, or isn't asked."""

    unit: ForceUnit
    set_up: SetUp | None = None
    pull: Pull | None = None
    view: SideView | None = None
    reached: Reached | None = None
    change: SetUpChange | None = None
    uncertain: Uncertain | None = None
    wrong: tuple[Wrong, ...] = ()


@dataclass
class _Reading:
    """Reads field by field and gathers what is wrong."""

    wrong: list[Wrong] = field(default_factory=list)

    def take(self, path: str, read: Callable[[], T]) -> T | None:
        try:
            return read()
        except LedgerError as error:
            self.wrong.append((error.field or path, error))
            return None


def work_out(typed: StringsTyped) -> Worked:
    """Give what comes of a set of strings as it is typed; never raises."""
    reading = _Reading()
    unit = ForceUnit(typed.unit)
    a4 = reading.take("a4", lambda: _number(typed.a4, "a4", TUNINGS, "Hz"))
    over = reading.take("length", lambda: _over(typed))
    strings = [
        reading.take(f"strings[{n}]", lambda n=n, row=row: _string(row, f"strings[{n}]", a4, over, unit))  # type: ignore[misc]
        for n, row in enumerate(typed.strings)
    ]
    known = [one for one in strings if one is not None]
    if a4 is None or over is None or not known or len(known) < len(strings):
        return Worked(unit, wrong=tuple(reading.wrong))
    set_up = SetUp(tuple(known), over, a4)
    return Worked(
        unit,
        set_up,
        pull_of(set_up),
        side_view(set_up),
        reading.take("wanted", lambda: _reached(typed, set_up, unit)),
        reading.take("a4_then", lambda: _change(typed, set_up)),
        reading.take("off_length", lambda: uncertainty_of(set_up, _tolerances(typed, set_up))),
        tuple(reading.wrong),
    )


def _number(text: str, path: str, within: Bounds, unit: str) -> float:
    """Read a number with or without its unit.

    Raises: Typed: it is none, or beyond its bounds.
    """
    match = _NUMBER.fullmatch(" ".join(text.split()).lower())
    if not text.strip():
        raise Typed(
            N_("It is missing: write a number, such as {example}."), field=path, example=_EXAMPLES[unit]
        )
    if match is None or (match["unit"] and match["unit"] != unit.lower()):
        raise Typed(
            N_("“{text}” can't be read here. Write a number, such as {example}."),
            field=path,
            text=brief(text),
            example=_EXAMPLES[unit],
        )
    number = float(match["number"].replace(",", ".")) * (-1 if match["sign"] in ("-", "\u2212") else 1)
    if not within.hold(number):
        raise Typed(
            N_("{number} can't be so. Write a number from {least} to {most}."),
            field=path,
            number=number_text(number),
            least=number_text(within.least),
            most=number_text(within.most),
        )
    return number


def _length(length: Length | None, path: str) -> float:
    if length is None:
        raise Typed(N_("It is missing: measure it, and write it as 328 mm or 12 7/8 in."), field=path)
    mm = float(length.mm)
    if not LENGTHS.hold(mm):
        raise Typed(
            N_("{length} can't be a string length. Write one from {least} to {most} mm."),
            field=path,
            length=length,
            least=number_text(LENGTHS.least),
            most=number_text(LENGTHS.most),
        )
    return mm


def _over(typed: StringsTyped) -> Over:
    """Give how the strings lie over the bridge.

    Raises: Typed: a figure is missing, or they can't lie so.
    """
    length = _length(typed.length, "length")
    if typed.over != BY_SIDE:
        return Measured(length, _number(typed.angle, "angle", ANGLES, "°"))
    nut, top, tail = (
        _number(getattr(typed, name), name, PLACES, "mm")
        for name in ("nut_height", "top_height", "tail_height")
    )
    if typed.afterlength is None:
        raise Typed(N_("It is missing: measure it, and write it as 57 mm or 2 1/4 in."), field="afterlength")
    after = float(typed.afterlength.mm)
    for reach_mm, height, path in ((length, nut, "nut_height"), (after, tail, "tail_height")):
        if not abs(top - height) < reach_mm or after < SHORTEST_AFTERLENGTH_MM:
            raise Typed(
                N_("The bridge top at {top} mm is too far from this height for a string of {length} mm."),
                field=path,
                top=number_text(top),
                length=number_text(reach_mm),
            )
    along = math.sqrt(length**2 - (top - nut) ** 2)
    behind = math.sqrt(after**2 - (top - tail) ** 2)
    geometry = Geometry(Point(0.0, nut), Point(along, top), Point(along + behind, tail))
    if top < geometry.straight_height_mm - _ON_THE_LINE_MM:
        raise Typed(
            N_(
                "The bridge top lies below the straight line from nut to tailpiece: no string would touch it."
            ),
            field="top_height",
        )
    return geometry


def _string(
    row: StringTyped, path: str, a4: float | None, over: Over | None, unit: ForceUnit
) -> Strung | None:
    """Give a string by its density, or by its tension at a length; None while the tuning isn't known.

    Raises: Typed: its pitch is none, or its figures can't be so.
    """
    try:
        hz = hz_of(row.pitch.strip(), a4 or TUNINGS.least)
    except LedgerError as error:
        error.field = f"{path}.pitch"
        raise
    known = " ".join((row.known or "").split())
    if not known:
        raise Typed(
            N_(
                "What a metre weighs is missing, or its tension: the packet says one of them, or weigh a piece."
            ),
            field=f"{path}.known",
        )
    if known[-1:].isdigit():
        raise Typed(
            N_(
                "“{text}” can mean two things: write {text} g/m if a metre weighs that,"
                " or {text} {unit} if it pulls so."
            ),
            field=f"{path}.known",
            text=brief(known),
            unit=unit.value,
        )
    if known.endswith("/m"):
        if row.at_length is not None:
            raise Typed(
                N_("A length belongs to a tension: take it away beside what a metre weighs."),
                field=f"{path}.at_length",
            )
        return Strung(row.pitch.strip(), read_density(known, field=f"{path}.known") / UG_PER_G)
    newtons = read_force(known, unit, field=f"{path}.known")
    if not TENSIONS.hold(newtons):
        raise Typed(
            N_("“{text}” can't be the tension of a string. Write one from {least} to {most} N."),
            field=f"{path}.known",
            text=brief(known),
            least=number_text(TENSIONS.least),
            most=number_text(TENSIONS.most),
        )
    if row.at_length is None and over is None:
        return None
    at = (
        over.length_mm
        if row.at_length is None and over is not None
        else _length(row.at_length, f"{path}.at_length")
    )
    return Strung(row.pitch.strip(), g_per_m_of(newtons, at, hz)) if a4 is not None else None


def _reached(typed: StringsTyped, set_up: SetUp, unit: ForceUnit) -> Reached | None:
    """Give what reaches that which is wanted; None where nothing is.

    Raises: Typed, Refused: it is no force, or can't be reached; the reachable range is named.
    """
    if typed.wants == "none":
        return None
    if not typed.wanted.strip():
        raise Typed(N_("It is missing: write the force that is wanted, such as 84 N."), field="wanted")
    newtons = read_force(typed.wanted, unit, field="wanted")
    try:
        return reach(set_up, WantedLoad(newtons) if typed.wants == "load" else WantedTension(newtons))
    except LedgerError as error:
        error.field = "wanted" if (error.field or "").startswith("wanted") else "top_height"
        raise


def _change(typed: StringsTyped, set_up: SetUp) -> SetUpChange | None:
    """Give what becomes of the set with what is typed to change; None where nothing is.

    Raises: Typed: a figure can't be so.
    """
    then = set_up
    if typed.a4_then.strip():
        then = then.at_a4(_number(typed.a4_then, "a4_then", TUNINGS, "Hz"))
    if typed.length_then is not None:
        then = then.at_length(_length(typed.length_then, "length_then"))
    if typed.density_then.strip() or typed.string_then is not None:
        place = typed.string_then or 0
        if not 1 <= place <= len(set_up.strings):
            raise Typed(
                N_("Say which string: a place from 1 to {most}."),
                field="string_then",
                most=len(set_up.strings),
            )
        if not typed.density_then.strip():
            raise Typed(N_("What a metre of it weighs is missing."), field="density_then")
        then = then.with_gauge(place - 1, read_density(typed.density_then, field="density_then") / UG_PER_G)
    return None if then is set_up else compare(set_up, then)


_OFF = {"off_length": "mm", "off_angle": "°", "off_height": "mm", "off_density": "%", "off_a4": "Hz"}


def _tolerances(typed: StringsTyped, set_up: SetUp) -> Tolerances:
    """Give by how much each figure may be off; nothing typed is nothing.

    Raises: Typed: a figure can't be so.
    """
    side = isinstance(set_up.over, Geometry)
    left_out = "off_angle" if side else "off_height"
    # An angle close to its ends can be off by no more than is left to them.
    most = {
        "off_length": set_up.length_mm / 2,
        "off_angle": set_up.angle_deg / 2,
        "off_height": set_up.length_mm / 2,
        "off_density": 99.0,
        "off_a4": set_up.a4_hz / 2,
    }
    off = {
        name: _number(getattr(typed, name), name, Bounds(0.0, most[name]), unit)
        if name != left_out and (getattr(typed, name) or "").strip()
        else 0.0
        for name, unit in _OFF.items()
    }
    return Tolerances(
        length_mm=0.0 if side else off["off_length"],
        angle_deg=off["off_angle"],
        along_mm=off["off_length"] if side else 0.0,
        height_mm=off["off_height"],
        gauge_share=off["off_density"] / 100,
        a4_hz=off["off_a4"],
    )
