"""The receipt back from a trial: what came back, its condition, what is new since it went out, what is still out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import cautions
from shopledger.papers.trial import EACH_FOR_ITSELF, SILENCE, LentFacts, TrialFacts, write_head, write_lent
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class BackFacts:
    """One thing that came back.

    Shape:  `new` are marks that the report back has and the one going out has not, or has less grave; `compared` says
            that there were two reports to set side by side.
    """

    line: LentFacts
    condition: tuple[str, ...] = ()
    report_number: str = ""
    new: tuple[str, ...] = ()
    compared: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReturnFacts(TrialFacts):
    """What a receipt back states; `kept` are decided to be bought, `still_out` wait to be decided."""

    back_on: date
    back: tuple[BackFacts, ...]
    still_out: tuple[LentFacts, ...] = ()
    kept: tuple[LentFacts, ...] = ()
    deposit_held: Money | None = None


def compose(facts: TrialReturnFacts, sheet: Sheet) -> None:
    """Write the receipt on a sheet."""
    sheet.title(_("Receipt back from a trial"), _overdue_words(facts))
    write_head(
        facts,
        sheet,
        [
            (_("Receipt"), facts.number),
            (_("Came back on"), sheet.day(facts.back_on)),
            (_("Went out on"), sheet.day(facts.began_on)),
            (_("Was due on"), sheet.day(facts.due_on)),
        ],
    )
    write_lent(_("What came back"), [one.line for one in facts.back], sheet)
    for one in facts.back:
        _write_condition(one, sheet)
    write_lent(_("To be bought"), facts.kept, sheet)
    write_lent(_("Still out"), facts.still_out, sheet)
    if facts.still_out:
        sheet.section(_("Until"), sheet.day(facts.due_on), _(EACH_FOR_ITSELF), _(SILENCE))
    sheet.section(_("Deposit"), _deposit_words(facts, sheet))
    sheet.keep_room(200)
    sheet.signatures(
        [(_("Received back, for the shop"), facts.shop.name), (_("Returned by"), facts.player.name)],
        before=_("What is listed as come back is in the shop again, in the condition described."),
    )
    sheet.cautions([_(cautions.GENERAL)])


def _overdue_words(facts: TrialReturnFacts) -> str:
    return _("after the day agreed") if facts.back_on > facts.due_on else _("within the time agreed")


def _write_condition(one: BackFacts, sheet: Sheet) -> None:
    """Write how a thing came back, and what is new."""
    head = _("Line {n}, back").format(n=one.line.n)
    report = _("condition report {number}").format(number=one.report_number) if one.report_number else ""
    said = list(one.condition) or [_("Nothing is noted of its condition.") if not report else ""]
    if one.new:
        said.append(sheet.strong(_("New since it went out: {what}.").format(what="; ".join(one.new))))
    elif one.compared:
        said.append(_("Nothing new since it went out."))
    sheet.section(head, *said, sheet.quiet(report))


def _deposit_words(facts: TrialReturnFacts, sheet: Sheet) -> str:
    if facts.deposit_held is None:
        return ""
    return _("{amount} of the player\u2019s is still held.").format(amount=sheet.money(facts.deposit_held))
