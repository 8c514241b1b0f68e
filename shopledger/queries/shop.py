"""The shop's own facts: its tax on a day."""

from __future__ import annotations

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
