"""The shapes of what is said about one thing: its sheet with facts, figures and history, and the preview of an act.

They are frozen values as those of the tables are, in a module of their own, since a window shows its first table before
any sheet.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import Enum

from shopledger.quantities.money import Money
from shopledger.queries.shapes import State, Subject


@dataclass(frozen=True, slots=True)
class Line:
    """A figure with its words and its working; `strong` for a total."""

    label: str
    how: str = ""
    amount: Money | None = None
    strong: bool = False
    note: str = ""
    """Words behind a total, such as that the owner owes."""


@dataclass(frozen=True, slots=True)
class Preview:
    """What an act would do, said before it is done."""

    title: str
    lines: tuple[Line, ...] = ()
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact of a sheet: its words, its value and, in quiet ink behind it, the other unit or the source."""

    label: str
    value: object
    quiet: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Facts under one heading."""

    title: str
    facts: tuple[Fact, ...]
    reports: tuple[int, ...] = ()
    """Of condition reports: the two that are seen side by side from here, the earlier first; empty elsewhere."""
    measured: bool = False
    """Whether it is how an instrument measures, beside which another one's can be set."""


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A paper that was issued, or still waits to be rendered (`issued` False)."""

    id: int
    number: str
    title: str
    on: date
    issued: bool = True


@dataclass(frozen=True, slots=True)
class Shot:
    """A photograph that is kept: the SHA-256 of its file, what it shows, when it was taken."""

    sha256: str
    caption: str
    on: date


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of custody on the band of a history; `until` None where it still lasts."""

    since: date
    until: date | None
    state: State
    words: str


class MarkKind(Enum):
    """What sort of event a mark on the band stands for."""

    ARRIVAL = "arrival"
    TERMS = "terms"
    PRICE = "price"
    SALE = "sale"
    MONEY = "money"
    HANDOVER = "handover"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Mark:
    """An event on the band: hovering shows the words, clicking opens the paper or the subject."""

    on: date
    kind: MarkKind
    words: str
    paper_id: int | None = None
    subject: tuple[Subject, int] | None = None


@dataclass(frozen=True, slots=True)
class History:
    """One band from the first entry to now."""

    spans: tuple[Span, ...] = ()
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """The page about one row, top to bottom."""

    subject: Subject
    id: int
    title: str
    line: str = ""
    """What it is, in one line under the title."""
    standing: str = ""
    """Where it stands: one sentence with the date."""
    state: State | None = None
    groups: tuple[Group, ...] = ()
    money: tuple[Line, ...] = ()
    money_title: str = ""
    strung: bool = False
    """Whether it has strings over a bridge, which can be reckoned."""
    counting: bool = False
    """Whether it is a count that goes on, in which things are ticked."""
    papers: tuple[PaperRow, ...] = ()
    photographs: tuple[Shot, ...] = ()
    """The first of them stands at the head."""
    history: History = field(default_factory=History)

    @property
    def picture(self) -> str:
        """The SHA-256 of the photograph's file at the head, or nothing."""
        return self.photographs[0].sha256 if self.photographs else ""
