"""The extension of a trial: a later end agreed with the player; all else stays as it was."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import cautions
from shopledger.papers.trial import (
    EACH_FOR_ITSELF,
    ON_APPROVAL,
    SILENCE,
    TITLE_STAYS,
    LentFacts,
    TrialFacts,
    write_head,
    write_lent,
)
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialExtensionFacts(TrialFacts):
    """What an extension states; `due_on` is the new end."""

    agreed_on: date
    due_before_on: date
    agreed_by: str = ""
    lines: tuple[LentFacts, ...]


def compose(facts: TrialExtensionFacts, sheet: Sheet) -> None:
    """Write the extension on a sheet."""
    sheet.title(_("Extension of a trial"), _("a later end; all else stays as agreed"))
    write_head(
        facts,
        sheet,
        [
            (_("Extension"), facts.number),
            (_("Agreed on"), sheet.day(facts.agreed_on)),
            (_("Agreed with"), facts.agreed_by),
            (_("Was due on"), sheet.day(facts.due_before_on)),
            (_("Back by"), sheet.strong(sheet.day(facts.due_on))),
        ],
    )
    write_lent(_("What is out"), facts.lines, sheet)
    sheet.section(
        _("What is agreed"),
        _(
            "The trial {number} goes on until {day}. Value, risk, insurance, carriage and deposit stay as agreed."
        ).format(number=facts.trial_number, day=sheet.day(facts.due_on)),
        _(TITLE_STAYS),
        _(EACH_FOR_ITSELF),
        _(SILENCE),
    )
    sheet.keep_room(200)
    sheet.signatures([(_("The player"), facts.player.name), (_("For the shop"), facts.shop.name)])
    sheet.cautions([_(cautions.GENERAL), _(ON_APPROVAL)])
