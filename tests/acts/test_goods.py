"""Parts and goods: received, used, sold, returned, counted and altered, each at what it cost first in first out."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, do
from shopledger.acts.goods import PartRow
from shopledger.acts.selling_forms import SellLine
from shopledger.model import GoodsIn, GoodsOut, Job
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.quantities.money import Money
from shopledger.queries.lots import layers_of, parts_used
from shopledger.rules.first_in import there, value_of
from tests.helpers.jobs import job_on
from tests.helpers.shops import TriedShop, eur


def sort(shop: TriedShop, what: str = "Gut string, cello A", **known: Any) -> int:
    """Add a sort of goods."""
    return shop.act("add_goods", goods={"what": what, "sort": "part", "price": eur("12.00"), **known}).id


def receive(shop: TriedShop, goods: int, quantity: int, cost: str, **inputs: Any) -> None:
    shop.act("receive_goods", goods_id=goods, quantity=quantity, cost=eur(cost), **inputs)


def stock(shop: TriedShop, goods: int) -> tuple[int, int]:
    """Give how many are there and what they cost."""
    with shop.ledger.read() as reading:
        layers = layers_of(reading, goods, shop.today)
    return there(layers), value_of(layers)


def a_job(shop: TriedShop, **known: Any) -> int:
    """Write a job as its intake would leave it."""
    return job_on(shop, shop.taken_in(reason="repair"), **known)


def goods_line(goods: int, quantity: int = 1, price: str | None = None, **more: Any) -> SellLine:
    return SellLine(
        kind="accessory",
        goods_id=goods,
        quantity=quantity,
        price=None if price is None else eur(price),
        **more,
    )


def sell(shop: TriedShop, *lines: SellLine, **inputs: Any) -> int:
    return shop.act("sell_goods", buyer_id=shop.buyer, lines=lines, **inputs).id


def refused(shop: TriedShop, kind: type[LedgerError], field: str | None, name: str, **inputs: Any) -> str:
    """Make sure that an act is refused about a field and writes nothing; give the sentence."""
    before = shop.rows()
    with pytest.raises(kind) as caught:
        shop.act(name, **inputs)
    assert shop.rows() == before
    assert caught.value.field == field
    sentence = caught.value.sentence(shop.ledger.manners)
    assert sentence.endswith((".", "?"))
    assert "{" not in sentence
    return sentence


def test_an_open_text_on_inventories_is_booked(any_shop: TriedShop) -> None:
    # Simple Studies, Accounting for Inventories, 3.1, FIFO in a perpetual system, as in the test of the rules: 50 at
    # 10, 100 at 12, 120 go (1,340); 60 at 14 come, 70 go (920); 20 at 14 are left (280).
    shop = any_shop
    goods = sort(shop, sort="accessory")
    assert shop.booked(lambda: receive(shop, goods, 50, "500.00")) == [{"goods": 50000, "bank": -50000}]
    shop.pass_days(5)
    receive(shop, goods, 100, "1200.00", paid_from="capital", supplier="Rope and Reed")
    sale = shop.form("sell_goods", buyer_id=shop.buyer, lines=(goods_line(goods, 120, "2400.00"),))
    assert shop.booked(lambda: do(shop.ledger, act("sell_goods"), sale)) == [
        {"buyers Tam Brine": 240000, "goods_used": 134000, "goods": -134000, "goods_sales": -240000}
    ]
    assert shop.booked(lambda: do(shop.ledger, act("sell_goods"), sale)) == []
    receive(shop, goods, 60, "840.00")
    (entry,) = shop.booked(lambda: sell(shop, goods_line(goods, 70, "1750.00")))
    assert entry["goods_used"] == 92000
    assert stock(shop, goods) == (20, 28000)
    assert shop.balances()["goods"] == 28000


def test_a_returned_line_comes_back_at_what_it_went_at(any_shop: TriedShop) -> None:
    shop = any_shop
    goods = sort(shop)
    receive(shop, goods, 3, "1.00")
    receive(shop, goods, 2, "5.00")
    sale = sell(shop, goods_line(goods, 1), goods_line(goods, 3), goods_line(goods, 1, "20.00"))
    assert [shop.sale_line(sale, n).cost for n in (1, 2, 3)] == [33, 67 + 250, 250]
    assert [shop.sale_line(sale, n).price for n in (1, 2, 3)] == [1200, 3600, 2000]
    assert shop.sale_line(sale, 2).what == "Gut string, cello A"
    assert stock(shop, goods) == (0, 0)
    shop.act("reduce_price", sale_id=sale, line=2, price=eur("30.00"), why="a scratch")
    shop.act("take_back", sale_id=sale, lines="2", why="too long")
    assert stock(shop, goods) == (3, 317)
    assert shop.balances()["goods_used"] == 283
    shop.act("take_back", sale_id=sale, why="all of it")
    assert stock(shop, goods) == (5, 600)
    assert "goods_used" not in shop.balances()
    assert "goods_sales" not in shop.balances()
    # What came back goes again, and comes back again.
    again = sell(shop, goods_line(goods, 5))
    assert shop.sale_line(again).cost == 600
    shop.act("take_back", sale_id=again, why="no")
    assert stock(shop, goods) == (5, 600)


def test_one_price_for_an_instrument_and_goods(shop: TriedShop) -> None:
    goods = sort(shop, "Bow case", sort="accessory", price=eur("100.00"))
    receive(shop, goods, 2, "80.00")
    cello = shop.own(cost="1000.00", asking="1900.00")
    sale = shop.act(
        "sell",
        buyer_id=shop.buyer,
        lines=(shop.line(cello, None, kind="own"), goods_line(goods)),
        price_in_all=eur("1800.00"),
        tax_scheme="sales_tax",
        tax_rate=Fraction(1, 10),
    ).id
    case = shop.sale_line(sale, 2)
    assert (case.price, case.discount, case.cost, case.sales_tax) == (9000, 1000, 4000, 900)
    assert case.shop_keeps == 5000


def test_parts_are_used_in_a_job_and_put_back(any_shop: TriedShop) -> None:
    shop = any_shop
    goods = sort(shop)
    receive(shop, goods, 3, "1.00")
    receive(shop, goods, 3, "2.00")
    job = a_job(shop, approved_on=shop.today)
    form = shop.form("use_part", job_id=job, goods_id=goods, quantity=5)
    assert shop.booked(lambda: do(shop.ledger, act("use_part"), form)) == [{"goods_used": 233, "goods": -233}]
    assert shop.booked(lambda: do(shop.ledger, act("use_part"), form)) == []
    with shop.ledger.read() as reading:
        assert reading.session.get_one(Job, job).begun_on == shop.today
        (used,) = parts_used(reading, job)
    assert (used.quantity, used.cost, used.price) == (5, eur("2.33"), eur("12.00"))
    # Of the last two, taken together at 1.33, one goes back at 0.66, as 0.67 are the first one's.
    assert shop.booked(lambda: shop.act("put_part_back", job_id=job, goods_id=goods)) == [
        {"goods": 66, "goods_used": -66}
    ]
    assert stock(shop, goods) == (2, 67 + 66)
    shop.act("put_part_back", job_id=job, goods_id=goods, quantity=3)
    with shop.ledger.read() as reading:
        (used,) = parts_used(reading, job)
    assert (used.quantity, used.cost) == (1, eur("0.33"))
    assert stock(shop, goods) == (5, 267)
    sentence = refused(shop, Refused, "quantity", "put_part_back", job_id=job, goods_id=goods, quantity=2)
    assert "has 1 of Gut string" in sentence
    shop.act("put_part_back", job_id=job, goods_id=goods)
    assert shop.balances() == {"bank": -300, "goods": 300}


def test_a_job_not_agreed_is_not_begun_by_a_part(shop: TriedShop) -> None:
    goods = sort(shop)
    receive(shop, goods, 1, "1.00")
    job = a_job(shop)
    shop.act("use_part", job_id=job, goods_id=goods)
    with shop.ledger.read() as reading:
        assert reading.session.get_one(Job, job).begun_on is None


def test_a_count(any_shop: TriedShop) -> None:
    shop = any_shop
    goods = sort(shop)
    receive(shop, goods, 3, "1.00")
    receive(shop, goods, 3, "2.00")
    assert shop.booked(lambda: shop.act("count_goods", goods_id=goods, counted=2)) == [
        {"goods": -167, "goods_used": 167}
    ]
    assert stock(shop, goods) == (2, 133)
    # Two found at the unit cost of the newest lot, three for 2.00.
    assert shop.booked(lambda: shop.act("count_goods", goods_id=goods, counted=4)) == [
        {"goods": 133, "goods_used": -133}
    ]
    assert shop.booked(lambda: shop.act("count_goods", goods_id=goods, counted=4)) == []
    assert stock(shop, goods) == (4, 266)
    shop.act("count_goods", goods_id=goods, counted=0)
    assert stock(shop, goods) == (0, 0)


def test_an_alteration_sums_its_costs(any_shop: TriedShop) -> None:
    shop = any_shop
    plain = sort(shop, "Chin rest, raw")
    cork = sort(shop, "Cork sheet")
    fitted = sort(shop, "Chin rest, fitted", sort="accessory", price=eur("60.00"))
    receive(shop, plain, 4, "50.00")
    receive(shop, cork, 3, "1.00")
    before = shop.balances()
    assert (
        shop.booked(
            lambda: shop.act(
                "alter_goods",
                goods_id=plain,
                quantity=2,
                parts=(PartRow(goods_id=cork, quantity=1), PartRow(goods_id=cork, quantity=2)),
                into_id=fitted,
                minutes=45,
                what_done="cut down and corked",
            )
        )
        == []
    )
    assert shop.balances() == before
    assert (stock(shop, plain), stock(shop, cork), stock(shop, fitted)) == ((2, 2500), (0, 0), (2, 2600))
    with shop.ledger.read() as reading:
        lot = reading.session.scalars(select(GoodsIn).where(GoodsIn.came_by == "altered")).one()
        assert (lot.minutes, lot.what_done, lot.entry_id) == (45, "cut down and corked", None)
        assert len(reading.session.scalars(select(GoodsOut).where(GoodsOut.into_id == lot.id)).all()) == 3
    sale = sell(shop, goods_line(fitted))
    assert shop.sale_line(sale).cost == 1300


def test_what_came_for_nothing(shop: TriedShop) -> None:
    goods = sort(shop)
    assert shop.booked(lambda: receive(shop, goods, 5, "0.00")) == []
    job = a_job(shop)
    assert shop.booked(lambda: shop.act("use_part", job_id=job, goods_id=goods)) == []
    sale = sell(shop, goods_line(goods, 2))
    shop.act("take_back", sale_id=sale, why="no")
    shop.act("put_part_back", job_id=job, goods_id=goods)
    shop.act("count_goods", goods_id=goods, counted=4)
    shop.act("count_goods", goods_id=goods, counted=9)
    assert stock(shop, goods) == (9, 0)


def test_what_is_known_is_written_anew(shop: TriedShop) -> None:
    goods = sort(shop, low_at=2)
    shown = act("change_goods").prefill
    assert shown is not None
    with shop.ledger.read() as reading:
        known = shown(reading, goods)["goods"]
    assert known["price"] == eur("12.00")
    shop.act("change_goods", goods_id=goods, goods={**known, "price": None, "low_at": None})
    with shop.ledger.read() as reading:
        known = shown(reading, goods)["goods"]
    assert (known["price"], known["low_at"], known["what"]) == (None, 0, "Gut string, cello A")


def test_what_is_refused(shop: TriedShop) -> None:
    goods = sort(shop, price=None)
    other = sort(shop, "Peg")
    assert "came in" in refused(shop, Refused, "counted", "count_goods", goods_id=goods, counted=1)
    job = a_job(shop)
    shop.pass_days(3)
    receive(shop, goods, 2, "1.00")
    early = shop.today - timedelta(days=1)
    for kind, field, name, inputs in (
        (NotFound, "goods_id", "receive_goods", {"goods_id": 99, "quantity": 1, "cost": eur("1.00")}),
        (Typed, "quantity", "receive_goods", {"goods_id": goods, "quantity": 0, "cost": eur("1.00")}),
        (Typed, "cost", "receive_goods", {"goods_id": goods, "quantity": 1, "cost": eur("-1.00")}),
        (Typed, "cost", "receive_goods", {"goods_id": goods, "quantity": 1, "cost": Money(1, "USD")}),
        (Typed, "goods.what", "add_goods", {"goods": {"sort": "part"}}),
        (Refused, "on", "count_goods", {"goods_id": goods, "counted": 1, "on": early}),
        (Typed, "counted", "count_goods", {"goods_id": goods, "counted": -1}),
        (Refused, "quantity", "use_part", {"job_id": job, "goods_id": goods, "quantity": 3}),
        (Refused, "quantity", "use_part", {"job_id": job, "goods_id": goods, "on": early}),
        (Typed, "quantity", "use_part", {"job_id": job, "goods_id": goods, "quantity": 0}),
        (NotFound, "goods_id", "use_part", {"job_id": job, "goods_id": 99}),
        (NotFound, None, "use_part", {"job_id": 99, "goods_id": goods}),
        (Refused, "quantity", "put_part_back", {"job_id": job, "goods_id": goods}),
        (Typed, "into_id", "alter_goods", {"goods_id": goods, "into_id": goods}),
        (NotFound, "into_id", "alter_goods", {"goods_id": goods, "into_id": 99}),
        (Typed, "made", "alter_goods", {"goods_id": goods, "into_id": other, "made": 0}),
        (
            Refused,
            "parts[0].quantity",
            "alter_goods",
            {"goods_id": goods, "into_id": other, "parts": (PartRow(goods_id=goods, quantity=2),)},
        ),
    ):
        refused(shop, kind, field, name, **inputs)
    for kind, field, line in (
        (Refused, "lines[0].quantity", goods_line(goods, 3, "9.00")),
        (Typed, "lines[0].price", goods_line(goods, 1)),
        (NotFound, "lines[0].goods_id", goods_line(99, 1)),
        (
            Typed,
            "lines[0].goods_id",
            SellLine(kind="work", what="fitting", goods_id=goods, price=eur("9.00")),
        ),
        (
            Typed,
            "lines[0].goods_id",
            SellLine(kind="own", instrument_id=shop.own(), goods_id=goods, price=eur("9.00")),
        ),
    ):
        refused(shop, kind, field, "sell_goods", buyer_id=shop.buyer, lines=(line,))
    both = (goods_line(goods, 1, "9.00"), goods_line(goods, 2, "9.00"))
    refused(shop, Refused, "lines[1].quantity", "sell_goods", buyer_id=shop.buyer, lines=both)


def test_an_ended_job_takes_no_parts(shop: TriedShop) -> None:
    goods = sort(shop)
    receive(shop, goods, 1, "1.00")
    job = a_job(shop, ended_on=shop.today, ending="collected")
    assert "ended on" in refused(shop, Refused, None, "use_part", job_id=job, goods_id=goods)


def test_previews_say_what_is_booked(shop: TriedShop) -> None:
    goods = sort(shop)
    fitted = sort(shop, "String, wound")
    receive(shop, goods, 3, "1.00")
    job = a_job(shop)

    def told(name: str, **inputs: Any) -> list[tuple[str, Money | None]]:
        preview = act(name).preview
        assert preview is not None
        with shop.ledger.read() as reading:
            return [(line.label, line.amount) for line in preview(reading, shop.form(name, **inputs)).lines]

    assert told("use_part", job_id=job, goods_id=goods, quantity=2) == [
        ("They cost the shop", eur("0.67")),
        ("The shop asks for them", eur("24.00")),
    ]
    assert told("count_goods", goods_id=goods, counted=2)[1] == ("Missing, booked as used", eur("0.33"))
    assert told("count_goods", goods_id=goods, counted=4)[1] == ("Found, at the newest cost", eur("0.33"))
    assert told("count_goods", goods_id=goods, counted=3)[1] == ("As the ledger has it", None)
    assert told("alter_goods", goods_id=goods, quantity=2, into_id=fitted)[-1] == (
        "String, wound",
        eur("0.67"),
    )
    assert told("sell_goods", buyer_id=shop.buyer, lines=(goods_line(goods, 2),)) == [
        ("Gut string, cello A", eur("24.00"))
    ]
