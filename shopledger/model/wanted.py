"""What players want: a wish with its limits and preferences, and which instruments they were told of."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.instruments import INSTRUMENT_KINDS
from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

WISH_ENDINGS = (("found", N_("found")), ("given_up", N_("given up")), ("other", N_("other")))
TOLD_HOW = (
    ("letter", N_("by letter")),
    ("list", N_("by a list")),
    ("spoken", N_("told")),
    ("set_aside", N_("set aside")),
)


class Wish(Record):
    """What one player looks for, until when."""

    __tablename__ = "wish"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Wish"), in_table=True, searchable=True, given=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("Player"), Kind.PERSON, required=True, in_table=True), index=True)
    kind: Mapped[str] = shown(
        Field(N_("Kind"), Kind.CHOICE, required=True, in_table=True, choices=INSTRUMENT_KINDS), index=True
    )
    words: Mapped[str] = shown(
        Field(N_("In the player's words"), Kind.LINES, searchable=True, help=N_("Sound, reach, what for."))
    )
    asked_on: Mapped[date] = shown(
        Field(N_("Asked on"), Kind.DAY, required=True, in_table=True, lesser=True, given=True)
    )
    until: Mapped[date | None] = shown(Field(N_("Until"), Kind.DAY, in_table=True, lesser=True))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY, given=True))
    ending: Mapped[str | None] = shown(
        Field(N_("How it ended"), Kind.CHOICE, choices=WISH_ENDINGS, given=True)
    )


class WishCriterion(Record):
    """One limit or preference of a wish."""

    __tablename__ = "wish_criterion"
    __table_args__ = (
        UniqueConstraint("wish_id", "n"),
        CheckConstraint("weight > 0", name="weight_above_zero"),
    )

    id: Mapped[int] = key()
    wish_id: Mapped[int] = link("wish.id")
    n: Mapped[int] = hidden(Whole(), "the order in which they were said")
    what: Mapped[str] = hidden(Words(), "such as measure:string_length or fitting:pegs; shown in words")
    side: Mapped[str] = hidden(Words(), "of a measure; empty where it is measured as a whole", default="")
    is_must: Mapped[bool] = shown(Field(N_("A must"), Kind.YES_NO))
    low: Mapped[int | None] = hidden(Whole(), "the lower limit, in the unit of what is measured")
    high: Mapped[int | None] = hidden(Whole(), "the upper limit")
    target: Mapped[int | None] = hidden(Whole(), "what would be best")
    words: Mapped[str] = shown(Field(N_("Value"), help=N_("What was typed, or the words looked for.")))
    weight: Mapped[int] = shown(Field(N_("Weight"), Kind.COUNT), default=1)


class WishTold(Record):
    """One instrument that a player was told of, or that was set aside for a wish, at the price it had."""

    __tablename__ = "wish_told"
    __table_args__ = (Index("ix_wish_told_wish_id_stay_id", "wish_id", "stay_id"),)

    id: Mapped[int] = key()
    wish_id: Mapped[int] = link("wish.id")
    stay_id: Mapped[int] = link("stay.id", index=True)
    told_on: Mapped[date] = shown(Field(N_("On"), Kind.DAY, required=True))
    how: Mapped[str] = shown(Field(N_("How"), Kind.CHOICE, required=True, choices=TOLD_HOW))
    asking: Mapped[int | None] = shown(Field(N_("Asking price then"), Kind.MONEY))
    custody_id: Mapped[int | None] = link("custody.id")
