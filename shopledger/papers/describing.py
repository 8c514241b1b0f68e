"""How an instrument stands on a paper: what it is, who made it, its measures, fittings, materials, condition."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shopledger.papers.parts import InstrumentFacts
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


def what_it_is(instrument: InstrumentFacts, sheet: Sheet) -> None:
    """Write the name of an instrument and who made it, with the standing of that and its evidence."""
    maker = " ".join(part for part in (instrument.standing, instrument.maker) if part)
    if instrument.made:
        maker = f"{maker}, {instrument.made}" if maker else instrument.made
    sheet.section(
        _("Instrument"),
        sheet.both(instrument.name, instrument.number),
        maker,
        _("Label reads: {words}").format(words=instrument.label_reads) if instrument.label_reads else "",
        _("Attribution: {words}").format(words=instrument.attributed_by) if instrument.attributed_by else "",
        instrument.description,
    )


def measures_and_fittings(instrument: InstrumentFacts, sheet: Sheet) -> None:
    """Write the measured figures as they were typed, the other unit behind, and fittings and materials by name."""
    sheet.columns(
        _("Measurements"),
        [
            (sheet.quiet(one.label), sheet.both(one.typed, one.other), sheet.quiet(one.method))
            for one in instrument.measurements
        ],
        (46, 38, 34),
    )
    sheet.pairs(_("Fittings"), [(one.label, one.words) for one in instrument.fittings])
    sheet.pairs(_("Materials"), [(one.label, one.words) for one in instrument.materials])


def condition_and_company(instrument: InstrumentFacts, sheet: Sheet) -> None:
    """Write the condition part by part, with the day it was looked at, and what came with the instrument."""
    condition = [(one.label, one.words) for one in instrument.condition]
    if condition and instrument.condition_on is not None:
        condition.append((_("seen on"), sheet.day(instrument.condition_on)))
    sheet.pairs(_("Condition"), condition)
    if instrument.comes_with:
        sheet.section(_("Comes with"), *instrument.comes_with)
