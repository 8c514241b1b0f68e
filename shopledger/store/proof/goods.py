"""Parts and goods proved: no lot gave more than came, its shares are first in first out, and the journal agrees."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select

from shopledger.model import Goods, GoodsIn, GoodsOut, Sale, SaleLine
from shopledger.quantities.words import N_
from shopledger.rules.first_in import Layer, cost_of_first
from shopledger.store.proof.finding import Amounts, Proof, summed

POSTED = N_("{lot}: the journal has {posted}, by the record it would be {wanted}.")
BOUGHT_FROM = ("bank", "capital")


@dataclass(slots=True)
class _Gone:
    """What records say went: how many, at what cost."""

    quantity: int = 0
    cost: int = 0

    def add(self, out: Any) -> None:
        self.quantity += out.quantity
        self.cost += out.cost


@dataclass(slots=True)
class _Outs:
    """What went, put together by lot, by the lot it became, by sale line and by entry."""

    of_lot: dict[int, _Gone] = field(default_factory=lambda: defaultdict(_Gone))
    into: dict[int, _Gone] = field(default_factory=lambda: defaultdict(_Gone))
    with_line: dict[int, _Gone] = field(default_factory=lambda: defaultdict(_Gone))
    by_entry: dict[int, _Gone] = field(default_factory=lambda: defaultdict(_Gone))


def prove_goods(proof: Proof) -> None:
    """Go through every lot, what went of it, and the account of goods."""
    outs = _outs(proof)
    received = proof.posted(GoodsIn.id, GoodsIn.entry_id, GoodsIn.came_by.in_(("bought", "counted")))
    value = 0
    lots = select(Goods.number, *GoodsIn.__table__.c).join(Goods, Goods.id == GoodsIn.goods_id)
    for lot in proof.rows(lots.order_by(GoodsIn.id)):
        where = f"{lot.number} lot {lot.id}"
        gone = outs.of_lot[lot.id]
        value += lot.cost - gone.cost
        _prove_lot(proof, where, lot, gone)
        if lot.came_by in {"altered", "returned"}:
            _prove_came_from(proof, where, lot, outs.into[lot.id])
        else:
            _prove_received(proof, where, lot, received.get(lot.id, {}))
    _prove_lines(proof, outs)
    _prove_entries(proof, outs.by_entry)
    posted = proof.balance("goods")
    if posted != value:
        proof.wrong(
            "goods",
            "",
            N_("The account of goods has {posted}, what is left of all lots cost {value}."),
            posted=proof.money(posted),
            value=proof.money(value),
        )


def _outs(proof: Proof) -> _Outs:
    outs = _Outs()
    columns = GoodsOut.__table__.c
    for out in proof.rows(select(*columns).order_by(GoodsOut.id)):
        outs.of_lot[out.goods_in_id].add(out)
        if out.into_id is not None:
            outs.into[out.into_id].add(out)
        if out.sale_line_id is not None:
            outs.with_line[out.sale_line_id].add(out)
        elif out.entry_id is not None:
            outs.by_entry[out.entry_id].add(out)
        _prove_out(proof, out)
    return outs


def _prove_out(proof: Proof, out: Any) -> None:
    """Compare how something went with what it is said to have gone to, and that it was booked if it cost anything."""
    fits = (
        (out.job_id is not None) == (out.went_by == "job")
        and (out.sale_line_id is not None) == (out.went_by == "sold")
        and (out.went_by != "altered" or out.into_id is not None)
    )
    booked = out.went_by == "altered" or not out.cost or out.entry_id is not None
    if not fits or not booked:
        where = f"goods_out {out.id}"
        proof.wrong("goods", where, N_("{row} doesn't say where it went, or was never booked."), row=where)


def _prove_lot(proof: Proof, where: str, lot: Any, gone: _Gone) -> None:
    if gone.quantity > lot.quantity:
        proof.wrong(
            "goods",
            where,
            N_("{lot}: {gone} went of {quantity} that came."),
            lot=where,
            gone=gone.quantity,
            quantity=lot.quantity,
        )
        return
    share = cost_of_first(Layer(lot.id, lot.quantity, lot.cost), gone.quantity)
    if gone.cost != share:
        proof.wrong(
            "goods",
            where,
            N_("{lot}: what went cost {gone}, its share of the lot is {share}."),
            lot=where,
            gone=proof.money(gone.cost),
            share=proof.money(share),
        )


def _prove_came_from(proof: Proof, where: str, lot: Any, source: _Gone) -> None:
    """Compare a lot that was altered or came back with what it came from."""
    quantity_fits = lot.came_by == "altered" or lot.quantity == source.quantity
    if lot.cost != source.cost or not source.quantity or not quantity_fits:
        proof.wrong(
            "goods",
            where,
            N_("{lot}: {quantity} at {cost}, but they came from {source} at {gone}."),
            lot=where,
            quantity=lot.quantity,
            cost=proof.money(lot.cost),
            source=source.quantity,
            gone=proof.money(source.cost),
        )


def _prove_received(proof: Proof, where: str, lot: Any, posted: Amounts) -> None:
    others = BOUGHT_FROM if lot.came_by == "bought" else ("goods_used",)
    wanted: list[Mapping[tuple[str, int | None], int]] = [
        summed(("goods", None, lot.cost), (other, None, -lot.cost)) for other in others
    ]
    if posted not in wanted:
        proof.wrong(
            "goods", where, POSTED, lot=where, posted=proof.told(posted), wanted=proof.told(wanted[0])
        )


def _prove_lines(proof: Proof, outs: _Outs) -> None:
    """Compare each line of counted goods with what went with it."""
    columns = (SaleLine.id, SaleLine.n, SaleLine.quantity, SaleLine.cost, SaleLine.goods_id, Sale.number)
    sold = select(*columns).join(Sale, Sale.id == SaleLine.sale_id).where(SaleLine.kind == "accessory")
    for line in proof.rows(sold.order_by(SaleLine.id)):
        gone = outs.with_line.pop(line.id, _Gone())
        quantity = 0 if line.goods_id is None else line.quantity
        if (gone.quantity, gone.cost) != (quantity, line.cost):
            where = f"{line.number} line {line.n}"
            proof.wrong(
                "goods",
                where,
                N_("{line}: {quantity} at {cost} by the invoice, {gone} at {went} by the lots."),
                line=where,
                quantity=quantity,
                cost=proof.money(line.cost),
                gone=gone.quantity,
                went=proof.money(gone.cost),
            )
    for key in outs.with_line:
        where = f"sale_line {key}"
        proof.wrong("goods", where, N_("Goods went with {row}, which is no accessory."), row=where)


def _prove_entries(proof: Proof, by_entry: Mapping[int, _Gone]) -> None:
    """Compare what went into jobs or was missing with the entries that booked it."""
    linked = select(GoodsOut.entry_id.label("key"), GoodsOut.entry_id.label("entry"))
    posted = proof.posted_by(
        linked.where(GoodsOut.entry_id.is_not(None), GoodsOut.sale_line_id.is_(None)).distinct()
    )
    for entry, gone in sorted(by_entry.items()):
        wanted = summed(("goods_used", None, gone.cost), ("goods", None, -gone.cost))
        if posted.get(entry, {}) != wanted:
            where = f"entry {entry}"
            proof.wrong(
                "goods",
                where,
                POSTED,
                lot=where,
                posted=proof.told(posted.get(entry, {})),
                wanted=proof.told(wanted),
            )
