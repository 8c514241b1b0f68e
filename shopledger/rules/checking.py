"""Whether the facts of a case fit together: each refusal that needs no reckoning, for form and file alike.

Each refusal names its field as the written form does (`terms.commission.brackets[1].up_to`), says what is
wrong and what would be right.
"""

from __future__ import annotations

from fractions import Fraction

from shopledger.quantities import currencies
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money, round_half_away
from shopledger.quantities.showing import show_rate
from shopledger.quantities.words import N_, _
from shopledger.rules.terms import (
    Bearer,
    Bracket,
    Case,
    CommissionBrackets,
    CommissionFixed,
    CommissionRate,
    Cost,
    CostOf,
    DiscountBorneBy,
    NetToOwner,
    OwnerShare,
    Referral,
    ReferralOf,
    Scheme,
    Tax,
    Terms,
)


def check(case: Case) -> None:
    """Refuse a case whose facts can't stand together.

    Raises:  Typed where a value can't be so; Refused where two facts exclude each other. Both name the field.
    """
    currencies.minor_units(case.currency, field="currency")
    _check_currency(case.price, case.currency, "price")
    if case.price.minor <= 0:
        raise Typed(
            N_("A price of {price} is no sale. Write a price above zero."), field="price", price=case.price
        )
    _check_amount(case.asking, case.currency, "asking")
    check_terms(case.terms, case.currency)
    for n, cost in enumerate(case.costs):
        _check_cost(cost, case.currency, f"costs[{n}]")
    if case.referral is not None:
        _check_referral(case.referral, case.currency)
    _check_tax(case.tax, case.currency)
    if case.owners is not None:
        check_shares(case.owners)
    _check_amount(case.paid, case.currency, "paid")


def check_terms(terms: Terms, currency: str) -> None:
    """Refuse terms that contradict themselves, whatever the price will be."""
    _check_commission(terms, currency)
    _check_amount(terms.least, currency, "terms.least")
    _check_amount(terms.most, currency, "terms.most")
    _check_amount(terms.floor, currency, "terms.floor")
    if terms.least is not None and terms.most is not None and terms.least > terms.most:
        raise Refused(
            N_(
                "The least commission, {least}, is above the most, {most}. Lower the least or raise the most."
            ),
            field="terms.least",
            least=terms.least,
            most=terms.most,
        )
    if not isinstance(terms.commission, NetToOwner):
        return
    if terms.least is not None:
        raise Refused(
            N_("A least commission doesn't go with a net promised to the owner. Leave one of them out."),
            field="terms.least",
        )
    if terms.discount_borne_by is not DiscountBorneBy.AS_IT_FALLS:
        raise Refused(
            N_("With a net promised to the owner, no side bears a discount. Write {right}."),
            field="terms.discount_borne_by",
            right=DiscountBorneBy.AS_IT_FALLS.value,
        )


def check_shares(owners: tuple[OwnerShare, ...]) -> None:
    """Refuse owners whose shares don't sum to exactly one."""
    for n, owner in enumerate(owners):
        _check_rate(owner.share, f"owners[{n}].share")
    together = sum((owner.share for owner in owners), Fraction(0))
    if together != 1:
        raise Refused(
            N_("The shares sum to {together}, not to exactly 1. Change a share, or write thirds as 1/3."),
            field="owners",
            together=_in_words(together),
        )


def _in_words(together: Fraction) -> str:
    """Give a sum of shares short enough to read: the fraction, or nearly how many in a hundred."""
    if together.denominator < 10**6:
        return str(together)
    return _("nearly {rate}").format(rate=show_rate(Fraction(round_half_away(together * 10**6), 10**6)))


def _check_amount(amount: Money | None, currency: str, field: str) -> None:
    """Refuse an amount of another currency or below zero."""
    if amount is None:
        return
    _check_currency(amount, currency, field)
    if amount.minor < 0:
        raise Typed(
            N_("{amount} is below zero. Write an amount of zero or more."), field=field, amount=amount
        )


def _check_currency(amount: Money, currency: str, field: str) -> None:
    """Refuse an amount of another currency than the sale's."""
    if amount.currency != currency:
        raise Typed(
            N_("The amount is in {other}, but the sale is in {currency}. Write all amounts in {currency}."),
            field=field,
            other=amount.currency,
            currency=currency,
        )


def _check_rate(rate: Fraction, field: str) -> None:
    """Refuse a rate below 0 or above 100%."""
    if not 0 <= rate <= 1:
        raise Typed(N_("{rate} is out of bounds. A rate is from 0% to 100%."), field=field, rate=rate)


def _check_commission(terms: Terms, currency: str) -> None:
    """Refuse a commission rule whose figures can't be."""
    match terms.commission:
        case CommissionRate(rate):
            _check_rate(rate, "terms.commission.rate")
        case CommissionBrackets(brackets):
            _check_brackets(brackets, currency)
        case CommissionFixed(amount):
            _check_amount(amount, currency, "terms.commission.fixed")
        case NetToOwner(net):
            _check_amount(net, currency, "terms.commission.net_to_owner")


def _check_brackets(brackets: tuple[Bracket, ...], currency: str) -> None:
    """Refuse brackets whose bounds don't rise, or that don't end with the one open bracket."""
    path = "terms.commission.brackets"
    if not brackets:
        raise Typed(N_("There is no bracket. Write at least one; the last has no up_to."), field=path)
    below = Money.zero(currency)
    for n, bracket in enumerate(brackets):
        _check_rate(bracket.rate, f"{path}[{n}].rate")
        _check_amount(bracket.up_to, currency, f"{path}[{n}].up_to")
        is_last = n == len(brackets) - 1
        if bracket.up_to is None:
            if is_last:
                return
            raise Typed(
                N_("A bracket without up_to must be the last. Write its bound, or move it to the end."),
                field=f"{path}[{n}].up_to",
            )
        if is_last:
            raise Typed(
                N_("The last bracket must be open. Leave its up_to out, or add a bracket with only a rate."),
                field=f"{path}[{n}].up_to",
            )
        if bracket.up_to <= below:
            raise Typed(
                N_("The bounds must rise: {bound} is not above {below}. Write a higher bound."),
                field=f"{path}[{n}].up_to",
                bound=bracket.up_to,
                below=below,
            )
        below = bracket.up_to


def _check_cost(cost: Cost, currency: str, path: str) -> None:
    """Refuse a cost that is no cost, is two, or is before commission and not the owner's."""
    _check_amount(cost.amount, currency, f"{path}.amount")
    if cost.rate is not None:
        _check_rate(cost.rate, f"{path}.rate")
    if cost.amount is None and cost.rate is None:
        raise Typed(N_("The cost has no amount. Write an amount or a rate."), field=f"{path}.amount")
    if cost.before_commission:
        if cost.rate is not None:
            raise Typed(
                N_("A cost before commission is an amount, not a rate. Write its amount."),
                field=f"{path}.rate",
            )
        if cost.borne_by is not Bearer.OWNER:
            raise Refused(
                N_("A cost before commission is the owner's. Write owner, or take it after commission."),
                field=f"{path}.borne_by",
            )
    if cost.amount is not None and cost.rate is not None:
        raise Typed(
            N_("The cost has both an amount and a rate. Leave one of them out."), field=f"{path}.rate"
        )
    if cost.rate is None and cost.of is not CostOf.PRICE:
        raise Typed(
            N_("Only a rate is taken of something; this cost is an amount. Leave it out, or write a rate."),
            field=f"{path}.of",
        )


def _check_referral(referral: Referral, currency: str) -> None:
    """Refuse a referral fee that is none or two."""
    if referral.rate is not None:
        _check_rate(referral.rate, "referral.rate")
    _check_amount(referral.fixed, currency, "referral.fixed")
    if referral.rate is None and referral.fixed is None:
        raise Typed(
            N_("The referral has no fee. Write a rate or a fixed amount, or null for none."),
            field="referral.rate",
        )
    if referral.rate is not None and referral.fixed is not None:
        raise Typed(
            N_("The referral has both a rate and a fixed amount. Leave one of them out."),
            field="referral.fixed",
        )
    if referral.rate is None and referral.of is not ReferralOf.PRICE:
        raise Typed(
            N_("Only a rate is taken of something; this fee is fixed. Leave it out, or write a rate."),
            field="referral.of",
        )


def _check_tax(tax: Tax, currency: str) -> None:
    """Refuse a tax whose figures belong to another scheme or that lacks its rate."""
    if tax.scheme is Scheme.NONE and tax.rate is not None:
        raise Refused(
            N_("Without a tax scheme there is no rate. Leave the rate out, or write the scheme."),
            field="tax.rate",
        )
    if tax.scheme is not Scheme.NONE and tax.rate is None:
        raise Typed(
            N_("The scheme {scheme} needs a rate. Write it, such as 20%."),
            field="tax.rate",
            scheme=tax.scheme.value,
        )
    if tax.rate is not None:
        _check_rate(tax.rate, "tax.rate")
    _check_amount(tax.taxable, currency, "tax.taxable")
    if tax.scheme is Scheme.SALES_TAX:
        return
    if tax.taxable is not None:
        raise Refused(
            N_("Only sales tax has a taxable amount of its own. Leave it out, or write the scheme {right}."),
            field="tax.taxable",
            right=Scheme.SALES_TAX.value,
        )
    if tax.exempt:
        raise Refused(
            N_("Only sales tax knows an exempt sale. Write false, or the scheme {right}."),
            field="tax.exempt",
            right=Scheme.SALES_TAX.value,
        )
