"""Charges: what an agreement names, and nothing else."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from shopledger.model.agreements import Bracket
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from tests.helpers.shops import StillShop, TriedShop, eur, row


def test_each_kind_by_the_agreements_words(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned(
        "1000.00",
        row(shop.owner, "2/3"),
        row(shop.other, "1/3"),
        withdrawal_charge=eur("50.00"),
        storage_charge=eur("20.00"),
        insurance_charge=eur("3.00"),
        valuation_charge=eur("40.00"),
    )
    for kind, months, whole in (
        ("withdrawal", 1, 5000),
        ("storage", 3, 6000),
        ("insurance", 2, 600),
        ("valuation", 9, 4000),
    ):
        booked = shop.booked(
            lambda kind=kind, months=months: shop.with_papers(  # type: ignore[misc]
                "charge_owner", instrument_id=instrument, kind=kind, months=months
            )
        )
        assert [sum(minor for minor in entry.values() if minor > 0) for entry in booked] in (
            [whole * 2 // 3, whole - whole * 2 // 3],
            [whole * 2 // 3 + 1, whole - whole * 2 // 3 - 1],
        )
        assert sum(entry["charges"] for entry in booked) == -whole


def test_a_private_sale_within_the_tail(shop: TriedShop) -> None:
    # Published examination problem: 93,750 at 10 % and the next 6,250 at 25 %: 10,937.50. Read.
    instrument = shop.consigned(
        "100000.00",
        commission_rule="brackets",
        commission_brackets=(
            Bracket(up_to=eur("93750.00"), rate=Fraction(1, 10)),
            Bracket(rate=Fraction(1, 4)),
        ),
        private_sale_commission=True,
        tail_days=30,
    )
    shop.act("return_to_owner", instrument_id=instrument, handed_to="Orla Fenn")
    shop.pass_days(30)
    charge: dict[str, Any] = {"instrument_id": instrument, "kind": "private_sale"}
    assert shop.booked(lambda: shop.act("charge_owner", **charge, proved_price=eur("100000.00"))) == [
        {"owners_owe Orla Fenn": 1093750, "commission": -1093750}
    ]
    shop.pass_days(1)
    with pytest.raises(Refused, match="its tail were over on 1 Apr 2026"):
        shop.act("charge_owner", **charge, proved_price=eur("100000.00"))


def test_the_shop_as_part_owner_bears_its_part(shop: TriedShop) -> None:
    instrument = shop.consigned(
        "1000.00", row(shop.owner, "1/2"), row(shop.shop_person, "1/2"), storage_charge=eur("20.00")
    )
    assert shop.booked(lambda: shop.act("charge_owner", instrument_id=instrument, kind="storage")) == [
        {"owners_owe Orla Fenn": 1000, "charges": -1000}
    ]


def test_what_is_refused(still: StillShop) -> None:
    still.refuses(
        "charge_owner", Refused, "kind", "names no such charge", instrument_id=still.agreed, kind="storage"
    )
    still.refuses(
        "charge_owner",
        Refused,
        "kind",
        "no commission on a private",
        instrument_id=still.agreed,
        kind="private_sale",
    )
    still.refuses(
        "charge_owner", Refused, None, "Nothing was ever agreed", instrument_id=still.raw, kind="storage"
    )
    still.refuses("charge_owner", NotFound, None, "no such instrument", instrument_id=999_999, kind="storage")
    still.refuses(
        "charge_owner", Typed, "kind", "choose one of", instrument_id=still.agreed, kind="paid_back"
    )
    still.refuses(
        "charge_owner", Refused, "kind", "The shop sold it", instrument_id=still.sold_one, kind="private_sale"
    )


def test_months_and_proved_prices_that_cannot_be(shop: TriedShop) -> None:
    instrument = shop.consigned(storage_charge=eur("20.00"), private_sale_commission=True)
    before = shop.rows()
    for field, given in (
        ("months", {"kind": "storage", "months": 0}),
        ("months", {"kind": "storage", "months": 601}),
        ("months", {"kind": "storage", "months": -1}),
        ("proved_price", {"kind": "private_sale"}),
        ("proved_price", {"kind": "private_sale", "proved_price": eur("0.00")}),
        ("proved_price", {"kind": "private_sale", "proved_price": Money(5, "USD")}),
    ):
        with pytest.raises(Typed) as caught:
            shop.act("charge_owner", instrument_id=instrument, **given)
        assert caught.value.field == field
    assert shop.rows() == before
