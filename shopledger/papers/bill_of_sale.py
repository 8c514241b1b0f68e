"""The bill of sale: whose an instrument was and whose it is from a day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import describing
from shopledger.papers.cautions import GENERAL, words_of
from shopledger.papers.parts import (
    NO_CAUTIONS,
    CautionFacts,
    InstrumentFacts,
    OwnerFacts,
    PaperFacts,
    PartyFacts,
)
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class BillOfSaleFacts(PaperFacts):
    """What a bill of sale states.

    Shape:  `sellers` are the owners, or the shop itself where the instrument is its own; `signed_by` is
            "owner" or "shop" (for the owners, as their agent, unless `own`); `warranties` are sentences the
            seller answers for.
    """

    invoice_number: str = ""
    agreement_number: str = ""
    sold_on: date
    sellers: tuple[OwnerFacts, ...] = ()
    own: bool = False
    buyer: PartyFacts
    instrument: InstrumentFacts
    price: Money
    signed_by: str = "shop"
    approval_until: date | None = None
    warranties: tuple[str, ...] = ()
    cautions: CautionFacts = NO_CAUTIONS


def compose(facts: BillOfSaleFacts, sheet: Sheet) -> None:
    """Write the bill of sale on a sheet."""
    sheet.title(_("Bill of sale"))
    sellers = sheet.owner_blocks(facts.sellers, _("Seller")) if facts.sellers else []
    if facts.own or not facts.sellers:
        sellers = [(_("Seller"), sheet.party(PartyFacts(name=facts.shop.name, address=facts.shop.address)))]
    sheet.grid(
        [*sellers, (_("Buyer"), sheet.party(facts.buyer))],
        [
            (_("Bill of sale"), facts.number),
            (_("Sold on"), sheet.day(facts.sold_on)),
            (_("Invoice"), facts.invoice_number),
            (_("Agreement"), facts.agreement_number),
        ],
    )
    sheet.owner_table(facts.sellers, _("Sellers"))
    describing.what_it_is(facts.instrument, sheet)
    describing.measures_and_fittings(facts.instrument, sheet)
    describing.condition_and_company(facts.instrument, sheet)
    sheet.section(_("Price"), sheet.money(facts.price))
    sheet.section(_("What passes"), _passing_words(facts, sheet), *facts.warranties)
    sheet.cautions(words_of(facts.cautions, GENERAL))
    sheet.signatures(_signing(facts))


def _passing_words(facts: BillOfSaleFacts, sheet: Sheet) -> str:
    """Give the sentence by which the instrument becomes the buyer's."""
    words = _(
        "For this price the seller sells the instrument described here to the buyer and passes the "
        "ownership of it, free of the "
        "claims of others as far as the seller knows."
    )
    if facts.approval_until is not None:
        until = _("The buyer may return it until {day}; it becomes the buyer\u2019s when that time is over.")
        return f"{words} {until.format(day=sheet.day(facts.approval_until))}"
    return words


def _signing(facts: BillOfSaleFacts) -> list[tuple[str, str]]:
    """Give who signs, in which capacity."""
    buyer = (_("Buyer"), facts.buyer.name)
    if facts.own or not facts.sellers:
        return [(_("Seller"), facts.shop.name), buyer]
    if facts.signed_by == "owner":
        return [*((_("Seller"), seller.party.name) for seller in facts.sellers), buyer]
    return [(_("For the seller"), _("{shop}, as agent").format(shop=facts.shop.name)), buyer]
