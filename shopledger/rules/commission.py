"""Steps one and two of a reckoning: the base of the commission, and the commission by rule, bounds and discount."""

from __future__ import annotations

from fractions import Fraction
from typing import assert_never

from shopledger.quantities.errors import Refused
from shopledger.quantities.money import Money, round_half_away, total
from shopledger.quantities.words import N_
from shopledger.rules.floor import largest_with_vat
from shopledger.rules.terms import (
    Bracket,
    Case,
    CommissionBrackets,
    CommissionFixed,
    CommissionRate,
    DiscountBorneBy,
    NetToOwner,
    Scheme,
)
from shopledger.rules.working import Working


def vat_rate_of(case: Case) -> Fraction:
    """Give the rate of the VAT charged on the commission, zero under any other scheme."""
    if case.tax.scheme is Scheme.VAT_ON_COMMISSION and case.tax.rate is not None:
        return case.tax.rate
    return Fraction(0)


def costs_before(case: Case) -> Money:
    """Give the sum of the costs that are taken off before commission."""
    return total(
        [c.amount for c in case.costs if c.before_commission and c.amount is not None], case.currency
    )


def base_of(case: Case, working: Working) -> Money:
    """Give what the commission is reckoned of: price or asking price by the terms, less costs before commission.

    Raises:  Refused where those costs exceed it.
    """
    start, name = case.price, N_("price")
    if (
        case.terms.discount_borne_by is not DiscountBorneBy.AS_IT_FALLS
        and case.asking is not None
        and case.asking > case.price
    ):
        start, name = case.asking, N_("asking price")
    before = costs_before(case)
    if before > start:
        raise Refused(
            N_(
                "The costs before commission, {costs}, exceed the {base} they come off. Take some of them after it."
            ),
            field="costs",
            costs=before,
            base=start,
        )
    base = start - before
    if base != case.price:
        formula = working.less((name, start), [(N_("costs before commission"), before)])
        working.tell(working.say(N_("Commission is reckoned of")), formula, base, figure="base")
    return base


def commission_of(case: Case, base: Money, working: Working) -> Money:
    """Give the commission after rule, bounds and a discount that the shop bears.

    Raises:  Refused where the base is below the promised net, the discount above the commission, or the
             commission above what the price leaves.
    """
    terms = case.terms
    how, commission = _by_rule(case, base, working)
    label = working.say(N_("Commission by the rule"))
    trail = [(label, how, commission)]
    label = working.say(N_("Commission within its bounds"))
    if terms.least is not None and commission < terms.least:
        commission = terms.least
        trail.append((label, working.say(N_("raised to the least agreed")), commission))
    if terms.most is not None and commission > terms.most:
        commission = terms.most
        trail.append((label, working.say(N_("lowered to the most agreed")), commission))
    if terms.discount_borne_by is DiscountBorneBy.SHOP and case.discount:
        how, commission = _less_discount(case, commission, working)
        trail.append((label, how, commission))
    left = case.price - costs_before(case)
    if commission > left:
        raise Refused(
            N_(
                "The commission of {commission} is above the {left} that costs before commission leave of the price."
            ),
            field="terms.commission",
            commission=commission,
            left=left,
        )
    for label, how, amount in trail[:-1]:
        working.tell(label, how, amount)
    working.tell(working.say(N_("Commission")), trail[-1][1], commission, figure="commission")
    return commission


def _less_discount(case: Case, commission: Money, working: Working) -> tuple[str, Money]:
    """Give the commission after the discount that comes off it."""
    if case.discount > commission:
        raise Refused(
            N_(
                "The discount of {discount} is above the commission of {commission} that bears it. Raise the price."
            ),
            field="price",
            discount=case.discount,
            commission=commission,
        )
    how = working.less((N_("commission"), commission), [(N_("discount borne by the shop"), case.discount)])
    return how, commission - case.discount


def _by_rule(case: Case, base: Money, working: Working) -> tuple[str, Money]:
    """Give the commission by its rule alone, rounded once, after the words that explain it."""
    rule = case.terms.commission
    match rule:
        case CommissionRate(rate):
            return working.say(N_("{rate} of {base}"), rate=rate, base=base), base.times(rate)
        case CommissionBrackets(brackets):
            return _by_brackets(brackets, base, working)
        case CommissionFixed(amount):
            return working.say(N_("fixed by the agreement")), amount
        case NetToOwner(net):
            return _above_net(case, base, net, working)
        case _:
            assert_never(rule)


def _by_brackets(brackets: tuple[Bracket, ...], base: Money, working: Working) -> tuple[str, Money]:
    """Give the sum of the slices' exact shares, rounded once."""
    exact = Fraction(0)
    said: list[str] = []
    below = 0
    for bracket in brackets:
        bound = base.minor if bracket.up_to is None else min(bracket.up_to.minor, base.minor)
        piece = bound - below
        if piece <= 0:
            break
        exact += piece * bracket.rate
        said.append(working.say(N_("{rate} of {base}"), rate=bracket.rate, base=Money(piece, base.currency)))
        below = bound
    how = " + ".join(said) or working.say(N_("nothing to reckon it of"))
    return how, Money(round_half_away(exact), base.currency)


def _above_net(case: Case, base: Money, net: Money, working: Working) -> tuple[str, Money]:
    """Give the largest commission that leaves the promised net, together with the VAT on it."""
    if base < net:
        raise Refused(
            N_(
                "The {base} to share is below the net of {net} promised to the owner. Raise the price or agree anew."
            ),
            field="terms.commission.net_to_owner",
            base=base,
            net=net,
        )
    vat_rate = vat_rate_of(case)
    room = base - net
    if vat_rate:
        how = working.say(
            N_("the most that fits, with {rate} VAT on it, into {base} \u2212 promised net {net}"),
            rate=vat_rate,
            base=base,
            net=net,
        )
    else:
        how = working.say(N_("{base} \u2212 promised net {net}"), base=base, net=net)
    return how, largest_with_vat(room, vat_rate)
