"""The condition report: what was seen on each part, how grave it is, with photographs and numbered pins.

Where an earlier report is set beside it, a table says what changed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkFacts:
    """One thing seen, in the reader's words; `photograph` counts from 1, 0 where there is none."""

    n: int
    part: str
    term: str
    severity: str
    note: str = ""
    photograph: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PinFacts:
    """A pin on a photograph.

    Units:  ten-thousandths of its width from the left, and of its height from above.
    """

    n: int
    x: int
    y: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographFacts:
    """A photograph, named by the SHA-256 of its file, which is handed to the rendering beside the facts."""

    n: int
    sha256: str
    caption: str = ""
    taken_on: date | None = None
    pins: tuple[PinFacts, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparedFacts:
    """A mark of the earlier and the later report side by side, in words; empty where one of them hasn't it."""

    part: str
    term: str
    before: str = ""
    after: str = ""
    change: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionFacts(PaperFacts):
    """What a condition report states.

    Shape:  `number` is the paper's and `report_number` the report's, which are mostly the same; `earlier_number` and
            `compared` are filled where an earlier report is set beside it.
    """

    report_number: str
    thing: ThingFacts
    occasion: str
    made_on: date
    made_by: str = ""
    seen_by: str = ""
    claim_number: str = ""
    overall: tuple[str, ...] = ()
    marks: tuple[MarkFacts, ...] = ()
    photographs: tuple[PhotographFacts, ...] = ()
    earlier_number: str = ""
    earlier_on: date | None = None
    compared: tuple[ComparedFacts, ...] = ()


def compose(facts: ConditionFacts, sheet: Sheet) -> None:
    """Write the report on a sheet."""
    thing = facts.thing
    named = (sheet.strong(thing.name), thing.maker, sheet.quiet(thing.number))
    sheet.title(_("Condition report"), facts.occasion)
    sheet.grid(
        [(_("Instrument"), [line for line in named if line])],
        [
            (_("Report"), facts.report_number),
            (_("Made on"), sheet.day(facts.made_on)),
            (_("By"), facts.made_by),
            (_("Seen by"), facts.seen_by),
            (_("Claim number"), facts.claim_number),
        ],
    )
    sheet.section(_("As a whole"), *facts.overall)
    if facts.marks:
        sheet.heading(_("What is seen"))
        sheet.ledger(
            (_("No."), _("Part"), _("What is seen"), _("How grave"), _("In words")),
            [_mark_row(mark, sheet) for mark in facts.marks],
            (
                sheet.count_column,
                sheet.share_column,
                sheet.share_column,
                sheet.narrow_column,
                sheet.wide_column,
            ),
        )
        sheet.space(12)
    else:
        sheet.section(_("What is seen"), _("Nothing is marked on any part."))
    if facts.earlier_number:
        _write_compared(facts, sheet)
    if facts.photographs:
        sheet.keep_room(sheet.photograph_room)
        sheet.heading(
            _("Photographs"),
            _("A numbered pin stands where the mark of that number is.")
            if any(one.pins for one in facts.photographs)
            else "",
        )
        sheet.photographs(
            [
                (one.sha256, _caption(one, sheet), [(pin.n, pin.x, pin.y) for pin in one.pins])
                for one in facts.photographs
            ]
        )
    sheet.section(
        _("Caution"),
        _(
            "What could be seen on the day, without taking the instrument apart. It is no appraisal and no "
            "warranty of what could not be seen."
        ),
        small=True,
    )


def _mark_row(mark: MarkFacts, sheet: Sheet) -> tuple[str, ...]:
    """Give the row of one mark."""
    shown = _("photograph {n}").format(n=mark.photograph) if mark.photograph else ""
    return (str(mark.n), mark.part, mark.term, mark.severity, sheet.lines([mark.note, sheet.quiet(shown)]))


def _caption(one: PhotographFacts, sheet: Sheet) -> str:
    """Give the line under a photograph."""
    said = [_("Photograph {n}").format(n=one.n), one.caption]
    if one.taken_on is not None:
        said.append(sheet.day(one.taken_on))
    return " \u00b7 ".join(part for part in said if part)


def _write_compared(facts: ConditionFacts, sheet: Sheet) -> None:
    """Write the earlier report and this one side by side."""
    earlier = facts.earlier_number
    if facts.earlier_on is not None:
        earlier = f"{earlier}, {sheet.day(facts.earlier_on)}"
    sheet.heading(_("What changed since {earlier}").format(earlier=earlier))
    if not facts.compared:
        sheet.section(_("Nothing"), _("Neither report has a mark."))
        return
    nothing = "\u2013"
    sheet.ledger(
        (_("Part"), _("What"), facts.earlier_number, facts.report_number, _("Change")),
        [
            (row.part, row.term, row.before or nothing, row.after or nothing, sheet.strong(row.change))
            for row in facts.compared
        ],
        (sheet.share_column, sheet.share_column, sheet.wide_column, sheet.wide_column, sheet.narrow_column),
    )
    sheet.space(12)
