"""The page about a sort of parts or goods: how many are there, the lots they came in, and where the others went."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import select
from sqlalchemy.orm import aliased

from shopledger.model import Goods, GoodsIn, GoodsOut, Job, Sale, SaleLine, field_of
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import facts_of, row_of
from shopledger.queries.lots import layers_of
from shopledger.queries.shapes import State, Subject
from shopledger.queries.sheet_shapes import Fact, Group, History, Line, Mark, MarkKind, Sheet
from shopledger.queries.states import IN_STOCK, LOW, NONE_LEFT
from shopledger.rules.first_in import Layer, there, value_of

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def state_of(there: int, low_at: int) -> State:
    """Give the chip of a sort: none left, low, or in stock."""
    if there <= 0:
        return NONE_LEFT
    return LOW if there <= low_at else IN_STOCK


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about a sort of goods.

    Raises: NotFound: there is no such sort.
    """
    row = row_of(reading, Goods, id)
    layers = layers_of(reading, id, reading.ledger.today())
    lots = _lots(reading, id)
    gone = _gone(reading, id)
    return Sheet(
        subject=Subject.GOODS,
        id=id,
        title=row.what,
        line=" · ".join(
            part
            for part in (row.number, _(field_of(Goods.sort).choice_word(row.sort)), row.where_kept)
            if part
        ),
        standing=_standing(reading, layers, row.low_at),
        state=state_of(there(layers), row.low_at),
        groups=(
            Group(N_("What it is"), facts_of(reading, Goods, row, without=("number", "what"))),
            Group(N_("Came in"), tuple(_lot_fact(reading, lot, layers) for lot in lots)),
            Group(N_("Went"), tuple(_gone_fact(reading, one) for one in gone)),
        ),
        money=_money(reading, layers, row.price),
        money_title=N_("What they cost"),
        history=History((), _marks(lots, gone)),
    )


def _standing(reading: Reading, layers: Sequence[Layer], low_at: int) -> str:
    left = there(layers)
    if not left:
        return _("None is left.")
    if left <= low_at:
        return _("{n} are there, which is low: receive more.").format(n=left)
    return _("{n} are there.").format(n=left)


def _lots(reading: Reading, goods_id: int) -> Sequence[GoodsIn]:
    return reading.session.scalars(
        select(GoodsIn).where(GoodsIn.goods_id == goods_id).order_by(GoodsIn.came_on, GoodsIn.id)
    ).all()


def _lot_fact(reading: Reading, lot: GoodsIn, layers: Sequence[Layer]) -> Fact:
    manners = reading.ledger.manners
    left = next((layer.left for layer in layers if layer.key == lot.id), 0)
    quiet = [
        _(field_of(GoodsIn.came_by).choice_word(lot.came_by)),
        _("at {cost} in all").format(cost=show_amount(reading.money(lot.cost), manners, dash=False)),
        _("{n} left").format(n=left) if left else _("all gone"),
        lot.supplier,
        "" if lot.minutes is None else _("{n} min").format(n=lot.minutes),
        " ".join(lot.what_done.split()),
    ]
    return Fact(show_day(lot.came_on, manners), str(lot.quantity), ", ".join(part for part in quiet if part))


@dataclass(frozen=True, slots=True)
class _Went:
    """Some that went: when, how, how many, at what cost, to what, and its page where it has one."""

    on: date
    how: str
    quantity: int
    cost: int
    to: str
    back: bool
    subject: tuple[Subject, int] | None


def _gone(reading: Reading, goods_id: int) -> Sequence[_Went]:
    into, became = aliased(GoodsIn), aliased(Goods)
    rows = reading.session.execute(
        select(
            GoodsOut.went_on,
            GoodsOut.went_by,
            GoodsOut.quantity,
            GoodsOut.cost,
            GoodsOut.into_id,
            Job.id.label("job_id"),
            Job.number.label("job"),
            Sale.id.label("sale_id"),
            Sale.number.label("sale"),
            became.id.label("became_id"),
            became.what.label("became"),
        )
        .join(GoodsIn, GoodsIn.id == GoodsOut.goods_in_id)
        .outerjoin(Job, Job.id == GoodsOut.job_id)
        .outerjoin(SaleLine, SaleLine.id == GoodsOut.sale_line_id)
        .outerjoin(Sale, Sale.id == SaleLine.sale_id)
        .outerjoin(into, into.id == GoodsOut.into_id)
        .outerjoin(became, became.id == into.goods_id)
        .where(GoodsIn.goods_id == goods_id)
        .order_by(GoodsOut.went_on, GoodsOut.id)
    )
    return tuple(_went(row) for row in rows)


def _went(row: Any) -> _Went:
    how = _(field_of(GoodsOut.went_by).choice_word(row.went_by))
    to, subject = "", None
    if row.went_by == "job":
        to, subject = row.job, (Subject.JOB, row.job_id)
    elif row.went_by == "sold":
        to, subject = row.sale, (Subject.SALE, row.sale_id)
    elif row.went_by == "altered":
        to, subject = row.became, (Subject.GOODS, row.became_id)
    back = row.into_id is not None and row.went_by != "altered"
    return _Went(row.went_on, how, row.quantity, row.cost, to, back, subject)


def _gone_fact(reading: Reading, one: _Went) -> Fact:
    manners = reading.ledger.manners
    quiet = [
        one.how,
        one.to,
        _("at {cost} in all").format(cost=show_amount(reading.money(one.cost), manners, dash=False)),
        _("came back") if one.back else "",
    ]
    return Fact(show_day(one.on, manners), str(one.quantity), ", ".join(part for part in quiet if part))


def _money(reading: Reading, layers: Sequence[Layer], price: int | None) -> tuple[Line, ...]:
    """Give what those that are left cost, lot by lot in the order in which they go, and what the shop asks for them."""
    manners = reading.ledger.manners
    of_unit = _("{n} of {quantity}, at {cost} in all")
    lines = [
        Line(
            _("Next to go") if n == 0 else _("Then"),
            of_unit.format(
                n=layer.left,
                quantity=layer.quantity,
                cost=show_amount(reading.money(layer.cost), manners, dash=False),
            ),
            reading.money(layer.cost_left),
        )
        for n, layer in enumerate(layer for layer in layers if layer.left)
    ]
    left = there(layers)
    lines.append(Line(_("Left, at cost"), str(left), reading.money(value_of(layers)), strong=True))
    if price is not None and left:
        lines.append(Line(_("The shop asks for them"), amount=reading.money(price * left)))
    return tuple(lines)


def _marks(lots: Sequence[GoodsIn], gone: Sequence[_Went]) -> tuple[Mark, ...]:
    came = [
        Mark(
            lot.came_on,
            MarkKind.ARRIVAL,
            f"{lot.quantity} {_(field_of(GoodsIn.came_by).choice_word(lot.came_by))}",
        )
        for lot in lots
    ]
    went = [
        Mark(
            one.on,
            MarkKind.SALE if one.subject and one.subject[0] is Subject.SALE else MarkKind.OTHER,
            " ".join(part for part in (str(one.quantity), one.how, one.to) if part),
            subject=one.subject,
        )
        for one in gone
    ]
    return tuple(sorted([*came, *went], key=lambda mark: mark.on))
