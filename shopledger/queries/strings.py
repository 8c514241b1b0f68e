"""What is known of an instrument's strings and bridge, as the page that reckons them begins."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from sqlalchemy import select

from shopledger.model import Instrument, SetupString
from shopledger.quantities.angles import Angle, show_angle
from shopledger.quantities.densities import show_density
from shopledger.quantities.figures import Figure, show_figure
from shopledger.quantities.lengths import NM_PER_MM, Length
from shopledger.quantities.manners import Manners
from shopledger.quantities.words import _
from shopledger.queries.readings import newest_readings
from shopledger.rules.strings_form import BY_ANGLE, BY_SIDE, StringTyped

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

PITCHES: Mapping[str, tuple[str, ...]] = {
    "violin": ("E5", "A4", "D4", "G3"),
    "viola": ("A4", "D4", "G3", "C3"),
    "cello": ("A3", "D3", "G2", "C2"),
    "piccolo_cello": ("E4", "A3", "D3", "G2", "C2"),
    "viola_da_gamba": ("D4", "A3", "E3", "C3", "G2", "D2", "A1"),
    "double_bass": ("G2", "D2", "A1", "E1"),
}
"""What each kind is usually tuned to, from the highest down; of viols the bass. Common practice, no source."""


def known_of_strings(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give what the page about an instrument's strings and bridge begins with, by the names of its inputs.

    Shape:  what was not measured is left out; without a set on record its pitches are those the kind is tuned to.
    """
    manners = reading.ledger.manners
    newest = newest_readings(reading, instrument_id)
    found: dict[str, Any] = {"over": BY_ANGLE}
    for name, measure in (("length", "string_length"), ("afterlength", "afterlength")):
        taken = newest.get((measure, ""))
        if taken is not None and isinstance(taken.figure, Length):
            found[name] = taken.figure
    angle = newest.get(("string_angle", ""))
    if angle is not None and isinstance(angle.figure, Angle):
        found["angle"] = show_angle(angle.figure.mdeg, manners).rstrip("°")
    height = newest.get(("bridge_height", ""))
    if height is not None and isinstance(height.figure, Length):
        found["top_height"] = show_figure(Figure(float(height.figure.mm), 1), manners)
        if "angle" not in found and "afterlength" in found:
            found["over"] = BY_SIDE
    return {**found, "strings": _strings(reading, instrument_id, manners)}


def _strings(reading: Reading, instrument_id: int, manners: Manners) -> tuple[StringTyped, ...]:
    """Give the strings that were put on or found last; without any, the usual pitches."""
    rows = reading.session.scalars(
        select(SetupString).where(SetupString.instrument_id == instrument_id).order_by(SetupString.id)
    ).all()
    if rows:
        last = rows[-1]
        of_it = [
            row
            for row in rows
            if (row.job_id, row.stage, row.taken_on) == (last.job_id, last.stage, last.taken_on)
        ]
        newest = {row.n: row for row in of_it}
        return tuple(_string(newest[n], manners) for n in sorted(newest))
    kind, count = reading.session.execute(
        select(Instrument.kind, Instrument.string_count).where(Instrument.id == instrument_id)
    ).one()
    pitches = PITCHES.get(kind, ())
    return tuple(StringTyped(pitch=pitch) for pitch in pitches[: count or (6 if len(pitches) > 6 else None)])


def _string(row: SetupString, manners: Manners) -> StringTyped:
    at = row.tension_at_nm
    if row.ug_per_m is not None:
        return StringTyped(pitch=row.pitch, known=show_density(row.ug_per_m, manners))
    if row.tension_mn is None:
        return StringTyped(pitch=row.pitch)
    return StringTyped(
        pitch=row.pitch,
        known=tension_words(row.tension_mn, manners),
        at_length=None if at is None else length_of(at),
    )


def known_words(row: SetupString, manners: Manners) -> str:
    """Give what a metre of a string weighs, or its tension and the length it is known at; nothing where neither is."""
    if row.ug_per_m is not None:
        return show_density(row.ug_per_m, manners)
    if row.tension_mn is None or row.tension_at_nm is None:
        return ""
    return _("{tension} at {length}").format(
        tension=tension_words(row.tension_mn, manners), length=length_of(row.tension_at_nm).typed
    )


def tension_words(tension_mn: int, manners: Manners) -> str:
    """Give a known tension in newtons, to the millinewton without noughts at the end."""
    fine = f"{tension_mn % 1000:03d}".rstrip("0")
    return show_figure(Figure(tension_mn / 1000, len(fine), "N"), manners)


def length_of(nm: int) -> Length:
    """Give a length of which the typed words were not kept, in millimetres."""
    whole, rest = divmod(nm, NM_PER_MM)
    fine = f"{rest:06d}".rstrip("0")
    return Length(nm, f"{whole}.{fine} mm" if fine else f"{whole} mm")
