"""Holding for a player: the deposit is theirs until it is set off, given back or forfeited."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from typing import Any

import pytest

from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from tests.helpers.shops import StillShop, TriedShop, eur, row


def held(shop: TriedShop, deposit: str | None = "500.00", *, cleared: bool = True, **terms: Any) -> int:
    instrument = shop.consigned(**terms)
    shop.act(
        "hold",
        instrument_id=instrument,
        person_id=shop.buyer,
        until=shop.today + timedelta(days=10),
        deposit=None if deposit is None else eur(deposit),
        cleared=cleared,
    )
    return instrument


def test_a_deposit_waits_clears_and_is_given_back(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned()
    given: dict[str, Any] = {"instrument_id": instrument, "person_id": shop.buyer, "until": shop.today}
    assert shop.booked(lambda: shop.with_papers("hold", **given, deposit=eur("500.00"))) == [
        {"in_transit": 50000, "deposits Tam Brine": -50000}
    ]
    with pytest.raises(Refused, match="has not cleared"):
        shop.act("end_hold", instrument_id=instrument)
    assert shop.booked(lambda: shop.act("clear_deposit", instrument_id=instrument)) == [
        {"in_transit": -50000, "bank": 50000}
    ]
    assert shop.booked(lambda: shop.with_papers("end_hold", instrument_id=instrument, method="cash")) == [
        {"deposits Tam Brine": 50000, "bank": -50000}
    ]
    assert shop.balances() == {}


@pytest.mark.parametrize("cleared", [True, False])
def test_a_deposit_that_came_back(shop: TriedShop, cleared: bool) -> None:
    instrument = held(shop, cleared=cleared)
    shop.act("bounce_deposit", instrument_id=instrument)
    assert shop.balances() == {}
    with pytest.raises(Refused, match="no deposit that could come back"):
        shop.act("bounce_deposit", instrument_id=instrument)
    shop.act("end_hold", instrument_id=instrument)
    shop.sold(instrument)


def test_a_deposit_is_set_off_against_the_invoice(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = held(shop)
    assert shop.booked(lambda: shop.sold(instrument))[1:] == [
        {"deposits Tam Brine": 50000, "buyers Tam Brine": -50000, "bank_owners": 50000, "bank": -50000}
    ]
    assert shop.owes(1) == 950000
    shop.act("take_back", sale_id=1, why="wolf note")
    shop.act("give_back", sale_id=1, amount=eur("500.00"))
    assert shop.balances() == {}


def test_what_a_deposit_is_above_the_price_is_given_back(shop: TriedShop) -> None:
    instrument = held(shop, asking="300.00")
    shop.act("sell", buyer_id=shop.buyer, lines=(shop.line(instrument, "300.00"),))
    assert shop.owes(1) == 0
    assert shop.balances() == {"bank_owners": 30000, "commission": -6000, "owners_pending": -24000}


def test_a_forfeited_deposit_is_shared_as_agreed(shop: TriedShop) -> None:
    instrument = held(shop, deposit_to_owner=Fraction(1, 2), deposit_to_shop=Fraction(1, 4))
    booked = shop.booked(
        lambda: shop.with_papers("end_hold", instrument_id=instrument, deposit="forfeit", why="stayed away")
    )
    assert booked == [
        {
            "deposits Tam Brine": 37500,
            "forfeits": -12500,
            "bank_owners": 25000,
            "bank": -25000,
            "owners_held Orla Fenn": -25000,
        },
        {"deposits Tam Brine": 12500, "bank": -12500},
    ]
    shop.with_papers("pay_owner", person_id=shop.owner, amount=eur("250.00"))
    assert shop.balances() == {"bank": 12500, "forfeits": -12500}


def test_the_shop_as_part_owner_of_a_forfeited_deposit(shop: TriedShop) -> None:
    instrument = shop.consigned(
        "1000.00", row(shop.owner, "1/2"), row(shop.shop_person, "1/2"), deposit_to_owner=Fraction(1)
    )
    shop.act(
        "hold",
        instrument_id=instrument,
        person_id=shop.buyer,
        until=shop.today,
        deposit=eur("100.01"),
        cleared=True,
    )
    shop.act("end_hold", instrument_id=instrument, deposit="forfeit")
    assert shop.balances() == {"bank": 5000, "bank_owners": 5001, "forfeits": -5000, "owners_held": -5001}


def test_a_deposit_outlives_a_loss(shop: TriedShop) -> None:
    instrument = held(shop)
    shop.act("report_loss", instrument_id=instrument, what_happened="fire", agreed_value=eur("9000.00"))
    shop.act("end_hold", instrument_id=instrument)
    assert "deposits" not in shop.balances()


def test_what_is_refused(still: StillShop) -> None:
    given: dict[str, Any] = {"instrument_id": still.agreed, "person_id": still.player, "until": still.today}
    for amount, words in (
        (eur("0.00"), "above zero"),
        (eur("-1.00"), "above zero"),
        (Money(1, "USD"), "in USD"),
    ):
        still.refuses("hold", Typed, "deposit", words, **given, deposit=amount)
    still.refuses("hold", NotFound, "person_id", "no such person", **{**given, "person_id": 999_999})
    still.refuses("hold", NotFound, None, "no such instrument", **{**given, "instrument_id": 999_999})
    early = still.today - timedelta(days=1)
    still.refuses("hold", Typed, "until", "can't end before", **{**given, "until": early})
    still.refuses("hold", Typed, "until", "missing", **{**given, "until": None})
    still.refuses("hold", Refused, None, "on hold for Ida Skerry", **{**given, "instrument_id": still.held})
    still.refuses("hold", Refused, None, "It is sold", **{**given, "instrument_id": still.sold_one})
    still.refuses("hold", Refused, None, "not in the shop", **{**given, "instrument_id": still.gone})
    still.refuses("end_hold", Refused, None, "not on hold", instrument_id=still.agreed)
    still.refuses("end_hold", Refused, None, "has not cleared", instrument_id=still.held)
    still.refuses("end_hold", Typed, "deposit", "choose one of", instrument_id=still.held, deposit="keep")
    still.refuses("clear_deposit", Refused, None, "not on hold", instrument_id=still.agreed)
    still.refuses("bounce_deposit", Refused, None, "not on hold", instrument_id=still.agreed)


def test_a_deposit_nobody_agreed_to_forfeit_goes_back(shop: TriedShop) -> None:
    instrument = held(shop)
    with pytest.raises(Refused) as caught:
        shop.act("end_hold", instrument_id=instrument, deposit="forfeit")
    assert caught.value.field == "deposit"
