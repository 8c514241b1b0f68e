"""How far the first and the fourth finger stand apart in first position: what a string length asks of the left hand.

A semitone shortens a string by the twelfth root of two (equal temperament); the root is taken in whole numbers, so that
no float enters a length.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from shopledger.quantities.words import N_

SCALE = 10**18


@dataclass(frozen=True, slots=True)
class Fingers:
    """Where the first and the fourth finger stand in first position.

    Units:  semitones above the open string.
    Source: common practice, no source: a whole tone a finger on violin and viola; a semitone a finger on the cello and,
            at the frets, on the viol; on the double bass the fourth finger a whole tone above the first.
    """

    first: int
    fourth: int
    interval: str


_ARM = Fingers(2, 7, N_("a fourth apart"))
_LEG = Fingers(2, 5, N_("a minor third apart"))
FINGERS: Mapping[str, Fingers] = {
    "violin": _ARM,
    "viola": _ARM,
    "cello": _LEG,
    "piccolo_cello": _LEG,
    "viola_da_gamba": _LEG,
    "double_bass": Fingers(2, 4, N_("a whole tone apart")),
}


def fingers_of(kind: str) -> Fingers:
    """Give where the fingers stand on a kind of instrument that a left hand plays."""
    return FINGERS[kind]


@cache
def root_scaled(semitones: int) -> int:
    """Give two to the power of minus that many twelfths, times `SCALE`, rounded down."""
    target = SCALE**12 // 2**semitones
    low, high = 0, SCALE
    while low < high:
        middle = (low + high + 1) // 2
        if middle**12 <= target:
            low = middle
        else:
            high = middle - 1
    return low


def stopped_nm(length_nm: int, semitones: int) -> int:
    """Give the length that still sounds when a string is stopped some semitones above the open one.

    Units:  nanometres, to the nearest.
    """
    return (length_nm * root_scaled(semitones) + SCALE // 2) // SCALE


def reach_nm(kind: str, length_nm: int) -> int:
    """Give how far the first and the fourth finger stand apart in first position on a string of that length.

    Units:  nanometres.
    """
    fingers = fingers_of(kind)
    return stopped_nm(length_nm, fingers.first) - stopped_nm(length_nm, fingers.fourth)
