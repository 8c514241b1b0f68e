"""The terms of an agreement in plain words, clause by clause, as the paper and the window both say them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from shopledger.papers.parts import ChargeTermFacts, CommissionFacts, CostTermFacts, TermsFacts
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day, show_money, show_rate
from shopledger.quantities.words import N_, _, count_words


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause: its heading and its sentences, a paragraph each."""

    head: str
    says: tuple[str, ...]


def clauses_of(terms: TermsFacts, manners: Manners = PLAIN) -> tuple[Clause, ...]:
    """Give all clauses of an agreement in the order they are read."""
    return tuple(
        Clause(_(head), tuple(sentence for sentence in says(terms, manners) if sentence))
        for head, says in _CLAUSES
    )


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


def _price_clause(terms: TermsFacts, manners: Manners) -> list[str]:
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


def _commission_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the commission."""
    return [" ".join(commission_words(terms, manners))]


def _discount_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
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


_BEARERS = {
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
    bearer = _(_BEARERS[cost.borne_by])
    line = _("{what}: {size}, {bearer}").format(what=cost.what, size=size, bearer=bearer)
    if cost.before_commission:
        return _("{line}; it comes off before commission is reckoned.").format(line=line)
    return f"{line}."


def _costs_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the costs foreseen, freight, and what holds for others."""
    says = [_cost_words(cost, manners) for cost in terms.costs]
    says.append(_("Freight: at what it costs, {bearer}.").format(bearer=_(_BEARERS[terms.freight_borne_by])))
    says.append(
        _(
            "Any other cost is the owner\u2019s only with the owner\u2019s consent beforehand, which the "
            "shop records."
        )
    )
    return says


def _referral_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say how a referral is told and who pays it."""
    told = _(
        "Where a third person is paid for bringing the two sides together, the shop tells buyer and owner "
        "before the sale."
    )
    if not terms.referral_borne_by:
        return [
            f"{told} {_('The shop bears the fee unless the owner agrees in writing to bear a part of it.')}"
        ]
    bearer = _("The fee is {bearer}.").format(bearer=_(_BEARERS[terms.referral_borne_by]))
    return [f"{told} {bearer}"]


def _floor_clause(terms: TermsFacts, manners: Manners) -> list[str]:
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


def _term_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say from when to when, how it is renewed, how either side ends it."""
    says = [
        _(
            "This agreement runs from {start} to {end}. It does not renew by itself: both sides sign a "
            "renewal."
        ).format(start=show_day(terms.begins_on, manners), end=show_day(terms.ends_on, manners))
    ]
    if terms.notice_days:
        says.append(
            count_words(
                "Either side may end it earlier by telling the other in writing {n} day before.",
                "Either side may end it earlier by telling the other in writing {n} days before.",
                terms.notice_days,
            )
        )
    else:
        says.append(_("Either side may end it earlier, at any time, by telling the other in writing."))
    return [" ".join(says)]


def _insurance_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say who insures it and for how much."""
    if terms.insured_by == "nobody":
        says = [_("The instrument is not insured while it is with the shop; the risk is the owner\u2019s.")]
    elif terms.insured_by == "shop":
        says = [_("The shop insures the instrument while it is with the shop.")]
    else:
        says = [_("The owner insures the instrument, also while it is with the shop.")]
    if terms.agreed_value is not None:
        says.append(_("Its agreed value is {value}.").format(value=show_money(terms.agreed_value, manners)))
    if terms.insurance_note:
        says.append(terms.insurance_note)
    return [" ".join(says)]


def _trial_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say whether players may take it on trial."""
    if not terms.trials_allowed:
        return [_("The instrument does not leave the shop on trial.")]
    lend = (
        count_words(
            "The shop may lend it to players on trial, for {n} day at a time, against a signed receipt.",
            "The shop may lend it to players on trial, for up to {n} days at a time, against a signed "
            "receipt.",
            terms.trial_days,
        )
        if terms.trial_days
        else _("The shop may lend it to players on trial, against a signed receipt.")
    )
    return [f"{lend} {_('It stays the owner’s property all the while.')}"]


def _repair_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say which repairs may be done unasked, who bears them, and what is set off."""
    if not terms.repairs_allowed:
        first = _("The shop repairs nothing without the owner\u2019s consent, which it records.")
    elif terms.repairs_up_to is None:
        first = _("The shop may repair and adjust it, and asks before each repair.")
    else:
        first = _(
            "The shop may repair and adjust it for up to {limit} without asking; above that it asks first."
        ).format(limit=show_money(terms.repairs_up_to, manners))
    bearer = _("Repairs are {bearer}.").format(bearer=_(_BEARERS[terms.repairs_borne_by]))
    set_off = (
        _("What the owner owes the shop is set off against what the owner is paid.")
        if terms.set_off
        else _(
            "What the owner owes the shop is billed on its own and not set off against what the owner is "
            "paid."
        )
    )
    return [f"{first} {bearer} {set_off}"]


def _dealer_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say whether it may go on to another dealer."""
    if not terms.dealers_allowed:
        return [_("The shop does not pass the instrument on to another dealer.")]
    if terms.other_dealer_share is None:
        return [_("The shop may pass it on to another dealer to sell. That costs the owner nothing more.")]
    return [
        _(
            "The shop may pass it on to another dealer to sell, who has {share} of the shop\u2019s "
            "commission. That costs "
            "the owner nothing more."
        ).format(share=show_rate(terms.other_dealer_share, manners))
    ]


def _payment_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
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


def _failed_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say what happens when a sale is undone or a deposit is forfeited."""
    undone = _(
        "A sale that is undone is reversed in full. Costs really spent on it are {bearer}. What the owner "
        "was paid for it comes back."
    ).format(bearer=_(_BEARERS[terms.failed_sale_costs_by]))
    to_owner, to_shop = terms.deposit_to_owner or Fraction(0), terms.deposit_to_shop or Fraction(0)
    if not to_owner and not to_shop:
        deposit = _("A deposit on a sale that is not made is refunded to the buyer.")
    else:
        deposit = _("Of a deposit that a buyer forfeits the owner has {owner} and the shop {shop}.").format(
            owner=show_rate(to_owner, manners), shop=show_rate(to_shop, manners)
        )
        if to_owner + to_shop < 1:
            deposit = f"{deposit} {_('The rest goes back to the buyer.')}"
    return [undone, deposit]


_CHARGES = {
    "withdrawal": N_("For taking it back before the term is over"),
    "storage": N_("For storage"),
    "insurance": N_("For insurance"),
    "valuation": N_("For a valuation"),
}
_PER = {"once": N_("{size}, once"), "month": N_("{size} a month"), "year": N_("{size} a year")}


def _charge_words(charge: ChargeTermFacts, manners: Manners) -> str:
    """Give one charge without a sale as a line."""
    if charge.amount is not None:
        size = show_money(charge.amount, manners)
    elif charge.rate is not None:
        size = _("{rate} of the asking price").format(rate=show_rate(charge.rate, manners))
    else:
        size = _("at what it costs")
    line = f"{_(_CHARGES[charge.what])}: {_(_PER[charge.per]).format(size=size)}"
    if charge.after_days:
        after = count_words(
            "from {n} day after taking in", "from {n} days after taking in", charge.after_days
        )
        return f"{line}, {after}."
    return f"{line}."


def _charges_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say the charges without a sale."""
    return [_charge_words(charge, manners) for charge in terms.charges] or [
        _("The shop charges nothing for taking back, storage, insurance or valuation.")
    ]


def _private_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say what a sale by the owner means."""
    if not terms.private_sale_commission:
        return [_("If the owner sells the instrument without the shop, no commission is due.")]
    if terms.tail_days:
        return [
            count_words(
                "If the owner sells the instrument without the shop within the term or {n} day after it, "
                "the commission is due on "
                "the proved price.",
                "If the owner sells the instrument without the shop within the term or {n} days after it, "
                "the commission is due on "
                "the proved price.",
                terms.tail_days,
            )
        ]
    return [
        _(
            "If the owner sells the instrument without the shop within the term, the commission is due on "
            "the proved price."
        )
    ]


def _loss_clause(terms: TermsFacts, manners: Manners) -> list[str]:
    """Say what is held for the owner after a loss."""
    value = (
        _("its agreed value")
        if terms.agreed_value is None
        else _("the agreed value of {value}").format(value=show_money(terms.agreed_value, manners))
    )
    held = _(
        "If the instrument is lost or destroyed while it is with the shop, the shop holds {value} for the "
        "owner."
    ).format(value=value)
    commission = (
        _("Its commission comes off that.") if terms.loss_commission else _("No commission comes off that.")
    )
    excess = (
        _("An excess that the insurer keeps is the owner\u2019s.")
        if terms.excess_borne_by == "owner"
        else _("An excess that the insurer keeps is the shop\u2019s.")
    )
    return [f"{held} {commission} {excess}"]


def _bill_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Say who signs the bill of sale."""
    if terms.bill_signed_by == "owner":
        return [_("The owner signs the bill of sale.")]
    return [_("The shop signs the bill of sale for the owner, as the owner\u2019s agent.")]


def _further_clause(terms: TermsFacts, _manners: Manners) -> list[str]:
    """Give what else was agreed, in the words it was agreed in."""
    return list(terms.further_words)


_CLAUSES: tuple[tuple[str, Callable[[TermsFacts, Manners], list[str]]], ...] = (
    (N_("Asking price"), _price_clause),
    (N_("Commission"), _commission_clause),
    (N_("Discount"), _discount_clause),
    (N_("Costs"), _costs_clause),
    (N_("Referral"), _referral_clause),
    (N_("Lowest net to owner"), _floor_clause),
    (N_("When the owner is paid"), _payment_clause),
    (N_("Term and ending"), _term_clause),
    (N_("Insurance"), _insurance_clause),
    (N_("Trials"), _trial_clause),
    (N_("Repairs"), _repair_clause),
    (N_("Other dealers"), _dealer_clause),
    (N_("Charges without a sale"), _charges_clause),
    (N_("Sale by the owner"), _private_clause),
    (N_("A sale undone"), _failed_clause),
    (N_("Loss"), _loss_clause),
    (N_("Bill of sale"), _bill_clause),
    (N_("Further"), _further_clause),
)
