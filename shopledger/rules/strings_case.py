"""A set of strings from its written form: which keys there are, what each may be, and how they become frozen facts."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.figures import Figure
from shopledger.quantities.words import N_
from shopledger.rules.bridge import Geometry, Measured, Over, Point
from shopledger.rules.case_form import Bounds, Form, number_of
from shopledger.rules.pitches import hz_of
from shopledger.rules.strings import SetUp, Strung, g_per_m_of
from shopledger.rules.strings_wanted import LONGEST_MM, SHORTEST_MM, Wanted, WantedLoad, WantedTension

CASE_KEYS = ("length_mm", "a4_hz", "strings", "angle_deg", "geometry", "wanted")
STRING_KEYS = ("pitch", "g_per_m", "tension_n", "at_length_mm")
GEOMETRY_KEYS = ("nut", "bridge_top", "tail")
WANTED_KEYS = ("load_n", "tension_n")

# What a figure may be: common sense, no source; it finds a slip of the unit, such as a length in inches or metres.
LENGTHS = Bounds(SHORTEST_MM, LONGEST_MM)
TUNINGS = Bounds(300.0, 600.0)
GAUGES = Bounds(0.01, 500.0)
TENSIONS = Bounds(0.1, 2_000.0)
ANGLES = Bounds(0.0, 180.0, open_below=True)
PLACES = Bounds(-5_000.0, 5_000.0)
LOADS = Bounds(0.0, 100_000.0)
TENSIONS_OF_ALL = Bounds(0.0, 100_000.0, open_below=True)

MOST_STRINGS = 40
LENGTH_DIFFERS_MM = 0.5
SHORTEST_AFTERLENGTH_MM = 1.0
_ON_THE_LINE_MM = 1e-9


@dataclass(frozen=True, slots=True)
class StringsCase:
    """A set-up, and what is wanted of it."""

    set_up: SetUp
    wanted: Wanted | None


def case_of(written: object) -> StringsCase:
    """Give the set-up that a JSON object describes.

    Raises:  Typed with the path of the field, for anything that is not exactly the written form, and for figures that
             no instrument has.
    """
    form = Form(written, "", CASE_KEYS)
    a4_hz = form.needed_number("a4_hz", TUNINGS, "440.0")
    over = _over(form)
    return StringsCase(SetUp(_strings(form, a4_hz), over, a4_hz), _wanted(form))


def _over(form: Form) -> Over:
    """Give how the strings lie over the bridge, by exactly one of angle and side view."""
    length_mm = form.number("length_mm", LENGTHS)
    angle_deg = form.number("angle_deg", ANGLES)
    side = form.form("geometry", GEOMETRY_KEYS)
    if side is not None and angle_deg is None:
        return _geometry(side, length_mm)
    if angle_deg is not None and side is None:
        if length_mm is None:
            raise form.missing("length_mm", "328.0")
        return Measured(length_mm, angle_deg)
    raise Typed(
        N_("Exactly one of {one} and {other} is to be given. Write one, and null for the other."),
        field="angle_deg",
        one="angle_deg",
        other="geometry",
    )


def _geometry(form: Form, length_mm: float | None) -> Geometry:
    """Give the side view, having made sure that its points lie as those of an instrument do."""
    geometry = Geometry(*(_point(form, key) for key in GEOMETRY_KEYS))
    nut, top, tail = geometry.nut, geometry.bridge_top, geometry.tail
    if not nut.along_mm < top.along_mm or not top.along_mm + SHORTEST_AFTERLENGTH_MM <= tail.along_mm:
        raise Typed(
            N_(
                "The bridge top at {top} doesn't lie between nut ({nut}) and tail ({tail}). Write distances along the"
                " line that grow from nut to tail, the tail {least} or more behind the bridge."
            ),
            field=form.path,
            top=Figure(top.along_mm, 2, "mm"),
            nut=Figure(nut.along_mm, 2, "mm"),
            tail=Figure(tail.along_mm, 2, "mm"),
            least=Figure(SHORTEST_AFTERLENGTH_MM, 0, "mm"),
        )
    if not LENGTHS.hold(geometry.length_mm):
        raise Typed(
            N_("From nut to bridge top it is {length}. Write points that are {least} to {most} apart."),
            field=form.path,
            length=Figure(geometry.length_mm, 2, "mm"),
            least=Figure(LENGTHS.least, 0, "mm"),
            most=Figure(LENGTHS.most, 0, "mm"),
        )
    if top.height_mm < geometry.straight_height_mm - _ON_THE_LINE_MM:
        raise Typed(
            N_(
                "The bridge top at a height of {height} lies below the straight line from nut to tail, which passes"
                " there at {line}: no string would touch it. Write heights above one reference line."
            ),
            field=form.at("bridge_top"),
            height=Figure(top.height_mm, 2, "mm"),
            line=Figure(geometry.straight_height_mm, 2, "mm"),
        )
    if length_mm is not None and abs(length_mm - geometry.length_mm) > LENGTH_DIFFERS_MM:
        raise Typed(
            N_(
                "{written} differs by more than {most} from the {measured} between nut and bridge top. Write that"
                " length, or leave it out."
            ),
            field="length_mm",
            written=Figure(length_mm, 2, "mm"),
            most=Figure(LENGTH_DIFFERS_MM, 1, "mm"),
            measured=Figure(geometry.length_mm, 2, "mm"),
        )
    return geometry


def _point(form: Form, key: str) -> Point:
    """Give a point, a list of the distance along and the height."""
    members = form.items(key)
    if members is None:
        raise form.missing(key, "[327.0, 33.0]")
    if len(members) != 2:
        raise Typed(
            N_("Here are {count} figures. Write two: the distance along and the height, such as {example}."),
            field=form.at(key),
            count=len(members),
            example="[327.0, 33.0]",
        )
    along, height = (number_of(each, path, PLACES) for path, each in members)
    return Point(along, height)


def _strings(form: Form, a4_hz: float) -> tuple[Strung, ...]:
    """Give the strings in their order."""
    members = form.items("strings")
    if members is None:
        raise form.missing("strings", '[{"pitch": "A4", "g_per_m": 0.7}]')
    if not 0 < len(members) <= MOST_STRINGS:
        raise Typed(
            N_("Here are {count} strings. Write 1 to {most}."),
            field=form.at("strings"),
            count=len(members),
            most=MOST_STRINGS,
        )
    return tuple(_string(Form(each, path, STRING_KEYS), a4_hz) for path, each in members)


def _string(form: Form, a4_hz: float) -> Strung:
    """Give a string by its linear density, or by its tension at a length, at the same pitch and tuning."""
    pitch = form.text("pitch")
    if pitch is None:
        raise form.missing("pitch", '"A4"')
    try:
        hz = hz_of(pitch, a4_hz)
    except LedgerError as error:
        error.field = form.at("pitch")
        raise
    g_per_m = form.number("g_per_m", GAUGES)
    tension = form.number("tension_n", TENSIONS)
    at_length = form.number("at_length_mm", LENGTHS)
    if tension is not None and g_per_m is None:
        if at_length is None:
            raise form.missing("at_length_mm", "330.0")
        return Strung(pitch, g_per_m_of(tension, at_length, hz))
    if g_per_m is not None and tension is None:
        if at_length is not None:
            raise Typed(
                N_("A length belongs to a tension that is known there. Leave it out beside {key}."),
                field=form.at("at_length_mm"),
                key="g_per_m",
            )
        return Strung(pitch, g_per_m)
    raise Typed(
        N_("Exactly one of {one} and {other} is to be given. Write one, and leave the other out."),
        field=form.at("g_per_m"),
        one="g_per_m",
        other="tension_n",
    )


def _wanted(form: Form) -> Wanted | None:
    """Give what is wanted, exactly one thing; None where nothing is."""
    wanted = form.form("wanted", WANTED_KEYS)
    if wanted is None:
        return None
    load = wanted.number("load_n", LOADS)
    tension = wanted.number("tension_n", TENSIONS_OF_ALL)
    if load is not None and tension is None:
        return WantedLoad(load)
    if tension is not None and load is None:
        return WantedTension(tension)
    raise Typed(
        N_("Exactly one of {one} and {other} can be wanted. Write one of them."),
        field=wanted.path,
        one="load_n",
        other="tension_n",
    )
