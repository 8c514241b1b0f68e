"""Sales: an invoice of several lines, each reckoned for itself and posted by its own entry."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.agreements import OWNER_SHOP_BOTH
from shopledger.model.record import Record, hidden, key, link, shown, single_while
from shopledger.model.shop import TAX_SCHEMES
from shopledger.model.types import Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

LINE_KINDS = (
    ("consigned", N_("consigned instrument")),
    ("own", N_("the shop's own instrument")),
    ("accessory", N_("accessory")),
    ("work", N_("work")),
    ("freight", N_("freight")),
)
CONSENT_ABOUT = (
    ("floor", N_("a net below the lowest agreed")),
    ("self_dealing", N_("a sale to the shop, its family or staff")),
    ("unsigned", N_("a sale under unsigned terms")),
    ("discount", N_("a discount moved to this line")),
)


class Sale(Record):
    """One invoice to one buyer."""

    __tablename__ = "sale"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Invoice"), in_table=True, searchable=True), unique=True)
    buyer_id: Mapped[int] = shown(Field(N_("Buyer"), Kind.PERSON, required=True, in_table=True), index=True)
    sold_on: Mapped[date] = shown(
        Field(N_("Sold on"), Kind.DAY, required=True, in_table=True, lesser=True), index=True
    )
    tax_scheme: Mapped[str] = shown(Field(N_("Tax"), Kind.CHOICE, choices=TAX_SCHEMES), default="none")
    tax_rate: Mapped[Fraction | None] = shown(Field(N_("Rate of tax"), Kind.RATE))
    exempt: Mapped[bool] = shown(Field(N_("Exempt from tax"), Kind.YES_NO))
    exempt_reason: Mapped[str] = shown(Field(N_("Why exempt"), help=N_("Certificate, export, resale.")))
    approval_until: Mapped[date | None] = shown(Field(N_("May be returned until"), Kind.DAY))
    note: Mapped[str] = shown(Field(N_("Note on the invoice"), Kind.LINES, searchable=True))
    job_id: Mapped[int | None] = link("job.id", index=True)


class SaleLine(Record):
    """One thing sold, with the figures of its reckoning as they stand now."""

    __tablename__ = "sale_line"
    __table_args__ = (
        UniqueConstraint("sale_id", "n"),
        CheckConstraint("price > 0", name="price_above_zero"),
        single_while("uq_sale_line_live", "stay_id", "stay_id IS NOT NULL AND returned_on IS NULL"),
    )

    id: Mapped[int] = key()
    sale_id: Mapped[int] = link("sale.id")
    n: Mapped[int] = hidden(Whole(), "the place of the line on the invoice")
    kind: Mapped[str] = shown(Field(N_("Kind"), Kind.CHOICE, required=True, choices=LINE_KINDS))
    instrument_id: Mapped[int | None] = shown(Field(N_("Instrument"), Kind.INSTRUMENT), index=True)
    stay_id: Mapped[int | None] = link("stay.id")
    terms_id: Mapped[int | None] = link("terms.id")
    goods_id: Mapped[int | None] = link("goods.id")
    what: Mapped[str] = shown(Field(N_("What"), required=True, searchable=True))
    quantity: Mapped[int] = shown(Field(N_("Quantity"), Kind.COUNT), default=1)
    asking: Mapped[int] = shown(Field(N_("Asking price"), Kind.MONEY, required=True))
    price: Mapped[int] = shown(Field(N_("Price"), Kind.MONEY, required=True))
    discount: Mapped[int] = shown(Field(N_("Discount"), Kind.MONEY), default=0)
    commission: Mapped[int] = shown(Field(N_("Commission"), Kind.MONEY), default=0)
    owner_costs: Mapped[int] = shown(Field(N_("Costs borne by the owner"), Kind.MONEY), default=0)
    shop_costs: Mapped[int] = shown(Field(N_("Costs borne by the shop"), Kind.MONEY), default=0)
    referral_owner: Mapped[int] = shown(Field(N_("Referral borne by the owner"), Kind.MONEY), default=0)
    referral_shop: Mapped[int] = shown(Field(N_("Referral borne by the shop"), Kind.MONEY), default=0)
    sales_tax: Mapped[int] = shown(Field(N_("Sales tax"), Kind.MONEY), default=0)
    vat_on_commission: Mapped[int] = shown(Field(N_("VAT on the commission"), Kind.MONEY), default=0)
    margin_vat: Mapped[int] = shown(Field(N_("VAT on the margin"), Kind.MONEY), default=0)
    owner_net: Mapped[int] = shown(Field(N_("Owner's net"), Kind.MONEY), default=0)
    shop_keeps: Mapped[int] = shown(Field(N_("The shop keeps"), Kind.MONEY), default=0)
    buyer_pays: Mapped[int] = shown(Field(N_("The buyer pays"), Kind.MONEY, required=True))
    made_up: Mapped[int] = shown(Field(N_("Made up by the shop"), Kind.MONEY), default=0)
    dealer_share: Mapped[int] = shown(Field(N_("Second dealer's share"), Kind.MONEY), default=0)
    cost: Mapped[int] = shown(Field(N_("Cost to the shop"), Kind.MONEY), default=0)
    reckoned_from: Mapped[str] = hidden(Words(), "the facts of the reckoning, in the form of its own command")
    returned_on: Mapped[date | None] = shown(Field(N_("Returned on"), Kind.DAY))
    returned_why: Mapped[str] = shown(Field(N_("Why returned")))


class LineEntry(Record):
    """Which entry of the journal belongs to which line, and as what."""

    __tablename__ = "line_entry"

    id: Mapped[int] = key()
    sale_line_id: Mapped[int] = link("sale_line.id", index=True)
    entry_id: Mapped[int] = link("entry.id", unique=True)
    role: Mapped[str] = hidden(Words(), "sale, reduction or return: follows from the act")


class LineOwner(Record):
    """What one owner is owed for a line, before anything is set off or paid."""

    __tablename__ = "line_owner"
    __table_args__ = (UniqueConstraint("sale_line_id", "person_id"),)

    id: Mapped[int] = key()
    sale_line_id: Mapped[int] = link("sale_line.id")
    person_id: Mapped[int] = shown(Field(N_("Owner"), Kind.PERSON, required=True), index=True)
    share: Mapped[Fraction] = shown(Field(N_("Share"), Kind.RATE, required=True))
    net: Mapped[int] = shown(Field(N_("Net"), Kind.MONEY, required=True))
    n: Mapped[int] = hidden(Whole(), "the order in which owners are named")


class LineCost(Record):
    """A cost reckoned into a line."""

    __tablename__ = "line_cost"

    id: Mapped[int] = key()
    sale_line_id: Mapped[int] = link("sale_line.id", index=True)
    what: Mapped[str] = shown(Field(N_("What for"), required=True))
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    borne_by: Mapped[str] = shown(Field(N_("Borne by"), Kind.CHOICE, required=True, choices=OWNER_SHOP_BOTH))
    spent: Mapped[bool] = shown(
        Field(N_("Really spent"), Kind.YES_NO, help=N_("It stays when the sale fails."))
    )


class LineReferral(Record):
    """A fee to a third person for a line, disclosed to both sides; also a second dealer's share."""

    __tablename__ = "line_referral"

    id: Mapped[int] = key()
    sale_line_id: Mapped[int] = link("sale_line.id", index=True)
    person_id: Mapped[int] = shown(Field(N_("Paid to"), Kind.PERSON, required=True), index=True)
    as_dealer: Mapped[bool] = shown(Field(N_("As a second dealer"), Kind.YES_NO))
    minor: Mapped[int] = shown(Field(N_("Fee"), Kind.MONEY, required=True))
    borne_by: Mapped[str] = shown(Field(N_("Borne by"), Kind.CHOICE, required=True, choices=OWNER_SHOP_BOTH))
    told_buyer_on: Mapped[date | None] = shown(Field(N_("Disclosed to the buyer on"), Kind.DAY))
    told_owner_on: Mapped[date | None] = shown(Field(N_("Disclosed to the owner on"), Kind.DAY))


class Consent(Record):
    """A consent without which a line could not be sold: about what, whose, when, how."""

    __tablename__ = "consent"

    id: Mapped[int] = key()
    sale_line_id: Mapped[int] = link("sale_line.id", index=True)
    about: Mapped[str] = shown(Field(N_("About"), Kind.CHOICE, required=True, choices=CONSENT_ABOUT))
    given_by: Mapped[str] = shown(Field(N_("Given by"), required=True, personal=True))
    given_on: Mapped[date] = shown(Field(N_("On"), Kind.DAY, required=True))
    how: Mapped[str] = shown(Field(N_("How"), required=True))
