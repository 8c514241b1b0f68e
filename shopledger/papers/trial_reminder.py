"""The letter that reminds of a trial's end: due soon, due today, or overdue; it changes nothing by itself."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import cautions
from shopledger.papers.trial import (
    EACH_FOR_ITSELF,
    ON_APPROVAL,
    SILENCE,
    LentFacts,
    TrialFacts,
    write_head,
    write_lent,
)
from shopledger.quantities.words import _, count_words

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReminderFacts(TrialFacts):
    """What a reminder states; `earlier` are the days on which letters went out before."""

    sent_on: date
    lines: tuple[LentFacts, ...]
    earlier: tuple[date, ...] = ()


def compose(facts: TrialReminderFacts, sheet: Sheet) -> None:
    """Write the letter on a sheet."""
    sheet.title(_("Your trial"), _ends_words(facts))
    write_head(
        facts,
        sheet,
        [
            (_("Letter"), facts.number),
            (_("Written on"), sheet.day(facts.sent_on)),
            (_("Went out on"), sheet.day(facts.began_on)),
            (_("Back by"), sheet.strong(sheet.day(facts.due_on))),
        ],
    )
    write_lent(_("What is with you"), facts.lines, sheet)
    sheet.section(_("What to do"), *_letter(facts, sheet))
    sheet.section(_("What is agreed"), _(EACH_FOR_ITSELF), _(SILENCE))
    sheet.section(
        _("Letters before"), ", ".join(sheet.day(day) for day in facts.earlier) if facts.earlier else ""
    )
    sheet.keep_room(120)
    sheet.signatures([(_("For the shop"), facts.shop.name)])
    sheet.cautions([_(cautions.GENERAL), _(ON_APPROVAL)])


def _ends_words(facts: TrialReminderFacts) -> str:
    """Say when it ends, seen from the day of the letter."""
    left = (facts.due_on - facts.sent_on).days
    if left > 0:
        return count_words("ends in {n} day", "ends in {n} days", left)
    if left == 0:
        return _("ends today")
    return count_words("is {n} day overdue", "is {n} days overdue", -left)


def _letter(facts: TrialReminderFacts, sheet: Sheet) -> list[str]:
    """Give what the player is asked to do."""
    day = sheet.day(facts.due_on)
    if facts.sent_on > facts.due_on:
        first = _(
            "What is listed here was due back on {day} and is still with you. Bring it back, or tell the shop today "
            "what you want to keep."
        ).format(day=day)
    else:
        first = _(
            "What is listed here is due back by {day}. Bring it back by then, or tell the shop before what you want to "
            "keep."
        ).format(day=day)
    reached = [part for part in (facts.shop.phone, facts.shop.email) if part]
    longer = _("If you need longer, ask for it: a later end is agreed in writing.")
    return [
        first,
        longer,
        _("The shop is reached at {where}.").format(where=", ".join(reached)) if reached else "",
    ]
