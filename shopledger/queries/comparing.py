"""Up to four instruments side by side, or one on several days: every measure, what differs, what each feels like.

A column is an instrument as it was measured up to a day. Differences are to the first column.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.model import Instrument
from shopledger.quantities.errors import Refused
from shopledger.quantities.masses import Mass
from shopledger.quantities.measured import difference_words, dimension_of, other_unit_of
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import row_of
from shopledger.queries.fit import fit_of
from shopledger.queries.instrument_sheet import line_of, title_of
from shopledger.queries.readings import Key, Taken, in_order, newest_by_key, readings_of
from shopledger.rules.carrying import Load, carry
from shopledger.rules.fit import Verdict
from shopledger.rules.handbook import sized
from shopledger.rules.measures import measure_label

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

MOST = 4
"""How many stand side by side at most."""
WEIGHTS = ("weight", "bow_weight", "case_weight")
"""The measures that say what a thing weighs."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a column is to show: an instrument as it was measured up to a day, up to now where there is none."""

    id: int
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Side:
    """A column: the instrument, up to which day it is shown, and on which days it was measured, the newest first."""

    id: int
    on: date | None
    title: str
    line: str
    days: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure in words, by how much it differs from the first column's, and what stands quietly behind it."""

    words: str = ""
    differs: str = ""
    quiet: str = ""


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """A line of the comparison: a cell for each column."""

    label: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Instruments side by side.

    Shape:  `measures`, `feels` and `carried` have a cell for each of `sides`; `with_it` are the things that are
            carried with each, by their ids and words.
    """

    sides: tuple[Side, ...]
    measures: tuple[ComparedRow, ...]
    feels: tuple[ComparedRow, ...]
    carried: ComparedRow
    with_it: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class _Shown:
    side: Side
    kind: str
    number: str
    newest: Mapping[Key, Taken]


def compare(reading: Reading, wanted: Sequence[Wanted], with_it: Sequence[int] = ()) -> Comparison:
    """Give up to four instruments side by side, and what each weighs with the things that are carried with it.

    Raises: NotFound: there is no such instrument. Refused: there are more than four.
    """
    if len(wanted) > MOST:
        raise Refused(N_("{most} stand side by side at most: take one away first."), most=MOST)
    shown = [_shown(reading, one) for one in wanted]
    things = [_shown(reading, Wanted(key)) for key in with_it]
    return Comparison(
        sides=tuple(one.side for one in shown),
        measures=_measures(reading, shown),
        feels=_feels(reading, shown),
        carried=_carried(reading, shown, things),
        with_it=tuple((one.side.id, f"{one.number}, {one.side.title}") for one in things),
    )


def _shown(reading: Reading, wanted: Wanted) -> _Shown:
    row = row_of(reading, Instrument, wanted.id)
    readings = readings_of(reading, wanted.id)
    days = sorted({one.on for one in readings}, reverse=True)
    up_to = [one for one in readings if wanted.on is None or one.on <= wanted.on]
    side = Side(wanted.id, wanted.on, title_of(row), line_of(row), tuple(days))
    return _Shown(side, row.kind, row.number, newest_by_key(up_to))


def _measures(reading: Reading, shown: Sequence[_Shown]) -> tuple[ComparedRow, ...]:
    """Give a line for each measure that any of them has, in the order of the first one's kind."""
    keys: dict[Key, None] = {}
    for one in shown:
        keys.update(dict.fromkeys(in_order(one.kind, one.newest)))
    ordered = in_order(shown[0].kind, keys) if shown else []
    rows = []
    for key in ordered:
        words = measure_label(*key)
        cells = tuple(_cell(reading, key, one, shown[0], first_column=one is shown[0]) for one in shown)
        rows.append(ComparedRow(words[:1].upper() + words[1:], cells))
    return tuple(rows)


def _cell(reading: Reading, key: Key, one: _Shown, first: _Shown, *, first_column: bool) -> Cell:
    manners = reading.ledger.manners
    taken = one.newest.get(key)
    if taken is None:
        return Cell()
    against = first.newest.get(key)
    differs = ""
    if (
        not first_column
        and against is not None
        and dimension_of(against.figure) is dimension_of(taken.figure)
    ):
        differs = difference_words(against.figure, taken.figure, manners)
    quiet = (other_unit_of(taken.figure, manners), taken.how, show_day(taken.on, manners))
    return Cell(taken.figure.typed, differs, ", ".join(part for part in quiet if part))


def _feels(reading: Reading, shown: Sequence[_Shown]) -> tuple[ComparedRow, ...]:
    """Give a line for each figure that feels like a size, each said for itself."""
    manners = reading.ledger.manners
    by_aspect: dict[str, list[Cell]] = {}
    words: dict[str, str] = {}
    for n, one in enumerate(shown):
        for feel in fit_of(reading, one.side.id, one.kind, one.newest):
            words[feel.aspect] = _(feel.words)
            cells = by_aspect.setdefault(feel.aspect, [Cell()] * len(shown))
            handbook = [f"{sized(value, manners)} [{value.source.cited()}]" for value in feel.near]
            quiet = "; ".join((*handbook, *feel.cautions))
            said = feel.said(manners)
            if feel.verdict is not Verdict.NOT_MEASURED and feel.typed:
                said = f"{feel.typed}: {said}"
            cells[n] = Cell(said, quiet=quiet)
    return tuple(ComparedRow(words[aspect], tuple(cells)) for aspect, cells in by_aspect.items())


def _carried(reading: Reading, shown: Sequence[_Shown], things: Sequence[_Shown]) -> ComparedRow:
    """Give what each weighs, together with the things that are carried with it."""
    manners = reading.ledger.manners
    cells = tuple(Cell(carry([_load(one), *map(_load, things)]).words(manners)) for one in shown)
    label = _("With what is named below") if things else _("By itself")
    return ComparedRow(label, cells)


def _load(one: _Shown) -> Load:
    figures = [one.newest[key, ""].figure for key in WEIGHTS if (key, "") in one.newest]
    weights = [figure.mg for figure in figures if isinstance(figure, Mass)]
    return Load(one.number, weights[0] if weights else None)
