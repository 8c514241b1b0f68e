"""Parts and goods: what is kept in small numbers, received at cost, used first in first out, counted."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, Index
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, key, link, shown
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

GOODS_SORTS = (("part", N_("part for the workshop")), ("accessory", N_("accessory to sell")))
CAME_BY = (
    ("bought", N_("bought in")),
    ("altered", N_("altered by the shop")),
    ("counted", N_("found at a count")),
    ("returned", N_("came back")),
)
WENT_BY = (
    ("job", N_("used in a job")),
    ("sold", N_("sold")),
    ("altered", N_("altered by the shop")),
    ("counted", N_("missing at a count")),
)


class Goods(Record):
    """One sort of part or accessory."""

    __tablename__ = "goods"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Number"), in_table=True, searchable=True, given=True), unique=True)
    what: Mapped[str] = shown(Field(N_("What"), required=True, in_table=True, searchable=True))
    sort: Mapped[str] = shown(
        Field(N_("Sort"), Kind.CHOICE, required=True, in_table=True, choices=GOODS_SORTS)
    )
    price: Mapped[int | None] = shown(Field(N_("Price"), Kind.MONEY, in_table=True, help=N_("For one.")))
    low_at: Mapped[int] = shown(
        Field(N_("Low at"), Kind.COUNT, help=N_("At this number or below it is shown as low.")), default=0
    )
    where_kept: Mapped[str] = shown(Field(N_("Kept in"), searchable=True))
    note: Mapped[str] = shown(Field(N_("Note"), Kind.LINES, searchable=True))


class GoodsIn(Record):
    """A lot that came in, with what all of it cost; used up before any later lot."""

    __tablename__ = "goods_in"
    __table_args__ = (
        CheckConstraint("quantity > 0", name="quantity_above_zero"),
        CheckConstraint("cost >= 0", name="cost_not_below_zero"),
        Index("ix_goods_in_goods_id_came_on", "goods_id", "came_on"),
    )

    id: Mapped[int] = key()
    goods_id: Mapped[int] = link("goods.id")
    came_on: Mapped[date] = shown(Field(N_("Came on"), Kind.DAY, required=True))
    came_by: Mapped[str] = shown(Field(N_("How"), Kind.CHOICE, required=True, choices=CAME_BY))
    quantity: Mapped[int] = shown(Field(N_("Quantity"), Kind.COUNT, required=True))
    cost: Mapped[int] = shown(Field(N_("Cost of all"), Kind.MONEY, required=True))
    supplier: Mapped[str] = shown(Field(N_("From")))
    minutes: Mapped[int | None] = shown(Field(N_("Time spent on it"), Kind.COUNT, unit=N_("min")))
    what_done: Mapped[str] = shown(Field(N_("What was done to it"), Kind.LINES))
    entry_id: Mapped[int | None] = link("entry.id")


class GoodsOut(Record):
    """Some of a lot that went: into a job, to a buyer, into another sort; at its share of the lot's cost."""

    __tablename__ = "goods_out"
    __table_args__ = (CheckConstraint("quantity > 0", name="quantity_above_zero"),)

    id: Mapped[int] = key()
    goods_in_id: Mapped[int] = link("goods_in.id", index=True)
    went_on: Mapped[date] = shown(Field(N_("Went on"), Kind.DAY, required=True))
    went_by: Mapped[str] = shown(Field(N_("How"), Kind.CHOICE, required=True, choices=WENT_BY))
    quantity: Mapped[int] = shown(Field(N_("Quantity"), Kind.COUNT, required=True))
    cost: Mapped[int] = shown(Field(N_("Cost"), Kind.MONEY, required=True))
    job_id: Mapped[int | None] = link("job.id", index=True)
    sale_line_id: Mapped[int | None] = link("sale_line.id", index=True)
    into_id: Mapped[int | None] = link("goods_in.id")
    entry_id: Mapped[int | None] = link("entry.id")
