"""The shop's own facts: its tax on a day, on sales and on work."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import DatedRate

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def tax_now(reading: Reading, on: date) -> tuple[str, Fraction | None]:
    """Give the shop's tax scheme and the rate in force on a day; no tax where no rate is on record for it."""
    scheme = reading.shop().tax_scheme
    rate = reading.session.scalar(
        select(DatedRate.rate)
        .where(DatedRate.scheme == scheme, DatedRate.from_on <= on)
        .order_by(DatedRate.from_on.desc())
        .limit(1)
    )
    return (scheme, rate) if scheme != "none" and rate is not None else ("none", None)


def work_tax_now(reading: Reading, on: date) -> Fraction | None:
    """Give the rate of tax that is put on work on a day; None where the shop charges none.

    Under every scheme, those of second-hand goods too, work is charged with the whole rate: a scheme only says how an
    instrument is taxed that passes through the shop. Which kinds of work are taxed is a setting (`work_taxed`).
    """
    return tax_now(reading, on)[1]


def work_taxed(reading: Reading) -> Mapping[str, bool]:
    """Give which kinds of line the shop's settings say are taxed."""
    shop = reading.shop()
    return {"labour": shop.tax_on_labour, "part": shop.tax_on_parts, "service": shop.tax_on_services}
