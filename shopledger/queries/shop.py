"""The shop's own facts: its name and manners as a sheet, and the rate of tax in force on a day."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import DatedRate, Shop, field_of
from shopledger.quantities.words import N_
from shopledger.queries.declared import facts_of
from shopledger.queries.shapes import Fact, Group, Sheet, Subject

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

CAUTION = N_(
    "Tax rules differ by place and change: this is general information. Ask the tax authority or an accountant."
)


def rate_on(reading: Reading, scheme: str, day: date) -> Fraction | None:
    """Give the rate of a tax in force on a day; None where none was recorded."""
    return reading.session.scalar(
        select(DatedRate.rate)
        .where(DatedRate.scheme == scheme, DatedRate.from_on <= day)
        .order_by(DatedRate.from_on.desc())
        .limit(1)
    )


def tax_now(reading: Reading, day: date) -> tuple[str, Fraction | None]:
    """Give the shop's own scheme of tax and its rate on a day; without a rate the scheme is none."""
    scheme = reading.session.scalar(select(Shop.tax_scheme).where(Shop.id == 1)) or "none"
    rate = rate_on(reading, scheme, day)
    return (scheme, rate) if rate is not None else ("none", None)


def sheet(reading: Reading) -> Sheet:
    """Give the page about the shop: its facts, and every dated rate with its source."""
    shop = reading.session.execute(select(*Shop.__table__.c).where(Shop.id == 1)).one()
    rates = reading.session.execute(
        select(DatedRate.scheme, DatedRate.rate, DatedRate.from_on, DatedRate.source).order_by(
            DatedRate.scheme, DatedRate.from_on.desc()
        )
    )
    scheme_field, from_field = field_of(DatedRate.scheme), field_of(DatedRate.from_on)
    dated: list[Fact] = []
    for scheme, rate, from_on, source in rates:
        dated.append(Fact(scheme_field.choice_word(scheme), rate, source))
        dated.append(Fact(from_field.label, from_on))
    if dated:
        dated.append(Fact(N_("Caution"), CAUTION))
    return Sheet(
        subject=Subject.SHOP,
        id=1,
        title=shop.name,
        line=", ".join(shop.address.split("\n")),
        groups=(
            Group(N_("The shop"), facts_of(reading, Shop, shop)),
            Group(N_("Rates of tax"), tuple(dated)),
        ),
    )
