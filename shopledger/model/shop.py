"""The shop itself: who it is, and how it goes about tax, work and papers."""

from __future__ import annotations

from fractions import Fraction

from sqlalchemy import CheckConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_
from shopledger.rules.places import check_place

TAX_SCHEMES = (
    ("none", N_("no tax")),
    ("sales_tax", N_("sales tax, added to what the buyer pays")),
    ("vat_on_commission", N_("VAT on the commission")),
    ("margin", N_("margin scheme for second-hand goods")),
)
TAX_BASES = (("item", N_("line by line")), ("invoice", N_("on the whole")))
PAPER_SIZES = (("A4", N_("A4")), ("Letter", N_("Letter")))


class Shop(Record):
    """The one shop whose ledger this is."""

    __tablename__ = "shop"
    __table_args__ = (CheckConstraint("id = 1", name="only_one"),)

    id: Mapped[int] = key()
    name: Mapped[str] = shown(Field(N_("Name of the shop"), required=True))
    address: Mapped[str] = shown(Field(N_("Address"), Kind.LINES))
    phone: Mapped[str] = shown(Field(N_("Telephone")))
    email: Mapped[str] = shown(Field(N_("E-mail")))
    country: Mapped[str] = shown(
        Field(
            N_("Country"),
            help=N_("Its two letters, and where rules differ within it also its part: DE, US-CA."),
            checks=(check_place,),
        )
    )
    currency: Mapped[str] = shown(
        Field(
            N_("Currency"),
            required=True,
            help=N_("Three letters, such as EUR. It stays for the life of the ledger."),
        )
    )
    locale: Mapped[str] = shown(
        Field(N_("Language and manners"), help=N_("Such as en_GB or de_DE.")), default="en_GB"
    )
    time_zone: Mapped[str] = shown(Field(N_("Time zone"), help=N_("Such as Europe/Lisbon.")), default="UTC")
    paper_size: Mapped[str] = shown(Field(N_("Paper"), Kind.CHOICE, choices=PAPER_SIZES), default="A4")
    tax_scheme: Mapped[str] = shown(
        Field(N_("Tax on sales"), Kind.CHOICE, choices=TAX_SCHEMES), default="none"
    )
    retention_years: Mapped[int] = shown(
        Field(
            N_("Keep papers for"),
            Kind.COUNT,
            unit=N_("years"),
            help=N_("How long records have to be kept differs by place: ask your accountant."),
        ),
        default=10,
    )
    pay_within_days: Mapped[int] = shown(
        Field(N_("Pay owners within"), Kind.COUNT, unit=N_("days")), default=30
    )
    work_rate: Mapped[int | None] = shown(Field(N_("Hourly rate of the workshop"), Kind.MONEY))
    tax_on_labour: Mapped[bool] = shown(
        Field(
            N_("Work is taxed"),
            Kind.YES_NO,
            help=N_("Places differ: ask the tax authority or an accountant."),
        ),
        default=True,
    )
    tax_on_parts: Mapped[bool] = shown(Field(N_("Parts are taxed"), Kind.YES_NO), default=True)
    tax_on_services: Mapped[bool] = shown(
        Field(N_("Bought-in services are taxed"), Kind.YES_NO), default=True
    )
    work_tax_basis: Mapped[str] = shown(
        Field(N_("Tax on work is reckoned"), Kind.CHOICE, choices=TAX_BASES), default="item"
    )
    allowed_excess: Mapped[Fraction] = shown(
        Field(
            N_("Work may exceed what was approved by"),
            Kind.RATE,
            help=N_("Nothing, unless your place allows it and you say so."),
        ),
        default=Fraction(0),
    )
    estimate_days: Mapped[int] = shown(
        Field(N_("An estimate is valid for"), Kind.COUNT, unit=N_("days")), default=30
    )
    person_id: Mapped[int] = link("person.id")
    ledger_key: Mapped[str] = hidden(Words(), "tells this ledger from any other; made once")
