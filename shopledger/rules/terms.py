"""The facts a sale is split by, as frozen values: the terms agreed, costs, referral, tax, owners, and the whole case.

The words of each choice are those of the written form (`shopledger reckon`), so that the form, the records
and the rules speak of one thing by one name. Whether the facts fit together is told in `rules.checking`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from shopledger.quantities.money import Money


class DiscountBorneBy(StrEnum):
    """Who bears a discount from the asking price."""

    AS_IT_FALLS = "as_it_falls"
    OWNER = "owner"
    SHOP = "shop"


class PayOwner(StrEnum):
    """When the owner is paid."""

    WHEN_PAID_IN_FULL = "when_paid_in_full"
    AS_MONEY_CLEARS = "as_money_clears"


class Bearer(StrEnum):
    """Who bears a cost or a referral fee; both means halves, the odd unit to the shop."""

    OWNER = "owner"
    SHOP = "shop"
    BOTH = "both"


class CostOf(StrEnum):
    """What the rate of a cost is taken of."""

    PRICE = "price"
    BUYER_PAYS = "buyer_pays"


class ReferralOf(StrEnum):
    """What the rate of a referral fee is taken of."""

    PRICE = "price"
    COMMISSION = "commission"


class Scheme(StrEnum):
    """How a sale is taxed; one scheme a sale."""

    NONE = "none"
    SALES_TAX = "sales_tax"
    VAT_ON_COMMISSION = "vat_on_commission"
    MARGIN = "margin"


class Side(StrEnum):
    """To whom a referral fee is disclosed."""

    BUYER = "buyer"
    OWNER = "owner"


@dataclass(frozen=True, slots=True)
class CommissionRate:
    """The shop earns a share of the base."""

    rate: Fraction


@dataclass(frozen=True, slots=True)
class Bracket:
    """One slice of the base and its rate; the last slice has no bound."""

    rate: Fraction
    up_to: Money | None = None


@dataclass(frozen=True, slots=True)
class CommissionBrackets:
    """The shop earns a rate of each slice of the base: marginal, so a higher price never leaves the owner less."""

    brackets: tuple[Bracket, ...]


@dataclass(frozen=True, slots=True)
class CommissionFixed:
    """The shop earns an amount, whatever the price."""

    amount: Money


@dataclass(frozen=True, slots=True)
class NetToOwner:
    """The owner is promised a net; the shop earns what is above it."""

    net: Money


CommissionRule = CommissionRate | CommissionBrackets | CommissionFixed | NetToOwner


@dataclass(frozen=True, slots=True)
class Terms:
    """What an agreement says about money."""

    commission: CommissionRule
    least: Money | None = None
    most: Money | None = None
    discount_borne_by: DiscountBorneBy = DiscountBorneBy.AS_IT_FALLS
    floor: Money | None = None
    pay_owner: PayOwner = PayOwner.WHEN_PAID_IN_FULL


@dataclass(frozen=True, slots=True)
class Cost:
    """Money spent on the instrument or its sale: an amount, or a rate of the price or of what the buyer pays."""

    what: str
    amount: Money | None = None
    rate: Fraction | None = None
    of: CostOf = CostOf.PRICE
    borne_by: Bearer = Bearer.OWNER
    before_commission: bool = False


@dataclass(frozen=True, slots=True)
class Referral:
    """A fee to a third person who brought buyer and shop together: a rate or a fixed amount."""

    rate: Fraction | None = None
    fixed: Money | None = None
    of: ReferralOf = ReferralOf.PRICE
    borne_by: Bearer = Bearer.SHOP
    disclosed_to: tuple[Side, ...] = ()

    @property
    def is_disclosed(self) -> bool:
        """Tell whether both sides have been told of the fee."""
        return Side.BUYER in self.disclosed_to and Side.OWNER in self.disclosed_to


@dataclass(frozen=True, slots=True)
class Tax:
    """The tax scheme of a sale with its rate; `taxable` and `exempt` belong to sales tax."""

    scheme: Scheme = Scheme.NONE
    rate: Fraction | None = None
    taxable: Money | None = None
    exempt: bool = False
    exempt_reason: str | None = None


NO_TAX = Tax()


@dataclass(frozen=True, slots=True)
class OwnerShare:
    """One of several owners and the fraction of the net that is theirs."""

    name: str
    share: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Everything that decides how one sale is split.

    Shape:  `asking` left out means the price was asked; `owners` None means a single owner; `paid` is what
            has cleared so far, None where it is not asked what is due; `approval_over` False means that the
            buyer may still return it.
    """

    currency: str
    price: Money
    terms: Terms
    asking: Money | None = None
    costs: tuple[Cost, ...] = ()
    referral: Referral | None = None
    tax: Tax = NO_TAX
    owners: tuple[OwnerShare, ...] | None = None
    paid: Money | None = None
    make_up: bool = False
    approval_over: bool | None = None

    @property
    def discount(self) -> Money:
        """Give asking price less price, never below zero."""
        if self.asking is None or self.asking < self.price:
            return Money.zero(self.currency)
        return self.asking - self.price
