"""Losses: what became of an instrument that was lost or destroyed while the shop had it."""

from __future__ import annotations

from datetime import date

from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, key, link, shown
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_


class Loss(Record):
    """An instrument lost or destroyed in custody: what happened, the claim, what is held for its owners."""

    __tablename__ = "loss"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Number"), searchable=True), unique=True)
    stay_id: Mapped[int] = link("stay.id", unique=True)
    lost_on: Mapped[date] = shown(Field(N_("Lost on"), Kind.DAY, required=True))
    what_happened: Mapped[str] = shown(Field(N_("What happened"), Kind.LINES, required=True))
    reported_to: Mapped[str] = shown(
        Field(N_("Reported to"), help=N_("Insurer, police, and their references."))
    )
    agreed_value: Mapped[int] = shown(Field(N_("Agreed value"), Kind.MONEY, required=True))
    excess: Mapped[int] = shown(Field(N_("Excess"), Kind.MONEY), default=0)
    excess_borne_by: Mapped[str] = shown(
        Field(
            N_("Excess borne by"), Kind.CHOICE, choices=(("shop", N_("the shop")), ("owner", N_("the owner")))
        ),
        default="shop",
    )
    commission: Mapped[int] = shown(Field(N_("Commission"), Kind.MONEY), default=0)
    owner_net: Mapped[int] = shown(Field(N_("Held for the owner"), Kind.MONEY), default=0)
    entry_id: Mapped[int] = link("entry.id")
