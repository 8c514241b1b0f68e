"""The placing: an instrument left with another dealer to be sold there, until when, at whose risk, on what terms."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from shopledger.papers import cautions
from shopledger.papers.parts import PaperFacts, PartyFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

TITLE_STAYS = N_(
    "It stays its owner\u2019s property until the shop has invoiced it and is paid. The dealer offers it for sale and "
    "keeps it; the dealer doesn\u2019t pass it on, pledge it, or have it altered or repaired without the shop\u2019s "
    "written word."
)
NOT_TO_ITSELF = N_(
    "The dealer doesn\u2019t buy it in silence for itself, for its people or for those close to them: it says so in "
    "writing beforehand, and a price is agreed with the shop, which tells the owner."
)
NO_SILENCE = N_(
    "Silence sells nothing. The dealer tells the shop of a sale at once, with the buyer and the price; a sale is made "
    "by an invoice of the shop. When the day has passed it goes back, unless a later day is agreed in writing."
)
CREDITORS = N_(
    "Filing (United States): what is left with a dealer to be sold may be a consignment under section 9-102(a)(20) of "
    "the Uniform Commercial Code. Without a filing, creditors of the dealer may have a claim on it. Ask a lawyer "
    "before it goes."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacingFacts(PaperFacts):
    """What a placing states.

    Shape:  `risk` and `insured_by` are in the reader's words; `agreement_number` is that of the owner's agreement, ""
            where it is the shop's own, and says what the dealer's rate is of: the shop's commission, else the price;
            `until_before` is the day agreed before, where it was extended; `terms` are further lines.
    """

    placing_number: str
    dealer: PartyFacts
    since: date
    until: date
    until_before: date | None = None
    thing: ThingFacts
    agreement_number: str = ""
    asking: Money | None = None
    dealer_rate: Fraction | None = None
    value: Money
    risk: str
    insured_by: str
    terms: tuple[str, ...] = ()


def compose(facts: PlacingFacts, sheet: Sheet) -> None:
    """Write the placing on a sheet."""
    under = _("left with another dealer to be sold, not sold")
    sheet.title(_("Placing") if facts.until_before is None else _("Placing, extended"), under)
    sheet.grid(
        [(_("Dealer"), sheet.party(facts.dealer))],
        [
            (_("Placing"), sheet.strong(facts.placing_number)),
            (_("Since"), sheet.day(facts.since)),
            (_("Until before"), "" if facts.until_before is None else sheet.day(facts.until_before)),
            (_("Until"), sheet.strong(sheet.day(facts.until))),
        ],
    )
    sheet.section(_("Instrument"), sheet.both(facts.thing.name, facts.thing.number), facts.thing.maker)
    sheet.section(
        _("Whose it is"),
        _(
            "It belongs to someone who left it with the shop under {agreement}, by which it may go to another dealer."
        ).format(agreement=facts.agreement_number)
        if facts.agreement_number
        else _("It is the shop\u2019s own."),
    )
    sheet.pairs(
        _("While it is there"),
        [
            (_("Asking price"), "" if facts.asking is None else sheet.money(facts.asking)),
            (_("The dealer keeps"), _keeps(facts, sheet)),
            (_("Value"), sheet.money(facts.value)),
            (_("Risk is borne by"), facts.risk),
            (_("Insured by"), facts.insured_by),
        ],
    )
    sheet.section(_("What is agreed"), _(TITLE_STAYS), _(NOT_TO_ITSELF), _(NO_SILENCE))
    sheet.section(_("Further terms"), *facts.terms)
    sheet.keep_room(165)
    sheet.signatures(
        [(_("The dealer"), facts.dealer.name), (_("For the shop"), facts.shop.name)],
        before=_("Both sides agree to this."),
    )
    sheet.cautions([_(CREDITORS), _(cautions.GENERAL), _(cautions.VALUE)])


def _keeps(facts: PlacingFacts, sheet: Sheet) -> str:
    """Say what the dealer keeps, and of what."""
    if facts.dealer_rate is None:
        return _("to be agreed with each offer")
    said = _("{rate} of the shop\u2019s commission") if facts.agreement_number else _("{rate} of the price")
    return said.format(rate=sheet.rate(facts.dealer_rate))
