"""The reminder: a letter to a client whose instrument is ready and was not collected."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.workshop import UNCOLLECTED, JobFacts, write_grid
from shopledger.quantities.money import Money
from shopledger.quantities.words import _, count_words

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ReminderFacts(JobFacts):
    """What a reminder states.

    Units:  `after_days` is how long after being ready it is sent: 30, 60 or 90.
    Shape:  `due` is what is to be paid at collection, None where nothing was billed; `earlier` are the days on which
            earlier reminders went out.
    """

    after_days: int
    sent_on: date
    ready_on: date | None = None
    opened_on: date
    declined: bool = False
    came_with: tuple[str, ...] = ()
    due: Money | None = None
    earlier: tuple[date, ...] = ()


def compose(facts: ReminderFacts, sheet: Sheet) -> None:
    """Write the letter on a sheet."""
    sheet.title(_("Your instrument is waiting"), _reminder_words(facts))
    write_grid(
        facts,
        sheet,
        [
            (_("Letter"), facts.number),
            (_("Written on"), sheet.day(facts.sent_on)),
            (_("Left on"), sheet.day(facts.opened_on)),
            (_("Ready since"), "" if facts.ready_on is None else sheet.day(facts.ready_on)),
        ],
    )
    sheet.section(_("To collect"), *_letter(facts, sheet))
    sheet.section(_("Came with it"), "; ".join(facts.came_with))
    sheet.section(
        _("To pay"),
        _("Nothing is to be paid when you collect it.")
        if facts.due is None or facts.due.minor <= 0
        else _("{amount} is to be paid when you collect it.").format(amount=sheet.money(facts.due)),
    )
    if facts.earlier:
        days = ", ".join(sheet.day(day) for day in facts.earlier)
        sheet.section(_("Written before"), _("Earlier letters went out on {days}.").format(days=days))
    sheet.cautions([_(UNCOLLECTED)])


def _reminder_words(facts: ReminderFacts) -> str:
    """Give the line under the title."""
    if facts.declined:
        return count_words(
            "{n} day after the work was declined", "{n} days after the work was declined", facts.after_days
        )
    return count_words("{n} day after it was ready", "{n} days after it was ready", facts.after_days)


def _letter(facts: ReminderFacts, sheet: Sheet) -> tuple[str, ...]:
    """Give the paragraphs of the letter."""
    if facts.declined:
        since = _("The work on it was declined, and it has been waiting for you since.")
    elif facts.ready_on is None:
        since = _("It has been waiting for you.")
    else:
        since = _("The work on it was done on {day}, and it has been waiting for you since.").format(
            day=sheet.day(facts.ready_on)
        )
    how = _("Collect it with the claim ticket, or say how it is to reach you.")
    reach = _(" or ").join(part for part in (facts.shop.phone, facts.shop.email) if part)
    if reach:
        how = _("{how} You reach the shop at {reach}.").format(how=how, reach=reach)
    last = (
        _("If you can\u2019t come, or somebody else is to collect it, say so in answer to this letter.")
        if facts.after_days >= 60
        else ""
    )
    return (since, how, last)
