"""What a bill for work comes to: discount and tax over its lines, bringing it down to what was approved, who bears it.

Nothing here is advice: what of a repair is taxed, and how far work may exceed what was approved, differs by place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.money import Money, share_out, total
from shopledger.quantities.words import N_
from shopledger.rules.bearing import borne_by
from shopledger.rules.terms import Bearer, OwnerShare


@dataclass(frozen=True, slots=True)
class WorkAmount:
    """What one line of a bill is before discount and tax, and whether it is taxed."""

    amount: Money
    is_taxed: bool


@dataclass(frozen=True, slots=True)
class Billed:
    """What a bill comes to.

    Shape:  `nets` and `taxes` are by line and add up to `net` and `tax`; `discount` came off the lines before tax.
    """

    nets: tuple[Money, ...]
    taxes: tuple[Money, ...]
    net: Money
    tax: Money
    discount: Money

    @property
    def total(self) -> Money:
        """What is to be paid."""
        return self.net + self.tax


def reckon_bill(
    lines: Sequence[WorkAmount], discount: Money, rate: Fraction | None, *, by_invoice: bool
) -> Billed:
    """Give what a bill comes to: the discount falls on all lines by their amounts, then the taxed ones are taxed.

    Units:   minor units of one currency; the rate is an exact fraction of 1, None where no tax is charged.
    Shape:   by item each line's tax is rounded for itself; by invoice the tax of the sum is rounded once and divided
             over the taxed lines by largest remainder.
    Raises:  Typed: a line or the discount is below nothing, or the discount exceeds the lines.
    Source:  Streamlined Sales and Use Tax Agreement, section 324 (the seller chooses item or invoice basis).
    """
    currency = discount.currency
    for n, line in enumerate(lines):
        if line.amount.minor < 0:
            raise Typed(
                N_("A line can't be below nothing: give a discount instead."), field=f"lines[{n}].amount"
            )
    together = total([line.amount for line in lines], currency)
    if not 0 <= discount.minor <= together.minor:
        raise Typed(
            N_("The discount is from nothing up to the lines, which come to {together}."),
            field="discount",
            together=together,
        )
    off = discount.shared([line.amount.minor for line in lines]) if discount else ()
    nets = tuple(line.amount - part for line, part in zip(lines, off, strict=True)) if off else ()
    nets = nets or tuple(line.amount for line in lines)
    taxes = _taxes(nets, [line.is_taxed for line in lines], rate, currency, by_invoice=by_invoice)
    return Billed(nets, taxes, together - discount, total(taxes, currency), discount)


def _taxes(
    nets: Sequence[Money], taxed: Sequence[bool], rate: Fraction | None, currency: str, *, by_invoice: bool
) -> tuple[Money, ...]:
    zero = Money.zero(currency)
    bases = [
        net if is_taxed and rate is not None else zero for net, is_taxed in zip(nets, taxed, strict=True)
    ]
    if rate is None or not any(bases):
        return tuple(zero for _net in nets)
    if by_invoice:
        return total(bases, currency).times(rate).shared([base.minor for base in bases])
    return tuple(base.times(rate) for base in bases)


def taxes_beside(
    work: Billed,
    taxed: Sequence[bool],
    goods: Sequence[WorkAmount],
    rate: Fraction | None,
    *,
    by_invoice: bool,
) -> tuple[Money, ...]:
    """Give the tax of each of the goods that stand on the invoice of work.

    Shape:   by invoice the sum of work and goods is taxed and rounded once; what of it is not the work's falls on
             the goods by largest remainder, so that a bill for work is the same with goods beside it or without.
    """
    zero = Money.zero(work.net.currency)
    bases = [line.amount if line.is_taxed and rate is not None else zero for line in goods]
    if rate is None or not any(bases):
        return tuple(zero for _line in goods)
    if not by_invoice:
        return tuple(base.times(rate) for base in bases)
    whole = total([net for net, is_taxed in zip(work.nets, taxed, strict=True) if is_taxed], zero.currency)
    whole += total(bases, zero.currency)
    return (whole.times(rate) - work.tax).shared([base.minor for base in bases])


def brought_down(
    lines: Sequence[WorkAmount], discount: Money, rate: Fraction | None, up_to: Money, *, by_invoice: bool
) -> Billed:
    """Give the bill with just so much more taken off that its total is no more than an amount.

    Shape:  a bill that is within the amount is given as it is; one that isn't comes to the amount, or to the most
            below it that can be had with whole units of tax.
    Raises: as `reckon_bill`.
    """

    def bill(off: int) -> Billed:
        return reckon_bill(lines, Money(off, discount.currency), rate, by_invoice=by_invoice)

    asked = bill(discount.minor)
    if asked.total <= up_to:
        return asked
    fits = discount.minor + asked.net.minor  # with all of it off nothing is left to pay
    exceeds = discount.minor
    while fits - exceeds > 1:
        middle = (fits + exceeds) // 2
        if bill(middle).total <= up_to:
            fits = middle
        else:
            exceeds = middle
    return bill(fits)


def most_allowed(approved: Money, excess: Fraction) -> Money:
    """Give up to what may be billed where an excess over the approved amount is allowed; a part of a unit is not.

    Source:  several statutes on repairs let a bill exceed the estimate by a tenth; none is about instruments.
    """
    exact = approved.minor * (1 + excess)
    return Money(exact.numerator // exact.denominator, approved.currency)


@dataclass(frozen=True, slots=True)
class RepairShare:
    """What one owner bears of a repair: net and tax."""

    name: str
    net: Money
    tax: Money

    @property
    def amount(self) -> Money:
        """What the owner is charged with."""
        return self.net + self.tax


def repair_shares(
    net: Money, tax: Money, bearer: Bearer, owners: Sequence[OwnerShare]
) -> tuple[RepairShare, ...]:
    """Give what each owner bears of a repair, as the agreement says; what is in no share is the shop's.

    Of halves the odd unit is the shop's; owners bear theirs by shares, largest remainder, net and tax each for itself.
    """
    whole = borne_by(net + tax, bearer).owner
    owners_net = borne_by(net, bearer).owner
    shares = [owner.share for owner in owners]
    if not shares:
        return ()
    nets = share_out(owners_net.minor, shares)
    taxes = share_out((whole - owners_net).minor, shares)
    return tuple(
        RepairShare(owner.name, Money(part, net.currency), Money(taxed, net.currency))
        for owner, part, taxed in zip(owners, nets, taxes, strict=True)
    )
