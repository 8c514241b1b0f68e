"""What is changed of where things are, and of counts, past the acts is noticed, on both databases."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from shopledger.acts.trial_forms import LendRow
from shopledger.store.proof.finding import Wrong
from shopledger.store.prove import prove
from tests.helpers.away import may_go, placing, sending
from tests.helpers.noticing import notice, wrong_with
from tests.helpers.shops import TriedShop, eur

# Stays: 1 gone, 2 lent and out, 3 lent and back, 4 placed and sent there, 5 lost, 6 gone and here again as 7.
PLANTED = {
    "a move before it came in": (
        "custody",
        "since = '2026-01-01' WHERE id = {first_of_4}",
        "since = '2026-03-02'",
    ),
    "moves out of order": ("custody", "since = '2030-01-01' WHERE id = {out_of_3}", "since = '2026-03-03'"),
    "a move of the stay before": ("custody", "stay_id = 6 WHERE id = {last_of_7}", "stay_id = 7"),
    "a move of nothing's first day": (
        "stay",
        "came_in_on = '2026-03-01' WHERE id = 4",
        "came_in_on = '2026-03-02'",
    ),
    "gone, its stay goes on": ("stay", "ended_on = NULL WHERE id = 1", "ended_on = '2026-03-03'"),
    "gone on another day": ("stay", "ended_on = '2026-03-04' WHERE id = 1", "ended_on = '2026-03-03'"),
    "lost, but handed over": ("stay", "ending = 'returned' WHERE id = 5", "ending = 'lost'"),
    "ended, but here": ("custody", "place = 'here' WHERE id = {last_of_1}", "place = 'handed_over'"),
    "on trial with somebody else": (
        "custody",
        "person_id = {kin} WHERE id = {out_of_2}",
        "person_id = {player}",
    ),
    "on trial by no trial": ("custody", "trial_id = NULL WHERE id = {out_of_2}", "trial_id = 1"),
    "at home by a trial": ("custody", "trial_id = 1 WHERE id = {last_of_7}", "trial_id = NULL"),
    "of a trial without a line": ("trial_line", "stay_id = 7 WHERE id = 1", "stay_id = 2"),
    "out, but here": ("custody", "place = 'here' WHERE id = {out_of_2}", "place = 'on_trial'"),
    "back, but out": (
        "trial_line",
        "decided_on = NULL, decision = NULL WHERE id = 2",
        "decided_on = '2026-03-04', decision = 'returned'",
    ),
    "a placing of something else": ("custody", "placing_id = 1 WHERE id = {last_of_7}", "placing_id = NULL"),
    "a shipment of something else": ("shipment_line", "stay_id = 7 WHERE id = 1", "stay_id = 4"),
    "counted, ticked after its end": (
        "stock_take_line",
        "seen_at = '2026-03-04T09:00:00.000000Z' WHERE id = {unseen}",
        "seen_at = NULL",
    ),
    "counted, not expected any more": (
        "stock_take_line",
        "was_expected = {no} WHERE id = {seen}",
        "was_expected = {yes}",
    ),
    "neither expected nor seen": (
        "stock_take_line",
        "was_expected = {no} WHERE id = {unseen}",
        "was_expected = {yes}",
    ),
    "ended before it began": (
        "stock_take",
        "ended_on = '2026-01-01' WHERE id = 1",
        "ended_on = '2026-03-04'",
    ),
    "two go on": ("stock_take", "ended_on = NULL WHERE id = 1", "ended_on = '2026-03-04'"),
}


@pytest.fixture
def shop(place: str | Path) -> Iterator[TriedShop]:
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()


def wrong(shop: TriedShop) -> list[Wrong]:
    return wrong_with(shop.ledger.where, "custody", "count")


def moved(shop: TriedShop) -> dict[str, object]:
    """Have things gone, lent, back, placed, lost and here again, and two counts."""
    gone = shop.taken_in()
    out, back = (shop.consigned(trials_allowed=True) for _n in range(2))
    placed = may_go(shop)
    lost = shop.consigned("900.00")
    again = shop.taken_in()
    shop.pass_days(1)
    shop.act("return_to_owner", instrument_id=gone, handed_to="Orla Fenn")
    shop.act(
        "lend_on_trial",
        trial={"person_id": shop.player, "due_on": shop.today + timedelta(days=14)},
        lines=tuple(LendRow(instrument_id=one, value=eur("8000.00")) for one in (out, back)),
    )
    placing(shop, placed)
    sending(shop, "dealer", shop.dealer, placed)
    shop.act("report_loss", instrument_id=lost, what_happened="fire", agreed_value=eur("900.00"))
    shop.act("return_to_owner", instrument_id=again, handed_to="Orla Fenn")
    shop.pass_days(1)
    shop.act("take_trial_back", trial_id=1, lines="2")
    shop.act("take_in_again", instrument_id=again, stay={"reason": "keep"})
    first = shop.act("begin_count").id
    shop.act("tick", stock_take_id=first, code=f"No. {again}")
    shop.act("end_count", stock_take_id=first)
    shop.act("begin_count")
    return {"kin": shop.kin, "player": shop.player}


def keys_of(shop: TriedShop) -> dict[str, object]:
    """Give the keys of the rows that are changed."""
    engine = shop.ledger.engine
    with engine.connect() as connection:
        ask = lambda question: connection.exec_driver_sql(question).scalar()  # noqa: E731 - four words each
        return {
            "first_of_4": ask("SELECT min(id) FROM custody WHERE stay_id = 4"),
            "out_of_2": ask("SELECT max(id) FROM custody WHERE stay_id = 2"),
            "out_of_3": ask("SELECT max(id) FROM custody WHERE stay_id = 3 AND place = 'on_trial'"),
            "last_of_1": ask("SELECT max(id) FROM custody WHERE stay_id = 1"),
            "last_of_7": ask("SELECT max(id) FROM custody WHERE stay_id = 7"),
            "seen": ask("SELECT id FROM stock_take_line WHERE stock_take_id = 1 AND seen_at IS NOT NULL"),
            "unseen": ask("SELECT id FROM stock_take_line WHERE stock_take_id = 1 AND seen_at IS NULL"),
            "no": "0" if engine.dialect.name == "sqlite" else "false",
            "yes": "1" if engine.dialect.name == "sqlite" else "true",
        }


def test_each_is_noticed(shop: TriedShop) -> None:
    known = moved(shop)
    assert prove(shop.ledger.where) == []
    known |= keys_of(shop)
    for name, (table, planted, undone) in PLANTED.items():
        where = planted.partition(" WHERE ")[2]
        plant, undo = f"UPDATE {table} SET {planted}", f"UPDATE {table} SET {undone} WHERE {where}"
        notice(shop.ledger.where, name, plant.format(**known), undo.format(**known), "custody", "count")
    assert prove(shop.ledger.where) == []
