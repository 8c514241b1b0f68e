"""The price list of work: added to, changed, left out and offered again; found by a part of its name."""

from __future__ import annotations

from typing import Any

import pytest

from shopledger.acts import next_acts
from shopledger.model import WorkItem
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.declared import work_words
from shopledger.queries.pickers import find_work
from shopledger.queries.price_list import price_list_facts
from shopledger.queries.shapes import Subject
from tests.helpers.jobs import preview_of, refused, twice
from tests.helpers.shops import TriedShop, eur


def item(shop: TriedShop, what: str = "New bridge", **known: Any) -> int:
    """Add a line, by the hour unless it is told otherwise."""
    return shop.act("add_work_item", work={"what": what, "minutes": 150, **known}).id


def found(shop: TriedShop, words: str) -> list[str]:
    with shop.ledger.read() as reading:
        return [one.words for one in find_work(reading, words)]


def listed(shop: TriedShop) -> list[tuple[str, object, str]]:
    with shop.ledger.read() as reading:
        return [(fact.label, fact.value, fact.quiet) for fact in price_list_facts(reading)]


def test_a_line_is_added_once_changed_left_out_and_offered_again(any_shop: TriedShop) -> None:
    shop = any_shop
    work = {"what": " New bridge ", "for_kind": "cello", "minutes": 150}
    bridge = twice(shop, "add_work_item", work=work).id
    item(shop, "bow rehair", price=eur("70.00"), minutes=None)
    assert listed(shop) == [
        ("bow rehair", "70.00", ""),
        ("New bridge", "by the hour", "cello, 2\u00a0h\u00a030\u00a0min"),
    ]
    changed = {"work_item_id": bridge, "price": eur("210.00"), "minutes": 120, "for_kind": "any"}
    said = preview_of(shop, "change_work_item", **changed)
    assert [line.how for line in said.lines] == [
        "New bridge, cello, 2\u00a0h\u00a030\u00a0min, by the hour",
        "New bridge, 2\u00a0h, 210.00",
    ]
    twice(shop, "change_work_item", **changed)
    twice(shop, "change_work_item", work_item_id=bridge, what="Bridge, new", by_time=True)
    assert ("Bridge, new", "by the hour", "2\u00a0h") in listed(shop)
    twice(shop, "leave_out_work_item", work_item_id=bridge)
    assert found(shop, "") == ["bow rehair"]
    again = twice(shop, "add_work_item", work={"what": "bridge, NEW", "price": eur("220.00")}).id
    assert again == bridge
    with shop.ledger.read() as reading:
        line = reading.session.get_one(WorkItem, bridge)
        assert (line.what, line.price, line.minutes, line.left_out_on) == ("bridge, NEW", 22000, 120, None)


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
        (NotFound, "work_item_id", "change_work_item", {"work_item_id": 99, "minutes": 5}),
        (Typed, "what", "change_work_item", {"work_item_id": 1}),
        (Refused, "what", "change_work_item", {"work_item_id": 1, "what": "seam"}),
        (Typed, "by_time", "change_work_item", {"work_item_id": 1, "price": 500, "by_time": True}),
        (Typed, "price", "change_work_item", {"work_item_id": 1, "minutes": 0}),
        (Typed, "price", "change_work_item", {"work_item_id": 2, "by_time": True, "minutes": 0}),
        (Refused, "work_item_id", "change_work_item", {"work_item_id": 3, "minutes": 5}),
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


def test_an_empty_list_can_only_be_added_to(shop: TriedShop) -> None:
    names = {"add_work_item", "change_work_item", "leave_out_work_item"}
    with shop.ledger.read() as reading:
        assert names & {one.name for one in next_acts(reading, Subject.SHOP, 1)} == {"add_work_item"}
    item(shop)
    with shop.ledger.read() as reading:
        assert names <= {one.name for one in next_acts(reading, Subject.SHOP, 1)}
