"""The shapes in which the shop's questions are answered: tables, sheets, histories, previews.

They are frozen values without a session behind them, so that a screen can hold them as long as it likes. Cells and
facts are values (`Money`, days, words), shown by the reader's manners.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import Enum
from typing import TYPE_CHECKING

from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.rules import job_state, trial_state

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


class Subject(Enum):
    """What a row, a sheet or an act is about."""

    SHOP = "shop"
    INSTRUMENT = "instrument"
    PERSON = "person"
    SALE = "sale"
    JOB = "job"
    GOODS = "goods"
    WORK = "work"
    TRIAL = "trial"
    STOCK_TAKE = "stock_take"
    WISH = "wish"
    ENTRY = "entry"
    ACCOUNT = "account"


class Shape(Enum):
    """The small drawn shape before the word of a state, so that no state is told by colour alone."""

    DISC = "disc"
    HALF = "half"
    LOZENGE = "lozenge"
    RING = "ring"
    TRIANGLE = "triangle"
    NONE = "none"


class Tone(Enum):
    """The colour of a state, by its name in the palette."""

    IN_ORDER = "moss"
    SOON = "ochre"
    LATE = "madder"
    ELSEWHERE = "slate"
    QUIET = "quiet"


@dataclass(frozen=True, slots=True)
class State:
    """A state as a chip shows it: a short word, a shape, a tone."""

    code: str
    word: str
    shape: Shape
    tone: Tone


HERE = State("here", N_("here"), Shape.DISC, Tone.IN_ORDER)
ON_TRIAL = State("on_trial", N_("on trial"), Shape.HALF, Tone.ELSEWHERE)
IN_WORKSHOP = State("workshop", N_("in the workshop"), Shape.LOZENGE, Tone.SOON)
AWAY = State("away", N_("away"), Shape.HALF, Tone.ELSEWHERE)
HANDED_OVER = State("handed_over", N_("handed over"), Shape.RING, Tone.QUIET)
LOST = State("lost", N_("lost"), Shape.TRIANGLE, Tone.LATE)
ON_HOLD = State("on_hold", N_("on hold"), Shape.DISC, Tone.SOON)
NEEDS_YOU = State("needs_you", N_("needs you"), Shape.TRIANGLE, Tone.LATE)
PAID = State("paid", N_("paid"), Shape.DISC, Tone.IN_ORDER)
OWING = State("owing", N_("buyer owes"), Shape.TRIANGLE, Tone.SOON)
OWES = State("owes", N_("owes the shop"), Shape.TRIANGLE, Tone.SOON)
UNCLEARED = State("uncleared", N_("not cleared"), Shape.HALF, Tone.SOON)
TO_SETTLE = State("to_settle", N_("to settle"), Shape.TRIANGLE, Tone.SOON)
OWED = State("owed", N_("owner to pay"), Shape.TRIANGLE, Tone.LATE)
SETTLED = State("settled", N_("settled"), Shape.RING, Tone.QUIET)
RETURNED = State("returned", N_("returned"), Shape.RING, Tone.QUIET)
IN_STOCK = State("in_stock", N_("in stock"), Shape.DISC, Tone.IN_ORDER)
LOW = State("low", N_("low"), Shape.HALF, Tone.SOON)
NONE_LEFT = State("none_left", N_("none left"), Shape.TRIANGLE, Tone.LATE)
OFFERED = State("offered", N_("offered"), Shape.DISC, Tone.IN_ORDER)
LEFT_OUT = State("left_out", N_("left out"), Shape.RING, Tone.QUIET)
WISH_GOING = State("looked_for", N_("looked for"), Shape.DISC, Tone.IN_ORDER)
WISH_OVER = State("wish_over", N_("no longer looked for"), Shape.RING, Tone.QUIET)
JOB_STATES = {
    code: State(code, job_state.JOB_STATES[code], shape, tone)
    for code, shape, tone in (
        (job_state.TO_ESTIMATE, Shape.TRIANGLE, Tone.SOON),
        (job_state.WAITS_FOR_CLIENT, Shape.HALF, Tone.ELSEWHERE),
        (job_state.AGREED, Shape.DISC, Tone.SOON),
        (job_state.ON_BENCH, Shape.LOZENGE, Tone.SOON),
        (job_state.WAITS_FOR_PART, Shape.HALF, Tone.SOON),
        (job_state.READY, Shape.DISC, Tone.IN_ORDER),
        (job_state.DECLINED, Shape.TRIANGLE, Tone.SOON),
        (job_state.COLLECTED, Shape.RING, Tone.QUIET),
        (job_state.RETURNED, Shape.RING, Tone.QUIET),
        (job_state.LIEN, Shape.RING, Tone.LATE),
        (job_state.STAYS, Shape.RING, Tone.QUIET),
        (job_state.LOST, Shape.TRIANGLE, Tone.LATE),
    )
}
"""The states of jobs by their codes, in the order of a job's course."""
TRIAL_STATES = {
    code: State(code, trial_state.TRIAL_STATES[code], shape, tone)
    for code, shape, tone in (
        (trial_state.OVERDUE, Shape.TRIANGLE, Tone.LATE),
        (trial_state.DUE_SOON, Shape.HALF, Tone.SOON),
        (trial_state.OUT, Shape.HALF, Tone.ELSEWHERE),
        (trial_state.TO_BUY, Shape.DISC, Tone.SOON),
        (trial_state.TO_SETTLE, Shape.TRIANGLE, Tone.SOON),
        (trial_state.OVER, Shape.RING, Tone.QUIET),
    )
}
"""The states of trials by their codes, what needs the shop first."""
COUNTING = State("counting", N_("going on"), Shape.HALF, Tone.SOON)
ALL_SEEN = State("all_seen", N_("all seen"), Shape.DISC, Tone.IN_ORDER)
SOME_MISSING = State("some_missing", N_("something missing"), Shape.TRIANGLE, Tone.LATE)
STATES = (HERE, ON_TRIAL, IN_WORKSHOP, AWAY, HANDED_OVER, LOST, ON_HOLD, NEEDS_YOU, PAID, OWING, OWES, UNCLEARED,
          TO_SETTLE, OWED, SETTLED, RETURNED, IN_STOCK, LOW, NONE_LEFT, OFFERED, LEFT_OUT, WISH_GOING, WISH_OVER,
          COUNTING, ALL_SEEN, SOME_MISSING,
          *JOB_STATES.values(), *TRIAL_STATES.values())  # fmt: skip
"""Every state there is; no other module has words for one."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: the name to sort by, the words of its head, the kind of its values."""

    name: str
    label: str
    kind: Kind = Kind.TEXT
    width: int = 12
    """Width in figures of the table's type, before the user changes it."""
    sortable: bool = True


@dataclass(frozen=True, slots=True)
class View:
    """One of the place's own few ways to look at its table."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """A row as it is shown: the id of its subject and a value for each column."""

    id: int
    cells: tuple[object, ...]


Ids = Callable[["Reading", str, str, str, bool], Sequence[int]]
"""(reading, view, words typed, column to sort by, descending): the ids of all rows, sorted."""
Page = Callable[["Reading", Sequence[int]], Sequence[Row]]
"""(reading, ids): those rows in the order of the ids."""


@dataclass(frozen=True, slots=True)
class Table:
    """A table of a place: what it is about, its columns and views, how ids and pages are read."""

    name: str
    subject: Subject
    columns: tuple[Column, ...]
    views: tuple[View, ...]
    ids: Ids
    page: Page
    sort: str
    descending: bool = False
    hint: str = ""
    """Words in the empty line over the table: what can be typed there."""
    empty: str = ""
    """What belongs here, said where the table is empty."""
    first_act: str = ""
    """The name of the act that an empty table offers."""
    slip: Callable[[str], LedgerError | None] | None = None
    """What is wrong with words for which there is no row, if that can be told."""


@dataclass(frozen=True, slots=True)
class Offered:
    """A table that a place offers: named at once, its columns and questions loaded when it is first shown."""

    text: str
    """The words that name it."""
    name: str
    subject: Subject
    load: Callable[[], Table]


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
