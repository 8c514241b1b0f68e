"""What the window may ask and do: the open ledger, its questions and its acts, wired in one place.

Screens are given a `Shop` and nothing else. They read inside `with shop.ledger.read() as reading:` and keep only the
frozen rows they were given.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

from shopledger.quantities.fields import Field, Kind
from shopledger.queries.shapes import Offered, Subject

if TYPE_CHECKING:
    from shopledger.acts.declare import Act, Form, Outcome
    from shopledger.desk.draft_view import Draft
    from shopledger.queries.comparing import Comparison, Wanted
    from shopledger.queries.condition_pair import Pair
    from shopledger.queries.counting import Count
    from shopledger.queries.due_lines import Section
    from shopledger.queries.sheet_shapes import PaperRow, Sheet
    from shopledger.store.ledger import Ledger
    from shopledger.store.pictures import Small
    from shopledger.store.prepared import PreparedPicture
    from shopledger.store.unit import Reading

AnyAct: TypeAlias = "Act[Any]"


@dataclass(frozen=True, slots=True)
class Picking:
    """How one kind of thing is picked in a form: found by words, named by its id, and added where it lacks.

    Shape:  `find(reading, words, limit)` gives pairs of id and words; `named(reading, id)` gives the words of one.
    """

    find: Callable[[Reading, str, int], Sequence[tuple[int, str]]]
    named: Callable[[Reading, int], str]
    new: str = ""
    """The name of the act that adds one."""


@dataclass(frozen=True, eq=False, repr=False)
class Shop:
    """An open ledger with the questions and acts of the trade.

    What isn't needed for the first table is loaded when it is first asked for.

    Shape:  `tables` give the tables by the name of their place, in order; `sheets` gives the page about a subject;
            `group_fields` and `group_beginning` give the fields of a record in a form, and what they begin with.
    """

    ledger: Ledger
    tables: Mapping[str, tuple[Offered, ...]]
    sheets: Mapping[Subject, Callable[[Reading, int], Sheet]]
    picking: Mapping[Kind, Picking]
    acts: Callable[[], tuple[AnyAct, ...]]
    next_acts: Callable[[Reading, Subject, int], tuple[AnyAct, ...]]
    do: Callable[..., Outcome]
    """(ledger, act, form, step): do an act; `step(done, of)`, which may lack, is told how far it is, and stops it by
    raising."""
    drafts: Callable[[Ledger, AnyAct, Form], Sequence[Draft]]
    """The papers that an act would leave, drawn without doing it."""
    paper_row: Callable[[Reading, int], PaperRow]
    paper: Callable[[Ledger, int], bytes]
    paper_csv: Callable[[Reading, int], bytes]
    """What a paper states as CSV for a spreadsheet; nothing where it is no list."""
    unprintable: Callable[[Reading, int], Sequence[str]]
    """A line for each text of a paper with letters that the papers' type lacks."""
    picture: Callable[[Ledger, str], bytes]
    small: Callable[[bytes, int, int], Small]
    """(content, width, height): a photograph as large as fits into these pixels."""
    prepare: Callable[[Path | bytes, str, Path, int, str], tuple[PreparedPicture, Small]]
    """(source, name, folder, side, field): a photograph made ready to be kept, and small."""
    group_fields: Callable[[type], Mapping[str, Field]]
    group_beginning: Callable[[type], Mapping[str, object]]
    by_claim: Callable[[Reading, str], tuple[int, str] | None]
    """The job of a claim number as it was typed and how it is named; None where something else was typed."""
    today: Callable[[Reading], tuple[Section, ...]]
    """What needs the shop today, in order of harm."""
    kind_of: Callable[[Reading, Subject, int], str]
    """The kind of an instrument, or of that of a job."""
    reports_beside: Callable[[Reading, int, int], Pair]
    """(reading, before, after): two condition reports of one instrument side by side."""
    as_wanted: Callable[[int], Wanted]
    """An instrument as it is now, for a column of a comparison."""
    beside: Callable[[Reading, Sequence[Wanted], Sequence[int]], Comparison]
    """(reading, columns, carried with each): instruments side by side."""
    strings_of: Callable[[Reading, int], Mapping[str, object]]
    """What is known of an instrument's strings and bridge, by the names of the inputs that reckon them."""
    count: Callable[[Reading, int], Count]
    """A count of the stock with all its lines."""
    thing_by_code: Callable[[Reading, str], int]
    """The instrument of what was scanned or typed."""
    facts: Callable[[Reading], Sheet]
    """The shop's own page: its name, address, currency, tax."""

    def act(self, name: str) -> AnyAct | None:
        """Give the act of that name, or None where there is none."""
        return next((one for one in self.acts() if one.name == name), None)
