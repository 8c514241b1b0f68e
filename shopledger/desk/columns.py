"""How wide the columns of a table are: as their first page needs, shrunk or widened to the room, the least left out."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF

from shopledger.desk.chips import chip_width
from shopledger.desk.fonts import SMALL, TEXT, sans
from shopledger.desk.labels import CELL
from shopledger.desk.shown import cell_words
from shopledger.desk.table import PAGE, Rows
from shopledger.quantities.fields import Kind
from shopledger.queries.shapes import State

_LEAST = 56 + 2 * CELL
"""How narrow a column of words may become, in pixels with the room at its sides."""
_WHOLE = 16
"""Up to how many figures wide the word of a choice is never shortened."""
_SAMPLE = min(PAGE, 40)
"""How many rows are looked at."""


@dataclass(frozen=True, slots=True)
class Natural:
    """What the columns would be by themselves: their widths, which are of words, always shown, or left out first."""

    widths: list[int]
    wordy: frozenset[int]
    kept: frozenset[int]
    lesser: frozenset[int] = frozenset()
    sorted_by: int = -1
    """The column that is sorted by, left out last of all."""


def fitted(natural: Natural, room: int) -> list[int]:
    """Give a width for each column so that together they fill the room; 0 for one that finds no place in it.

    Shape:  lesser columns are left out first; then the widest columns of words give way; then columns are left out from
            the right, but never the first or one that shows a state; the one that is sorted by last.
    """
    own, wordy = natural.widths, natural.wordy
    shown = list(range(len(own)))
    for n in sorted(natural.lesser - natural.kept - {natural.sorted_by}, reverse=True):
        if sum(own[at] for at in shown) > room:
            shown.remove(n)
    for n in sorted(shown[1:], key=lambda n: (n != natural.sorted_by, n), reverse=True):
        least = sum(_LEAST if at in wordy else own[at] for at in shown)
        if least <= room:
            break
        if n not in natural.kept:
            shown.remove(n)
    spare = room - sum(own[n] for n in shown)
    give_way = [n for n in shown if n in wordy]
    widths = [own[n] if n in shown else 0 for n in range(len(own))]
    if spare < 0:
        most = _level([own[n] for n in give_way], -spare)
        for n in give_way:
            widths[n] = min(own[n], max(most, _LEAST))
    else:
        for n in give_way or shown[:1]:
            widths[n] += spare // len(give_way or shown[:1])
    return widths


def _level(widths: list[int], less: int) -> int:
    """Give the width to which the widest are cut, so that together they are less by so much: short names stay whole."""
    falling = sorted(widths, reverse=True)
    together = 0
    for n, width in enumerate(falling, start=1):
        together += width
        level = (together - less) // n
        if n == len(falling) or level >= falling[n]:
            return level
    return 0


def natural_widths(rows: Rows) -> Natural:
    """Give what the columns would be by themselves, as their first page needs."""
    cells, heads = QFontMetricsF(sans(TEXT)), QFontMetricsF(sans(SMALL, strong=True))
    figure, manners = cells.horizontalAdvance("0"), rows.shop.ledger.manners
    sample = [row for n in range(min(_SAMPLE, len(rows.ids))) if (row := rows.row(n)) is not None]
    widths: list[int] = []
    wordy: set[int] = set()
    kept = {0}
    for n, column in enumerate(rows.table.columns):
        words = str(rows.headerData(n, Qt.Orientation.Horizontal))
        wide = heads.horizontalAdvance(words) + 14
        states = [row.cells[n] for row in sample if isinstance(row.cells[n], State)]
        if states:
            wide = max(wide, *(chip_width(state) for state in states if isinstance(state, State)))
            kept.add(n)
        else:
            shown = (cell_words(row.cells[n], manners) for row in sample)
            longest = max((cells.horizontalAdvance(text) for text in shown), default=column.width * figure)
            # One of few words that repeat, such as a kind of instrument, is read at a glance and stays whole.
            whole = column.kind is Kind.CHOICE and longest <= _WHOLE * figure
            wide = max(wide, (longest if whole else min(longest, column.width * figure * 1.6)) + 2)
            if n and not whole and column.kind in {Kind.TEXT, Kind.LINES, Kind.CHOICE}:
                wordy.add(n)
        widths.append(int(wide) + 2 * CELL)
    by = next((n for n, column in enumerate(rows.table.columns) if column.name == rows.column), -1)
    lesser = frozenset(n for n, column in enumerate(rows.table.columns) if column.lesser)
    return Natural(widths, frozenset(wordy), frozenset(kept), lesser, by)
