"""The answer to a set of strings: the written shape for programs, and a statement that a person can read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from shopledger.quantities.figures import Figure, show_figure
from shopledger.quantities.forces import ForceUnit, newtons_in
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.words import N_, _
from shopledger.rules.bridge import Geometry
from shopledger.rules.strings import Pull, pull_of
from shopledger.rules.strings_case import StringsCase
from shopledger.rules.strings_wanted import Reached, WantedLoad, reach

ASSUMED = N_(
    "Assumed: equal temperament; the same tension on both sides of the bridge, and the bridge along the bisector of the"
    " angle."
)
CAUTION = N_("A load is a guide, not a limit; damage is possible; the maker decides.")


@dataclass(frozen=True, slots=True)
class StringsAnswer:
    """What a set does, and what reaches that which is wanted (None where nothing is wanted)."""

    a4_hz: float
    pull: Pull
    reached: Reached | None


def answer_to(case: StringsCase) -> StringsAnswer:
    """Give the answer to a case.

    Raises:  Refused where what is wanted can't be reached.
    """
    reached = None if case.wanted is None else reach(case.set_up, case.wanted)
    return StringsAnswer(case.set_up.a4_hz, pull_of(case.set_up), reached)


def answer_of(answer: StringsAnswer) -> dict[str, object]:
    """Give the answer in its written shape and order; `wanted` stands there only where something is wanted."""
    pull = answer.pull
    written: dict[str, object] = {
        "strings": [
            {"pitch": each.pitch, "hz": each.hz, "tension_n": each.tension_n, "load_n": each.load_n}
            for each in pull.strings
        ],
        "tension_n": pull.tension_n,
        "load_n": pull.load_n,
        "angle_deg": pull.angle_deg,
        "length_mm": pull.length_mm,
    }
    if answer.reached is not None:
        written["wanted"] = _sought(answer.reached)
    return written


def _sought(reached: Reached) -> dict[str, float]:
    """Give the figures that were sought, by the names of the written shape."""
    set_up, over = reached.set_up, reached.set_up.over
    if not isinstance(reached.wanted, WantedLoad):
        return {"length_mm": set_up.length_mm}
    if isinstance(over, Geometry):
        return {
            "bridge_top_mm": over.bridge_top.height_mm,
            "angle_deg": set_up.angle_deg,
            "length_mm": set_up.length_mm,
        }
    return {"angle_deg": set_up.angle_deg}


def statement_of(answer: StringsAnswer, manners: Manners = PLAIN) -> str:
    """Give the answer as a statement: a line a string and one for all, what reaches what is wanted, and the caution."""
    pull = answer.pull
    head = _("Strings and bridge: A4 = {a4}, string length {length}, angle over the bridge {angle}").format(
        a4=show_figure(Figure(answer.a4_hz, 1, "Hz"), manners),
        length=show_figure(Figure(pull.length_mm, 2, "mm"), manners),
        angle=show_figure(Figure(pull.angle_deg, 2, "°"), manners),
    )
    lines = [head, "", *_table(pull, manners)]
    if answer.reached is not None:
        lines += ["", _reached_line(answer.reached, manners)]
    return "\n".join([*lines, "", _(ASSUMED), _(CAUTION)]) + "\n"


def _table(pull: Pull, manners: Manners) -> list[str]:
    """Give the figures in columns, tension and load in each unit of force."""
    units = tuple(ForceUnit)
    rows = [
        [_("string"), _("Hz")]
        + [_("tension {unit}").format(unit=unit.value) for unit in units]
        + [_("load {unit}").format(unit=unit.value) for unit in units]
    ]

    def forces(tension: float, load: float) -> list[str]:
        return [
            show_figure(Figure(newtons_in(force, unit), 2), manners)
            for force in (tension, load)
            for unit in units
        ]

    for each in pull.strings:
        hz = show_figure(Figure(each.hz, 2), manners)
        rows.append([each.pitch, hz, *forces(each.tension_n, each.load_n)])
    rows.append([_("all"), "", *forces(pull.tension_n, pull.load_n)])
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]))]
    sides: list[Callable[[str, int], str]] = [str.ljust, *[str.rjust] * (len(widths) - 1)]
    return [
        "  ".join(side(cell, width) for side, cell, width in zip(sides, row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _reached_line(reached: Reached, manners: Manners) -> str:
    """Give in a sentence what gives that which is wanted."""
    set_up, over = reached.set_up, reached.set_up.over
    newtons = show_figure(Figure(reached.wanted.newtons, 2, "N"), manners)
    length = show_figure(Figure(set_up.length_mm, 2, "mm"), manners)
    angle = show_figure(Figure(set_up.angle_deg, 2, "°"), manners)
    if not isinstance(reached.wanted, WantedLoad):
        return _("Wanted, a tension of {newtons}: a string length of {length} at the same pitches.").format(
            newtons=newtons, length=length
        )
    if isinstance(over, Geometry):
        return _(
            "Wanted, a load of {newtons}: the bridge top at a height of {height}; the angle is then {angle}, the string"
            " length {length}."
        ).format(
            newtons=newtons,
            height=show_figure(Figure(over.bridge_top.height_mm, 2, "mm"), manners),
            angle=angle,
            length=length,
        )
    return _("Wanted, a load of {newtons}: an angle of {angle} at the present tensions.").format(
        newtons=newtons, angle=angle
    )
