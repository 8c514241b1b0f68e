"""Lots of parts and goods as they stand: what came, what of it is gone, and what a job has used."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import bindparam, func, select

from shopledger.model import Goods, GoodsIn, GoodsOut
from shopledger.quantities.money import Money
from shopledger.rules.first_in import Layer

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

_GONE = select(func.coalesce(func.sum(GoodsOut.quantity), 0)).where(GoodsOut.goods_in_id == GoodsIn.id)
_LAYERS = (
    select(GoodsIn.id, GoodsIn.quantity, GoodsIn.cost, _GONE.correlate(GoodsIn).scalar_subquery())
    .where(GoodsIn.goods_id == bindparam("goods"), GoodsIn.came_on <= bindparam("on"))
    .order_by(GoodsIn.came_on, GoodsIn.id)
)
_LAST_CAME = select(func.max(GoodsIn.came_on)).where(GoodsIn.goods_id == bindparam("goods"))
_LAST_WENT = (
    select(func.max(GoodsOut.went_on))
    .join(GoodsIn, GoodsIn.id == GoodsOut.goods_in_id)
    .where(GoodsIn.goods_id == bindparam("goods"))
)


def layers_of(reading: Reading, goods_id: int, on: date) -> tuple[Layer, ...]:
    """Give the lots of one sort that had come by a day, the first first, with all that is gone of them by now."""
    rows = reading.session.execute(_LAYERS, {"goods": goods_id, "on": on})
    return tuple(Layer(key, quantity, cost, int(gone)) for key, quantity, cost, gone in rows)


def last_moved(reading: Reading, goods_id: int) -> date | None:
    """Give the day on which some of a sort last came or went, None where it never did."""
    days = [reading.session.scalar(question, {"goods": goods_id}) for question in (_LAST_CAME, _LAST_WENT)]
    return max((day for day in days if day is not None), default=None)


@dataclass(frozen=True, slots=True)
class PartUsed:
    """What of one sort a job has used and not given back: how many, what they cost, what the shop asks for one."""

    goods_id: int
    number: str
    what: str
    quantity: int
    cost: Money
    price: Money | None


def parts_used(reading: Reading, job_id: int) -> Sequence[PartUsed]:
    """Give the parts that are in a job, those used first first; what was put back is left out."""
    rows = reading.session.execute(
        select(
            Goods.id,
            Goods.number,
            Goods.what,
            func.sum(GoodsOut.quantity),
            func.sum(GoodsOut.cost),
            Goods.price,
        )
        .join(GoodsIn, GoodsIn.id == GoodsOut.goods_in_id)
        .join(Goods, Goods.id == GoodsIn.goods_id)
        .where(GoodsOut.job_id == job_id, GoodsOut.into_id.is_(None))
        .group_by(Goods.id, Goods.number, Goods.what, Goods.price)
        .order_by(func.min(GoodsOut.id))
    )
    return tuple(
        PartUsed(
            key,
            number,
            what,
            int(quantity),
            reading.money(int(cost)),
            None if price is None else reading.money(price),
        )
        for key, number, what, quantity, cost, price in rows
    )
