"""Settling and paying out: what is due, when, to whom, and never from another's money."""

from __future__ import annotations

from fractions import Fraction

import pytest

from shopledger.acts.selling_forms import CostRow
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from tests.helpers.shops import FIRST_DAY, StillShop, TriedShop, eur, row


def test_when_paid_in_full(any_shop: TriedShop) -> None:
    shop = any_shop
    sale = shop.sold(shop.consigned())
    shop.pay(sale, "9999.99")
    with pytest.raises(Refused, match="has not cleared"):
        shop.act("settle", sale_id=sale)
    shop.pay(sale)
    assert shop.booked(lambda: shop.with_papers("settle", sale_id=sale)) == [
        {
            "bank": 200000,
            "bank_owners": -200000,
            "owners_pending Orla Fenn": 800000,
            "owners_held Orla Fenn": -800000,
        }
    ]
    assert shop.booked(
        lambda: shop.with_papers(
            "pay_owner", person_id=shop.owner, amount=eur("3000.00"), reference="first part"
        )
    ) == [{"owners_held Orla Fenn": 300000, "bank_owners": -300000}]
    shop.with_papers("pay_owner", person_id=shop.owner, amount=eur("5000.00"), method="cheque")
    assert shop.owed(shop.owner) == (0, 0, 0)
    assert shop.balances()["bank"] == 200000


def test_as_money_clears_in_steps(shop: TriedShop) -> None:
    sale = shop.sold(shop.consigned(pay_owner="as_money_clears"))
    steps = []
    for amount in ("3333.33", "3333.33", "3333.34"):
        shop.pay(sale, amount)
        shop.act("settle", sale_id=sale)
        steps.append(shop.owed(shop.owner))
    # 800,000 x 333,333 / 1,000,000 = 266,666.4, rounded down; then 533,332.8; the whole at the end.
    assert steps == [(533334, 266666, 0), (266668, 533332, 0), (0, 800000, 0)]
    assert shop.balances()["bank"] == 200000


def test_nothing_is_due_before_approval_is_over(shop: TriedShop) -> None:
    sale = shop.sold(shop.consigned(approval_days=7))
    shop.pay(sale)
    shop.pass_days(7)
    with pytest.raises(Refused, match="may still return it"):
        shop.act("settle", sale_id=sale)
    shop.pass_days(1)
    shop.act("settle", sale_id=sale)
    assert shop.owed(shop.owner) == (0, 800000, 0)


@pytest.mark.parametrize("agreed", [True, False])
def test_a_debt_is_set_off_only_where_agreed(shop: TriedShop, agreed: bool) -> None:
    instrument = shop.consigned(storage_charge=eur("20.00"), set_off=agreed)
    shop.act("charge_owner", instrument_id=instrument, kind="storage", months=3)
    sale = shop.sold(instrument)
    shop.pay(sale)
    shop.act("settle", sale_id=sale)
    assert shop.owed(shop.owner) == ((0, 794000, 0) if agreed else (0, 800000, 6000))
    assert shop.balances()["bank"] == (206000 if agreed else 200000)


def test_heirs_are_paid_apart_and_the_shops_part_is_released(shop: TriedShop) -> None:
    instrument = shop.consigned(
        "1000.00", row(shop.owner, "1/2"), row(shop.other, "1/4"), row(shop.shop_person, "1/4")
    )
    sale = shop.sold(instrument, "1000.00")
    shop.pay(sale)
    assert len(shop.act("settle", sale_id=sale).papers) == 2
    assert (shop.owed(shop.owner), shop.owed(shop.other)) == ((0, 40000, 0), (0, 20000, 0))
    assert shop.owed(shop.shop_person) == (0, 0, 0)
    assert (shop.balances()["bank"], shop.balances()["bank_owners"]) == (40000, 60000)
    with pytest.raises(Refused, match=r"200\.00 is set aside for Ivo Marsh"):
        shop.act("pay_owner", person_id=shop.other, amount=eur("200.01"))


def test_a_net_below_nothing_releases_all(shop: TriedShop) -> None:
    sale = shop.sold(
        shop.consigned("100.00"), "100.00", costs=(CostRow(what="new neck", amount=eur("150.00")),)
    )
    shop.pay(sale)
    shop.with_papers("settle", sale_id=sale)
    assert shop.balances().get("bank_owners", 0) == 0
    assert shop.booked(
        lambda: shop.with_papers("take_owners_payment", person_id=shop.owner, amount=eur("70.00"))
    ) == [{"in_transit": 7000, "owners_owe Orla Fenn": -7000}, {"in_transit": -7000, "bank": 7000}]


def test_fees_are_paid_to_whom_they_are_owed(shop: TriedShop) -> None:
    shop.sold(
        shop.consigned(),
        referrer_id=shop.player,
        referral_rate=Fraction(1, 20),
        told_buyer_on=FIRST_DAY,
        told_owner_on=FIRST_DAY,
    )
    assert shop.booked(lambda: shop.with_papers("pay_fee", person_id=shop.player, amount=eur("499.00"))) == [
        {"fees_due Ida Skerry": 49900, "bank": -49900}
    ]
    with pytest.raises(Refused, match=r"1\.00 is owed"):
        shop.act("pay_fee", person_id=shop.player, amount=eur("1.01"))


def test_what_is_refused(still: StillShop) -> None:
    still.refuses("settle", NotFound, None, "no such sale", sale_id=999_999)
    still.refuses("settle", Refused, None, "has not cleared", sale_id=still.open_sale)
    still.refuses("settle", Refused, None, "may still return", sale_id=still.approved)
    still.refuses("settle", Refused, None, "all is settled", sale_id=still.paid_sale)
    # 8,000.00 are set aside for the owner; there is money of others, which is never used.
    still.refuses(
        "pay_owner", Refused, "amount", "8,000.00 is set aside", person_id=still.owner, amount=eur("8000.01")
    )
    still.refuses(
        "pay_owner", Refused, "amount", "is set aside for Ivo", person_id=still.other, amount=eur("0.01")
    )
    still.refuses("pay_fee", Refused, "amount", "in fees", person_id=still.player, amount=eur("0.01"))
    still.refuses("take_owners_payment", Refused, "amount", "owes", person_id=still.owner, amount=eur("0.01"))
    for name in ("pay_owner", "pay_fee", "take_owners_payment"):
        still.refuses(name, NotFound, "person_id", "no such person", person_id=999_999, amount=eur("1.00"))
        still.refuses(name, Typed, "amount", "above zero", person_id=still.owner, amount=eur("0.00"))
        still.refuses(name, Typed, "amount", "in USD", person_id=still.owner, amount=Money(1, "USD"))
        still.refuses(
            name, Typed, "method", "choose one of", person_id=still.owner, amount=eur("1.00"), method="barter"
        )
        still.refuses(
            name, Typed, "reference", "control", person_id=still.owner, amount=eur("1.00"), reference="\r"
        )
