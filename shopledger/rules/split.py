"""The answer of a reckoning: every figure of one sale's split, with its working, and what can be done with it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from shopledger.quantities.errors import Bug
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.rules.working import Step

FIGURES = (
    "price",
    "discount",
    "commission",
    "owner_costs",
    "shop_costs",
    "referral_owner",
    "referral_shop",
    "sales_tax",
    "vat_on_commission",
    "margin_vat",
    "owner_net",
    "shop_keeps",
    "buyer_pays",
    "floor_short_by",
    "made_up",
)
"""The figures of a split in the order of the written answer."""


@dataclass(frozen=True, slots=True)
class OwnerAmount:
    """What one of the owners gets of the net; below zero where the owner owes the shop."""

    name: str
    amount: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """One sale divided between owner, shop, tax and third persons.

    Units:  money in minor units of one currency.
    Shape:  price = owner_net + commission + owner_costs + referral_owner + vat_on_commission, to the unit;
            `due_now` is None where the case did not say what was paid.
    """

    currency: str
    price: Money
    discount: Money
    commission: Money
    owner_costs: Money
    shop_costs: Money
    referral_owner: Money
    referral_shop: Money
    sales_tax: Money
    vat_on_commission: Money
    margin_vat: Money
    owner_net: Money
    shop_keeps: Money
    buyer_pays: Money
    floor_short_by: Money
    made_up: Money
    owners: tuple[OwnerAmount, ...]
    due_now: Money | None = None
    working: tuple[Step, ...] = ()

    def figures(self) -> dict[str, Money]:
        """Give every figure by its name, in the order of the written answer, without owners and what is due."""
        return {name: getattr(self, name) for name in FIGURES}

    def step_of(self, figure: str) -> Step | None:
        """Give the step that explains a figure; None where nothing lies behind it (no cost, no tax, no fee)."""
        return next((step for step in reversed(self.working) if step.figure == figure), None)

    def mirrored(self) -> Split:
        """Give the reversal of the whole sale: every figure with the other sign, to the unit."""
        return Split(
            currency=self.currency,
            **{name: -amount for name, amount in self.figures().items()},
            owners=tuple(OwnerAmount(each.name, -each.amount) for each in self.owners),
            due_now=None if self.due_now is None else -self.due_now,
            working=tuple(replace(step, amount=-step.amount) for step in self.working),
        )

    def changed_from(self, first: Split) -> dict[str, Money]:
        """Give by how much each figure differs from a first reckoning, for the entry that posts a later change."""
        return {name: amount - getattr(first, name) for name, amount in self.figures().items()}

    def prove(self) -> None:
        """Make sure that nothing was made or lost.

        Raises:  Bug where the parts don't add up to the price, or the owners' amounts to the net.
        """
        parts = (
            self.owner_net + self.commission + self.owner_costs + self.referral_owner + self.vat_on_commission
        )
        shared = sum(each.amount.minor for each in self.owners)
        if parts != self.price or shared != self.owner_net.minor:
            raise Bug(
                N_("The parts of the sale come to {parts}, its price is {price}."),
                parts=parts,
                price=self.price,
            )


def part_cleared(net: Money, paid: Money, buyer_pays: Money) -> Money:
    """Give the owner's net in proportion to what has been paid, rounded down, never below zero."""
    if net.minor <= 0:
        return Money.zero(net.currency)
    if paid >= buyer_pays:
        return net
    exact = Fraction(net.minor * paid.minor, buyer_pays.minor)
    return Money(exact.numerator // exact.denominator, net.currency)
