"""What a change of tuning, gauge, length or bridge does, and how far a load may be off by the measurements."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_
from shopledger.rules.bridge import STRAIGHT_DEG, Geometry, Measured, Point
from shopledger.rules.case_form import number_text
from shopledger.rules.strings import SetUp, StringPull, pull_of


@dataclass(frozen=True, slots=True)
class Change:
    """A figure before and after."""

    before: float
    after: float

    @property
    def by(self) -> float:
        """How much was added; below zero where it became less."""
        return self.after - self.before

    @property
    def by_share(self) -> float | None:
        """How much was added as a share of what was there before; None where that was nothing."""
        return self.by / self.before if self.before else None


@dataclass(frozen=True, slots=True)
class StringChange:
    """What becomes of one string: its pitch after the change, its tension and its part of the load, in newtons."""

    pitch: str
    tension_n: Change
    load_n: Change


@dataclass(frozen=True, slots=True)
class SetUpChange:
    """What becomes of a set: every string, and the sums in newtons."""

    strings: tuple[StringChange, ...]
    tension_n: Change
    load_n: Change
    angle_deg: Change
    length_mm: Change


def compare(before: SetUp, after: SetUp) -> SetUpChange:
    """Give what the change from one set-up to another does, string by string in their order.

    Raises:  Typed where one has more strings than the other.
    """
    if len(before.strings) != len(after.strings):
        raise Typed(
            N_("Here are {before} strings before and {after} after. Compare sets with as many strings."),
            field="strings",
            before=len(before.strings),
            after=len(after.strings),
        )
    old, new = pull_of(before), pull_of(after)
    return SetUpChange(
        strings=tuple(_string_change(a, b) for a, b in zip(old.strings, new.strings, strict=True)),
        tension_n=Change(old.tension_n, new.tension_n),
        load_n=Change(old.load_n, new.load_n),
        angle_deg=Change(old.angle_deg, new.angle_deg),
        length_mm=Change(old.length_mm, new.length_mm),
    )


def _string_change(old: StringPull, new: StringPull) -> StringChange:
    return StringChange(new.pitch, Change(old.tension_n, new.tension_n), Change(old.load_n, new.load_n))


@dataclass(frozen=True, slots=True)
class Tolerances:
    """By how much each measurement may be off, either way.

    Units:   millimetres, degrees, hertz; `gauge_share` is a share of each string's linear density.
    Shape:   `length_mm` and `angle_deg` are of a measured angle, `along_mm` and `height_mm` of each point of a side
             view; those of the other kind are left at 0.
    """

    length_mm: float = 0.0
    angle_deg: float = 0.0
    along_mm: float = 0.0
    height_mm: float = 0.0
    gauge_share: float = 0.0
    a4_hz: float = 0.0


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one uncertain measurement does to the load: its words, and by how many newtons at most."""

    words: str
    newtons: float


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A load and how far it may be off, in newtons.

    Shape:   `likely_n` is the root of the sum of the squares of the parts, for measurements that err each on its own;
             `at_worst_n` is their plain sum, for errors that all go the same way.
    """

    load_n: float
    likely_n: float
    at_worst_n: float
    parts: tuple[Contribution, ...]


def uncertainty_of(set_up: SetUp, tolerances: Tolerances) -> Uncertain:
    """Give how far the load on the bridge may be off.

    Each measurement is moved to both ends of its tolerance, the others staying, and the larger change counts.

    Raises:  Typed for a tolerance that is negative or not finite, or that is of the other kind of measurement.
    Source:  combining by the root of the sum of squares: JCGM 100:2008 (GUM), 5.1.2.
    """
    _check(set_up, tolerances)
    load = pull_of(set_up).load_n
    parts = tuple(
        Contribution(words, max(abs(pull_of(moved).load_n - load) for moved in ends))
        for words, ends in _moved(set_up, tolerances)
    )
    return Uncertain(
        load_n=load,
        likely_n=math.hypot(*(part.newtons for part in parts)),
        at_worst_n=math.fsum(part.newtons for part in parts),
        parts=parts,
    )


def _check(set_up: SetUp, tolerances: Tolerances) -> None:
    """Refuse tolerances that can't be so."""
    over = set_up.over
    measured = isinstance(over, Measured)
    below = {
        "length_mm": over.length_mm if measured else 0.0,
        "angle_deg": over.angle_deg if measured else 0.0,
        "along_mm": 0.0 if measured else over.length_mm,
        "height_mm": 0.0 if measured else over.length_mm,
        "gauge_share": 1.0,
        "a4_hz": set_up.a4_hz,
    }
    for name, most in below.items():
        value = getattr(tolerances, name)
        if value and not most:
            raise Typed(
                N_(
                    "This set-up isn't known by that measurement: a measured angle has tolerances of length and angle,"
                    " a side view those of its points along and in height."
                ),
                field=name,
            )
        if value and not 0 < value < most:
            raise Typed(
                N_("A tolerance can't be {value} here. Write 0 or more, and less than {most}."),
                field=name,
                value=number_text(value),
                most=number_text(most),
            )


def _moved(set_up: SetUp, tolerances: Tolerances) -> Iterator[tuple[str, tuple[SetUp, SetUp]]]:
    """Give for each uncertain measurement its words and the set-up at both ends of its tolerance."""
    over = set_up.over
    if isinstance(over, Geometry):
        yield from _moved_points(set_up, over, tolerances)
    else:
        if by := tolerances.length_mm:
            yield (
                N_("string length"),
                (set_up.at_length(over.length_mm - by), set_up.at_length(over.length_mm + by)),
            )
        if by := tolerances.angle_deg:
            wider = min(over.angle_deg + by, STRAIGHT_DEG)
            yield N_("angle"), (set_up.at_angle(over.angle_deg - by), set_up.at_angle(wider))
    if by := tolerances.gauge_share:
        for n, string in enumerate(set_up.strings):
            ends = (string.g_per_m * (1 - by), string.g_per_m * (1 + by))
            yield N_("gauge"), (set_up.with_gauge(n, ends[0]), set_up.with_gauge(n, ends[1]))
    if by := tolerances.a4_hz:
        yield N_("tuning"), (set_up.at_a4(set_up.a4_hz - by), set_up.at_a4(set_up.a4_hz + by))


_POINTS = (
    ("nut", N_("nut, along"), N_("nut, height")),
    ("bridge_top", N_("bridge top, along"), N_("bridge top, height")),
    ("tail", N_("tail, along"), N_("tail, height")),
)


def _moved_points(
    set_up: SetUp, geometry: Geometry, tolerances: Tolerances
) -> Iterator[tuple[str, tuple[SetUp, SetUp]]]:
    """Give the set-up with each point of the side view moved along and in height."""
    for name, along_words, height_words in _POINTS:
        point: Point = getattr(geometry, name)
        if by := tolerances.along_mm:
            near = replace(point, along_mm=point.along_mm - by)
            far = replace(point, along_mm=point.along_mm + by)
            yield along_words, (_with(set_up, geometry, name, near), _with(set_up, geometry, name, far))
        if by := tolerances.height_mm:
            lower = replace(point, height_mm=point.height_mm - by)
            upper = replace(point, height_mm=point.height_mm + by)
            yield height_words, (_with(set_up, geometry, name, lower), _with(set_up, geometry, name, upper))


def _with(set_up: SetUp, geometry: Geometry, name: str, point: Point) -> SetUp:
    return replace(set_up, over=replace(geometry, **{name: point}))
