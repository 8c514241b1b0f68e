"""Claim numbers: the year, a running number and a check digit that finds any single slip, as `26-0014-7`.

The check digit is H. M. Damm's, over all digits before it: it finds every wrong digit and every two neighbouring digits
that changed places, so that a number read over a telephone is right or is seen to be wrong.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from shopledger.quantities.errors import Bug, Typed
from shopledger.quantities.words import N_

_TABLE = (
    (0, 3, 1, 7, 5, 9, 8, 6, 4, 2),
    (7, 0, 9, 2, 1, 5, 4, 8, 6, 3),
    (4, 2, 0, 6, 8, 7, 1, 3, 5, 9),
    (1, 7, 5, 0, 9, 8, 3, 4, 2, 6),
    (6, 1, 2, 3, 0, 4, 5, 9, 7, 8),
    (3, 6, 7, 4, 2, 0, 9, 5, 8, 1),
    (5, 8, 6, 9, 7, 2, 0, 1, 3, 4),
    (8, 9, 4, 5, 3, 6, 2, 0, 1, 7),
    (9, 4, 3, 8, 6, 1, 7, 2, 0, 5),
    (2, 5, 8, 1, 4, 3, 6, 7, 9, 0),
)
"""Damm's quasigroup of order ten, from H. M. Damm, Total anti-symmetrische Quasigruppen (2004)."""
_RUNNING = 4
"""Digits of the running number at least."""
_FEWEST = 2 + _RUNNING + 1


def check_digit(digits: str) -> str:
    """Give the digit that goes behind these."""
    return str(_walked(int(digit) for digit in digits))


def _walked(digits: Iterable[int]) -> int:
    interim = 0
    for digit in digits:
        interim = _TABLE[interim][digit]
    return interim


def claim_number(year: int, n: int) -> str:
    """Give the claim number of the n-th job of a year: `claim_number(2026, 14)` begins `26-0014-`.

    Raises: Bug: there is no such job.
    """
    if n < 1:
        raise Bug("jobs are counted from 1, not {n}", n=n)
    return _written(f"{year % 100:02d}{n:0{_RUNNING}d}")


def _written(digits: str) -> str:
    return f"{digits[:2]}-{digits[2:]}-{check_digit(digits)}"


def read_claim(typed: str) -> str:
    """Give a claim number as it is written, however its parts were set off when it was typed.

    Raises: Typed: it is no claim number, has too few digits or too many, or a slip that its last digit shows.
    """
    shown = " ".join(typed.split())
    digits = _digits(typed)
    if not digits.isascii() or not digits.isdigit():
        raise Typed(
            N_("“{typed}” is no claim number: that is digits only, such as {such}."),
            typed=shown,
            such=claim_number(2026, 14),
        )
    if len(digits) < _FEWEST:
        raise Typed(
            N_("{typed} is too short for a claim number, such as {such}: read it again."),
            typed=shown,
            such=claim_number(2026, 14),
        )
    if len(digits) > _FEWEST and digits[2] == "0":
        raise Typed(
            N_("{typed} has a digit too many for a claim number, such as {such}: read it again."),
            typed=shown,
            such=claim_number(2026, 14),
        )
    if _walked(int(digit) for digit in digits):
        raise Typed(
            N_("{typed} has a slip: its last digit doesn't fit the others; read it again."), typed=shown
        )
    return _written(digits[:-1])


def _digits(typed: str) -> str:
    """Give what was typed without spaces, strokes and dots; full-width digits are digits."""
    plain = unicodedata.normalize("NFKC", typed)
    return "".join(
        letter
        for letter in plain
        if unicodedata.category(letter) not in {"Zs", "Cc", "Pd"} and letter not in "./_|−"
    )


def looks_like_claim(typed: str) -> bool:
    """Say whether words typed into a search are meant as a claim number: seven digits or more and nothing else."""
    digits = _digits(typed)
    return len(digits) >= _FEWEST and digits.isascii() and digits.isdigit()
