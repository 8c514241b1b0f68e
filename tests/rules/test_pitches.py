"""Pitches and their frequencies in equal temperament."""

from __future__ import annotations

import pytest

from shopledger.quantities.errors import Typed
from shopledger.rules.pitches import STANDARD_A4_HZ, hz_of, semitones_from_a4


@pytest.mark.parametrize(
    ("pitch", "hz"),
    [
        # equal temperament from A4 = 440 Hz (ISO 16); the figures were worked out with the library music21
        ("E5", 659.2551),
        ("A4", 440.0),
        ("D4", 293.6648),
        ("G3", 195.9977),
        ("C3", 130.8128),
        ("G2", 97.9989),
        ("C2", 65.4064),
    ],
)
def test_frequencies_in_equal_temperament(pitch: str, hz: float) -> None:
    assert hz_of(pitch) == pytest.approx(hz, abs=1e-4)


def test_octaves_are_exact_and_follow_a4() -> None:
    assert STANDARD_A4_HZ == 440.0  # ISO 16:1975
    assert [hz_of(f"A{octave}", 415.0) for octave in (2, 3, 4, 5)] == [103.75, 207.5, 415.0, 830.0]


@pytest.mark.parametrize(
    ("one", "other"), [("F#4", "Gb4"), ("F\u266f4", "G\u266d4"), ("B#3", "C4"), ("Cb4", "B3"), ("G##3", "A3")]
)
def test_two_names_of_one_key(one: str, other: str) -> None:
    assert semitones_from_a4(one) == semitones_from_a4(other)


@pytest.mark.parametrize(
    "name", ["", "A", "a4", "H4", "A9", "A-1", "A4 ", " A4", "4A", "A44", "A\uff14", "A###4", "A4\n"]
)
def test_what_is_no_pitch_is_refused(name: str) -> None:
    with pytest.raises(Typed, match="is no pitch"):
        semitones_from_a4(name)
