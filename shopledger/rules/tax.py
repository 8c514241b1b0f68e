"""The arithmetic of taxes on a sale: added to the price, charged on the commission, or contained in a margin.

Rates are handed in; none is known here. Nothing in this module is advice: what is taxed, at what rate and by
whom differs by place and changes, and is for the local authority or an accountant to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_


def sales_tax(taxable: Money, rate: Fraction, *, exempt: bool = False) -> Money:
    """Give the tax added to what the buyer pays, rounded once; nothing where the sale is exempt.

    Source: rounding after the Streamlined Sales and Use Tax Agreement, section 324.
    """
    return Money.zero(taxable.currency) if exempt else taxable.times(rate)


def combined_rate(rates: Sequence[Fraction]) -> Fraction:
    """Give the one rate of several authorities, so that their tax is rounded once.

    Source: Streamlined Sales and Use Tax Agreement, section 324 (state and local rates are aggregated).
    """
    return sum(rates, Fraction(0))


def tax_by_item(amounts: Sequence[Money], rate: Fraction, currency: str) -> Money:
    """Give the tax of an invoice on the item basis: each line's tax is rounded, then summed."""
    return total([amount.times(rate) for amount in amounts], currency)


def tax_by_invoice(amounts: Sequence[Money], rate: Fraction, currency: str) -> Money:
    """Give the tax of an invoice on the invoice basis: the lines are summed, then the tax is rounded once."""
    return total(amounts, currency).times(rate)


def share_within(rate: Fraction) -> Fraction:
    """Give which share of an amount that contains a tax is the tax: 20% gives 1/6."""
    return rate / (1 + rate)


def vat_on_commission(commission: Money, rate: Fraction) -> Money:
    """Give the VAT charged to the owner on top of the commission of a disclosed agent."""
    return commission.times(rate)


def margin_vat(margin: Money, rate: Fraction) -> Money:
    """Give the VAT contained in a margin under a second-hand margin scheme; a loss bears none.

    Units:   the margin is the commission of an agent, or sale price less purchase price of an own instrument.
    Source:  HMRC VAT Notice 718 (a sixth of the margin at 20 %).
    """
    if margin.minor <= 0:
        return Money.zero(margin.currency)
    return margin.times(share_within(rate))


def margin_vat_on_own(bought: Money, sold: Money, rate: Fraction) -> Money:
    """Give the margin scheme's VAT on an instrument of the shop's own, bought and sold at these prices."""
    return margin_vat(sold - bought, rate)


@dataclass(frozen=True, slots=True)
class SellersBase:
    """On what amount the shop would reckon sales tax, with a note for the reader where there is one."""

    amount: Money
    note: str = ""


def sellers_base(price: Money, *, passes_title_unasked: bool) -> SellersBase:
    """Give the base of sales tax by who counts as the seller of a consigned instrument.

    A shop that may pass title without asking the owner counts as the seller and taxes the price; where the
    owner must approve each sale, the owner does. Places differ: this is a proposal to be asked about, never a
    decision.

    Source: California Regulation 1569 and annotation 185.0010.
    """
    if passes_title_unasked:
        return SellersBase(price)
    return SellersBase(
        Money.zero(price.currency),
        N_(
            "Where the owner approves each sale, the owner may count as the seller. Rules for marketplaces may make "
            "the shop liable all the same: ask the tax authority or an accountant."
        ),
    )
