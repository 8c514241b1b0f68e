"""What the shop has that fits a player's wish: a letter or a list, each match with what speaks for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

CAUTION = N_(
    "How alike is Gower\u2019s general coefficient over what is known: figures that aren\u2019t known are left out and "
    "said to be unknown, and no figure replaces playing it. Nothing here is an offer to sell or a promise to keep it; "
    "prices are those of the day of this paper."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedFacts:
    """One criterion as it was typed: a must, or a preference with its weight."""

    label: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundFacts:
    """One match: its rank, what it is, how alike, what each criterion says, its price where it has one."""

    n: int
    name: str
    number: str
    maker: str = ""
    likeness: str
    says: tuple[str, ...] = ()
    where: str = ""
    asking: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchesFacts(PaperFacts):
    """What a letter or a list of matches states; `letter` says that it is written to the player."""

    wish_number: str
    player: PartyFacts
    kind: str
    asked_on: date
    words: tuple[str, ...] = ()
    letter: bool = False
    criteria: tuple[WantedFacts, ...] = ()
    found: tuple[FoundFacts, ...] = ()
    note: str = ""


def compose(facts: MatchesFacts, sheet: Sheet) -> None:
    """Write the letter or the list."""
    sheet.title(_("What we have for you") if facts.letter else _("What fits a wish"), facts.kind)
    sheet.grid(
        [(_("Player"), sheet.party(facts.player))],
        [
            (_("Paper"), facts.number),
            (_("Wish"), facts.wish_number),
            (_("Asked on"), sheet.day(facts.asked_on)),
        ],
    )
    if facts.letter:
        reached = ", ".join(part for part in (facts.shop.phone, facts.shop.email) if part)
        sheet.section(
            _("About your wish"),
            _("You asked for what is named here. This is what the shop has today, the likest first."),
            _("Tell us what you would like to see and play: {reached}.").format(reached=reached)
            if reached
            else "",
        )
    sheet.pairs(
        _("What is wanted"),
        [
            *((_("In the player\u2019s words"), line) for line in facts.words[:1]),
            *(("", line) for line in facts.words[1:]),
            *((one.label, one.says) for one in facts.criteria),
        ],
    )
    if facts.found:
        sheet.heading(_("What we have"))
        sheet.ledger(
            (_("No."), _("What"), _("How alike"), sheet.per(_currency(facts), _("Asking price"))),
            [_row(one, sheet) for one in facts.found],
            (sheet.count_column, sheet.share_column, sheet.narrow_column, sheet.money_column),
        )
        sheet.space(12)
    else:
        sheet.section(_("What we have"), _("Nothing fits today."))
    sheet.section(_("Note"), facts.note)
    sheet.cautions([_(CAUTION)])


def _currency(facts: MatchesFacts) -> str:
    return next((one.asking.currency for one in facts.found if one.asking is not None), "")


def _row(one: FoundFacts, sheet: Sheet) -> tuple[str, ...]:
    """Give a match as a row: under its name what each criterion says, and where it is if it isn't here."""
    named = sheet.quiet(" ".join(part for part in (one.number, one.maker) if part))
    said = [sheet.strong(one.name), named, *one.says, one.where]
    asking = sheet.amount(one.asking) if one.asking is not None else _("ask")
    return str(one.n), sheet.lines([line for line in said if line]), one.likeness, asking
