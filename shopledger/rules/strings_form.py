"""What is typed to reckon a set of strings: the set, how it lies over the bridge, what is wanted, what changes."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.forces import ForceUnit
from shopledger.quantities.lengths import Length
from shopledger.quantities.words import N_

WANTED, CHANGE, OFF = N_("What is wanted"), N_("What a change does"), N_("How far each figure may be off")
UNITS = tuple((unit.value, unit.value) for unit in ForceUnit)
BY_ANGLE, BY_SIDE = "angle", "side"
OVER = ((BY_ANGLE, N_("the angle, as measured")), (BY_SIDE, N_("heights over one line")))
WANTS = (
    ("none", N_("nothing")),
    ("load", N_("a load on the bridge")),
    ("tension", N_("a tension of all strings")),
)
_SIDE, _ANGLE = ("over", (BY_SIDE,)), ("over", (BY_ANGLE,))
_LINE = N_("Above one straight line along the instrument; below it with a minus.")


@dataclass(frozen=True, kw_only=True)
class StringTyped:
    """One string: its pitch, and what a metre of it weighs or its tension at a length."""

    pitch: str = ask(Field(N_("Pitch"), required=True, help=N_("Such as A4 or G2.")))
    known: str = ask(
        Field(
            N_("Weighs or pulls"),
            help=N_(
                "What a metre weighs, such as 0.45 g/m, or its tension, such as 58.8 N, 6 kgf or 13.2 lbf."
            ),
        ),
        default="",
    )
    at_length: Length | None = ask(
        Field(
            N_("… pulls at"),
            Kind.LENGTH,
            help=N_("At which string length the tension is known; empty: at the one above."),
        )
    )


@dataclass(frozen=True, kw_only=True)
class StringsTyped:
    """A set of strings over a bridge."""

    length: Length | None = ask(
        Field(N_("String length"), Kind.LENGTH, help=N_("From the nut to the bridge top."))
    )
    a4: str = ask(Field(N_("A4 at"), unit=N_("Hz"), required=True), default="440")
    unit: str = ask(Field(N_("Forces in"), Kind.CHOICE, required=True, choices=UNITS), default="N")
    over: str = ask(
        Field(N_("Over the bridge by"), Kind.CHOICE, required=True, choices=OVER), default=BY_ANGLE
    )
    angle: str = ask(
        Field(
            N_("Angle over the bridge"),
            unit="°",
            help=N_("Between the string before and behind the bridge; 180° is straight."),
            asked_with=_ANGLE,
        ),
        default="",
    )
    afterlength: Length | None = ask(
        Field(
            N_("Afterlength"),
            Kind.LENGTH,
            help=N_("From the bridge top to the tailpiece or saddle."),
            asked_with=_SIDE,
        )
    )
    nut_height: str = ask(Field(N_("Height of the nut"), unit="mm", help=_LINE, asked_with=_SIDE), default="")
    top_height: str = ask(
        Field(N_("Height of the bridge top"), unit="mm", help=_LINE, asked_with=_SIDE), default=""
    )
    tail_height: str = ask(
        Field(N_("Height of the tailpiece end"), unit="mm", help=_LINE, asked_with=_SIDE), default=""
    )
    strings: tuple[StringTyped, ...] = ask(
        Field(N_("Strings"), Kind.ROWS, required=True, of=StringTyped, help=N_("From the highest down."))
    )
    wants: str = ask(
        Field(N_("Wanted is"), Kind.CHOICE, required=True, choices=WANTS, under=WANTED), default="none"
    )
    wanted: str = ask(
        Field(
            N_("Of"),
            help=N_("Such as 84 N; the angle, bridge height or string length that gives it is looked for."),
            asked_with=("wants", ("load", "tension")),
            under=WANTED,
        ),
        default="",
    )
    a4_then: str = ask(Field(N_("A4 then at"), unit=N_("Hz"), under=CHANGE), default="")
    length_then: Length | None = ask(Field(N_("String length then"), Kind.LENGTH, under=CHANGE))
    string_then: int | None = ask(
        Field(N_("Another string at place"), Kind.COUNT, help=N_("1 is the highest."), under=CHANGE)
    )
    density_then: str = ask(
        Field(N_("… of which a metre weighs"), help=N_("Such as 0.45 g/m."), under=CHANGE), default=""
    )
    off_length: str = ask(Field(N_("Lengths by"), unit="mm", under=OFF), default="0.5")
    off_angle: str = ask(Field(N_("Angle by"), unit="°", under=OFF, asked_with=_ANGLE), default="0.5")
    off_height: str = ask(Field(N_("Heights by"), unit="mm", under=OFF, asked_with=_SIDE), default="0.3")
    off_density: str = ask(Field(N_("Weights of strings by"), unit="%", under=OFF), default="0")
    off_a4: str = ask(Field(N_("A4 by"), unit=N_("Hz"), under=OFF), default="0")
