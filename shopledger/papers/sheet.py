"""The sheet a paper is written on: the one set of parts that all papers are composed of.

A paper's module says what stands there, in order; the sheet knows how it looks. Every text that comes in is
escaped here,
so no paper can forget it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Paragraph, Spacer, Table

from shopledger.papers import drawn, letterhead, style, tables
from shopledger.papers.escaping import LONGEST_CELL, Markup, coloured, joined, lined, one_line, strong
from shopledger.papers.lettering import paragraph, sans, serif
from shopledger.papers.parts import AmountLine, OwnerFacts, PaperFacts, PartyFacts, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day, show_money, show_rate
from shopledger.quantities.words import _, count_words

LONGEST_LINE, MOST_LINES = 160, 8
"""Letters of a line about a person, and lines of address: the grid at the head of a paper stands on one page."""
LEAST_BELOW, AROUND_HEADING = 90, 16
"""Points that a heading has below its upper edge at least, and the room above and below its words."""
MOST_IN_GRID = 2
"""Owners that the grid at the head of a paper has room for."""


class Sheet:
    """A paper in the making: parts are added in order, `story` is what is laid out in the end."""

    def __init__(
        self, facts: PaperFacts, photograph: drawn.Photographs | None = None, *, issued: bool = True
    ) -> None:
        """Begin an empty sheet in the size and manners of the shop; `photograph` gives the file of a SHA-256."""
        self.shop = facts.shop
        self._photograph, self._issued = photograph, issued
        self.manners = facts.shop.manners
        self.wide = letterhead.grid_width(facts.shop)
        self._story: list[Flowable] = []
        self._heading_at = self._heading_end = -1

    @property
    def story(self) -> list[Flowable]:
        """Give what is laid out, without room left after the last part: it would open a page of its own."""
        end = len(self._story)
        while end and isinstance(self._story[end - 1], Spacer):
            end -= 1
        return self._story[:end]

    label_column = tables.Column(points=style.INDENT)
    share_column = tables.Column(share=1.0)
    wide_column = tables.Column(share=1.5)
    money_column = tables.Column(money=True)
    narrow_column = tables.Column(points=66)
    count_column = tables.Column(points=26)
    photograph_room = drawn.TALLEST_PICTURE + 62

    # What values look like

    def amount(self, money: Money) -> str:
        """Give an amount for a column whose head names the currency."""
        return show_amount(money, self.manners)

    def money(self, money: Money) -> str:
        """Give an amount with its currency, for a sentence."""
        return show_money(money, self.manners)

    def day(self, day: date) -> str:
        """Give a day."""
        return show_day(day, self.manners)

    def rate(self, rate: Fraction) -> str:
        """Give a rate."""
        return show_rate(rate, self.manners)

    def quiet(self, text: str) -> Markup:
        """Give text in quiet ink."""
        return coloured(_short(text), style.QUIET) if text else Markup()

    def share(self, share: Fraction) -> str:
        """Give an owner's share as a plain fraction, "1/3", or "all"."""
        return _("all") if share == 1 else f"{share.numerator}/{share.denominator}"

    def lines(self, texts: Sequence[str]) -> Markup:
        """Give several texts, each on its own line; empty ones are left out."""
        return lined([_short(text) for text in texts if text])

    def strong(self, text: str) -> Markup:
        """Give text in the heavier weight."""
        return strong(_short(text))

    def both(self, text: str, behind: str) -> Markup:
        """Give text with other text behind it in quiet ink."""
        return joined([_short(text), self.quiet(behind)], "\u00a0\u00a0 ") if behind else _short(text)

    # Parts

    def title(self, title: str, under: str = "") -> None:
        """Write the title of the paper, with a line under it."""
        self._story.append(paragraph(serif(title), "title"))
        if under:
            self._story.append(paragraph(serif(under), "under"))
        self._story.append(Spacer(0, 14))

    def grid(self, blocks: Sequence[tuple[str, Sequence[str]]], pairs: Sequence[tuple[str, str]]) -> None:
        """Write who and what: blocks of lines (a party each) beside pairs of label and value."""
        self._story.append(
            tables.opening(self.wide, [(label, self._block(lines)) for label, lines in blocks], pairs)
        )
        self._story.append(Spacer(0, 12))

    def party(self, party: PartyFacts) -> list[str]:
        """Give the lines of a party: name, capacity, address, how to reach them, number."""
        lines: list[str] = [self.strong(one_line(party.name, LONGEST_LINE))]
        if party.acting_as:
            lines.append(one_line(party.acting_as, LONGEST_LINE))
        lines.extend(one_line(line, LONGEST_LINE) for line in party.address[:MOST_LINES])
        lines.extend(self.quiet(one_line(line, LONGEST_LINE)) for line in (party.phone, party.email) if line)
        if party.number:
            lines.append(
                self.quiet(_("our number {number}").format(number=one_line(party.number, LONGEST_LINE)))
            )
        return lines

    def owner_blocks(self, owners: Sequence[OwnerFacts], label: str = "") -> list[tuple[str, list[str]]]:
        """Give the blocks of the owners for the grid; more than two are named in a table of their own instead."""
        label = label or (_("Owner") if len(owners) == 1 else _("Owners"))
        if len(owners) > MOST_IN_GRID:
            return [(label, [count_words("{n} person, named below", "{n} people, named below", len(owners))])]
        lines: list[str] = []
        for owner in owners:
            lines.extend([*([""] if lines else []), *self.party(owner.party)])
            if len(owners) > 1:
                lines.append(self.quiet(_("share {share}").format(share=self.share(owner.share))))
        return [(label, lines)]

    def owner_table(self, owners: Sequence[OwnerFacts], head: str = "") -> None:
        """Write a table of the owners where they are too many for the grid."""
        if len(owners) > MOST_IN_GRID:
            rows = [
                (
                    self.lines(
                        [owner.party.name, self.quiet(owner.party.acting_as), self.quiet(owner.party.number)]
                    ),
                    self.lines(
                        [*owner.party.address, *map(self.quiet, (owner.party.phone, owner.party.email))]
                    ),
                    self.share(owner.share),
                )
                for owner in owners
            ]
            self.columns(head or _("Owners"), rows, (50, 50, 14), (_("Name"), _("Address"), _("Share")))

    def section(self, head: str, *texts: str, small: bool = False) -> None:
        """Write paragraphs beside a heading in the margin."""
        texts = tuple(text for text in texts if text)
        if texts:
            name = "small" if small else "body"
            self.part(head, [paragraph(sans(text), name) for text in texts])

    def part(self, head: str, inside: Sequence[Flowable]) -> None:
        """Put flowables beside a heading in the margin, below a hairline."""
        margin = _MarginHead(head, self.wide)
        inside = list(inside)
        short = margin.tall - sum(_height(one, self.wide) for one in inside) if margin.tall > 20 else 0
        if short > 0:
            inside.append(Spacer(0, short + 3))
        if len(inside) == 1 and isinstance(inside[0], Paragraph):
            self._story.append(KeepTogether([_Rule(self.wide), margin, inside[0]]))
        else:
            self._story.extend([CondPageBreak(64), _Rule(self.wide), margin, *inside])
        self._story.append(Spacer(0, 3))

    def pairs(self, head: str, pairs: Sequence[tuple[str, str]]) -> None:
        """Write pairs of label and value beside a heading in the margin; pairs without a value are left out."""
        kept = [(label, value) for label, value in pairs if value]
        if kept:
            self.part(head, [tables.pairs(self.wide, kept)])

    def columns(
        self, head: str, rows: Sequence[Sequence[str]], shares: Sequence[float], heads: Sequence[str] = ()
    ) -> None:
        """Write rows of several texts beside a heading in the margin; `shares` divide the wide column."""
        if rows:
            self.part(head, [tables.columns(self.wide, rows, shares, heads)])

    def ledger(
        self, heads: Sequence[str], rows: Sequence[Sequence[str]], columns: Sequence[tables.Column]
    ) -> None:
        """Write a table across the whole grid, its head repeated on every page it reaches."""
        self._table(tables.ledger(self.wide, heads, rows, columns))

    def sums(self, rows: Sequence[tuple[str, str]], *, last_strong: bool = True) -> None:
        """Write sums under a table: words at the right of the wide column, amounts at the edge, the last one strong."""
        self._story.append(KeepTogether([tables.sums(self.wide, rows, last_strong=last_strong)]))
        self._story.append(Spacer(0, 9))

    def sums_of_two(self, rows: Sequence[tuple[str, str, str]]) -> None:
        """Write sums of two columns under a table, at least and at most, the last row strong."""
        self._story.append(KeepTogether([tables.sums_of_two(self.wide, rows)]))
        self._story.append(Spacer(0, 9))

    def working(self, lines: Sequence[WorkingLine], total_words: str, total: Money, head: str = "") -> None:
        """Write the steps of a reckoning and the total that its counting lines add up to."""
        rows = [
            (
                line.label,
                self.quiet(line.how),
                "" if line.counts else self.amount(line.amount),
                self.amount(line.amount) if line.counts else "",
            )
            for line in lines
        ]
        inner = any(not line.counts for line in lines)
        self._table(
            tables.working(
                self.wide, rows, (total_words, self.amount(total)), head or self.per(total.currency), inner
            )
        )
        self._story.append(Spacer(0, 14))

    def per(self, currency: str, words: str = "") -> str:
        """Give the head of a money column: its words, if any, and the currency once."""
        return f"{words}, {currency}" if words else currency

    def heading(self, text: str, *below: str) -> None:
        """Write a heading across the grid, above a table, and keep it with what follows."""
        self._heading_at = len(self._story)
        self._story.append(CondPageBreak(LEAST_BELOW))
        self._story.append(paragraph(serif(text), "heading_wide"))
        for words in below:
            self._story.append(paragraph(sans(words), "small_wide"))
        self._story.append(Spacer(0, 2))
        self._heading_end = len(self._story)

    def _table(self, table: Table) -> None:
        """Add a table; a heading right above it goes on to the page that has room for its first row too."""
        if self._heading_end == len(self._story):
            heading = self._story[self._heading_at + 1 :]
            needed = tables.first_row(table, self.wide) + sum(_height(one, self.wide) for one in heading)
            self._story[self._heading_at] = CondPageBreak(max(LEAST_BELOW, needed + AROUND_HEADING))
        self._story.append(table)

    def amount_lines(self, lines: Sequence[AmountLine], total_words: str, total: Money) -> None:
        """Write dated amounts and the sum they add up to."""
        self.ledger(
            (_("Day"), _("What"), self.per(total.currency, _("Amount"))),
            [
                (
                    "" if line.on is None else self.day(line.on),
                    self.both(line.what, ", ".join(part for part in (line.how, line.reference) if part)),
                    self.amount(line.amount),
                )
                for line in lines
            ],
            (self.label_column, self.share_column, self.money_column),
        )
        self.sums([(total_words, self.amount(total))])

    def net_words(self, net: Money) -> str:
        """Give the words of an owner's net, whoever owes it."""
        return _("Owner\u2019s net: the owner owes the shop") if net.minor < 0 else _("Owner\u2019s net")

    def held_words(self, balance: Money) -> str:
        """Give the words of what is left for an owner."""
        if balance.minor < 0:
            return _("Balance: the owner owes the shop")
        return _("Still to be paid to the owner") if balance else _("Nothing is owed either way")

    def held_sentence(self, balance: Money) -> str:
        """Give in a sentence what the shop holds for an owner afterwards."""
        if balance.minor < 0:
            return _("The owner owes the shop {amount}.").format(amount=self.money(-balance))
        if balance:
            return _("The shop holds {amount} for the owner.").format(amount=self.money(balance))
        return _("The shop holds nothing for the owner, and the owner owes nothing.")

    def signatures(
        self, lines: Sequence[tuple[str, str]], *, before: str = "", signed_on: date | None = None
    ) -> None:
        """Write a line to sign for each (who, name), with room for date and place; kept on one page each."""
        self._story.append(CondPageBreak(130))
        signed = "" if signed_on is None else _("Signed on paper on {day}.").format(day=self.day(signed_on))
        if before or signed:
            self.section(_("Signatures"), before, signed)
        else:
            self._story.append(_Rule(self.wide))
        for who, name in lines:
            self._story.append(KeepTogether([tables.signature(self.wide, who, name)]))

    def blanks(self, blanks: Sequence[tuple[str, float]]) -> None:
        """Write lines to write on by hand, each with small words under it; kept with what stands before."""
        self._story.append(KeepTogether([tables.blanks(self.wide, blanks), Spacer(0, 9)]))

    def claim(self, words: str, number: str, rows: Sequence[tuple[str, str]]) -> None:
        """Write a claim number in large type with both codes that a scanner reads, and what belongs to it.

        A paper that is not issued bears no codes here either: its number may become another's.
        """
        kept = [(label, value) for label, value in rows if value]
        self._story.append(drawn.claim(self.wide, words, number, kept, coded=self._issued))

    def cut(self, words: str) -> None:
        """Draw a line to cut along."""
        self._story.append(drawn.CutLine(self.wide, words))

    def photographs(self, pictures: Sequence[tuple[str, str, Sequence[drawn.Pin]]]) -> None:
        """Write photographs two in a row: each is named by its SHA-256, with the line under it and its pins.

        Raises: Bug: a photograph was not handed over, or another one was.
        """
        self._story.extend(drawn.photographs(self.wide, pictures, self._photograph))

    def cautions(self, texts: Sequence[str]) -> None:
        """Write cautions in small type."""
        self.section(_("Caution"), *texts, small=True)

    def keep_room(self, points: float) -> None:
        """Go on to the next page where less than this is left of this one, so that what follows stays together."""
        self._story.append(CondPageBreak(points))

    def space(self, points: float) -> None:
        """Leave room."""
        self._story.append(Spacer(0, points))

    def _block(self, lines: Sequence[str]) -> Markup:
        return lined([sans(line) for line in lines])


def _short(text: str) -> Markup:
    """Give a text for a cell as markup."""
    return sans(text, LONGEST_CELL)


def _height(flowable: Flowable, wide: float) -> float:
    """Give the height a flowable takes at a width."""
    return float(flowable.wrap(wide, 100_000)[1])


class _Rule(Flowable):  # type: ignore[misc]  # the layout library has no stubs
    """A hairline across the grid, kept with what follows."""

    def __init__(self, wide: float) -> None:
        super().__init__()
        self.wide = wide

    def wrap(self, _wide: float, _tall: float) -> tuple[float, float]:
        """Take the room of the line and what lies under it."""
        return self.wide, 8.0

    def draw(self) -> None:
        """Draw the line."""
        canvas: Any = self.canv
        canvas.setStrokeColor(style.ink(style.HAIRLINE))
        canvas.setLineWidth(style.HAIR)
        canvas.line(0, 7.5, self.wide, 7.5)


class _MarginHead(Flowable):  # type: ignore[misc]  # the layout library has no stubs
    """A heading in the narrow column that takes no height, so that the text stands beside it."""

    def __init__(self, text: str, wide: float) -> None:
        super().__init__()
        self.wide = wide
        self._paragraph = paragraph(serif(text), "heading")
        self.tall = float(self._paragraph.wrap(style.LABELS, 1000)[1])

    def wrap(self, _wide: float, _tall: float) -> tuple[float, float]:
        """Take no height."""
        return self.wide, 0.0

    def draw(self) -> None:
        """Draw the heading downwards from here."""
        self._paragraph.drawOn(self.canv, 0, -self.tall)
