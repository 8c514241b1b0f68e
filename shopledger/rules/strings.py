"""A set of strings on an instrument: what each is tuned to, weighs and pulls, and what all press on the bridge.

A string is known by its linear density; one that is known by its tension at a length gets its density from it once, and
keeps it when length, pitch or the tuning change.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from shopledger.rules.bridge import Geometry, Measured, Over, load_n
from shopledger.rules.pitches import hz_of

MM_PER_M = 1000.0
G_PER_KG = 1000.0


@dataclass(frozen=True, slots=True)
class Strung:
    """A string: the pitch it is tuned to and its linear density in grams per metre."""

    pitch: str
    g_per_m: float


@dataclass(frozen=True, slots=True)
class SetUp:
    """A set of strings, how it lies over the bridge, and the tuning."""

    strings: tuple[Strung, ...]
    over: Over
    a4_hz: float

    @property
    def length_mm(self) -> float:
        """The string length."""
        return self.over.length_mm

    @property
    def angle_deg(self) -> float:
        """The included angle over the bridge."""
        return self.over.angle_deg

    def at_length(self, length_mm: float) -> SetUp:
        """Give the set at another string length and the same angle, the strings keeping their linear density."""
        return replace(self, over=Measured(length_mm, self.angle_deg))

    def at_angle(self, angle_deg: float) -> SetUp:
        """Give the set at another angle over the bridge and the same string length."""
        return replace(self, over=Measured(self.length_mm, angle_deg))

    def at_bridge_height(self, geometry: Geometry, height_mm: float) -> SetUp:
        """Give the set over the side view with another height of the bridge top."""
        return replace(self, over=geometry.with_bridge_height(height_mm))

    def at_a4(self, a4_hz: float) -> SetUp:
        """Give the set at another tuning, the strings keeping their linear density."""
        return replace(self, a4_hz=a4_hz)

    def with_gauge(self, position: int, g_per_m: float) -> SetUp:
        """Give the set with another linear density of the string at a position, counted from 0."""
        strings = list(self.strings)
        strings[position] = replace(strings[position], g_per_m=g_per_m)
        return replace(self, strings=tuple(strings))


@dataclass(frozen=True, slots=True)
class StringPull:
    """What one string does: its frequency, its tension, and its part of the load on the bridge."""

    pitch: str
    hz: float
    tension_n: float
    load_n: float


@dataclass(frozen=True, slots=True)
class Pull:
    """What a set does: every string, and the sums."""

    strings: tuple[StringPull, ...]
    tension_n: float
    load_n: float
    angle_deg: float
    length_mm: float


def tension_n(length_mm: float, hz: float, g_per_m: float) -> float:
    """Give the tension of a string that sounds at a frequency over its whole length.

    Units:   millimetres, hertz, grams per metre; newtons.
    Source:  T = 4 L² f² μ, Mersenne's law; Jaffe and Taylor, The Physics of Energy, chapter 4.
    """
    return 4 * (length_mm / MM_PER_M) ** 2 * hz**2 * (g_per_m / G_PER_KG)


def g_per_m_of(tension: float, length_mm: float, hz: float) -> float:
    """Give the linear density of a string whose tension is known at a length and a frequency, the law turned round.

    Units:   newtons, millimetres, hertz; grams per metre.
    """
    return tension / (4 * (length_mm / MM_PER_M) ** 2 * hz**2) * G_PER_KG


def pull_of(set_up: SetUp) -> Pull:
    """Give the tension of each string and of all, and what they press on the bridge.

    Units:   newtons, degrees, millimetres.
    """
    length, angle = set_up.length_mm, set_up.angle_deg
    strings = []
    for string in set_up.strings:
        hz = hz_of(string.pitch, set_up.a4_hz)
        tension = tension_n(length, hz, string.g_per_m)
        strings.append(StringPull(string.pitch, hz, tension, load_n(tension, angle)))
    return Pull(
        strings=tuple(strings),
        tension_n=math.fsum(string.tension_n for string in strings),
        load_n=math.fsum(string.load_n for string in strings),
        angle_deg=angle,
        length_mm=length,
    )
