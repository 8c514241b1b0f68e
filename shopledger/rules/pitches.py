"""Pitches by name and their frequencies in equal temperament, counted from A4."""

from __future__ import annotations

import re

from shopledger.quantities.errors import Typed
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

STANDARD_A4_HZ = 440.0
"""The standard tuning frequency of A4. Source: ISO 16:1975."""

_NAME = re.compile(r"(?P<letter>[A-G])(?P<accidental>##|bb|#|b|\u266f|\u266d)?(?P<octave>[0-8])", re.ASCII)
_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
_ACCIDENTALS = {"##": 2, "#": 1, "\u266f": 1, "b": -1, "\u266d": -1, "bb": -2}
_STEPS_TO_A4 = 4 * 12 + 9


def semitones_from_a4(pitch: str, *, field: str = "pitch") -> int:
    """Give how many semitones a pitch lies above A4 (below it: a negative number): 7 for E5, −33 for C2.

    Shape:   a letter from A to G, where wanted # or b, and the octave from 0 to 8; the octave begins at C, and C4 is
             the middle C.
    Raises:  Typed where the name is none of these.
    """
    name = _NAME.fullmatch(pitch)
    if name is None:
        raise Typed(
            N_(
                "“{pitch}” is no pitch. Write a letter from A to G, # or b, and the octave, such as A4 or F#4."
            ),
            field=field,
            pitch=brief(pitch),
        )
    step = _STEPS[name["letter"]] + _ACCIDENTALS.get(name["accidental"] or "", 0)
    return 12 * int(name["octave"]) + step - _STEPS_TO_A4


def hz_of(pitch: str, a4_hz: float = STANDARD_A4_HZ) -> float:
    """Give the frequency of a pitch in equal temperament.

    Units:   hertz.
    Raises:  Typed, as `semitones_from_a4`.
    """
    return float(a4_hz * 2.0 ** (semitones_from_a4(pitch) / 12))
