"""What comes back and goes back outside a sale: a fee whose sale failed, and what an owner paid and no longer owes."""

from __future__ import annotations

from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, do, next_acts
from shopledger.acts.declare import Outcome
from shopledger.acts.selling_forms import CostRow
from shopledger.model import Paper
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from shopledger.queries.papers import paper_bytes
from shopledger.queries.shapes import Subject
from tests.helpers.shops import FIRST_DAY, StillShop, TriedShop, eur
from tests.papers.reading_back import in_order, text_of


def twice(shop: TriedShop, name: str, /, **inputs: Any) -> Outcome:
    """Send one filled form twice, as a double click does; the second time writes nothing."""
    form = shop.form(name, **inputs)
    first = do(shop.ledger, act(name), form)
    rows = shop.rows()
    assert do(shop.ledger, act(name), form) == first
    assert shop.rows() == rows
    return first


def offered(shop: TriedShop, person: int) -> set[str]:
    """Give the names of the acts that are allowed now on a person."""
    with shop.ledger.read() as reading:
        return {one.name for one in next_acts(reading, Subject.PERSON, person)}


def paper(shop: TriedShop, outcome: Outcome) -> tuple[str, str]:
    """Give kind and text of the one paper an act left."""
    with shop.ledger.read() as reading:
        kind = reading.session.scalars(select(Paper.kind).where(Paper.id == outcome.papers[0])).one()
    return kind, text_of(paper_bytes(shop.ledger, outcome.papers[0]))


def with_a_fee_to_have_back(shop: TriedShop) -> None:
    sale = shop.sold(
        shop.consigned(),
        referrer_id=shop.player,
        referral_fixed=eur("400.00"),
        told_buyer_on=FIRST_DAY,
        told_owner_on=FIRST_DAY,
    )
    shop.act("pay_fee", person_id=shop.player, amount=eur("150.00"))
    assert "take_fee_back" not in offered(shop, shop.player)
    shop.act("take_back", sale_id=sale, why="wolf note")


def test_a_fee_of_a_sale_that_failed_comes_back(any_shop: TriedShop) -> None:
    shop = any_shop
    with_a_fee_to_have_back(shop)
    assert "take_fee_back" in offered(shop, shop.player)
    with shop.ledger.read() as reading:
        prefill = act("take_fee_back").prefill
        assert prefill is not None
        assert prefill(reading, shop.player) == {"amount": eur("150.00")}
    found: list[Outcome] = []
    assert shop.booked(
        lambda: found.append(twice(shop, "take_fee_back", person_id=shop.player, amount=eur("100.00")))
    ) == [{"in_transit": 10000, "fees_owe Ida Skerry": -10000}, {"in_transit": -10000, "bank": 10000}]
    kind, text = paper(shop, found[0])
    assert kind == "payment_receipt"
    assert in_order(
        text, "Receipt for payment", "Ida Skerry", "100.00", "Fee paid back to the shop", "100.00"
    )
    shop.act("take_fee_back", person_id=shop.player, amount=eur("50.00"))
    assert shop.balances() == {}
    with shop.ledger.read() as reading, pytest.raises(Refused, match="owes no fee back"):
        act("take_fee_back").allowed(reading, shop.player)


def test_of_a_fee_no_more_comes_back_than_is_owed(shop: TriedShop) -> None:
    with_a_fee_to_have_back(shop)
    with pytest.raises(Refused, match=r"owes EUR 150\.00 of fees back") as caught:
        shop.act("take_fee_back", person_id=shop.player, amount=eur("150.01"))
    assert caught.value.field == "amount"


def with_a_credit(shop: TriedShop) -> int:
    """Sell below what it cost, have the owner pay the rest, and take the sale back: they have 70.00 to have back."""
    sale = shop.sold(
        shop.consigned("100.00"), "100.00", costs=(CostRow(what="new neck", amount=eur("150.00")),)
    )
    assert shop.owed(shop.owner) == (0, 0, 7000)
    shop.act("take_owners_payment", person_id=shop.owner, amount=eur("70.00"))
    assert "pay_credit" not in offered(shop, shop.owner)
    shop.act("take_back", sale_id=sale, why="wolf note")
    return sale


def test_what_an_owner_paid_and_no_longer_owes_goes_back_to_them(any_shop: TriedShop) -> None:
    shop = any_shop
    with_a_credit(shop)
    assert shop.owed(shop.owner) == (0, 0, -7000)
    assert "pay_credit" in offered(shop, shop.owner)
    found: list[Outcome] = []
    assert shop.booked(
        lambda: found.append(twice(shop, "pay_credit", person_id=shop.owner, amount=eur("30.00")))
    ) == [{"owners_owe Orla Fenn": 3000, "bank": -3000}]
    kind, text = paper(shop, found[0])
    assert kind == "refund_receipt"
    assert in_order(
        text, "Orla Fenn", "30.00", "Paid before and no longer owed", "still owes Orla Fenn", "40.00"
    )
    shop.with_papers("pay_credit", person_id=shop.owner, amount=eur("40.00"))
    assert shop.balances() == {}


def test_a_credit_is_never_paid_from_what_is_held_for_others(shop: TriedShop) -> None:
    with_a_credit(shop)
    shop.pay(shop.sold(shop.consigned("500.00"), "500.00"))
    before = shop.balances()["bank_owners"]
    shop.act("pay_credit", person_id=shop.owner, amount=eur("70.00"))
    assert shop.balances()["bank_owners"] == before
    with pytest.raises(Refused, match=r"Ivo Marsh has EUR 0\.00 to have back") as caught:
        shop.act("pay_credit", person_id=shop.other, amount=eur("0.01"))
    assert caught.value.field == "amount"


def test_a_credit_stands_in_the_list_of_others_money(shop: TriedShop) -> None:
    with_a_credit(shop)
    from shopledger.queries.facts.handover_list import handover_list_facts

    with shop.ledger.read() as reading:
        facts = handover_list_facts(reading, shop.today, "HL 1", shop.today)
    (line,) = facts.money
    assert (line.due, line.owes, line.held) == (eur("70.00"), eur("0.00"), eur("70.00"))


def test_what_is_refused(still: StillShop) -> None:
    for name, words in (("take_fee_back", "of fees back"), ("pay_credit", "to have back")):
        still.refuses(name, Refused, "amount", words, person_id=still.owner, amount=eur("0.01"))
        still.refuses(name, NotFound, "person_id", "no such person", person_id=999_999, amount=eur("1.00"))
        still.refuses(name, Typed, "amount", "above zero", person_id=still.owner, amount=eur("0.00"))
        still.refuses(name, Typed, "amount", "in USD", person_id=still.owner, amount=Money(1, "USD"))
        still.refuses(
            name, Typed, "method", "choose one of", person_id=still.owner, amount=eur("1.00"), method="barter"
        )
