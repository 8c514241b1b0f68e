"""What is asked when a player's wish is noted, changed or ended, and when they are told what fits it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.declare import Form
from shopledger.model import Wish
from shopledger.model.wanted import WISH_ENDINGS
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.rules.measures import SIDES
from shopledger.rules.wishing import criteria_listed

HOW = (("letter", N_("by letter")), ("list", N_("by a list")), ("spoken", N_("told")))


@dataclass(frozen=True, kw_only=True)
class CriterionRow:
    """One thing that is wanted: a must, or a preference that counts."""

    what: str = ask(
        Field(N_("What"), required=True, help=N_("A measure, price, maker, fitting."), listed=criteria_listed)
    )
    value: str = ask(
        Field(N_("Wanted"), required=True, help=N_("As 690-695 mm, at most 12000, 5, or words."))
    )
    must: bool = ask(Field(N_("A must"), Kind.YES_NO))
    weight: int = ask(
        Field(N_("Counts"), Kind.COUNT, help=N_("1 is usual; 3 counts as much as three.")), default=1
    )
    side: str = ask(
        Field(N_("Side"), Kind.CHOICE, choices=tuple((side, words) for side, words in SIDES.items() if side)),
        default="",
    )


WISH = Field(N_("Wish"), Kind.GROUP, of=Wish, first=("person_id", "kind", "words"))
CRITERIA = Field(N_("Limits and preferences"), Kind.ROWS, of=CriterionRow)


@dataclass(frozen=True, kw_only=True)
class NoteWish(Form):
    """What a player looks for."""

    wish: Mapping[str, Any] = ask(WISH)
    criteria: tuple[CriterionRow, ...] = ask(CRITERIA)


@dataclass(frozen=True, kw_only=True)
class ChangeWish(NoteWish):
    """The same, written anew."""

    wish_id: int


@dataclass(frozen=True, kw_only=True)
class OfWish(Form):
    """Something about a wish as a whole."""

    wish_id: int


@dataclass(frozen=True, kw_only=True)
class EndWish(OfWish):
    """A wish that is over."""

    ending: str = ask(
        Field(N_("How it ended"), Kind.CHOICE, required=True, choices=WISH_ENDINGS), default="found"
    )


@dataclass(frozen=True, kw_only=True)
class TellOfMatches(OfWish):
    """What the player is told of."""

    how: str = ask(Field(N_("How"), Kind.CHOICE, required=True, choices=HOW), default="letter")
    lines: str = ask(
        Field(N_("Which"), help=N_("Their places in the list, such as 1, 3; empty for the first ten.")),
        default="",
    )
    note: str = ask(Field(N_("Note"), Kind.LINES, help=N_("Printed under the list.")), default="")


@dataclass(frozen=True, kw_only=True)
class SetAside(OfWish):
    """One match that is nothing for this player, as long as its price stays."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
