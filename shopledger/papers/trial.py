"""What the papers of a trial share: the trial, its player, the things lent and their values, what is always said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

TITLE_STAYS = N_(
    "What is named here stays its owner\u2019s property. The player may try it and return it; the player doesn\u2019t "
    "sell it, lend it on, or have it altered or repaired."
)
EACH_FOR_ITSELF = N_(
    "Each line is decided for itself: keeping one thing is not accepting another, and returning one is not returning "
    "all."
)
SILENCE = N_(
    "Silence is not acceptance. If the day passes without a word, nothing is sold and nothing is taken as returned: it "
    "is overdue, and is to be brought back. A sale is made only by an invoice of the shop."
)
ON_APPROVAL = N_(
    "Goods on approval (United States): by section 2-327 of the Uniform Commercial Code, not saying in time that one "
    "returns what is on approval can be accepting it, and accepting a part can be accepting the whole, where nothing "
    "else is agreed. This paper agrees otherwise. Ask a lawyer."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LentFacts:
    """One thing lent, by its line; `condition` and the report's number say how it went out."""

    n: int
    name: str
    number: str = ""
    maker: str = ""
    value: Money
    condition: tuple[str, ...] = ()
    report_number: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialFacts(PaperFacts):
    """What every paper of a trial names: its number, the player, from when until when."""

    trial_number: str
    player: PartyFacts
    began_on: date
    due_on: date


def write_head(facts: TrialFacts, sheet: Sheet, pairs: Sequence[tuple[str, str]]) -> None:
    """Write the player, the trial's number and what else stands beside it."""
    sheet.grid(
        [(_("Player"), sheet.party(facts.player))],
        [(_("Trial"), sheet.strong(facts.trial_number)), *pairs],
    )


def thing_words(line: LentFacts, sheet: Sheet) -> str:
    """Give a thing lent as a table names it: what it is, its number, who made it, how it went out."""
    said = [sheet.both(line.name, line.number), line.maker, *(sheet.quiet(one) for one in line.condition)]
    if line.report_number:
        said.append(sheet.quiet(_("condition report {number}").format(number=line.report_number)))
    return sheet.lines([one for one in said if one])


def write_lent(head: str, lines: Sequence[LentFacts], sheet: Sheet, whole: Money | None = None) -> None:
    """Write the things lent with their values, and what these come to where there are several."""
    if not lines:
        return
    sheet.heading(head)
    currency = lines[0].value.currency
    sheet.ledger(
        (_("Line"), _("What"), sheet.per(currency, _("Value"))),
        [(str(line.n), thing_words(line, sheet), sheet.amount(line.value)) for line in lines],
        (sheet.count_column, sheet.share_column, sheet.money_column),
    )
    if whole is not None and len(lines) > 1:
        sheet.sums([(_("Value in all"), sheet.amount(whole))])
    else:
        sheet.space(12)
