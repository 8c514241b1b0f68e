"""Parts and goods: a sort is added, received at cost, counted, and altered by the shop into another sort."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shopledger.acts.columns import filled, refill
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.lots import CHANGED, Lots, goods_of, take_from, write_takes
from shopledger.acts.taking_in import PAID_FROM
from shopledger.model import Goods, GoodsIn, asked_of
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.lots import last_moved, layers_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.first_in import Take, at_newest_cost, cost_of, there
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class AddGoods(Form):
    """A sort that is new to the shop."""

    goods: Mapping[str, Any] = ask(Field(N_("Part or accessory"), Kind.GROUP, of=Goods))


@dataclass(frozen=True, kw_only=True)
class ChangeGoods(Form):
    """A sort that is known, with what is to be written anew."""

    goods_id: int = ask(Field(N_("Part or accessory"), Kind.GOODS, required=True))
    goods: Mapping[str, Any] = ask(Field(N_("What is known"), Kind.GROUP, of=Goods))


@dataclass(frozen=True, kw_only=True)
class ReceiveGoods(Form):
    """A lot that came in."""

    goods_id: int = ask(Field(N_("Part or accessory"), Kind.GOODS, required=True))
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT, required=True))
    cost: Money = ask(
        Field(N_("Cost of all"), Kind.MONEY, required=True, help=N_("With what it cost to have them sent."))
    )
    supplier: str = ask(Field(N_("From")), default="")
    paid_from: str = ask(Field(N_("Paid from"), Kind.CHOICE, choices=PAID_FROM), default="bank")


@dataclass(frozen=True, kw_only=True)
class CountGoods(Form):
    """How many are really there."""

    goods_id: int = ask(Field(N_("Part or accessory"), Kind.GOODS, required=True))
    counted: int = ask(Field(N_("Counted"), Kind.COUNT, required=True))


@dataclass(frozen=True, kw_only=True)
class PartRow:
    """A part that is used, and how many of it."""

    goods_id: int = ask(Field(N_("Part"), Kind.GOODS, required=True))
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)


@dataclass(frozen=True, kw_only=True)
class AlterGoods(Form):
    """Some of one sort become another sort by the shop's own work."""

    goods_id: int = ask(Field(N_("Altered"), Kind.GOODS, required=True))
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)
    parts: tuple[PartRow, ...] = ask(Field(N_("Parts used"), Kind.ROWS, of=PartRow))
    into_id: int = ask(
        Field(N_("Becomes"), Kind.GOODS, required=True, help=N_("The sort that it is sold as; add it first."))
    )
    made: int | None = ask(
        Field(N_("How many come of it"), Kind.COUNT, help=N_("Empty: as many as were altered."))
    )
    minutes: int | None = ask(
        Field(
            N_("Time spent on it"),
            Kind.COUNT,
            unit=N_("min"),
            help=N_("Recorded; it doesn't add to the cost."),
        )
    )
    what_done: str = ask(Field(N_("What was done to it"), Kind.LINES), default="")


def _typed(values: Mapping[str, Any]) -> Mapping[str, Any]:
    """Give what was typed, nothing for the number it is low at meaning nought."""
    return {**values, "low_at": values.get("low_at") or 0} if "low_at" in values else values


def run_add_goods(writing: Writing, form: AddGoods) -> Outcome:
    """Add a sort under the next number."""
    goods = filled(Goods, _typed(form.goods), writing.currency, path="goods", number="")
    goods.number = writing.number("goods")
    writing.add(goods)
    return Outcome(Subject.GOODS, goods.id, frozenset({Subject.GOODS}))


def run_change_goods(writing: Writing, form: ChangeGoods) -> Outcome:
    """Write what is known of a sort anew; invoices and bills before stay as they were."""
    goods = goods_of(writing, form.goods_id, "goods_id")
    refill(goods, _typed(form.goods), writing.currency, path="goods")
    writing.session.flush()
    return Outcome(Subject.GOODS, goods.id, frozenset({Subject.GOODS}))


def run_receive_goods(writing: Writing, form: ReceiveGoods) -> Outcome:
    """Receive a lot at what all of it cost; what came for nothing is received without an entry."""
    goods = goods_of(writing, form.goods_id, "goods_id")
    if form.quantity < 1:
        raise Typed(N_("The quantity is at least 1."), field="quantity")
    if form.cost.minor < 0:
        raise Typed(N_("The cost can't be below zero."), field="cost")
    cost = form.cost.minor
    entry = None
    if cost:
        entry = writing.book(
            [Amount("goods", cost), Amount(form.paid_from, -cost)],
            f"{goods.number} received {form.quantity}",
        )
    writing.add(
        GoodsIn(
            goods_id=goods.id,
            came_on=writing.on,
            came_by="bought",
            quantity=form.quantity,
            cost=cost,
            supplier=form.supplier,
            entry_id=entry,
        )
    )
    return Outcome(Subject.GOODS, goods.id, CHANGED)


@dataclass(frozen=True, slots=True)
class _Counted:
    """What a count comes to: what is missing of which lots, or how many were found and at what cost."""

    there: int
    missing: tuple[Take, ...] = ()
    found: int = 0
    cost: int = 0


def _counted(reading: Reading, form: CountGoods, goods: Goods) -> _Counted:
    if form.counted < 0:
        raise Typed(N_("The number counted can't be below zero."), field="counted")
    moved = last_moved(reading, goods.id)
    if moved is not None and form.on < moved:
        raise Refused(
            N_("{goods} came or went on {day}: book the count on that day or later."),
            field="on",
            goods=goods.number,
            day=moved,
        )
    layers = layers_of(reading, goods.id, form.on)
    now = there(layers)
    if form.counted < now:
        takes = take_from(reading, {goods.id: layers}, goods, now - form.counted, form.on)
        return _Counted(now, missing=takes, cost=cost_of(takes))
    if form.counted == now:
        return _Counted(now)
    if not layers:
        raise Refused(
            N_("None of {goods} ever came in, so what one costs isn't known. Receive them instead."),
            field="counted",
            goods=goods.number,
        )
    found = form.counted - now
    return _Counted(now, found=found, cost=at_newest_cost(layers[-1], found))


def run_count_goods(writing: Writing, form: CountGoods) -> Outcome:
    """Bring the number to what was counted.

    What is missing goes to the parts used: in a drawer of strings and pegs it was nearly always used and not written
    down, while `losses` is for instruments. What is found comes from there, at the cost of the newest lot.
    """
    goods = goods_of(writing, form.goods_id, "goods_id")
    counted = _counted(writing, form, goods)
    sign = -1 if counted.missing else 1
    entry = None
    if counted.cost:
        entry = writing.book(
            [Amount("goods", sign * counted.cost), Amount("goods_used", -sign * counted.cost)],
            f"{goods.number} counted {form.counted}",
        )
    if counted.missing:
        write_takes(writing, counted.missing, "counted", entry_id=entry)
    elif counted.found:
        writing.put(
            GoodsIn(
                goods_id=goods.id,
                came_on=writing.on,
                came_by="counted",
                quantity=counted.found,
                cost=counted.cost,
                entry_id=entry,
            )
        )
    writing.session.flush()
    return Outcome(Subject.GOODS, goods.id, CHANGED)


def preview_count(reading: Reading, form: CountGoods) -> Preview:
    """Say how many were found or are missing, and what they cost."""
    counted = _counted(reading, form, goods_of(reading, form.goods_id, "goods_id"))
    lines = [Line(_("In the ledger"), str(counted.there))]
    if counted.missing:
        missing = counted.there - form.counted
        lines.append(
            Line(_("Missing, booked as used"), str(missing), reading.money(counted.cost), strong=True)
        )
    elif counted.found:
        lines.append(
            Line(_("Found, at the newest cost"), str(counted.found), reading.money(counted.cost), strong=True)
        )
    else:
        lines.append(Line(_("As the ledger has it"), strong=True))
    return Preview(_("What the count changes"), tuple(lines))


def _altered(reading: Reading, form: AlterGoods) -> Sequence[tuple[Goods, tuple[Take, ...]]]:
    """Give what an alteration takes, sort by sort."""
    goods = goods_of(reading, form.goods_id, "goods_id")
    if form.into_id == form.goods_id:
        raise Typed(N_("It has to become another sort: choose or add that one."), field="into_id")
    if form.made is not None and form.made < 1:
        raise Typed(N_("At least 1 comes of it."), field="made")
    lots: Lots = {}
    taken = [(goods, take_from(reading, lots, goods, form.quantity, form.on))]
    for n, row in enumerate(form.parts):
        part = goods_of(reading, row.goods_id, f"parts[{n}].goods_id")
        taken.append((part, take_from(reading, lots, part, row.quantity, form.on, f"parts[{n}].quantity")))
    return taken


def run_alter_goods(writing: Writing, form: AlterGoods) -> Outcome:
    """Take what is altered and what goes into it, and bring in the other sort at the sum of their costs.

    All of it stays goods of the shop, so nothing is posted.
    """
    taken = _altered(writing, form)
    into = goods_of(writing, form.into_id, "into_id")
    lot = writing.add(
        GoodsIn(
            goods_id=into.id,
            came_on=writing.on,
            came_by="altered",
            quantity=form.quantity if form.made is None else form.made,
            cost=sum(cost_of(takes) for _goods, takes in taken),
            minutes=form.minutes,
            what_done=form.what_done,
        )
    )
    for _goods, takes in taken:
        write_takes(writing, takes, "altered", entry_id=None, into_id=lot.id)
    writing.session.flush()
    return Outcome(Subject.GOODS, into.id, CHANGED)


def preview_alter(reading: Reading, form: AlterGoods) -> Preview:
    """Say what is taken at what cost, and what the other sort then costs."""
    taken = _altered(reading, form)
    lines = [
        Line(goods.what, str(sum(one.quantity for one in takes)), reading.money(cost_of(takes)))
        for goods, takes in taken
    ]
    into = goods_of(reading, form.into_id, "into_id")
    made = form.quantity if form.made is None else form.made
    whole = reading.money(sum(cost_of(takes) for _goods, takes in taken))
    lines.append(Line(into.what, str(made), whole, strong=True))
    return Preview(_("What it comes to"), tuple(lines))


def refuse_unknown_goods(reading: Reading, goods_id: int) -> None:
    """Refuse what is about no sort in the ledger."""
    goods_of(reading, goods_id)


def refuse_none_left(reading: Reading, goods_id: int) -> None:
    """Refuse to alter a sort of which none is there."""
    goods = goods_of(reading, goods_id)
    if not there(layers_of(reading, goods.id, reading.ledger.today())):
        raise Refused(N_("None of {goods} is there. Receive some first."), goods=goods.number)


def prefill_change_goods(reading: Reading, goods_id: int) -> Mapping[str, Any]:
    """Give what is known now."""
    goods = goods_of(reading, goods_id)
    known = {name: getattr(goods, name) for name in asked_of(Goods)}
    if goods.price is not None:
        known["price"] = reading.money(goods.price)
    return {"goods": known}


def prefill_count(reading: Reading, goods_id: int) -> Mapping[str, Any]:
    """Give how many the ledger has."""
    return {"counted": there(layers_of(reading, goods_id, reading.ledger.today()))}


ADD_GOODS = Act(
    name="add_goods",
    text=N_("Add a part or accessory"),
    subject=Subject.SHOP,
    form=AddGoods,
    run=run_add_goods,
    help=N_("A sort of string, peg or rosin; what comes in of it is received after that."),
)
RECEIVE_GOODS = Act(
    name="receive_goods",
    text=N_("Receive"),
    subject=Subject.GOODS,
    form=ReceiveGoods,
    run=run_receive_goods,
    subject_input="goods_id",
    allowed=refuse_unknown_goods,
)
COUNT_GOODS = Act(
    name="count_goods",
    text=N_("Count"),
    subject=Subject.GOODS,
    form=CountGoods,
    run=run_count_goods,
    subject_input="goods_id",
    allowed=refuse_unknown_goods,
    prefill=prefill_count,
    preview=preview_count,
)
ALTER_GOODS = Act(
    name="alter_goods",
    text=N_("Alter into another sort"),
    subject=Subject.GOODS,
    form=AlterGoods,
    run=run_alter_goods,
    subject_input="goods_id",
    allowed=refuse_none_left,
    preview=preview_alter,
)
CHANGE_GOODS = Act(
    name="change_goods",
    text=N_("Change what is known"),
    subject=Subject.GOODS,
    form=ChangeGoods,
    run=run_change_goods,
    subject_input="goods_id",
    allowed=refuse_unknown_goods,
    prefill=prefill_change_goods,
)
ACTS = (ADD_GOODS, RECEIVE_GOODS, COUNT_GOODS, ALTER_GOODS, CHANGE_GOODS)
