"""Agreements: terms as snapshots that are never edited, addenda and renewals as further snapshots, price history."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole, Words
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_

RULES = (
    ("rate", N_("a share of the price")),
    ("brackets", N_("a share by brackets of the price")),
    ("fixed", N_("a fixed amount")),
    ("net_to_owner", N_("what is above a net promised to the owner")),
)
OWNER_SHOP = (("owner", N_("the owner")), ("shop", N_("the shop")))
OWNER_SHOP_BOTH = (*OWNER_SHOP, ("both", N_("both, by halves")))
DISCOUNT_BEARERS = (("as_it_falls", N_("as it falls: commission on the price")), *OWNER_SHOP)
PAY_OWNER = (
    ("when_paid_in_full", N_("when the buyer has paid in full")),
    ("as_money_clears", N_("as the buyer's money clears")),
)
MAKER_TIES = (
    ("no", N_("no")),
    ("maker", N_("the owner made it")),
    ("heir", N_("the owner is the maker's heir")),
)
GOODS_USE = (
    ("unknown", N_("not known")),
    ("consumer", N_("an amateur's own instrument")),
    ("equipment", N_("a working player's instrument")),
    ("dealer", N_("a dealer's or maker's stock")),
)
ENDED_HOW = (
    ("sold", N_("sold")),
    ("withdrawn", N_("withdrawn by the owner")),
    ("given_up", N_("ended by the shop")),
    ("expired", N_("expired")),
    ("owner_changed", N_("the instrument changed owner")),
    ("lost", N_("lost")),
)
TERMS_KINDS = (("first", N_("agreement")), ("addendum", N_("addendum")), ("renewal", N_("renewal")))


@dataclass(frozen=True, kw_only=True)
class Bracket:
    """One bracket of a commission: its rate applies to the slice up to a bound; the last has none."""

    up_to: Money | None = ask(Field(N_("Up to"), Kind.MONEY))
    rate: Fraction = ask(Field(N_("Rate"), Kind.RATE, required=True))


class Agreement(Record):
    """A consignment agreement for one stay of one instrument."""

    __tablename__ = "agreement"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Agreement"), searchable=True), unique=True)
    stay_id: Mapped[int] = link("stay.id", index=True)
    begins_on: Mapped[date] = shown(Field(N_("Begins on"), Kind.DAY, required=True))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY))
    ended_how: Mapped[str | None] = shown(Field(N_("How it ended"), Kind.CHOICE, choices=ENDED_HOW))
    ended_why: Mapped[str] = shown(Field(N_("Why")))


class Terms(Record):
    """What was agreed, whole, from one day on; a row is never changed, a change is a further row."""

    __tablename__ = "terms"
    __table_args__ = (
        UniqueConstraint("agreement_id", "n"),
        CheckConstraint("asking > 0", name="asking_above_zero"),
    )

    id: Mapped[int] = key()
    agreement_id: Mapped[int] = link("agreement.id")
    n: Mapped[int] = hidden(Whole(), "1 for the first, then counted up")
    kind: Mapped[str] = hidden(Words(), "first, addendum or renewal: follows from the act")
    agreed_on: Mapped[date] = shown(Field(N_("Agreed on"), Kind.DAY, required=True, given=True))
    ends_on: Mapped[date] = shown(Field(N_("Ends on"), Kind.DAY, required=True))
    asking: Mapped[int] = shown(Field(N_("Asking price"), Kind.MONEY, required=True))
    asking_not_below: Mapped[int | None] = shown(
        Field(N_("Asking price may fall to"), Kind.MONEY, help=N_("Without asking the owner again."))
    )
    commission_rule: Mapped[str] = shown(
        Field(N_("The shop earns"), Kind.CHOICE, required=True, choices=RULES), default="rate"
    )
    commission_rate: Mapped[Fraction | None] = shown(Field(N_("Commission rate"), Kind.RATE))
    commission_brackets: Mapped[str] = shown(
        Field(N_("Commission by brackets"), Kind.ROWS, of=Bracket, help=N_("The last bracket has no bound."))
    )
    commission_fixed: Mapped[int | None] = shown(Field(N_("Fixed commission"), Kind.MONEY))
    net_to_owner: Mapped[int | None] = shown(Field(N_("Net promised to the owner"), Kind.MONEY))
    least: Mapped[int | None] = shown(Field(N_("Commission at least"), Kind.MONEY))
    most: Mapped[int | None] = shown(Field(N_("Commission at most"), Kind.MONEY))
    discount_borne_by: Mapped[str] = shown(
        Field(N_("A discount is borne by"), Kind.CHOICE, choices=DISCOUNT_BEARERS), default="as_it_falls"
    )
    floor: Mapped[int | None] = shown(Field(N_("Lowest net to owner"), Kind.MONEY))
    pay_owner: Mapped[str] = shown(
        Field(N_("The owner is paid"), Kind.CHOICE, choices=PAY_OWNER), default="when_paid_in_full"
    )
    pay_within_days: Mapped[int] = shown(Field(N_("… within"), Kind.COUNT, unit=N_("days")), default=30)
    approval_days: Mapped[int] = shown(
        Field(N_("A buyer may return it within"), Kind.COUNT, unit=N_("days")), default=0
    )
    repairs_allowed: Mapped[bool] = shown(Field(N_("Repairs may be done"), Kind.YES_NO))
    repairs_up_to: Mapped[int | None] = shown(Field(N_("… up to, without asking"), Kind.MONEY))
    repairs_borne_by: Mapped[str] = shown(
        Field(N_("Repairs are borne by"), Kind.CHOICE, choices=OWNER_SHOP_BOTH), default="owner"
    )
    freight_borne_by: Mapped[str] = shown(
        Field(N_("Freight is borne by"), Kind.CHOICE, choices=OWNER_SHOP_BOTH), default="shop"
    )
    failed_sale_costs_by: Mapped[str] = shown(
        Field(N_("Costs of a sale that fails are borne by"), Kind.CHOICE, choices=OWNER_SHOP), default="shop"
    )
    set_off: Mapped[bool] = shown(
        Field(
            N_("What the owner owes may be set off"),
            Kind.YES_NO,
            help=N_("Against the proceeds, at settlement."),
        )
    )
    insured_by: Mapped[str] = shown(Field(N_("Insured by"), Kind.CHOICE, choices=OWNER_SHOP), default="shop")
    agreed_value: Mapped[int | None] = shown(
        Field(N_("Agreed value"), Kind.MONEY, help=N_("What is owed to the owner if it is lost here."))
    )
    loss_commission: Mapped[bool] = shown(Field(N_("Commission on a loss"), Kind.YES_NO))
    excess_borne_by: Mapped[str] = shown(
        Field(N_("An insurer's excess is borne by"), Kind.CHOICE, choices=OWNER_SHOP), default="shop"
    )
    notice_days: Mapped[int] = shown(
        Field(N_("Either side may end it with"), Kind.COUNT, unit=N_("days' notice")), default=14
    )
    trials_allowed: Mapped[bool] = shown(Field(N_("Trials allowed"), Kind.YES_NO))
    dealers_allowed: Mapped[bool] = shown(Field(N_("May go to another dealer"), Kind.YES_NO))
    withdrawal_charge: Mapped[int | None] = shown(Field(N_("Charge for withdrawal"), Kind.MONEY))
    storage_charge: Mapped[int | None] = shown(Field(N_("Charge for storage, a month"), Kind.MONEY))
    insurance_charge: Mapped[int | None] = shown(Field(N_("Charge for insurance, a month"), Kind.MONEY))
    valuation_charge: Mapped[int | None] = shown(Field(N_("Charge for a valuation"), Kind.MONEY))
    private_sale_commission: Mapped[bool] = shown(
        Field(N_("Commission if the owner sells it privately"), Kind.YES_NO)
    )
    tail_days: Mapped[int] = shown(
        Field(N_("… also within, after the end"), Kind.COUNT, unit=N_("days")), default=0
    )
    deposit_to_owner: Mapped[Fraction | None] = shown(
        Field(
            N_("Of a forfeited deposit, to the owner"),
            Kind.RATE,
            help=N_("What is left goes back to the player."),
        )
    )
    deposit_to_shop: Mapped[Fraction | None] = shown(Field(N_("… to the shop"), Kind.RATE))
    bill_signed_by: Mapped[str] = shown(
        Field(
            N_("The bill of sale is signed by"),
            Kind.CHOICE,
            choices=(("owner", N_("the owner")), ("shop", N_("the shop, for the owner"))),
        ),
        default="shop",
    )
    maker_tie: Mapped[str] = shown(
        Field(N_("Is the owner its maker"), Kind.CHOICE, choices=MAKER_TIES), default="no"
    )
    goods_use: Mapped[str] = shown(
        Field(N_("It was until now"), Kind.CHOICE, choices=GOODS_USE), default="unknown"
    )
    note: Mapped[str] = shown(Field(N_("Further words"), Kind.LINES))


class PriceChange(Record):
    """The asking price from a day on; the newest row counts."""

    __tablename__ = "price_change"
    __table_args__ = (CheckConstraint("asking > 0", name="asking_above_zero"),)

    id: Mapped[int] = key()
    stay_id: Mapped[int] = link("stay.id", index=True)
    since: Mapped[date] = shown(Field(N_("Since"), Kind.DAY, required=True))
    asking: Mapped[int] = shown(Field(N_("Asking price"), Kind.MONEY, required=True))
    why: Mapped[str] = shown(Field(N_("Why")))
    consent_by: Mapped[str] = shown(Field(N_("Owner's consent given by"), personal=True))
    consent_how: Mapped[str] = shown(Field(N_("… how"), help=N_("By letter, by telephone, at the counter.")))
    consent_on: Mapped[date | None] = shown(Field(N_("… on"), Kind.DAY))
