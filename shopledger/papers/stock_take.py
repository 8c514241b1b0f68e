"""A count of the stock: what is missing first, what was met without being expected, then what was seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts
from shopledger.quantities.words import N_, _, count_words

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

WHAT_IT_IS = N_(
    "What should be here is what the books had in the shop when the count began. A thing that is missing here is not "
    "thereby lost: it may have been overlooked, or moved without being booked. Nothing is booked by a count."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedFacts:
    """One thing of a count; `note` says what was said of it, of an unexpected thing where the books have it."""

    number: str
    what: str
    maker: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockTakeFacts(PaperFacts):
    """What the paper of a count states.

    Shape:  `expected` is how many things should have been here: those missing and those seen; `note` are its lines.
    """

    began_on: date
    ended_on: date
    counted_by: str = ""
    expected: int
    missing: tuple[CountedFacts, ...] = ()
    unexpected: tuple[CountedFacts, ...] = ()
    seen: tuple[CountedFacts, ...] = ()
    note: tuple[str, ...] = ()


def compose(facts: StockTakeFacts, sheet: Sheet) -> None:
    """Write the count on a sheet."""
    sheet.title(
        _("Count of the stock"),
        _("nothing is missing") if not facts.missing else _things(_("missing"), facts.missing),
    )
    sheet.pairs(
        _("The count"),
        [
            (_("Begun on"), sheet.day(facts.began_on)),
            (_("Ended on"), sheet.day(facts.ended_on)),
            (_("Counted by"), facts.counted_by),
            (_("Should be here"), str(facts.expected)),
            (_("Seen"), str(len(facts.seen))),
            (_("Missing"), str(len(facts.missing))),
            (_("Not expected"), str(len(facts.unexpected))),
        ],
    )
    _table(_("Missing"), facts.missing, sheet)
    _table(_("Met without being expected"), facts.unexpected, sheet)
    sheet.section(_("Note"), *facts.note)
    _table(_("Seen"), facts.seen, sheet)
    sheet.signatures([(_("Counted by"), facts.counted_by or facts.shop.name)])
    sheet.section(_("What it says"), _(WHAT_IT_IS), small=True)


def _things(words: str, lines: Sequence[CountedFacts]) -> str:
    return f"{words}: {count_words('{n} thing', '{n} things', len(lines))}"


def _table(title: str, lines: Sequence[CountedFacts], sheet: Sheet) -> None:
    if not lines:
        return
    sheet.heading(title)
    sheet.ledger(
        (_("Number"), _("What"), _("Said of it")),
        [
            (sheet.strong(line.number), sheet.lines([line.what, sheet.quiet(line.maker)]), line.note)
            for line in lines
        ],
        (sheet.label_column, sheet.wide_column, sheet.share_column),
    )
    sheet.space(12)
