"""What a metre of string weighs: whole micrograms where it is kept, grams a metre where it is shown."""

from __future__ import annotations

import re

from shopledger.quantities.errors import Typed
from shopledger.quantities.figures import Figure, show_figure
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

UG_PER_G = 1_000_000
HEAVIEST_G_PER_M = 500.0
_TYPED = re.compile(r"(?P<number>[0-9]{1,3}(?:[.,][0-9]{1,6})?)\s?(?P<unit>m?g/m)?", re.ASCII)


def read_density(text: str, *, field: str = "density") -> int:
    """Read what a metre of string weighs: `0.45`, `0,45 g/m`, `450 mg/m`.

    Units:  micrograms a metre; a figure without a unit is in grams a metre.
    Raises: Typed: it is none, is nothing, or is more than any string weighs.
    """
    match = _TYPED.fullmatch(" ".join(text.split()).lower())
    if match is None:
        raise Typed(
            N_("“{text}” is no weight of a metre of string. Write it as 0.45 g/m."),
            field=field,
            text=brief(text),
        )
    grams = float(match["number"].replace(",", ".")) / (1000 if match["unit"] == "mg/m" else 1)
    if not 0.01 <= grams <= HEAVIEST_G_PER_M:
        raise Typed(
            N_("“{text}” can't be what a metre of string weighs: write 0.01 to 500 g/m."),
            field=field,
            text=brief(text),
        )
    return round(grams * UG_PER_G)


def show_density(ug_per_m: int, manners: Manners = PLAIN) -> str:
    """Give what a metre weighs, without noughts at the end: "0.45 g/m"."""
    fine = f"{ug_per_m % UG_PER_G:06d}".rstrip("0")
    return show_figure(Figure(ug_per_m / UG_PER_G, len(fine), "g/m"), manners)
