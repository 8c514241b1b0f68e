"""The lines of the page of the day: one for each thing that waits, with its day and the act that it leads to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import Select, func

from shopledger.quantities.money import Money
from shopledger.quantities.words import _
from shopledger.queries.shapes import Subject, Tone

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

SHOWN = 8
"""How many lines a section shows; the rest is told by its number."""


@dataclass(frozen=True, slots=True)
class DueLine:
    """One thing that waits.

    Shape:  `what` names it and `says` tells in words why it waits; `on` is the day it is due or since which it waits;
            `acts` are the names of the acts that it leads to, the first one that is possible counts.
    """

    subject: Subject
    key: int
    what: str
    says: str
    on: date | None
    tone: Tone
    acts: tuple[str, ...]
    amount: Money | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """The lines of one sort, gravest first.

    Shape:  `title` is in marked words; `count` is how many there are, of which `lines` are the first; `place` and
            `table` name where all of them stand, in the view `view`.
    """

    name: str
    title: str
    lines: tuple[DueLine, ...]
    count: int
    place: str = ""
    table: str = ""
    view: str = ""

    @property
    def more(self) -> int:
        """How many are not shown."""
        return self.count - len(self.lines)


def first_rows(reading: Reading, question: Select[*tuple[Any, ...]]) -> tuple[list[Any], int]:
    """Give the first rows of a question and how many there are in all; each row ends with that number."""
    rows = (
        reading.session.connection()
        .execute(question.add_columns(func.count().over().label("in_all")).limit(SHOWN))
        .all()
    )
    return list(rows), int(rows[0].in_all) if rows else 0


def tone_of(on: date, today: date) -> Tone:
    """Give the tone of a day: late before today, soon from today on."""
    return Tone.LATE if on < today else Tone.SOON


def several(words: Iterable[str]) -> str:
    """Give names in a row; from the third on by their number."""
    named = list(words)
    if len(named) <= 2:
        return ", ".join(named)
    return _("{first} and {n} more").format(first=", ".join(named[:2]), n=len(named) - 2)
