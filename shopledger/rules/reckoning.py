"""The reckoning: how one sale is split between owner, shop, tax and third persons.

A pure function over frozen facts: the same facts give the same figures on every machine, each with its
working. The order of the computation is costs before commission, commission, costs after it, referral, tax,
the owner's net, the floor, what the shop keeps, what the buyer pays, several owners, and what is due now.
"""

from __future__ import annotations

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.rules import tax as taxes
from shopledger.rules.bearing import Borne, costs_borne, referral_borne
from shopledger.rules.checking import check
from shopledger.rules.commission import base_of, commission_of, vat_rate_of
from shopledger.rules.dividing import among_owners
from shopledger.rules.floor import made_up
from shopledger.rules.split import OwnerAmount, Split, part_cleared
from shopledger.rules.terms import Case, PayOwner, Scheme
from shopledger.rules.working import Working


def reckon(case: Case, manners: Manners = PLAIN) -> Split:
    """Divide one sale between owner, shop, tax and third persons, with the working of every figure.

    Units:   money in minor units of one currency; rates exact fractions of 1; the working is worded in the
             manners.
    Shape:   owner_net + commission + owner_costs + referral_owner + vat_on_commission == price, to the unit.
    Raises:  Typed where a fact can't be so; Refused where facts exclude each other, the costs exceed the
             base, the commission what the price leaves, the discount the commission that bears it, or a
             promised net the base.
    Source:  rounding after Streamlined Sales and Use Tax Agreement, section 324.
    """
    check(case)
    working = Working(manners)
    _tell_price(case, working)
    base = base_of(case, working)
    commission = commission_of(case, base, working)
    sales_tax = _sales_tax(case, working)
    buyer_pays = case.price + sales_tax
    costs = costs_borne(case, buyer_pays, working)
    referral = referral_borne(case, commission, working)
    reduction = _making_up(case, commission, costs.owner + referral.owner, working)
    commission = commission - reduction
    vat, margin_vat = _taxes_on_commission(case, commission, working)
    net = _owner_net(case, commission, costs, referral, vat, working)
    short = _short_of_floor(case, net, working)
    keeps = commission - costs.shop - referral.shop - margin_vat
    working.tell(
        working.say(N_("The shop keeps")),
        working.less(
            (N_("commission"), commission),
            [(N_("costs"), costs.shop), (N_("referral"), referral.shop), (N_("margin VAT"), margin_vat)],
        ),
        keeps,
        figure="shop_keeps",
    )
    working.tell(
        working.say(N_("The buyer pays")),
        working.plus([(N_("price"), case.price), (N_("sales tax"), sales_tax)]),
        buyer_pays,
        figure="buyer_pays",
    )
    owners = _owners(case, net, working)
    due_now = _due_now(case, net, buyer_pays, working)
    split = Split(
        currency=case.currency,
        price=case.price,
        discount=case.discount,
        commission=commission,
        owner_costs=costs.owner,
        shop_costs=costs.shop,
        referral_owner=referral.owner,
        referral_shop=referral.shop,
        sales_tax=sales_tax,
        vat_on_commission=vat,
        margin_vat=margin_vat,
        owner_net=net,
        shop_keeps=keeps,
        buyer_pays=buyer_pays,
        floor_short_by=short,
        made_up=reduction,
        owners=owners,
        due_now=due_now,
        working=working.steps,
    )
    split.prove()
    return split


def _tell_price(case: Case, working: Working) -> None:
    """Tell the price, and the discount where there is one."""
    working.tell(
        working.say(N_("Price")), working.say(N_("agreed with the buyer")), case.price, figure="price"
    )
    if case.discount and case.asking is not None:
        how = working.less((N_("asking price"), case.asking), [(N_("price"), case.price)])
        working.tell(working.say(N_("Discount")), how, case.discount, figure="discount")


def _sales_tax(case: Case, working: Working) -> Money:
    """Give the tax that is added to what the buyer pays."""
    if case.tax.scheme is not Scheme.SALES_TAX or case.tax.rate is None:
        return Money.zero(case.currency)
    taxable = case.price if case.tax.taxable is None else case.tax.taxable
    amount = taxes.sales_tax(taxable, case.tax.rate, exempt=case.tax.exempt)
    if case.tax.exempt:
        reason = case.tax.exempt_reason
        how = working.say(N_("exempt: {reason}"), reason=reason) if reason else working.say(N_("exempt"))
    elif case.tax.taxable is None:
        how = working.say(N_("{rate} of the price {taxable}"), rate=case.tax.rate, taxable=taxable)
    else:
        how = working.say(N_("{rate} of the taxable {taxable}"), rate=case.tax.rate, taxable=taxable)
    working.tell(working.say(N_("Sales tax")), how, amount, figure="sales_tax")
    return amount


def _making_up(case: Case, commission: Money, owner_bears: Money, working: Working) -> Money:
    """Give by how much the commission gives way so that the net meets the floor; nothing where it need not."""
    if not case.make_up or case.terms.floor is None:
        return Money.zero(case.currency)
    room = case.price - owner_bears - case.terms.floor
    reduction = made_up(commission, room, vat_rate_of(case))
    if reduction:
        template = (
            N_("all of the commission, which does not reach a net of {floor}")
            if room.minor < 0
            else N_("as little as gives a net of {floor}")
        )
        working.tell(
            working.say(N_("Made up by the shop")),
            working.say(template, floor=case.terms.floor),
            reduction,
            figure="made_up",
        )
        working.tell(
            working.say(N_("Commission after making up")),
            working.less((N_("commission"), commission), [(N_("made up"), reduction)]),
            commission - reduction,
            figure="commission",
        )
    return reduction


def _taxes_on_commission(case: Case, commission: Money, working: Working) -> tuple[Money, Money]:
    """Give the VAT on top of the commission and the VAT within it; at most one of them is anything."""
    nothing = Money.zero(case.currency)
    rate = case.tax.rate
    if rate is None:
        return nothing, nothing
    if case.tax.scheme is Scheme.VAT_ON_COMMISSION:
        vat = taxes.vat_on_commission(commission, rate)
        how = working.say(N_("{rate} of the commission {of}"), rate=rate, of=commission)
        working.tell(working.say(N_("VAT on the commission")), how, vat, figure="vat_on_commission")
        return vat, nothing
    if case.tax.scheme is Scheme.MARGIN:
        vat = taxes.margin_vat(commission, rate)
        how = working.say(
            N_("{share} of the commission {of}, the {rate} within it"),
            share=taxes.share_within(rate),
            of=commission,
            rate=rate,
        )
        working.tell(working.say(N_("VAT on the margin")), how, vat, figure="margin_vat")
        return nothing, vat
    return nothing, nothing


def _owner_net(
    case: Case, commission: Money, costs: Borne, referral: Borne, vat: Money, working: Working
) -> Money:
    """Give what remains for the owner; it is never rounded on its own."""
    net = case.price - commission - costs.owner - referral.owner - vat
    how = working.less(
        (N_("price"), case.price),
        [
            (N_("commission"), commission),
            (N_("owner's costs"), costs.owner),
            (N_("referral"), referral.owner),
            (N_("VAT on the commission"), vat),
        ],
    )
    if net.minor < 0:
        how = f"{how}: {working.say(N_('the owner owes the shop'))}"
    working.tell(working.say(N_("Owner's net")), how, net, figure="owner_net")
    return net


def _short_of_floor(case: Case, net: Money, working: Working) -> Money:
    """Give by how much the net misses the floor."""
    floor = case.terms.floor
    if floor is None or net >= floor:
        return Money.zero(case.currency)
    short = floor - net
    how = working.less((N_("lowest net agreed"), floor), [(N_("owner's net"), net)])
    working.tell(working.say(N_("Short of the lowest net")), how, short, figure="floor_short_by")
    return short


def _owners(case: Case, net: Money, working: Working) -> tuple[OwnerAmount, ...]:
    """Give each owner's amount; a single owner has the whole net."""
    if case.owners is None:
        return (OwnerAmount("owner", net),)
    owners: list[OwnerAmount] = []
    for owner, amount in zip(case.owners, among_owners(net, case.owners), strict=True):
        owners.append(OwnerAmount(owner.name, amount))
        how = working.say(N_("{share} of the net {net}, by largest remainder"), share=owner.share, net=net)
        working.tell(working.say(N_("To {name}"), name=owner.name), how, amount, figure="owners")
    return tuple(owners)


def _due_now(case: Case, net: Money, buyer_pays: Money, working: Working) -> Money | None:
    """Give what of the net is due to the owner from what has been paid so far; None where that is not told."""
    if case.paid is None:
        return None
    due = Money.zero(case.currency)
    if case.approval_over is False:
        how = working.say(N_("nothing yet: the buyer may still return it"))
    elif net.minor <= 0:
        how = working.say(N_("nothing: the net is not above zero"))
    elif case.paid >= buyer_pays:
        due = net
        how = working.say(N_("the whole net: the buyer has paid in full"))
    elif case.terms.pay_owner is PayOwner.AS_MONEY_CLEARS:
        due = part_cleared(net, case.paid, buyer_pays)
        how = working.say(
            N_("{net} × {paid} paid ÷ {all}, rounded down"), net=net, paid=case.paid, all=buyer_pays
        )
    else:
        how = working.say(N_("{paid} of {all} paid; due when all is"), paid=case.paid, all=buyer_pays)
    working.tell(working.say(N_("Due to the owner now")), how, due, figure="due_now")
    return due
