"""The state of an instrument by where it is: its chip in the table of stock, on its sheet and in its history."""

from __future__ import annotations

from shopledger.queries import shapes

_BY_CODE = {state.code: state for state in shapes.STATES}


def state_of(place: str | None, ended: bool, ending: str | None, held: bool) -> shapes.State | None:
    """Give the chip of where an instrument is; None where the place has no word."""
    if ended:
        return shapes.LOST if ending == "lost" else shapes.HANDED_OVER
    if place in (None, "here"):
        return shapes.ON_HOLD if held else shapes.HERE
    return _BY_CODE.get(place or "")
