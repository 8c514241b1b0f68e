"""What is changed of parts and goods past the acts is noticed, on both databases: planted and undone in turn."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from shopledger.acts.selling_forms import SellLine
from shopledger.store.proof.finding import Wrong
from shopledger.store.prove import prove
from tests.helpers.noticing import notice, wrong_with
from tests.helpers.shops import TriedShop, eur
from tests.helpers.tampering import tamper

PLANTED = {
    "a lot larger than it was": (
        "goods_in SET quantity = quantity + 1 WHERE id = 1",
        "quantity = quantity - 1",
    ),
    "more went than came": ("goods_out SET quantity = quantity + 9 WHERE id = 1", "quantity = quantity - 9"),
    "a share of a lot": ("goods_out SET cost = cost + 1 WHERE id = 1", "cost = cost - 1"),
    "what a lot cost": ("goods_in SET cost = cost + 1 WHERE id = 2", "cost = cost - 1"),
    "taken from another lot": ("goods_out SET goods_in_id = 2 WHERE id = 1", "goods_in_id = 1"),
    "sold without its line": ("goods_out SET sale_line_id = NULL WHERE id = 1", "sale_line_id = 1"),
    "sold with another line": ("goods_out SET sale_line_id = 2 WHERE id = 1", "sale_line_id = 1"),
    "never booked": ("goods_out SET entry_id = NULL WHERE id = 4", "entry_id = {entry}"),
    "booked by another entry": ("goods_out SET entry_id = 1 WHERE id = 4", "entry_id = {entry}"),
    "altered into nothing": ("goods_out SET into_id = NULL WHERE id = 3", "into_id = {into}"),
    "how a lot came": ("goods_in SET came_by = 'altered' WHERE id = 1", "came_by = 'bought'"),
    "a line of other goods": ("sale_line SET goods_id = NULL WHERE id = 1", "goods_id = 1"),
    "a line's number": ("sale_line SET quantity = quantity + 1 WHERE id = 1", "quantity = quantity - 1"),
    "a line's cost": ("sale_line SET cost = cost + 1 WHERE id = 1", "cost = cost - 1"),
}


@pytest.fixture
def shop(place: str | Path) -> Iterator[TriedShop]:
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()


def goods_wrong(shop: TriedShop) -> list[Wrong]:
    return wrong_with(shop.ledger.where, "goods")


def test_each_is_noticed(shop: TriedShop) -> None:
    string = shop.act("add_goods", goods={"what": "String", "sort": "part", "price": eur("9.00")}).id
    wound = shop.act("add_goods", goods={"what": "Wound string", "sort": "accessory"}).id
    shop.act("receive_goods", goods_id=string, quantity=5, cost=eur("3.33"))
    shop.act("receive_goods", goods_id=string, quantity=5, cost=eur("4.00"))
    line = SellLine(kind="accessory", goods_id=string, quantity=2)
    shop.act("sell_goods", buyer_id=shop.buyer, lines=(line,))
    back = shop.act("sell_goods", buyer_id=shop.buyer, lines=(line,)).id
    shop.act("take_back", sale_id=back, why="too thin")
    shop.act("alter_goods", goods_id=string, into_id=wound)
    shop.act("count_goods", goods_id=string, counted=5)
    with shop.ledger.read() as reading:
        from shopledger.model import GoodsOut

        missing, altered = reading.session.get_one(GoodsOut, 4), reading.session.get_one(GoodsOut, 3)
        known = {"entry": missing.entry_id, "into": altered.into_id}
    assert (missing.went_by, altered.went_by) == ("counted", "altered")
    assert prove(shop.ledger.where) == []
    for name, (planted, undone) in PLANTED.items():
        table, _set, where = planted.partition(" SET ")
        undo = f"UPDATE {table} SET {undone.format(**known)} WHERE {where.partition(' WHERE ')[2]}"
        notice(shop.ledger.where, name, f"UPDATE {planted}", undo, "goods")
    # Each was put right again: what is left of one would be taken for the next.
    assert prove(shop.ledger.where) == []


def test_an_amount_of_the_journal_is_noticed_beside_the_chain(shop: TriedShop) -> None:
    string = shop.act("add_goods", goods={"what": "String", "sort": "part"}).id
    shop.act("receive_goods", goods_id=string, quantity=5, cost=eur("3.33"))
    tamper(shop.ledger.where, "UPDATE posting SET amount = amount * 2 WHERE entry_id = 1")
    assert {wrong.where for wrong in goods_wrong(shop)} == {"", "G 001 lot 1"}
