"""The table and page of parts and goods, on both databases: how many, at what cost, which are low, where they went."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from shopledger.acts.selling_forms import SellLine
from shopledger.model import Goods, fields_of
from shopledger.quantities.errors import NotFound
from shopledger.queries import goods
from shopledger.queries.pickers import find_goods
from shopledger.store.unit import Reading
from tests.helpers.shops import TriedShop, eur


class GoodsShop(TriedShop):
    """A shop with a full drawer, one that is low, an empty one and one that was never filled."""

    def __init__(self, place: str | Path) -> None:
        super().__init__(place)
        self.string = self.sort("Gut string, cello A", price=eur("12.00"), low_at=2, where_kept="drawer 3")
        self.peg = self.sort("Peg, boxwood", low_at=4)
        self.rosin = self.sort("Rosin, dark", sort="accessory", price=eur("9.00"))
        self.mute = self.sort("Åsa's mute", sort="accessory")
        self.act("receive_goods", goods_id=self.string, quantity=3, cost=eur("1.00"))
        self.act("receive_goods", goods_id=self.peg, quantity=4, cost=eur("8.00"), supplier="Reed and Rope")
        self.act("receive_goods", goods_id=self.rosin, quantity=2, cost=eur("6.00"))
        self.pass_days(2)
        self.act("receive_goods", goods_id=self.string, quantity=4, cost=eur("3.00"))
        lines = (
            SellLine(kind="accessory", goods_id=self.string),
            SellLine(kind="accessory", goods_id=self.rosin, quantity=2),
        )
        self.sale = self.act("sell_goods", buyer_id=self.buyer, lines=lines).id
        self.back = self.act("sell_goods", buyer_id=self.buyer, lines=lines[:1]).id
        self.act("take_back", sale_id=self.back, why="too thick")
        self.act("alter_goods", goods_id=self.string, into_id=self.mute, minutes=30, what_done="knotted")

    def sort(self, what: str, **known: Any) -> int:
        return self.act("add_goods", goods={"what": what, "sort": "part", **known}).id


@pytest.fixture
def drawers(place: str | Path) -> Iterator[GoodsShop]:
    shop = GoodsShop(place)
    yield shop
    shop.ledger.close()
    assert shop.wrong() == []


def cells(reading: Reading, key: int) -> dict[str, Any]:
    (row,) = goods.page(reading, [key])
    return dict(zip([column.name for column in goods.COLUMNS], row.cells, strict=True))


def test_columns_derive_from_the_declared_fields() -> None:
    declared = [name for name, field in fields_of(Goods).items() if field.in_table]
    assert [column.name for column in goods.COLUMNS] == [*declared, "there", "at_cost", "state"]


def test_the_table(drawers: GoodsShop, tmp_path: Path) -> None:
    shop = drawers
    with shop.ledger.read() as reading:

        def ids(
            view: str = "all", words: str = "", sort: str = "what", descending: bool = False
        ) -> list[int]:
            return list(goods.ids(reading, view, words, sort, descending))

        # Seven came for 4.00; two were sold, of which one came back, and one became a mute: 33 + 34 out, 34 in, 33 out.
        string = cells(reading, shop.string)
        assert (string["number"], string["there"], string["at_cost"]) == ("G 001", 5, eur("3.34"))
        assert string["state"].code == "in_stock"
        assert (cells(reading, shop.peg)["there"], cells(reading, shop.peg)["state"].code) == (4, "low")
        rosin = cells(reading, shop.rosin)
        assert (rosin["there"], rosin["at_cost"], rosin["state"].code) == (0, eur("0.00"), "none_left")
        assert cells(reading, shop.mute)["at_cost"] == eur("0.33")
        assert set(ids("low")) == {shop.peg, shop.rosin}
        assert set(ids("parts")) == {shop.string, shop.peg}
        assert set(ids("accessories")) == {shop.rosin, shop.mute}
        assert ids(words="boxw") == [shop.peg]
        assert ids(words="drawer 3") == [shop.string]
        assert ids(words="asa mute") == [shop.mute]
        assert ids(words="zither") == []
        assert ids(sort="there") == [shop.rosin, shop.mute, shop.peg, shop.string]
        assert ids(sort="at_cost", descending=True)[0] == shop.peg
        assert ids(sort="price") == [shop.rosin, shop.string, shop.peg, shop.mute]
        assert ids(sort="number") == [shop.string, shop.peg, shop.rosin, shop.mute]
        for column in goods.COLUMNS:
            if column.sortable:
                for descending in (False, True):
                    found = ids(sort=column.name, descending=descending)
                    assert [row.id for row in goods.page(reading, found)] == found
                    assert len(found) == 4
        assert [one.words for one in find_goods(reading, "gut")] == ["Gut string, cello A, G 001"]
        assert len(find_goods(reading, "")) == 4


def test_a_page_asks_as_much_for_one_row_as_for_all(
    drawers: GoodsShop, counted: Callable[[Any, Any], int]
) -> None:
    with drawers.ledger.read() as reading:
        found = goods.ids(reading, "all", "", "what", False)
        assert counted(drawers.ledger, lambda: goods.page(reading, found)) == 1
        assert counted(drawers.ledger, lambda: goods.page(reading, found[:1])) == 1


def test_the_page_about_a_sort(drawers: GoodsShop) -> None:
    shop = drawers
    with shop.ledger.read() as reading:
        page = goods.sheet(reading, shop.string)
        assert (page.title, page.standing) == ("Gut string, cello A", "5 are there.")
        assert page.line == "G 001 · part for the workshop · drawer 3"
        groups = {group.title: group.facts for group in page.groups}
        assert [(fact.value, fact.quiet.split(", ")[0]) for fact in groups["Came in"]] == [
            ("3", "bought in"),
            ("4", "bought in"),
            ("1", "came back"),
        ]
        went = [fact.quiet for fact in groups["Went"]]
        assert went[0].startswith("sold, SI 2026-001, at 0.33 in all")
        assert went[1].endswith("came back")
        assert went[2].startswith("altered by the shop, Åsa's mute, ")
        assert [(line.label, line.amount) for line in page.money] == [
            ("Next to go", eur("3.00")),
            ("Then", eur("0.34")),
            ("Left, at cost", eur("3.34")),
            ("The shop asks for them", eur("60.00")),
        ]
        assert len(page.history.marks) == 6
        assert goods.sheet(reading, shop.peg).standing == "4 are there, which is low: receive more."
        assert "Reed and Rope" in goods.sheet(reading, shop.peg).groups[1].facts[0].quiet
        assert goods.sheet(reading, shop.rosin).standing == "None is left."
        assert goods.sheet(reading, shop.mute).groups[1].facts[0].quiet.endswith("30 min, knotted")
        with pytest.raises(NotFound):
            goods.sheet(reading, 99)


def test_what_is_known_is_found_anew(drawers: GoodsShop) -> None:
    drawers.act("change_goods", goods_id=drawers.peg, goods={"what": "Peg, pearwood"})
    with drawers.ledger.read() as reading:
        assert goods.ids(reading, "all", "boxwood", "what", False) == []
        assert goods.ids(reading, "all", "pearwood", "what", False) == [drawers.peg]
