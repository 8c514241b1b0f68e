"""The state of an instrument by where it is: its chip in the table of stock, on its sheet and in its history."""

from __future__ import annotations

from shopledger.quantities.words import N_
from shopledger.queries.shapes import Shape, State, Tone

HERE = State("here", N_("here"), Shape.DISC, Tone.IN_ORDER)
ON_TRIAL = State("on_trial", N_("on trial"), Shape.HALF, Tone.ELSEWHERE)
IN_WORKSHOP = State("workshop", N_("in the workshop"), Shape.LOZENGE, Tone.SOON)
AWAY = State("away", N_("away"), Shape.HALF, Tone.ELSEWHERE)
HANDED_OVER = State("handed_over", N_("handed over"), Shape.RING, Tone.QUIET)
LOST = State("lost", N_("lost"), Shape.TRIANGLE, Tone.LATE)
ON_HOLD = State("on_hold", N_("on hold"), Shape.DISC, Tone.SOON)
PLACE_STATES = (HERE, ON_TRIAL, IN_WORKSHOP, AWAY, HANDED_OVER, LOST, ON_HOLD)

_BY_CODE = {state.code: state for state in PLACE_STATES}


def state_of(place: str | None, ended: bool, ending: str | None, held: bool) -> State | None:
    """Give the chip of where an instrument is; None where the place has no word."""
    if ended:
        return LOST if ending == "lost" else HANDED_OVER
    if place in (None, "here"):
        return ON_HOLD if held else HERE
    return _BY_CODE.get(place or "")
