"""The price list of work: added to, changed, left out and offered again; found by a part of its name."""

from __future__ import annotations

from typing import Any

import pytest

from shopledger.acts import next_acts
from shopledger.model import WorkItem
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.declared import work_words
from shopledger.queries.pickers import find_work
from shopledger.queries.price_list import TABLE, sheet
from shopledger.queries.shapes import Subject
from tests.helpers.jobs import prefilled, preview_of, refused, twice, with_settings
from tests.helpers.shops import TriedShop, eur


def item(shop: TriedShop, what: str = "New bridge", **known: Any) -> int:
    """Add a line, by the hour unless it is told otherwise."""
    return shop.act("add_work_item", work={"what": what, "minutes": 150, **known}).id


def found(shop: TriedShop, words: str) -> list[str]:
    with shop.ledger.read() as reading:
        return [one.words for one in find_work(reading, words)]


def listed(shop: TriedShop, view: str = "offered", words: str = "", sort: str = "what") -> list[Any]:
    with shop.ledger.read() as reading:
        rows = TABLE.page(reading, TABLE.ids(reading, view, words, sort, False))
        return [row.cells for row in rows]


def test_a_line_is_added_once_changed_left_out_and_offered_again(any_shop: TriedShop) -> None:
    shop = any_shop
    work = {"what": " New bridge ", "for_kind": "cello", "minutes": 150}
    bridge = twice(shop, "add_work_item", work=work).id
    item(shop, "bow rehair", price=eur("70.00"), minutes=None)
    assert listed(shop) == [
        ("bow rehair", "", None, eur("70.00")),
        ("New bridge", "cello", "2\u00a0h\u00a030\u00a0min", None),
    ]
    stands = {"what": "New bridge", "for_kind": "cello", "minutes": 150, "price": None}
    assert prefilled(shop, "change_work_item", bridge) == stands
    changed = {"what": "New bridge", "price": eur("210.00"), "minutes": 120}
    said = preview_of(shop, "change_work_item", work_item_id=bridge, **changed)
    assert [line.how for line in said.lines] == [
        "New bridge, cello, 2\u00a0h\u00a030\u00a0min, by the hour",
        "New bridge, 2\u00a0h, 210.00",
    ]
    twice(shop, "change_work_item", work_item_id=bridge, **changed)
    twice(shop, "change_work_item", work_item_id=bridge, what="Bridge, new", minutes=120)
    assert ("Bridge, new", "", "2\u00a0h", None) in listed(shop)
    twice(shop, "leave_out_work_item", work_item_id=bridge)
    assert found(shop, "") == ["bow rehair"]
    assert [cells[0] for cells in listed(shop, "left_out")] == ["Bridge, new"]
    assert refused(shop, Refused, "work_item_id", "leave_out_work_item", work_item_id=bridge)
    twice(shop, "offer_work_item", work_item_id=bridge)
    assert "nothing to offer again" in refused(
        shop, Refused, "work_item_id", "offer_work_item", work_item_id=bridge
    )
    twice(shop, "leave_out_work_item", work_item_id=bridge)
    again = twice(shop, "add_work_item", work={"what": "bridge, NEW", "price": eur("220.00")}).id
    assert again == bridge
    with shop.ledger.read() as reading:
        line = reading.session.get_one(WorkItem, bridge)
        assert (line.what, line.price, line.minutes, line.left_out_on) == ("bridge, NEW", 22000, 120, None)


def test_the_list_is_narrowed_and_sorted(any_shop: TriedShop) -> None:
    shop = any_shop
    item(shop, "New bridge", for_kind="viola da gamba", minutes=200, price=eur("240.00"))
    item(shop, "Rehair", for_kind="bow", minutes=50, price=eur("70.00"))
    item(shop, "Seam glued", minutes=40)
    assert [cells[0] for cells in listed(shop, sort="price")] == ["Rehair", "New bridge", "Seam glued"]
    assert [cells[0] for cells in listed(shop, sort="minutes")] == ["Seam glued", "Rehair", "New bridge"]
    assert [cells[0] for cells in listed(shop, sort="for_kind")] == ["Seam glued", "Rehair", "New bridge"]
    assert [cells[0] for cells in listed(shop, words="gam new")] == ["New bridge"]
    assert listed(shop, words="zither") == []


def test_the_page_of_a_line_says_what_its_time_comes_to(shop: TriedShop) -> None:
    seam = item(shop, "Seam glued", minutes=40)

    def facts() -> dict[str, tuple[object, str]]:
        with shop.ledger.read() as reading:
            (group,) = sheet(reading, seam).groups
        return {fact.label: (fact.value, fact.quiet) for fact in group.facts}

    assert facts()["Price"] == ("by the hour; the hourly rate is not set yet", "")
    with_settings(shop, work_rate=9000)
    assert facts()["Comes to"] == (eur("60.00"), "at 90.00 an hour")
    shop.act("leave_out_work_item", work_item_id=seam)
    with shop.ledger.read() as reading:
        assert sheet(reading, seam).standing == (
            "No longer offered since 2 Mar 2026; what was estimated by it stays as it was."
        )
        with pytest.raises(NotFound):
            sheet(reading, 99)


def test_a_line_is_found_by_the_beginnings_of_its_words(any_shop: TriedShop) -> None:
    shop = any_shop
    for what, kind in (
        ("New bridge", "viola da gamba"),
        ("New bridge feet", ""),
        ("Décollage of a label", ""),
    ):
        item(shop, what, for_kind=kind)
    assert found(shop, "bri") == ["New bridge, viola da gamba", "New bridge feet"]
    assert found(shop, "gam new") == ["New bridge, viola da gamba"]
    assert found(shop, "decoll") == ["Décollage of a label"]
    assert found(shop, "ridge") == []
    with shop.ledger.read() as reading:
        assert len(find_work(reading, "", 2)) == 2
        assert work_words(reading, [99]) == {}


def test_a_line_needs_a_name_and_something_to_reckon_by(shop: TriedShop) -> None:
    assert "needs a price" in refused(
        shop, Typed, "work.price", "add_work_item", work={"what": "Regluing a seam"}
    )
    refused(shop, Typed, "work.what", "add_work_item", work={"minutes": 30})
    refused(shop, Typed, "work.price", "add_work_item", work={"what": "Seam", "price": eur("-1.00")})


@pytest.mark.parametrize(
    ("kind", "field", "name", "inputs"),
    [
        (Refused, "work.what", "add_work_item", {"work": {"what": "NEW BRIDGE", "minutes": 10}}),
        (NotFound, "work_item_id", "change_work_item", {"work_item_id": 99, "what": "Fret", "minutes": 5}),
        (Typed, "what", "change_work_item", {"work_item_id": 1, "what": "", "minutes": 5}),
        (Refused, "what", "change_work_item", {"work_item_id": 1, "what": "seam", "minutes": 5}),
        (Typed, "price", "change_work_item", {"work_item_id": 1, "what": "Bridge", "minutes": 0}),
        (Typed, "price", "change_work_item", {"work_item_id": 2, "what": "Seam"}),
        (Refused, "work_item_id", "change_work_item", {"work_item_id": 3, "what": "Fret", "minutes": 5}),
        (NotFound, "work_item_id", "offer_work_item", {"work_item_id": 99}),
        (Refused, "work_item_id", "leave_out_work_item", {"work_item_id": 3}),
        (NotFound, "work_item_id", "leave_out_work_item", {"work_item_id": 99}),
    ],
)
def test_what_can_t_stand_in_the_list_is_refused(
    shop: TriedShop, kind: Any, field: str, name: str, inputs: dict[str, Any]
) -> None:
    item(shop)
    item(shop, "Seam", price=eur("30.00"))
    shop.act("leave_out_work_item", work_item_id=item(shop, "Fret", price=eur("9.00")))
    given = {key: eur("5.00") if key == "price" else value for key, value in inputs.items()}
    refused(shop, kind, field, name, **given)


def test_a_line_offers_what_can_be_done_with_it(shop: TriedShop) -> None:
    fret = item(shop, "Fret")

    def offered() -> list[str]:
        with shop.ledger.read() as reading:
            return [one.name for one in next_acts(reading, Subject.WORK, fret)]

    assert offered() == ["change_work_item", "leave_out_work_item"]
    shop.act("leave_out_work_item", work_item_id=fret)
    assert offered() == ["offer_work_item"]
