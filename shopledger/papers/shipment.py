"""The packing list of a shipment: what was sent to whom with which carrier, at which values, insured for what."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import cautions
from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import NO_CAUTIONS, CautionFacts, PaperFacts, PartyFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

FOR_INSURANCE = N_(
    "The values are those to insure on the way. They are neither prices nor values for customs: what a declaration "
    "states is for whoever signs it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SentFacts:
    """One thing sent, by its line; `comes_with` is what came with it into the shop."""

    n: int
    thing: ThingFacts
    comes_with: tuple[str, ...] = ()
    value: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentFacts(PaperFacts):
    """What a packing list states.

    Shape:  `why`, `risk` and `insured_by` are in the reader's words; `to_place` is the address it went to, the
            receiver's own where none is named; `whole` is what the values add up to, None where one is not stated;
            `reference` is the number of the sale, trial or placing it is about.
    """

    to: PartyFacts
    to_place: tuple[str, ...] = ()
    sent_on: date
    why: str
    reference: str = ""
    carrier: str
    tracking: str = ""
    goes_to: str = ""
    lines: tuple[SentFacts, ...]
    whole: Money | None = None
    insured_for: Money | None = None
    insured_by: str
    risk: str
    cautions: CautionFacts = NO_CAUTIONS


def compose(facts: ShipmentFacts, sheet: Sheet) -> None:
    """Write the packing list on a sheet."""
    sheet.title(_("Packing list"), _("sent with a carrier"))
    sheet.grid(
        [(_("To"), sheet.party(facts.to))],
        [
            (_("Shipment"), sheet.strong(facts.number)),
            (_("Sent on"), sheet.day(facts.sent_on)),
            (_("Why"), facts.why),
            (_("About"), facts.reference),
        ],
    )
    sheet.pairs(
        _("On the way"),
        [
            (_("Carrier"), facts.carrier),
            (_("Tracking number"), facts.tracking),
            (_("Delivered to"), ", ".join(facts.to_place)),
            (_("Country"), facts.goes_to),
            (_("Risk is borne by"), facts.risk),
            (_("Insured by"), facts.insured_by),
            (
                _("Insured for"),
                _("not stated") if facts.insured_for is None else sheet.money(facts.insured_for),
            ),
        ],
    )
    sheet.heading(_("What is in it"))
    currency = next((line.value.currency for line in facts.lines if line.value is not None), "")
    sheet.ledger(
        (_("Line"), _("What"), sheet.per(currency, _("Value")) if currency else _("Value")),
        [
            (
                str(line.n),
                _what(line, sheet),
                _("not stated") if line.value is None else sheet.amount(line.value),
            )
            for line in facts.lines
        ],
        (sheet.count_column, sheet.share_column, sheet.money_column),
    )
    if facts.whole is not None and len(facts.lines) > 1:
        must_add_up("values", [line.value for line in facts.lines if line.value is not None], facts.whole)
        sheet.sums([(_("Value in all"), sheet.amount(facts.whole))])
    else:
        sheet.space(12)
    sheet.keep_room(180)
    sheet.signatures(
        [(_("Taken over by the carrier"), facts.carrier), (_("Received by"), facts.to.name)],
        before=_(
            "Whoever signs has seen that all of this was there and how it was packed; damage is noted here."
        ),
    )
    sheet.cautions(
        cautions.words_of(facts.cautions, FOR_INSURANCE, cautions.GENERAL),
    )


def _what(line: SentFacts, sheet: Sheet) -> str:
    """Give a thing sent as the table names it."""
    said = [sheet.both(line.thing.name, line.thing.number), sheet.quiet(line.thing.maker)]
    if line.comes_with:
        said.append(sheet.quiet(_("came in with: {what}").format(what=", ".join(line.comes_with))))
    return sheet.lines(said)
