"""Pieces that acts on parts and goods share: what is there, taking it, bringing it back at the cost it went at."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.model import Goods, GoodsIn, GoodsOut
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.words import N_
from shopledger.queries.lots import layers_of
from shopledger.queries.shapes import Subject
from shopledger.rules.first_in import Layer, Take, take, there
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.GOODS, Subject.ENTRY, Subject.ACCOUNT})
Lots = dict[int, tuple[Layer, ...]]
"""The lots of each sort that an act has looked at, as they stand after what it took so far."""


def goods_of(reading: Reading, goods_id: int, field: str | None = None) -> Goods:
    """Give the record of a sort of goods.

    Raises: NotFound, in words, naming the input where one is given.
    """
    goods = reading.session.get(Goods, goods_id)
    if goods is None:
        raise NotFound(
            N_("There is no such part or accessory in the ledger. Choose one, or add it first."), field=field
        )
    return goods


def take_from(
    reading: Reading, lots: Lots, goods: Goods, quantity: int, on: date, field: str = "quantity"
) -> tuple[Take, ...]:
    """Give what is taken of which lots, the first in first; `lots` is brought up to it, nothing is written.

    Raises: Typed: the quantity is none. Refused: fewer are there.
    """
    if quantity < 1:
        raise Typed(N_("The quantity is at least 1."), field=field)
    if goods.id not in lots:
        lots[goods.id] = layers_of(reading, goods.id, on)
    layers = lots[goods.id]
    if there(layers) < quantity:
        raise Refused(
            N_("Of {goods} {there} are there, {wanted} are wanted. Receive more, count them, or take fewer."),
            field=field,
            goods=f"{goods.what} ({goods.number})",
            there=there(layers),
            wanted=quantity,
        )
    takes, lots[goods.id] = take(layers, quantity)
    return takes


def write_takes(
    writing: Writing, takes: Sequence[Take], went_by: str, *, entry_id: int | None, **links: Any
) -> None:
    """Write what was taken; `links` says where it went."""
    for one in takes:
        writing.put(
            GoodsOut(
                goods_in_id=one.key,
                went_on=writing.on,
                went_by=went_by,
                quantity=one.quantity,
                cost=one.cost,
                entry_id=entry_id,
                **links,
            )
        )


def sold_of_line(writing: Writing, sale_line_id: int) -> Sequence[GoodsOut]:
    """Give what went with a line of a sale, in order."""
    return writing.session.scalars(
        select(GoodsOut).where(GoodsOut.sale_line_id == sale_line_id).order_by(GoodsOut.id)
    ).all()


def bring_back(writing: Writing, gone: Sequence[GoodsOut], entry_id: int | None) -> None:
    """Bring what went back into stock: a lot of its own for each lot it was taken from, at the cost it went at."""
    for out in gone:
        lot = writing.session.get_one(GoodsIn, out.goods_in_id)
        back = writing.add(
            GoodsIn(
                goods_id=lot.goods_id,
                came_on=writing.on,
                came_by="returned",
                quantity=out.quantity,
                cost=out.cost,
                entry_id=entry_id,
            )
        )
        out.into_id = back.id
    writing.session.flush()
