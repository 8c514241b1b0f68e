"""The form of a sale: lines, costs, referral, second dealer, part-exchange, consents."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from shopledger.acts.declare import Form
from shopledger.model.agreements import OWNER_SHOP_BOTH
from shopledger.model.instruments import INSTRUMENT_KINDS
from shopledger.model.sales import CONSENT_ABOUT, LINE_KINDS
from shopledger.model.shop import TAX_SCHEMES
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_

DISCOUNT, TAX, COSTS, CONSENTS = (
    N_("Discount and referral"),
    N_("Tax"),
    N_("Costs and part-exchange"),
    N_("Consents and note"),
)
"""What the form of a sale folds away, since most sales go without it or take it from the shop's settings."""
LINE = Field(N_("Line"), Kind.COUNT, help=N_("Which line it belongs to, counted from 1."))


@dataclass(frozen=True, kw_only=True)
class SellLine:
    """One thing on the invoice."""

    kind: str = ask(Field(N_("Kind"), Kind.CHOICE, required=True, choices=LINE_KINDS), default="consigned")
    instrument_id: int | None = ask(
        Field(N_("Instrument"), Kind.INSTRUMENT, asked_with=("kind", ("consigned", "own")))
    )
    goods_id: int | None = ask(
        Field(
            N_("From the goods"),
            Kind.GOODS,
            help=N_("An accessory or part that the shop keeps count of."),
            asked_with=("kind", ("accessory",)),
        )
    )
    price: Money | None = ask(
        Field(
            N_("Price"),
            Kind.MONEY,
            help=N_(
                "For all of the line; empty where one price for all is given, or for goods with a price."
            ),
        )
    )
    quantity: int = ask(
        Field(N_("Quantity"), Kind.COUNT, asked_with=("kind", ("accessory", "work", "freight"))), default=1
    )
    taxable: bool = ask(Field(N_("Taxable"), Kind.YES_NO), default=True)
    what: str = ask(
        Field(N_("What"), help=N_("Empty for an instrument or goods: their own words stand.")), default=""
    )


@dataclass(frozen=True, kw_only=True)
class CostRow:
    """A cost of the sale: an amount, or a rate of the price or of what the buyer pays."""

    line: int = ask(LINE, default=1)
    what: str = ask(Field(N_("What for"), required=True))
    amount: Money | None = ask(Field(N_("Amount"), Kind.MONEY))
    rate: Fraction | None = ask(Field(N_("Or rate"), Kind.RATE))
    of: str = ask(
        Field(
            N_("… of"),
            Kind.CHOICE,
            choices=(("price", N_("the price")), ("buyer_pays", N_("what the buyer pays"))),
        ),
        default="price",
    )
    borne_by: str = ask(Field(N_("Borne by"), Kind.CHOICE, choices=OWNER_SHOP_BOTH), default="owner")
    before_commission: bool = ask(Field(N_("Before commission"), Kind.YES_NO))
    spent: bool = ask(Field(N_("Spent already"), Kind.YES_NO, help=N_("It stays when the sale fails.")))


@dataclass(frozen=True, kw_only=True)
class ConsentRow:
    """An owner's consent, without which a line can't be sold."""

    line: int = ask(LINE, default=1)
    about: str = ask(Field(N_("About"), Kind.CHOICE, required=True, choices=CONSENT_ABOUT))
    given_by: str = ask(Field(N_("Given by"), required=True))
    given_on: date | None = ask(Field(N_("On"), Kind.DAY, required=True))
    how: str = ask(Field(N_("How"), required=True, help=N_("By letter, by telephone, at the counter.")))


@dataclass(frozen=True, kw_only=True)
class PartExchangeRow:
    """The buyer's instrument, taken by the shop for itself at an allowance."""

    kind: str = ask(Field(N_("Kind"), Kind.CHOICE, required=True, choices=INSTRUMENT_KINDS), default="violin")
    description: str = ask(Field(N_("Description"), required=True))
    allowance: Money = ask(Field(N_("Allowance"), Kind.MONEY, required=True))


@dataclass(frozen=True, kw_only=True)
class Sell(Form):
    """A sale to one buyer."""

    buyer_id: int = ask(Field(N_("Buyer"), Kind.PERSON, required=True))
    lines: tuple[SellLine, ...] = ask(Field(N_("Lines"), Kind.ROWS, required=True, of=SellLine))
    price_in_all: Money | None = ask(
        Field(
            N_("One price for all"),
            Kind.MONEY,
            help=N_("Divided by the asking prices where lines have none."),
            under=DISCOUNT,
        )
    )
    referrer_id: int | None = ask(Field(N_("Referred by"), Kind.PERSON, under=DISCOUNT))
    referral_rate: Fraction | None = ask(Field(N_("Referral fee, rate"), Kind.RATE, under=DISCOUNT))
    referral_fixed: Money | None = ask(Field(N_("… or amount"), Kind.MONEY, under=DISCOUNT))
    referral_of: str = ask(
        Field(
            N_("… of"),
            Kind.CHOICE,
            choices=(("price", N_("the price")), ("commission", N_("the commission"))),
            under=DISCOUNT,
        ),
        default="price",
    )
    referral_borne_by: str = ask(
        Field(N_("… borne by"), Kind.CHOICE, choices=OWNER_SHOP_BOTH, under=DISCOUNT), default="shop"
    )
    told_buyer_on: date | None = ask(Field(N_("Disclosed to the buyer on"), Kind.DAY, under=DISCOUNT))
    told_owner_on: date | None = ask(Field(N_("Disclosed to the owner on"), Kind.DAY, under=DISCOUNT))
    dealer_id: int | None = ask(Field(N_("Second dealer"), Kind.PERSON, under=DISCOUNT))
    dealer_rate: Fraction | None = ask(Field(N_("… share of the commission"), Kind.RATE, under=DISCOUNT))
    tax_scheme: str = ask(Field(N_("Tax"), Kind.CHOICE, choices=TAX_SCHEMES, under=TAX), default="none")
    tax_rate: Fraction | None = ask(Field(N_("Rate of tax"), Kind.RATE, under=TAX))
    exempt: bool = ask(Field(N_("Exempt from tax"), Kind.YES_NO, under=TAX))
    exempt_reason: str = ask(
        Field(N_("Why exempt"), help=N_("Certificate, export, resale."), under=TAX), default=""
    )
    costs: tuple[CostRow, ...] = ask(Field(N_("Costs"), Kind.ROWS, of=CostRow, under=COSTS))
    part_exchange: tuple[PartExchangeRow, ...] = ask(
        Field(N_("Part-exchange"), Kind.ROWS, of=PartExchangeRow, under=COSTS)
    )
    make_up: bool = ask(
        Field(N_("The shop makes up a net below the lowest agreed"), Kind.YES_NO, under=CONSENTS)
    )
    sell_unsigned: bool = ask(
        Field(N_("Sell although the terms are not signed"), Kind.YES_NO, under=CONSENTS)
    )
    consents: tuple[ConsentRow, ...] = ask(Field(N_("Consents"), Kind.ROWS, of=ConsentRow, under=CONSENTS))
    note: str = ask(Field(N_("Note on the invoice"), Kind.LINES, under=CONSENTS), default="")
    trial_id: int | None = None
    """The trial at which it was begun."""
