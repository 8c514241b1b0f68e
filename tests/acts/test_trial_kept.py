"""What is kept is sold, its deposit set off; a loss decides its line; nothing is sold or taken back by silence."""

from __future__ import annotations

import pytest

from shopledger.acts import act
from shopledger.acts.doing import commit_act
from shopledger.quantities.errors import Refused, Typed
from tests.acts.test_papers_left import left, stated
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import (
    bow,
    consigned,
    decisions,
    ended,
    held,
    lent,
    lines,
    row,
    sell_kept,
    where,
)


def test_what_is_kept_is_sold_with_the_deposit_set_off(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    trial = lent(shop, row(cello), row(stick, "900.00"), deposit=eur("500.00"), cleared=True)
    shop.pass_days(5)
    form = shop.form("decide_to_buy", trial_id=trial, lines="2")
    assert commit_act(shop.ledger, act("decide_to_buy"), form) == commit_act(
        shop.ledger, act("decide_to_buy"), form
    )
    assert decisions(shop, trial) == [None, "bought"]
    assert where(shop, trial, 2).place == "on_trial"
    assert shop.booked(lambda: sell_kept(shop, trial)) == [
        {"buyers Ida Skerry": 90000, "own_sales": -90000, "cost_of_sales": 30000, "stock": -30000},
        {"deposits Ida Skerry": 50000, "buyers Ida Skerry": -50000},
    ]
    assert shop.owes(1) == 40000
    assert [line.sale_id for line in lines(shop, trial)] == [None, 1]
    # The cello is still out, and nothing of it is decided by the sale of the bow.
    assert decisions(shop, trial) == [None, "bought"]
    assert ended(shop, trial) is None
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) == shop.today
    shop.act("hand_over", instrument_id=stick, handed_to="Ida Skerry", unpaid=True)
    assert where(shop, trial, 2).place == "handed_over"


def test_a_deposit_above_the_invoice_stays_held_while_things_are_out(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    trial = lent(shop, row(cello), row(stick, "900.00"), deposit=eur("2000.00"), cleared=True)
    shop.act("decide_to_buy", trial_id=trial, lines="2")
    outcome = sell_kept(shop, trial)
    assert [kind for kind, _number in left(shop, outcome)] == ["invoice", "bill_of_sale"]
    assert (shop.owes(1), held(shop, trial)) == (0, 110000)
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) is None
    assert shop.booked(lambda: shop.act("give_trial_deposit_back", trial_id=trial, method="cash")) == [
        {"deposits Ida Skerry": 110000, "bank": -110000}
    ]
    assert ended(shop, trial) == shop.today


def test_what_of_the_last_things_deposit_is_above_goes_back(shop: TriedShop) -> None:
    stick = bow(shop)
    trial = lent(
        shop,
        row(stick, "900.00"),
        row(None, "80.00", what="a bow case"),
        deposit=eur("2000.00"),
        cleared=True,
    )
    shop.act("decide_to_buy", trial_id=trial)
    outcome = sell_kept(shop, trial)
    # 900.00 and 80.00 are set off, 1,020.00 goes back.
    assert [kind for kind, _number in left(shop, outcome)] == ["refund_receipt", "invoice", "bill_of_sale"]
    assert stated(shop, outcome.papers[2]).amount == eur("1020.00")
    assert [line.sale_id for line in lines(shop, trial)] == [1, 1]
    assert ended(shop, trial) == shop.today
    invoice = stated(shop, outcome.papers[0])
    assert [payment.amount for payment in invoice.payments] == [eur("980.00")]


def test_a_thing_that_is_not_on_the_invoice_stays_out(shop: TriedShop) -> None:
    trial = lent(shop, row(bow(shop), "900.00"), row(None, "80.00", what="a bow case"))
    shop.act("decide_to_buy", trial_id=trial)
    with shop.ledger.read() as reading:
        prefill = act("sell_kept").prefill
        assert prefill is not None
        first = prefill(reading, trial)["lines"][0]
    sell_kept(shop, trial, lines=(first,))
    assert [line.is_out for line in lines(shop, trial)] == [False, True]
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) == shop.today


def test_a_sale_at_the_instrument_decides_its_line_too(shop: TriedShop) -> None:
    cello = consigned(shop)
    trial = lent(shop, row(cello))
    prefill = act("sell").prefill
    assert prefill is not None
    with shop.ledger.read() as reading:
        assert prefill(reading, cello)["buyer_id"] == shop.player
        preview = act("sell").preview
        assert preview is not None
        preview(reading, shop.form("sell", buyer_id=None, lines=(shop.line(cello),)))
    sale = shop.act("sell", buyer_id=shop.player, lines=(shop.line(cello),)).id
    assert (decisions(shop, trial), ended(shop, trial)) == (["bought"], shop.today)
    shop.pay(sale)


def test_nobody_else_buys_what_is_on_trial(shop: TriedShop) -> None:
    cello = consigned(shop)
    trial = lent(shop, row(cello), deposit=eur("100.00"))
    for name in ("sell", "sell_kept"):
        with pytest.raises(
            Refused, match=r"on trial with Ida Skerry until 16 Mar 2026\. Take it back"
        ) as caught:
            shop.act(name, buyer_id=shop.buyer, lines=(shop.line(cello),))
        assert caught.value.field == "lines[0].instrument_id"
    with pytest.raises(Refused, match="PR 2026-001 has not cleared"):
        shop.act("sell", buyer_id=shop.player, lines=(shop.line(cello),))
    shop.act("bounce_trial_deposit", trial_id=trial)
    shop.act("sell", buyer_id=shop.player, lines=(shop.line(cello),))


def test_nothing_is_sold_or_taken_back_by_silence(shop: TriedShop) -> None:
    cello = consigned(shop)
    trial = lent(shop, row(cello), days=3)
    rows = shop.rows()
    shop.pass_days(300)
    assert shop.rows() == rows
    assert (decisions(shop, trial), where(shop, trial).place) == ([None], "on_trial")
    with pytest.raises(Refused, match="on trial with Ida Skerry until 5 Mar 2026"):
        shop.act("return_to_owner", instrument_id=cello, handed_to="Orla Fenn")


def test_a_decision_to_buy_can_be_taken_back(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)), row(bow(shop), "900.00"))
    shop.act("decide_to_buy", trial_id=trial)
    with pytest.raises(Refused, match="waits to be decided"):
        shop.act("decide_to_buy", trial_id=trial)
    shop.act("stay_on_trial", trial_id=trial, lines="2")
    assert decisions(shop, trial) == ["bought", None]
    shop.act("take_trial_back", trial_id=trial)
    assert decisions(shop, trial) == ["returned", "returned"]
    shop.act("lend_on_trial", trial={"person_id": shop.buyer, "due_on": shop.today}, lines=(row(1),))


def test_a_sale_from_a_trial_taken_back_brings_the_instrument_back(any_shop: TriedShop) -> None:
    shop = any_shop
    stick = bow(shop)
    trial = lent(shop, row(stick, "900.00"), deposit=eur("900.00"), cleared=True)
    shop.act("decide_to_buy", trial_id=trial)
    sell_kept(shop, trial)
    assert where(shop, trial).place == "on_trial"
    shop.act("take_back", sale_id=1, why="too stiff")
    assert where(shop, trial).place == "here"
    shop.act("give_back", sale_id=1, amount=eur("900.00"))
    assert "deposits" not in shop.balances()
    lent(shop, row(stick, "900.00"))


def test_what_is_lost_on_trial_decides_its_line(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = consigned(shop)
    trial = lent(shop, row(cello, "9000.00"), row(None, "80.00", what="a case"))
    lost = act("lost_on_trial")
    assert lost.prefill is not None
    with shop.ledger.read() as reading:
        assert lost.prefill(reading, trial) == {"instrument_id": cello, "agreed_value": eur("9000.00")}
    shop.act("lost_on_trial", instrument_id=cello, what_happened="a train", agreed_value=eur("9000.00"))
    assert decisions(shop, trial) == ["lost", None]
    assert where(shop, trial).place == "lost"
    with pytest.raises(Typed, match="What happened"):
        shop.act("lose_thing", trial_id=trial, what_happened="")
    shop.act("lose_thing", trial_id=trial, what_happened="with the train")
    assert (decisions(shop, trial), ended(shop, trial)) == (["lost", "lost"], shop.today)


def test_an_instrument_is_not_lost_as_a_thing(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)))
    with pytest.raises(Refused, match="Nothing without a number"):
        shop.act("lose_thing", trial_id=trial, what_happened="gone")
