"""Steps three and four of a reckoning: costs after commission and the referral fee, and who bears how much of them."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_, _
from shopledger.rules.terms import Bearer, Case, Cost, CostOf, ReferralOf
from shopledger.rules.working import Working

BORNE_IN_WORDS = {
    Bearer.OWNER: N_("borne by the owner"),
    Bearer.SHOP: N_("borne by the shop"),
    Bearer.BOTH: N_("in halves, the odd unit to the shop"),
}


@dataclass(frozen=True, slots=True)
class Borne:
    """An amount by who bears it."""

    owner: Money
    shop: Money


def borne_by(amount: Money, by: Bearer) -> Borne:
    """Give who bears how much of an amount; of halves the odd unit is the shop's."""
    nothing = Money.zero(amount.currency)
    match by:
        case Bearer.OWNER:
            return Borne(amount, nothing)
        case Bearer.SHOP:
            return Borne(nothing, amount)
        case Bearer.BOTH:
            smaller, larger = amount.halves()
            return Borne(owner=smaller, shop=larger)


def costs_borne(case: Case, buyer_pays: Money, working: Working) -> Borne:
    """Give the costs of owner and shop, each cost rounded and halved for itself."""
    owner: list[tuple[str, Money]] = []
    shop: list[tuple[str, Money]] = []
    for cost in case.costs:
        what = cost.what or _("cost")
        borne = borne_by(_cost_amount(cost, what, case, buyer_pays, working), cost.borne_by)
        owner.append((what, borne.owner))
        shop.append((what, borne.shop))
    sums = Borne(
        total([amount for _what, amount in owner], case.currency),
        total([amount for _what, amount in shop], case.currency),
    )
    if sums.owner:
        working.tell(working.say(N_("Owner's costs")), working.plus(owner), sums.owner, figure="owner_costs")
    if sums.shop:
        working.tell(working.say(N_("Shop's costs")), working.plus(shop), sums.shop, figure="shop_costs")
    return sums


def _cost_amount(cost: Cost, what: str, case: Case, buyer_pays: Money, working: Working) -> Money:
    """Give what a cost comes to; a step tells it where it is more than an amount that one side bears."""
    in_words = _(BORNE_IN_WORDS[cost.borne_by])
    if cost.rate is None:
        amount = cost.amount if cost.amount is not None else Money.zero(case.currency)
        if cost.borne_by is Bearer.BOTH:
            working.tell(working.say(N_("Cost: {what}"), what=what), in_words, amount)
        return amount
    if cost.of is CostOf.BUYER_PAYS:
        of, template = buyer_pays, N_("{rate} of the {of} that the buyer pays")
    else:
        of, template = case.price, N_("{rate} of the price {of}")
    amount = of.times(cost.rate)
    how = working.say(template, rate=cost.rate, of=of)
    working.tell(working.say(N_("Cost: {what}"), what=what), f"{how}, {in_words}", amount)
    return amount


def referral_borne(case: Case, commission: Money, working: Working) -> Borne:
    """Give the referral fee by who bears it, of the price or of the commission before any making up."""
    referral = case.referral
    if referral is None:
        return Borne(Money.zero(case.currency), Money.zero(case.currency))
    if referral.rate is None:
        fee = referral.fixed if referral.fixed is not None else Money.zero(case.currency)
        how = working.say(N_("fixed"))
    elif referral.of is ReferralOf.COMMISSION:
        fee = commission.times(referral.rate)
        how = working.say(N_("{rate} of the commission {of}"), rate=referral.rate, of=commission)
    else:
        fee = case.price.times(referral.rate)
        how = working.say(N_("{rate} of the price {of}"), rate=referral.rate, of=case.price)
    borne = borne_by(fee, referral.borne_by)
    in_words = _(BORNE_IN_WORDS[referral.borne_by])
    working.tell(working.say(N_("Referral fee")), f"{how}, {in_words}", fee)
    if borne.owner:
        working.tell(
            working.say(N_("Owner's part of the referral")), in_words, borne.owner, figure="referral_owner"
        )
    if borne.shop:
        working.tell(
            working.say(N_("Shop's part of the referral")), in_words, borne.shop, figure="referral_shop"
        )
    return borne
