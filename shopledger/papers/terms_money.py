"""The clauses of an agreement about money: price, commission, discount, costs, referral, lowest net, payment."""

from __future__ import annotations

from fractions import Fraction

from shopledger.papers.parts import CommissionFacts, CostTermFacts, TermsFacts
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_money, show_rate
from shopledger.quantities.words import N_, _, count_words


def commission_words(terms: TermsFacts, manners: Manners = PLAIN) -> tuple[str, ...]:
    """Give the sentences on the commission: the rule, its bounds, VAT on top."""
    rule = terms.commission
    if rule.net_to_owner is not None:
        says = _net_words(rule, rule.net_to_owner, manners)
    else:
        says = [_rule_words(terms, manners)]
        if rule.least is not None and rule.most is not None:
            says.append(
                _("It is at least {least} and at most {most}.").format(
                    least=show_money(rule.least, manners), most=show_money(rule.most, manners)
                )
            )
        elif rule.least is not None:
            says.append(_("It is at least {least}.").format(least=show_money(rule.least, manners)))
        elif rule.most is not None:
            says.append(_("It is at most {most}.").format(most=show_money(rule.most, manners)))
    if terms.vat_on_commission is not None:
        rate = show_rate(terms.vat_on_commission, manners)
        says.append(
            _("VAT of {rate} on the commission is charged to the owner on top of it.").format(rate=rate)
        )
    return tuple(says)


def _base_words(terms: TermsFacts) -> str:
    """Give the words for what the commission is reckoned on."""
    before = any(cost.before_commission for cost in terms.costs)
    if terms.discount_borne_by == "as_it_falls":
        base = _("the price the buyer agrees to, before any sales tax")
    else:
        base = _("the asking price, or of the price where that is higher")
    return _("{base}, less the costs that come off before commission").format(base=base) if before else base


def _rule_words(terms: TermsFacts, manners: Manners) -> str:
    """Give the sentence of a rate, a scale or a fixed amount."""
    rule = terms.commission
    if rule.fixed is not None:
        return _("The shop\u2019s commission is {amount}, whatever the price.").format(
            amount=show_money(rule.fixed, manners)
        )
    if rule.rate is not None:
        return _("The shop\u2019s commission is {rate} of {base}.").format(
            rate=show_rate(rule.rate, manners), base=_base_words(terms)
        )
    slices = []
    below: Money | None = None
    for bracket in rule.brackets:
        slices.append(_slice_words(bracket.rate, below, bracket.up_to, manners))
        below = bracket.up_to
    return _(
        "The shop\u2019s commission is reckoned slice by slice of {base}: {slices}. The slices are added up."
    ).format(base=_base_words(terms), slices="; ".join(slices))


def _slice_words(rate: Fraction, below: Money | None, up_to: Money | None, manners: Manners) -> str:
    """Give the words of one slice of a scale."""
    shown = show_rate(rate, manners)
    if below is None and up_to is None:
        return _("{rate} of all of it").format(rate=shown)
    if below is None and up_to is not None:
        return _("{rate} of the first {to}").format(rate=shown, to=show_money(up_to, manners))
    if up_to is None and below is not None:
        return _("{rate} of what lies above {start}").format(rate=shown, start=show_amount(below, manners))
    if below is not None and up_to is not None:
        return _("{rate} of what lies between {start} and {to}").format(
            rate=shown, start=show_amount(below, manners), to=show_amount(up_to, manners)
        )
    return shown


def _net_words(rule: CommissionFacts, net: Money, manners: Manners) -> list[str]:
    """Give the sentences of a promised net."""
    says = [
        _(
            "The owner is promised {net}. What the price brings above that is the shop\u2019s commission "
            "and any VAT on it."
        ).format(net=show_money(net, manners))
    ]
    if rule.most is not None:
        says.append(
            _("The commission is at most {most}; the rest is the owner\u2019s.").format(
                most=show_money(rule.most, manners)
            )
        )
    says.append(
        _(
            "A sale that brings less than the promised net is not made. The owner\u2019s costs that come "
            "off after "
            "commission, and the owner\u2019s part of a referral fee, still come off the promised net. "
            "Account sales shows the price "
            "all the same."
        )
    )
    return says


def price_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the asking price, how it may change, and whether each sale needs a yes."""
    says = [_("The asking price is {asking}.").format(asking=show_money(terms.asking, manners))]
    if terms.asking_not_below is None:
        says.append(_("It changes only with the owner\u2019s consent, which the shop records."))
    else:
        says.append(
            _(
                "The shop may lower it to no less than {least} without asking; any other change needs the "
                "owner\u2019s "
                "consent, which the shop records."
            ).format(least=show_money(terms.asking_not_below, manners))
        )
    if terms.owner_approves_each_sale:
        says.append(_("The shop asks the owner before each sale and sells only with the owner\u2019s yes."))
    return [" ".join(says)]


def commission_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the commission."""
    return [" ".join(commission_words(terms, manners))]


def discount_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say who bears a discount."""
    if terms.discount_borne_by == "owner":
        return [
            _("A discount is the owner\u2019s: the commission is reckoned on the asking price all the same.")
        ]
    if terms.discount_borne_by == "shop":
        return [
            _(
                "A discount is the shop\u2019s: the commission is reckoned on the asking price, and the "
                "discount comes "
                "off the commission. A discount larger than the commission is not given."
            )
        ]
    return [
        _("A discount lowers the price, and with it what commission is reckoned on. It is borne as it falls.")
    ]


BEARERS = {
    "owner": N_("borne by the owner"),
    "shop": N_("borne by the shop"),
    "both": N_("borne half by each, an odd cent by the shop"),
}


def _cost_words(cost: CostTermFacts, manners: Manners) -> str:
    """Give one cost as a line."""
    if cost.amount is not None:
        size = show_money(cost.amount, manners)
    elif cost.rate is not None:
        size = (
            _("{rate} of what the buyer pays") if cost.rate_of == "buyer_pays" else _("{rate} of the price")
        ).format(rate=show_rate(cost.rate, manners))
    else:
        size = _("at what it costs")
    bearer = _(BEARERS[cost.borne_by])
    line = _("{what}: {size}, {bearer}").format(what=cost.what, size=size, bearer=bearer)
    if cost.before_commission:
        return _("{line}; it comes off before commission is reckoned.").format(line=line)
    return f"{line}."


def costs_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the costs foreseen, freight, and what holds for others."""
    says = [_cost_words(cost, manners) for cost in terms.costs]
    says.append(_("Freight: at what it costs, {bearer}.").format(bearer=_(BEARERS[terms.freight_borne_by])))
    says.append(
        _(
            "Any other cost is the owner\u2019s only with the owner\u2019s consent beforehand, which the "
            "shop records."
        )
    )
    return says


def referral_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say how a referral is told and who pays it."""
    told = _(
        "Where a third person is paid for bringing the two sides together, the shop tells buyer and owner "
        "before the sale."
    )
    if not terms.referral_borne_by:
        return [
            f"{told} {_('The shop bears the fee unless the owner agrees in writing to bear a part of it.')}"
        ]
    bearer = _("The fee is {bearer}.").format(bearer=_(BEARERS[terms.referral_borne_by]))
    return [f"{told} {bearer}"]


def floor_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the lowest net to owner."""
    if terms.floor is None:
        return [_("No lowest net is agreed.")]
    return [
        _(
            "After everything that comes off, the owner is to have at least {floor}. A sale that would "
            "leave less is "
            "made only with the owner\u2019s consent, which the shop records, or if the shop gives up as "
            "much of its commission as it "
            "takes."
        ).format(floor=show_money(terms.floor, manners))
    ]


def payment_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say when the owner is paid."""
    if terms.pay_owner == "as_money_clears":
        when = _("The owner is paid as the buyer\u2019s money clears, in proportion to it.")
    else:
        when = _("The owner is paid once the buyer has paid in full and the money has cleared.")
    says = [when]
    if terms.approval_days:
        says.append(
            count_words(
                "A buyer may return the instrument within {n} day; nothing is paid out before that time is "
                "over.",
                "A buyer may return the instrument within {n} days; nothing is paid out before that time is "
                "over.",
                terms.approval_days,
            )
        )
    if terms.pay_within_days:
        says.append(
            count_words(
                "The shop then pays within {n} day.",
                "The shop then pays within {n} days.",
                terms.pay_within_days,
            )
        )
    says.append(_("Until then it holds the money for the owner and uses it for no one else."))
    return [" ".join(says)]
