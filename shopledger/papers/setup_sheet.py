"""The set-up sheet: each measure and string before and after the work, and the difference."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.workshop import JobFacts, write_grid
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupMeasureFacts:
    """A measure before and after, each as it was typed with the other unit beside it; empty where it was not taken."""

    label: str
    before: str = ""
    before_other: str = ""
    after: str = ""
    after_other: str = ""
    difference: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupStringFacts:
    """The string of one place, counted from the highest, in words; empty where it was not noted."""

    place: str
    before: str = ""
    after: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupFacts(JobFacts):
    """What a set-up sheet states."""

    set_up_on: date
    measures: tuple[SetupMeasureFacts, ...] = ()
    strings: tuple[SetupStringFacts, ...] = ()
    notes: tuple[str, ...] = ()


def compose(facts: SetupFacts, sheet: Sheet) -> None:
    """Write the set-up sheet."""
    sheet.title(_("Set-up sheet"), _("as it was found, and as it was left"))
    write_grid(facts, sheet, [(_("Sheet"), facts.number), (_("Set up on"), sheet.day(facts.set_up_on))])
    nothing = "\u2013"
    if facts.measures:
        sheet.heading(_("Measurements"))
        sheet.ledger(
            (_("Measure"), _("Before"), _("After"), _("Difference")),
            [
                (
                    one.label,
                    sheet.both(one.before, one.before_other) if one.before else nothing,
                    sheet.both(one.after, one.after_other) if one.after else nothing,
                    one.difference or nothing,
                )
                for one in facts.measures
            ],
            (sheet.wide_column, sheet.share_column, sheet.share_column, sheet.narrow_column),
        )
        sheet.space(12)
    if facts.strings:
        sheet.heading(_("Strings"), _("Counted from the highest; pitch, what it is made of, gauge."))
        sheet.ledger(
            (_("String"), _("Before"), _("After")),
            [(one.place, one.before or nothing, one.after or nothing) for one in facts.strings],
            (sheet.label_column, sheet.share_column, sheet.share_column),
        )
        sheet.space(12)
    if not (facts.measures or facts.strings):
        sheet.section(_("Nothing yet"), _("No measure and no string was noted for this job."))
    sheet.section(
        _("How to read it"),
        _(
            "Figures stand as they were typed, the other unit behind them; \u2248 marks one that was rounded. The "
            "difference is after less before."
        )
        if facts.measures
        else "",
    )
    sheet.section(_("Notes"), *facts.notes)
