"""Payments: in parts, cleared, bounced, given back; nothing of it uses another owner's money."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from shopledger.acts.selling_forms import PartExchangeRow, SellLine
from shopledger.model import PaymentShare, Stay
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from shopledger.queries.standing import owners_of
from tests.helpers.shops import StillShop, TriedShop, eur


def test_a_payment_waits_and_then_clears_into_the_money_held_for_owners(any_shop: TriedShop) -> None:
    shop = any_shop
    sale = shop.sold(shop.consigned())
    assert shop.booked(
        lambda: shop.with_papers("take_payment", sale_id=sale, amount=eur("4000.00"), method="cheque")
    ) == [{"in_transit": 400000, "buyers Tam Brine": -400000}]
    assert shop.booked(lambda: shop.act("clear_payments", sale_id=sale)) == [
        {"in_transit": -400000, "bank_owners": 400000}
    ]
    assert shop.owes(sale) == 600000


def test_parts_fall_on_the_lines_to_the_cent(shop: TriedShop) -> None:
    first, second = shop.consigned("333.33"), shop.consigned("333.34")
    sale = shop.act(
        "sell",
        buyer_id=shop.buyer,
        lines=(
            shop.line(first, "333.33"),
            shop.line(second, "333.34"),
            SellLine(kind="accessory", what="rosin", price=eur("7.77")),
        ),
    ).id
    for amount in ("0.01", "100.00", "0.02", "33.37", "500.00"):
        shop.pay(sale, amount)
    shop.pay(sale)
    with shop.ledger.read() as reading:
        on_lines = reading.session.execute(
            select(func.sum(PaymentShare.minor))
            .group_by(PaymentShare.sale_line_id)
            .order_by(PaymentShare.sale_line_id)
        ).scalars()
        assert [int(minor) for minor in on_lines] == [33333, 33334, 777]
    assert shop.balances()["bank_owners"] == 66667
    assert shop.balances()["bank"] == 777
    with pytest.raises(Refused):
        shop.pay(sale, "0.01")


def test_a_bounce_before_clearing_undoes_the_receipt(shop: TriedShop) -> None:
    sale = shop.sold(shop.consigned())
    number = shop.pay(sale, "4000.00", cleared=False)
    assert shop.booked(lambda: shop.act("bounce_payment", sale_id=sale, number=number)) == [
        {"in_transit": -400000, "buyers Tam Brine": 400000}
    ]
    assert shop.owes(sale) == 1000000
    with pytest.raises(Refused, match="no payment of this sale that can bounce"):
        shop.act("bounce_payment", sale_id=sale, number=number)


def test_a_bounce_after_settlement_takes_back_what_was_set_aside(shop: TriedShop) -> None:
    instrument = shop.consigned()
    sale = shop.sold(instrument)
    number = shop.pay(sale)
    shop.act("settle", sale_id=sale)
    assert shop.booked(lambda: shop.act("bounce_payment", sale_id=sale, number=number)) == [
        {
            "owners_held Orla Fenn": 800000,
            "owners_pending Orla Fenn": -800000,
            "bank_owners": 200000,
            "bank": -200000,
        },
        {"in_transit": 1000000, "bank_owners": -1000000},
        {"in_transit": -1000000, "buyers Tam Brine": 1000000},
    ]
    assert shop.owed(shop.owner) == (800000, 0, 0)
    shop.pay(sale)
    shop.act("settle", sale_id=sale)
    assert shop.owed(shop.owner) == (0, 800000, 0)
    assert shop.balances()["bank"] == 200000


def test_a_bounce_after_payout_is_made_good_by_the_shop(any_shop: TriedShop) -> None:
    shop = any_shop
    shop.settled()  # of another owner's sale nothing may be used
    instrument = shop.consigned()
    sale = shop.sold(instrument)
    number = shop.pay(sale)
    shop.act("settle", sale_id=sale)
    shop.act("pay_owner", person_id=shop.owner, amount=eur("11000.00"))
    shop.act("bounce_payment", sale_id=sale, number=number)
    # Both are one owner's: of the 11,000.00 paid out 3,000.00 are of the second sale, and the shop puts them in.
    assert shop.owed(shop.owner) == (500000, 0, 0)
    assert "bank_owners" not in shop.balances()
    shop.pay(sale)
    shop.act("settle", sale_id=sale)
    assert shop.owed(shop.owner) == (0, 500000, 0)
    assert shop.balances()["bank_owners"] == 500000
    assert shop.balances()["bank"] == 400000


def test_a_bounce_after_the_money_was_given_back_is_made_good_by_the_shop(shop: TriedShop) -> None:
    _other, _sale = shop.settled()
    sale = shop.sold(shop.consigned())
    number = shop.pay(sale)
    shop.act("take_back", sale_id=sale, why="wolf note")
    shop.act("give_back", sale_id=sale, amount=eur("10000.00"))
    shop.act("bounce_payment", sale_id=sale, number=number)
    assert shop.owes(sale) == 1000000  # what was given back is the buyer's debt now
    assert shop.balances()["bank_owners"] == 800000


def test_a_part_exchange_given_back_leaves_as_it_came(any_shop: TriedShop) -> None:
    shop = any_shop
    for funded in (False, True):
        sale = shop.sold(
            shop.consigned(),
            part_exchange=(
                PartExchangeRow(kind="violin", description="student violin", allowance=eur("1000.00")),
            ),
        )
        if funded:
            shop.act("clear_payments", sale_id=sale)
        with shop.ledger.read() as reading:
            stay = reading.session.scalars(select(Stay).order_by(Stay.id.desc()).limit(1)).one()
            number = reading.session.scalars(select(func.max(PaymentShare.payment_id))).one()
        receipt = f"PR 2026-{number:03d}"
        shop.with_papers("bounce_payment", sale_id=sale, number=receipt)
        assert "stock" not in shop.balances()
        assert "part_exchange" not in shop.balances()
        assert shop.owes(sale) == 1000000
        with shop.ledger.read() as reading:
            assert [party.person_id for party in owners_of(reading, stay.instrument_id)] == [shop.buyer]


def test_a_part_exchange_sold_on_cannot_be_given_back(shop: TriedShop) -> None:
    sale = shop.sold(
        shop.consigned(),
        part_exchange=(
            PartExchangeRow(kind="violin", description="student violin", allowance=eur("1000.00")),
        ),
    )
    with shop.ledger.read() as reading:
        stay = reading.session.scalars(select(Stay).order_by(Stay.id.desc()).limit(1)).one()
    shop.act("sell", buyer_id=shop.player, lines=(shop.line(stay.instrument_id, "1200.00", "own"),))
    with pytest.raises(Refused, match="sold or gone"):
        shop.act("bounce_payment", sale_id=sale, number="PR 2026-001")


def test_amounts_that_cannot_be(still: StillShop) -> None:
    for name in ("take_payment", "give_back"):
        for amount, words in (
            (eur("0.00"), "above zero"),
            (eur("-1.00"), "above zero"),
            (Money(100, "JPY"), "in JPY"),
            (Money(10**15, "EUR"), "too large"),
        ):
            still.refuses(name, Typed, "amount", words, sale_id=still.open_sale, amount=amount)
        still.refuses(name, NotFound, None, "no such sale", sale_id=999_999, amount=eur("1.00"))
    still.refuses(
        "take_payment",
        Refused,
        "amount",
        "10,000.00 left to pay",
        sale_id=still.open_sale,
        amount=eur("10000.01"),
    )
    still.refuses("give_back", Refused, "amount", "to give back", sale_id=still.open_sale, amount=eur("1.00"))
    still.refuses(
        "take_payment", Typed, "method", "choose one of",
        sale_id=still.open_sale, amount=eur("1.00"), method="part_exchange",
    )  # fmt: skip
    still.refuses(
        "take_payment", Typed, "reference", "control character",
        sale_id=still.open_sale, amount=eur("1.00"), reference="\x1b[2J",
    )  # fmt: skip
    still.refuses(
        "take_payment", Typed, "reference", "at most",
        sale_id=still.open_sale, amount=eur("1.00"), reference="a" * 21_000,
    )  # fmt: skip
    still.refuses("clear_payments", Refused, "number", "waits to clear", sale_id=still.open_sale)
    still.refuses("bounce_payment", Refused, "number", "can bounce", sale_id=still.open_sale, number="PR 1")
