"""The referral disclosure: that a third person is paid for bringing the two sides together, told to both."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up, working_must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import OwnerFacts, PaperFacts, PartyFacts, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ReferralFacts(PaperFacts):
    """What a referral disclosure states.

    Shape:  `of` is "price", "commission" or "fixed"; `rate` goes with the first two; `borne_by` is "shop",
            "owner" or "both", in which case `owner_part` and `shop_part` add up to `fee`; the fee is None
            while no price is agreed; the days are those on which each side was told, None where it signs
            here.
    """

    referrer: PartyFacts
    buyer: PartyFacts
    owners: tuple[OwnerFacts, ...]
    instrument_number: str
    instrument_name: str
    price: Money | None = None
    of: str = "price"
    rate: Fraction | None = None
    fee: Money | None = None
    borne_by: str = "shop"
    owner_part: Money | None = None
    shop_part: Money | None = None
    working: tuple[WorkingLine, ...] = ()
    told_buyer_on: date | None = None
    told_owner_on: date | None = None
    relation: str = ""


def compose(facts: ReferralFacts, sheet: Sheet) -> None:
    """Write the disclosure on a sheet."""
    sheet.title(_("Referral disclosure"), _("to buyer and owner, before the sale"))
    sheet.grid(
        [(_("Buyer"), sheet.party(facts.buyer)), *sheet.owner_blocks(facts.owners)],
        [
            (_("Disclosure"), facts.number),
            (_("Day"), sheet.day(facts.issued_on)),
            (_("Price"), "" if facts.price is None else sheet.money(facts.price)),
        ],
    )
    sheet.owner_table(facts.owners)
    sheet.section(
        _("Instrument"),
        sheet.both(facts.instrument_name, facts.instrument_number),
    )
    sheet.section(
        _("Who is paid"),
        _("{name} brought buyer and shop together and is paid for it if the sale is made.").format(
            name=facts.referrer.name
        ),
        facts.relation,
    )
    sheet.section(_("The fee"), _fee_words(facts, sheet), _bearer_words(facts, sheet))
    if len(facts.working) > 1 and facts.fee is not None:
        working_must_add_up("fee", facts.working, facts.fee)
        sheet.heading(_("How the fee is reckoned"))
        sheet.working(facts.working, _("Fee"), facts.fee)
    told = [
        _("Told to the {side} on {day}.").format(side=side, day=sheet.day(day))
        for side, day in ((_("buyer"), facts.told_buyer_on), (_("owner"), facts.told_owner_on))
        if day is not None
    ]
    sheet.section(_("Told"), *told)
    sheet.cautions([_(GENERAL)])
    sheet.signatures(
        [
            (_("Buyer"), facts.buyer.name),
            *((_("Owner"), owner.party.name) for owner in facts.owners),
            (_("For the shop"), facts.shop.name),
        ],
        before=_("Each side has been told of this fee and agrees to the sale with that knowledge."),
    )


def _fee_words(facts: ReferralFacts, sheet: Sheet) -> str:
    """Give how much the fee is, or how it will be found."""
    if facts.of != "fixed" and facts.rate is not None:
        of = _("the price") if facts.of == "price" else _("the shop\u2019s commission")
        rule = _("{rate} of {of}").format(rate=sheet.rate(facts.rate), of=of)
        if facts.fee is None:
            return _("The fee is {rule}.").format(rule=rule)
        return _("The fee is {rule}: {fee}.").format(rule=rule, fee=sheet.money(facts.fee))
    if facts.fee is None:
        return _("The fee is not agreed yet.")
    return _("The fee is {fee}.").format(fee=sheet.money(facts.fee))


def _bearer_words(facts: ReferralFacts, sheet: Sheet) -> str:
    """Give who bears the fee, and with how much each."""
    if facts.borne_by == "owner":
        return _("The owner bears it; it comes off the owner\u2019s net. The buyer pays none of it.")
    if facts.borne_by == "shop":
        return _("The shop bears it out of its commission. Neither buyer nor owner pays anything for it.")
    if facts.owner_part is not None and facts.shop_part is not None and facts.fee is not None:
        must_add_up("fee", (facts.owner_part, facts.shop_part), facts.fee)
        return _(
            "Owner and shop bear it: the owner {owner}, the shop {shop}. The buyer pays none of it."
        ).format(owner=sheet.money(facts.owner_part), shop=sheet.money(facts.shop_part))
    return _("Owner and shop bear half each, an odd cent the shop. The buyer pays none of it.")
