"""The valuation: what an instrument was said to be worth, by whom, on which day, for what purpose and on what basis."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import cautions, describing
from shopledger.papers.parts import InstrumentFacts, PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

NO_APPRAISAL = N_(
    "This is no certified appraisal. It states what whoever is named thinks it worth for the purpose named, on the "
    "day named, and for no other."
)
APPRAISAL = N_(
    "It is called a certified appraisal on the word of whoever is named as its author. Where a tax office, a court or "
    "an insurer asks for one, ask them whom they accept and what it has to state."
)
INTEREST = N_(
    "A valuation by a dealer who owns the instrument, sells it or would buy it is one with an interest in the figure: "
    "it is not an appraisal, and for tax, inheritance or division one from somebody without an interest is due."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ValuationFacts(PaperFacts):
    """What a valuation states.

    Shape:  `purpose` is in the reader's words; `requested_by` is whom it is for, None where nobody is named;
            `interest` says whether the shop owns the instrument, "own", or has it to sell, "to_sell"; "" for neither.
    """

    requested_by: PartyFacts | None = None
    instrument: InstrumentFacts
    value: Money
    purpose: str
    valued_by: str
    valued_on: date
    basis: tuple[str, ...] = ()
    is_appraisal: bool = False
    interest: str = ""


def compose(facts: ValuationFacts, sheet: Sheet) -> None:
    """Write the valuation on a sheet."""
    sheet.title(
        _("Valuation"),
        _("called a certified appraisal by its author")
        if facts.is_appraisal
        else _("a stated value, no certified appraisal"),
    )
    sheet.grid(
        [
            (
                _("For"),
                [_("whom it may concern")] if facts.requested_by is None else sheet.party(facts.requested_by),
            )
        ],
        [
            (_("Valuation"), facts.number),
            (_("Purpose"), facts.purpose),
            (_("Valued on"), sheet.day(facts.valued_on)),
        ],
    )
    describing.what_it_is(facts.instrument, sheet)
    describing.condition_and_company(facts.instrument, sheet)
    describing.measures_and_fittings(facts.instrument, sheet)
    sheet.section(_("Value"), sheet.strong(sheet.money(facts.value)))
    sheet.section(_("On what basis"), *(facts.basis or (_("Nothing is stated."),)))
    sheet.section(_("Valued by"), facts.valued_by)
    sheet.section(_("Interest"), _interest(facts))
    sheet.keep_room(150)
    sheet.signatures([(_("Valued by"), facts.valued_by)])
    sheet.cautions([_(APPRAISAL if facts.is_appraisal else NO_APPRAISAL), _(INTEREST), _(cautions.GENERAL)])


def _interest(facts: ValuationFacts) -> str:
    """Say what the shop has to do with the instrument."""
    if facts.interest == "own":
        return _("The instrument is the shop\u2019s own.")
    if facts.interest == "to_sell":
        return _("The shop has the instrument to sell, and earns by its sale.")
    return _("The shop neither owns the instrument nor has it to sell.")
