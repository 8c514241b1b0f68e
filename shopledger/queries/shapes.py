"""The shapes in which the shop's questions are answered: subjects, states, tables; `sheet_shapes` has those of sheets.

They are frozen values without a session behind them, so that a screen can hold them as long as it likes. Cells and
facts are values (`Money`, days, words), shown by the reader's manners.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Kind

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


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: the name to sort by, the words of its head, the kind of its values."""

    name: str
    label: str
    kind: Kind = Kind.TEXT
    width: int = 12
    """Width in figures of the table's type, before the user changes it."""
    sortable: bool = True
    lesser: bool = False
    """Left out first where not every column has the room it needs."""


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
