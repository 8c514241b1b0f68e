"""The measurement sheet: each reading, how, when and by whom it was taken, what was before it, what handbooks say."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

CAUTION = N_(
    "Readings are as good as how they were taken: a tape over the arch reads some millimetres more than a straight "
    "rule. What handbooks give is a guide to compare with, not a limit; instruments of one nominal size differ, and no "
    "string length follows from a body. This is no certificate of size or of authorship."
)
NOTHING = "\u2013"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandbookFacts:
    """What a handbook gives beside a reading, by how much the reading is off, and the number of the source."""

    words: str
    off: str = ""
    source: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingFacts:
    """One reading as it was typed, the other unit beside it, and the one before it."""

    label: str
    typed: str
    other: str = ""
    method: str = ""
    taken_on: date
    taken_by: str = ""
    before: str = ""
    before_on: date | None = None
    before_method: str = ""
    grown: str = ""
    handbook: tuple[HandbookFacts, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FeelFacts:
    """Which standard size one figure feels like, in words, with what was compared."""

    label: str
    figure: str
    says: str
    compared: str = ""
    sources: tuple[int, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasurementSheetFacts(PaperFacts):
    """What a measurement sheet states.

    Shape:  `sources` are numbered from one, as the readings name them.
    """

    thing: ThingFacts
    readings: tuple[ReadingFacts, ...]
    feels: tuple[FeelFacts, ...] = ()
    sources: tuple[str, ...] = ()
    note: str = ""


def compose(facts: MeasurementSheetFacts, sheet: Sheet) -> None:
    """Write the measurement sheet."""
    thing = facts.thing
    sheet.title(_("Measurement sheet"), thing.name)
    named = (sheet.strong(thing.name), thing.maker, sheet.quiet(thing.number))
    last = max((one.taken_on for one in facts.readings), default=facts.issued_on)
    sheet.grid(
        [(_("Instrument"), [line for line in named if line])],
        [(_("Sheet"), facts.number), (_("Last measured"), sheet.day(last))],
    )
    if not facts.readings:
        sheet.section(_("Readings"), _("Nothing was measured yet."))
    else:
        _readings(facts, sheet)
    if facts.feels:
        _feels(facts, sheet)
    if facts.note:
        sheet.section(_("Note"), *facts.note.splitlines())
    sheet.section(
        _("Sources"), *(f"[{n}] {words}" for n, words in enumerate(facts.sources, start=1)), small=True
    )
    sheet.cautions([_(CAUTION)])


def _readings(facts: MeasurementSheetFacts, sheet: Sheet) -> None:
    sheet.heading(_("Readings"))
    sheet.ledger(
        (_("Measure"), _("Reading"), _("Taken"), _("Before"), _("Handbook")),
        [
            (
                one.label,
                sheet.lines([one.typed, sheet.quiet(one.other)]),
                sheet.lines([one.method, sheet.quiet(_when(one.taken_on, one.taken_by, sheet))]),
                _before(one, sheet),
                sheet.lines([_said(given) for given in one.handbook]) if one.handbook else NOTHING,
            )
            for one in facts.readings
        ],
        (sheet.share_column,) * 5,
    )
    sheet.space(12)


def _feels(facts: MeasurementSheetFacts, sheet: Sheet) -> None:
    sheet.heading(_("Which size it feels like"), _("Each by itself; the five are not put together."))
    sheet.ledger(
        (_("By"), _("Figure"), _("Feels like"), _("Compared with")),
        [
            (
                one.label,
                one.figure or NOTHING,
                sheet.lines([one.says, *(sheet.quiet(note) for note in one.notes)]),
                f"{one.compared}{_numbers(one.sources)}" if one.compared else _("no handbook value"),
            )
            for one in facts.feels
        ],
        (sheet.share_column, sheet.narrow_column, sheet.wide_column, sheet.wide_column),
    )
    sheet.space(12)


def _when(on: date, by: str, sheet: Sheet) -> str:
    return ", ".join(part for part in (sheet.day(on), by) if part)


def _before(one: ReadingFacts, sheet: Sheet) -> str:
    if not one.before or one.before_on is None:
        return NOTHING
    taken = ", ".join(part for part in (sheet.day(one.before_on), one.before_method) if part)
    return sheet.lines([one.before, sheet.quiet(taken), one.grown])


def _said(given: HandbookFacts) -> str:
    words = f"{given.words}{_numbers((given.source,))}"
    return f"{words}: {given.off}" if given.off else words


def _numbers(sources: tuple[int, ...]) -> str:
    return "".join(f"\u00a0[{n}]" for n in sources)
