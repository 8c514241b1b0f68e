"""The tables of papers: hairlines between rows, no boxes, money at the right edge, heads repeated on every page.

A row taller than a page is divided too, so that no text can keep a paper from being laid out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Table

from shopledger.papers import style
from shopledger.papers.escaping import LONGEST_CELL, LONGEST_ENTRY, Markup
from shopledger.papers.lettering import paragraph, sans, serif
from shopledger.quantities.words import _

MONEY_LEAST: float = 21 * mm
"""The least width of a money column."""
TALLEST_ROW = 480.0
"""Rows up to this height stand on one page: less than what the head of a first page leaves on either paper."""
PAD = 8.0
"""Room between two columns."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table across the grid.

    Shape:  `points` is a fixed width; without one, `share` divides what is left. Money columns are as wide as
            their widest amount. `quiet` sets its texts in small quiet type.
    """

    points: float = 0.0
    share: float = 0.0
    money: bool = False
    quiet: bool = False


def _cell(text: str, name: str = "cell", most: int = LONGEST_CELL) -> Flowable:
    """Give a text as the content of a cell, cut to so many letters."""
    return paragraph(sans(text, most), name)


class _Rows(Table):  # type: ignore[misc]  # the layout library has no stubs
    """A table that moves a row whole to the next page, and divides only rows that no page could hold."""

    def split(self, wide: float, tall: float) -> list[Flowable]:
        """Give the parts before and after the end of the page."""
        self.splitInRow = int(max(self._rowHeights, default=0) > TALLEST_ROW)
        parts: list[Flowable] = super().split(wide, tall)
        return parts


def _table(
    rows: Sequence[Sequence[Any]], widths: Sequence[float], commands: Sequence[Any], *, heads: int = 0
) -> Table:
    """Give a table in the shop's one style, with further commands after it."""
    return _Rows(
        [list(row) for row in rows],
        colWidths=list(widths),
        repeatRows=heads,
        splitByRow=1,
        hAlign="LEFT",
        style=[
            # Empty cells have a font too, and it would be one that is not embedded.
            ("FONT", (0, 0), (-1, -1), style.SANS, style.TEXT_SIZE),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), PAD),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), style.ROW),
            ("BOTTOMPADDING", (0, 0), (-1, -1), style.ROW),
            *commands,
        ],
    )


def first_row(table: Table, wide: float) -> float:
    """Give how tall the head and the first row of a table are; of a row that is divided, nothing is asked."""
    table.wrap(wide, 0)
    head, *rows = table._rowHeights
    return float(head + sum(row for row in rows[:1] if row <= TALLEST_ROW))


def _money_width(texts: Sequence[str], head: str = "") -> float:
    """Give the width of a money column: its widest amount, or its head, in the heavier weight."""
    widest = max((style.width_of(text, style.SANS_STRONG, style.TEXT_SIZE) for text in texts), default=0.0)
    longest_word = max(
        (style.width_of(word, style.SANS, style.SMALL_SIZE) for word in head.split()), default=0.0
    )
    return max(MONEY_LEAST, widest + PAD + 1, longest_word + PAD + 1)


def _widths(
    wide: float, heads: Sequence[str], rows: Sequence[Sequence[str]], columns: Sequence[Column]
) -> list[float]:
    """Give the widths of all columns, together the width of the grid."""
    widths = [
        _money_width([row[n] for row in rows], heads[n]) if column.money else column.points
        for n, column in enumerate(columns)
    ]
    left = wide - sum(widths)
    shares = sum(column.share for column in columns) or 1.0
    return [width + left * column.share / shares for width, column in zip(widths, columns, strict=True)]


def _hair(row: int, colour: str = style.HAIRLINE, thick: float = style.HAIR) -> tuple[Any, ...]:
    """Give the command for a line under a row, counted from the top or (negative) the bottom."""
    return ("LINEBELOW", (0, row), (-1, row), thick, style.ink(colour))


def ledger(
    wide: float, heads: Sequence[str], rows: Sequence[Sequence[str]], columns: Sequence[Column]
) -> Table:
    """Give a table across the grid with hairlines between its rows."""
    body = [
        [_cell(text, _style_of(column)) for text, column in zip(row, columns, strict=True)] for row in rows
    ]
    head = [
        _cell(text, "head_right" if column.money else "head")
        for text, column in zip(heads, columns, strict=True)
    ]
    return _table(
        [head, *body],
        _widths(wide, heads, rows, columns),
        [
            ("LINEBELOW", (0, 0), (-1, -1), style.HAIR, style.ink(style.HAIRLINE)),
            _hair(0, style.QUIET),
            ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ],
        heads=1,
    )


def _style_of(column: Column) -> str:
    """Give the name of the paragraph style of a column."""
    if column.money:
        return "cell_right"
    return "cell_small" if column.quiet else "cell"


def sums(wide: float, rows: Sequence[tuple[str, str]], *, last_strong: bool) -> Table:
    """Give sums that stand under a table: words, then the amount at the right edge."""
    money = _money_width([amount for _words, amount in rows])
    body = []
    for n, (words, amount) in enumerate(rows):
        strong = last_strong and n == len(rows) - 1
        body.append(["", _cell(words, "cell_strong" if strong else "cell"), _amount(amount, strong)])
    commands: list[Any] = [("LINEBELOW", (1, 0), (-1, -2), style.HAIR, style.ink(style.HAIRLINE))]
    if last_strong:
        commands.append(("LINEABOVE", (1, -1), (-1, -1), 0.7, style.ink(style.INK)))
    return _table(body, [style.INDENT, wide - style.INDENT - money, money], commands)


def sums_of_two(wide: float, rows: Sequence[tuple[str, str, str]]) -> Table:
    """Give sums of two columns of amounts under a table, the last row strong."""
    money = [_money_width([row[n] for row in rows]) for n in (1, 2)]
    body = []
    for n, (words, low, high) in enumerate(rows):
        strong = n == len(rows) - 1
        said = _cell(words, "cell_strong" if strong else "cell")
        body.append(["", said, _amount(low, strong), _amount(high, strong)])
    commands: list[Any] = [
        ("LINEBELOW", (1, 0), (-1, -2), style.HAIR, style.ink(style.HAIRLINE)),
        ("LINEABOVE", (1, -1), (-1, -1), 0.7, style.ink(style.INK)),
    ]
    return _table(body, [style.INDENT, wide - style.INDENT - sum(money), *money], commands)


def _amount(text: str, strong: bool = False) -> Flowable:
    """Give an amount at the right of its cell."""
    return _cell(text, "amount_strong" if strong else "cell_right")


def working(
    wide: float,
    rows: Sequence[tuple[str, str, str, str]],
    total: tuple[str, str],
    head: str,
    inner: bool,
) -> Table:
    """Give the steps of a reckoning: what, how, figures on the way in an inner column, what counts in the outer one."""
    outer_width = _money_width([*(row[3] for row in rows), total[1]], head)
    inner_width = _money_width([row[2] for row in rows]) if inner else 0.0
    widths = [style.INDENT, wide - style.INDENT - inner_width - outer_width, inner_width, outer_width]
    body: list[list[Any]] = [["", "", "", _cell(head, "head_right")]]
    for label, how, on_the_way, counts in rows:
        body.append([_cell(label), _cell(how), _cell(on_the_way, "cell_right_quiet"), _amount(counts)])
    words, amount = total
    body.append([_cell(words, "cell_strong"), "", "", _amount(amount, strong=True)])
    commands = [
        ("LINEBELOW", (0, 0), (-1, -2), style.HAIR, style.ink(style.HAIRLINE)),
        _hair(0, style.QUIET),
        ("LINEABOVE", (0, -1), (-1, -1), 0.7, style.ink(style.INK)),
        ("SPAN", (0, -1), (2, -1)),
    ]
    if not inner:
        body = [[*row[:2], row[3]] for row in body]
        widths = [*widths[:2], widths[3]]
        commands[-1] = ("SPAN", (0, -1), (1, -1))
    return _table(body, widths, commands, heads=1)


def opening(wide: float, blocks: Sequence[tuple[str, Markup]], pairs_: Sequence[tuple[str, str]]) -> Table:
    """Give the head of a paper's words: parties in the wide column, number, days and the like beside them."""
    kept = [(label, value) for label, value in pairs_ if value]
    room = wide - style.INDENT
    facts_width = room * 0.44
    left = _table(
        [[[_cell(label, "block_head"), paragraph(lines, "cell")]] for label, lines in blocks] or [[""]],
        [room - facts_width],
        [
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 9),
            ("RIGHTPADDING", (0, 0), (-1, -1), 14),
        ],
    )
    right = _table(
        [[_cell(label, "pair_head"), _cell(value)] for label, value in kept] or [["", ""]],
        [facts_width * 0.4, facts_width * 0.6],
        [
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
        ],
    )
    return _table(
        [["", left, right]],
        [style.INDENT, room - facts_width, facts_width],
        [
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ],
    )


def pairs(wide: float, rows: Sequence[tuple[str, str]]) -> Table:
    """Give pairs of label and value in the wide column; a value without a label has the whole of it."""
    label_width = 33 * mm
    body = []
    commands: list[Any] = [("TOPPADDING", (0, 0), (-1, -1), 0), ("BOTTOMPADDING", (0, 0), (-1, -1), 2.4)]
    for n, (label, value) in enumerate(rows):
        said = _cell(value, most=LONGEST_ENTRY)
        body.append(["", _cell(label, "pair_label"), said] if label else ["", said, ""])
        if not label:
            commands.append(("SPAN", (1, n), (2, n)))
    return _table(body, [style.INDENT, label_width, wide - style.INDENT - label_width], commands)


def labelled(wide: float, rows: Sequence[tuple[str, str]]) -> Table:
    """Give pairs of label and value that take the whole of a width."""
    label_width = 26 * mm
    return _table(
        [[_cell(label, "pair_label"), _cell(value)] for label, value in rows],
        [label_width, wide - label_width],
        [("TOPPADDING", (0, 0), (-1, -1), 0), ("BOTTOMPADDING", (0, 0), (-1, -1), 2)],
    )


def columns(
    wide: float, rows: Sequence[Sequence[str]], shares: Sequence[float], heads: Sequence[str] = ()
) -> Table:
    """Give rows of several texts in the wide column, hairlines between them."""
    room, parts = wide - style.INDENT, sum(shares)
    body = [["", *(_cell(text) for text in row)] for row in rows]
    if heads:
        body.insert(0, ["", *(_cell(text, "head") for text in heads)])
    commands: list[Any] = [
        ("TOPPADDING", (0, 0), (-1, -1), 1.2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.4),
        ("LINEBELOW", (1, 0), (-1, -2), style.HAIR, style.ink(style.HAIRLINE)),
    ]
    if heads:
        commands.append(("LINEBELOW", (1, 0), (-1, 0), style.HAIR, style.ink(style.QUIET)))
    return _table(
        body, [style.INDENT, *(room * share / parts for share in shares)], commands, heads=1 if heads else 0
    )


def blanks(wide: float, blanks_: Sequence[tuple[str, float]]) -> Table:
    """Give lines to write on in the wide column, each with small words under it; the numbers divide the width."""
    gap = 5 * mm
    room = wide - style.INDENT - gap * (len(blanks_) - 1)
    parts = sum(share for _words, share in blanks_)
    widths, row, commands = [style.INDENT], [""], []
    for n, (words, share) in enumerate(blanks_):
        if n:
            widths.append(gap)
            row.append("")
        commands.append(("LINEABOVE", (len(row), 1), (len(row), 1), style.HAIR, style.ink(style.QUIET)))
        widths.append(room * share / parts)
        row.append(_cell(words, "head"))
    table = _table([[""] * len(row), row], widths, [*commands, ("RIGHTPADDING", (0, 0), (-1, -1), 0)])
    table._argH[0] = 30  # the room for a hand to write in
    return table


def signature(wide: float, who: str, name: str) -> Table:
    """Give a line to sign with the name under it, and lines for date and place."""
    room = wide - style.INDENT
    gap = 6 * mm
    day, place = room * 0.2, room * 0.26
    sign = room - day - place - 2 * gap
    rows = [
        [paragraph(serif(who), "heading"), "", "", "", "", ""],
        [
            "",
            [_cell(name), _cell(_("signature"), "head")],
            "",
            _cell(_("date"), "head"),
            "",
            _cell(_("place"), "head"),
        ],
    ]
    line = style.ink(style.QUIET)
    table = _table(
        rows,
        [style.INDENT, sign, gap, day, gap, place],
        [
            ("VALIGN", (0, 0), (0, 0), "BOTTOM"),
            ("BOTTOMPADDING", (0, 0), (-1, 0), 0),
            *(("LINEABOVE", (n, 1), (n, 1), style.HAIR, line) for n in (1, 3, 5)),
        ],
    )
    table._argH[0] = 34  # the room for a hand to sign in
    return table
