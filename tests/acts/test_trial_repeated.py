"""Each act by which a trial goes on or ends, sent twice: done once, on both databases; what begins it elsewhere too."""

from __future__ import annotations

from typing import Any

from shopledger.acts import act
from tests.acts.test_papers_left import left, twice
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import bow, consigned, decisions, ended, held, lent, lines, row, where


def test_what_ends_a_trial_is_done_once(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick, gone = consigned(shop), bow(shop), consigned(shop)
    trial = lent(
        shop,
        row(cello),
        row(stick, "900.00"),
        row(None, "90.00", what="a case"),
        row(gone, "8000.00"),
        deposit=eur("300.00"),
        cleared=True,
    )
    shop.pass_days(2)
    twice(shop, "decide_to_buy", trial_id=trial, lines="1, 2")
    twice(shop, "stay_on_trial", trial_id=trial, lines="1")
    assert decisions(shop, trial) == [None, "bought", None, None]
    twice(shop, "lose_thing", trial_id=trial, what_happened="left on the ferry")
    loss = {"instrument_id": gone, "what_happened": "a fire", "agreed_value": eur("8000.00")}
    outcome = twice(shop, "lost_on_trial", **loss)
    assert left(shop, outcome) == [("loss_report", "LD 2026-001")]
    booked = shop.booked(lambda: twice(shop, "sell_kept", **selling(shop, trial)))
    assert booked == [
        {"buyers Ida Skerry": 90000, "own_sales": -90000, "cost_of_sales": 30000, "stock": -30000},
        {"deposits Ida Skerry": 30000, "buyers Ida Skerry": -30000},
    ]
    assert (shop.owes(1), held(shop, trial)) == (60000, 0)
    outcome = twice(shop, "take_trial_back", trial_id=trial)
    assert left(shop, outcome) == [("trial_return", "TR 2026-001/2")]
    assert decisions(shop, trial) == ["returned", "bought", "lost", "lost"]
    assert [line.sale_id for line in lines(shop, trial)] == [None, 1, None, None]
    assert [where(shop, trial, n).place for n in (1, 2, 4)] == ["here", "on_trial", "lost"]
    assert ended(shop, trial) == shop.today


def selling(shop: TriedShop, trial: int) -> dict[str, Any]:
    """Give the inputs of a sale of what is to be bought, as the form is filled beforehand, without tax."""
    prefill = act("sell_kept").prefill
    assert prefill is not None
    with shop.ledger.read() as reading:
        given = dict(prefill(reading, trial))
    return {**given, "tax_scheme": "none", "tax_rate": None, "trial_id": trial}


def test_a_trial_begun_at_the_player_goes_out_once(any_shop: TriedShop) -> None:
    shop = any_shop
    given = {"person_id": shop.player, "due_on": shop.today}
    booked = shop.booked(
        lambda: twice(
            shop,
            "lend_to",
            trial=given,
            lines=(row(bow(shop), "900.00"),),
            deposit=eur("90.00"),
            cleared=True,
        )
    )
    # The bow was bought for the stock meanwhile; the deposit is owed to the player, and nothing is earned by it.
    assert booked[-2:] == [
        {"in_transit": 9000, "deposits Ida Skerry": -9000},
        {"in_transit": -9000, "bank": 9000},
    ]
    assert shop.rows()["trial"] == 1
    assert {code for code in shop.balances() if "sales" in code or code in ("forfeits", "fees")} == set()


def test_an_overdue_trial_is_neither_sold_nor_back_until_somebody_says_so(any_shop: TriedShop) -> None:
    shop = any_shop
    trial = lent(shop, row(consigned(shop)), deposit=eur("90.00"), cleared=True, days=1)
    shop.pass_days(60)
    before = shop.balances()
    twice(shop, "remind_of_trial", trial_id=trial)
    assert shop.balances() == before
    assert (decisions(shop, trial), where(shop, trial).place, held(shop, trial)) == ([None], "on_trial", 9000)
    shop.pass_days(1)
    twice(shop, "extend_trial", trial_id=trial, due_on=shop.today, agreed_by="by telephone")
    assert (decisions(shop, trial), ended(shop, trial)) == ([None], None)
