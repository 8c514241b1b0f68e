"""The example's measuring: instruments gone over again after a winter, and a measurement sheet."""

from __future__ import annotations

from shopledger.acts.describing import MeasureRow
from shopledger.example.telling import Teller, Thread, day


def _row(measure: str, value: str, side: str = "", method: str = "") -> MeasureRow:
    return MeasureRow(measure=measure, value=value, side=side, method=method)


def what_was_measured_again(teller: Teller) -> Thread:
    """A cello is gone over again a year on and its sheet printed; a viol is measured on each side."""
    yield day("2026-03-12")
    teller.do(
        "measure",
        instrument_id=teller.things["tidewell"],
        taken_by="Elias Merrow",
        measures=(
            _row("string_length", "691 mm"),
            _row("projection", "81 mm"),
            _row("afterlength", "115.5 mm"),
            _row("string_angle", "155.5°", method="from the geometry"),
            _row("upper_bout", "171 mm", "bass", "straight"),
            _row("upper_bout", "173 mm", "treble", "straight"),
            _row("weight", "2.72 kg", method="with fittings"),
        ),
    )
    sheet = {"instrument_id": teller.things["tidewell"], "note": "After the winter; the bridge is new."}
    teller.do("print_measures", **sheet)
    yield day("2026-06-02")
    teller.do(
        "measure",
        instrument_id=teller.things["fenwraith"],
        taken_on=day("2026-06-01"),
        taken_by="Elias Merrow",
        measures=(
            _row("ribs_upper", "112 mm", "bass"),
            _row("ribs_upper", "111 mm", "treble"),
            _row("corner_lower", "9 mm", "bass"),
            _row("corner_lower", "11 mm", "treble"),
        ),
    )
