"""Taking in: entry, owners, stay and receipt; people and what is known of a thing."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from shopledger.acts.describing import FittingRow, MeasureRow
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.quantities.lengths import Length
from shopledger.quantities.money import Money
from tests.helpers.shops import StillShop, TriedShop, eur, row

MM_752 = Length(752_000_000, "752 mm")
CELLO: dict[str, Any] = {"kind": "cello", "maker": "Ansel Quill"}


def test_the_shops_own_is_booked_at_cost(any_shop: TriedShop) -> None:
    shop = any_shop
    given: dict[str, Any] = {"instrument": CELLO, "stay": {"reason": "own"}, "cost": eur("1500.00")}
    assert shop.booked(lambda: shop.with_papers("take_in", **given)) == [{"stock": 150000, "bank": -150000}]
    assert shop.booked(lambda: shop.act("take_in", **given, paid_from="capital")) == [
        {"stock": 150000, "capital": -150000}
    ]


def test_it_comes_again_with_all_that_is_known(shop: TriedShop) -> None:
    instrument = shop.act(
        "take_in",
        instrument=CELLO,
        owners=(row(shop.owner), row(shop.other)),
        stay={"reason": "value", "came_with": "case\nbow", "insured_value": eur("9000.00")},
        measures=(MeasureRow(measure="body_length", value=MM_752),),
        fittings=(FittingRow(part="pegs", what="ebony"),),
    ).id
    assert (
        shop.booked(lambda: shop.act("return_to_owner", instrument_id=instrument, handed_to="Orla Fenn"))
        == []
    )
    assert (
        shop.with_papers("take_in_again", instrument_id=instrument, stay={"reason": "repair"}).id
        == instrument
    )


CASES: list[tuple[type[LedgerError], str | None, str, dict[str, Any]]] = [
    (Typed, "instrument.kind", "missing", {"instrument": {}}),
    (Typed, "instrument.kind", "choose one of", {"instrument": {"kind": "banjo"}}),
    (Typed, "instrument.makr", "Write it as maker", {"instrument": {"kind": "cello", "makr": "x"}}),
    (Typed, "instrument.maker", "control character", {"instrument": {"kind": "cello", "maker": "\x1b"}}),
    (Typed, "instrument.maker", "at most", {"instrument": {"kind": "cello", "maker": "a" * 500}}),
    (Typed, "instrument.maker", "half a character", {"instrument": {"kind": "cello", "maker": "\ud800"}}),
    (Typed, "stay.reason", "missing", {"stay": {}}),
    (Typed, "stay.condition", "at most", {"stay": {"reason": "to_sell", "condition": "a" * 21_000}}),
    (
        Typed,
        "stay.insured_value",
        "in USD",
        {"stay": {"reason": "to_sell", "insured_value": Money(1, "USD")}},
    ),
    (
        Typed,
        "stay.insured_value",
        "below zero",
        {"stay": {"reason": "to_sell", "insured_value": eur("-1.00")}},
    ),
    (
        NotFound,
        "stay.brought_by_id",
        "no such person",
        {"stay": {"reason": "to_sell", "brought_by_id": 999_999}},
    ),
    (Typed, "owners", "name its owner", {"owners": ()}),
    (NotFound, "owners[0].person_id", "no such person", {"owners": (row(999_999),)}),
    (Typed, "owners", "come to exactly 1", {"owners": (row(2, "1/3"), row(3, "1/3"))}),
    (Typed, "owners", "come to exactly 1", {"owners": (row(2, "-1"), row(3, "2"))}),
    (Typed, "owners", "named twice", {"owners": (row(2), row(2))}),
    (Typed, "owners[1].share", "missing", {"owners": (row(2, "1/3"), row(3))}),
    (Typed, "stay.reason", "shop's own", {"owners": (row(1),)}),
    (Typed, "owners", "owns no part", {"stay": {"reason": "own"}}),
    (Typed, "cost", "Only the shop's own", {"cost": eur("1.00")}),
    (Typed, "cost", "below zero", {"stay": {"reason": "own"}, "owners": (), "cost": eur("-1.00")}),
    (Typed, "cost", "in JPY", {"stay": {"reason": "own"}, "owners": (), "cost": Money(1, "JPY")}),
    (Typed, "asking", "above zero", {"stay": {"reason": "own"}, "owners": (), "asking": eur("-1.00")}),
    (NotFound, None, "no such instrument", {"instrument": {}, "instrument_id": 999_999}),
    (Typed, "instrument_id", "not both", {"instrument_id": 1}),
    (Refused, None, "has been here since 2 Mar 2026 (TI 2026-001)", {"instrument": {}, "instrument_id": 1}),
    (Typed, "measures[0].measure", "no measure", {"measures": (MeasureRow(measure="girth", value=MM_752),)}),
    (Typed, "fittings[0].part", "no part", {"fittings": (FittingRow(part="exhaust", what="x"),)}),
    (Typed, "pictures[0]", "", {"pictures": (b"no picture",)}),
]


@pytest.mark.parametrize(("kind", "field", "words", "given"), CASES)
def test_what_is_refused(
    still: StillShop, kind: type[LedgerError], field: str | None, words: str, given: dict[str, Any]
) -> None:
    usual: dict[str, Any] = {
        "instrument": CELLO,
        "owners": (row(still.owner),),
        "stay": {"reason": "to_sell"},
    }
    still.refuses("take_in", kind, field, words, **{**usual, **given})


def test_a_register_checked_tomorrow(still: StillShop) -> None:
    stay = {"reason": "to_sell", "register_checked_on": still.today + timedelta(days=1)}
    still.refuses(
        "take_in", Typed, "stay.register_checked_on", "can't have been checked",
        instrument=CELLO, owners=(row(still.owner),), stay=stay,
    )  # fmt: skip


def test_people(shop: TriedShop) -> None:
    shop.act("change_person", person_id=shop.owner, person={"phone": "555-0142"})
    before = shop.rows()
    for name, error, field, given in (
        ("add_person", Typed, "person.name", {"person": {}}),
        ("add_person", Typed, "person.name", {"person": {"name": "\x00"}}),
        ("add_person", Typed, "person.nam", {"person": {"nam": "x"}}),
        ("add_person", Refused, "person.relation", {"person": {"name": "x", "relation": "shop"}}),
        ("add_person", Typed, "person.notes", {"person": {"name": "x", "notes": "a" * 21_000}}),
        ("change_person", NotFound, "person_id", {"person_id": 999_999, "person": {"name": "x"}}),
        ("change_person", Typed, "person.name", {"person_id": shop.owner, "person": {"name": ""}}),
    ):
        with pytest.raises(error) as caught:
            shop.act(name, **given)
        assert caught.value.field == field
    assert shop.rows() == before


def test_describing(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    shop.act(
        "describe",
        instrument_id=instrument,
        instrument={"title": "The Heron"},
        fittings=(FittingRow(part="pegs", what="box"),),
    )
    shop.act("measure", instrument_id=instrument, measures=(MeasureRow(measure="body_length", value=MM_752),))
    before = shop.rows()
    for name, field, given in (
        ("describe", "instrument.kind", {"instrument": {"kind": None}}),
        ("measure", "measures", {"measures": ()}),
        ("add_pictures", "pictures", {"pictures": ()}),
        ("add_pictures", "pictures[0]", {"pictures": (b"GIF89a",)}),
    ):
        with pytest.raises(Typed) as caught:
            shop.act(name, instrument_id=instrument, **given)
        assert caught.value.field == field
    assert shop.rows() == before


def test_the_shops_own_money(shop: TriedShop) -> None:
    for kind, booked in (
        ("put_in", {"capital": -10000, "bank": 10000}),
        ("take_out", {"capital": 10000, "bank": -10000}),
        ("sale_costs", {"sale_costs": 10000, "bank": -10000}),
        ("sales_tax", {"sales_tax": 10000, "bank": -10000}),
        ("vat", {"vat": 10000, "bank": -10000}),
    ):
        assert shop.booked(
            lambda kind=kind: shop.act("move_own_money", kind=kind, amount=eur("100.00"))  # type: ignore[misc]
        ) == [booked]
    shop.with_papers("list_others")


def test_the_shops_own_money_that_cannot_be(still: StillShop) -> None:
    still.refuses("move_own_money", Typed, "kind", "choose one of", kind="gift", amount=eur("1.00"))
    still.refuses("move_own_money", Typed, "amount", "above zero", kind="put_in", amount=eur("0.00"))
    still.refuses("move_own_money", Typed, "amount", "in USD", kind="put_in", amount=Money(1, "USD"))
    still.refuses(
        "move_own_money", Typed, "words", "control", kind="put_in", amount=eur("1.00"), words="\x00"
    )
