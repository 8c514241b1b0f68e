"""What the shop keeps for itself: dated rates, the counters that numbers come from, the copies it made."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, shown
from shopledger.model.shop import TAX_SCHEMES
from shopledger.model.types import Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_


class DatedRate(Record):
    """A rate of tax from a day on, with its source; rates are settings, never constants."""

    __tablename__ = "dated_rate"
    __table_args__ = (UniqueConstraint("scheme", "from_on"),)

    id: Mapped[int] = key()
    scheme: Mapped[str] = shown(Field(N_("Tax"), Kind.CHOICE, required=True, choices=TAX_SCHEMES))
    rate: Mapped[Fraction] = shown(Field(N_("Rate"), Kind.RATE, required=True))
    from_on: Mapped[date] = shown(Field(N_("From"), Kind.DAY, required=True))
    source: Mapped[str] = shown(Field(N_("Source"), help=N_("Who says so, and where.")))


class Counter(Record):
    """The last number given in a series and year; updated first in an act, so that no number is lost or doubled."""

    __tablename__ = "counter"
    kept = False

    series: Mapped[str] = hidden(Words(), "part of the key", primary_key=True)
    year: Mapped[int] = hidden(
        Whole(), "part of the key; 0 for a series without years", primary_key=True, autoincrement=False
    )
    last: Mapped[int] = hidden(Whole(), "counts; no person reads it")


class SafeCopy(Record):
    """A copy of the ledger that was made and is kept elsewhere."""

    __tablename__ = "safe_copy"

    id: Mapped[int] = key()
    made_on: Mapped[date] = shown(Field(N_("Made on"), Kind.DAY, required=True))
    where_kept: Mapped[str] = shown(Field(N_("Kept where"), required=True))
