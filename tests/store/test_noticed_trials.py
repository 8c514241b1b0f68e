"""What is changed of trials past the acts is noticed, on both databases."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from shopledger.store.proof.finding import Wrong
from shopledger.store.prove import prove
from tests.helpers.noticing import notice, wrong_with
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import bow, consigned, lent, row, sell_kept

# Trial 1: a cello back, a bow sold, a case lost, over. Trial 2: a cello out, extended twice, a deposit held, a bow to
# be bought. Trial 3: a cello lost. Days: lent on 2 March 2026, decided on the 4th.
PLANTED = {
    "another value": ("trial_line", "value = 1 WHERE id = 1", "value = 1000000"),
    "a line of another trial": ("trial_line", "trial_id = 2, n = 9 WHERE id = 3", "trial_id = 1, n = 3"),
    "no line": ("trial_line", "trial_id = 1, n = 9 WHERE trial_id = 3", "trial_id = 3, n = 1"),
    "another end": ("trial", "due_on = '2026-05-01' WHERE id = 1", "due_on = '2026-03-16'"),
    "an end not extended to": ("trial", "due_on = '2026-05-01' WHERE id = 2", "due_on = '2026-03-30'"),
    "another first end": (
        "trial_extension",
        "due_before_on = '2026-03-15' WHERE id = 1",
        "due_before_on = '2026-03-16'",
    ),
    "extended from another day": (
        "trial_extension",
        "due_before_on = '2026-03-19' WHERE id = 2",
        "due_before_on = '2026-03-20'",
    ),
    "another beginning": ("trial", "began_on = '2026-03-01' WHERE id = 2", "began_on = '2026-03-02'"),
    "over, but out": ("trial", "ended_on = '2026-03-04' WHERE id = 2", "ended_on = NULL"),
    "over, but goes on": ("trial", "ended_on = NULL WHERE id = 1", "ended_on = '2026-03-04'"),
    "over before it was decided": (
        "trial",
        "ended_on = '2026-03-03' WHERE id = 1",
        "ended_on = '2026-03-04'",
    ),
    "decided before it began": (
        "trial_line",
        "decided_on = '2026-03-01' WHERE id = 3",
        "decided_on = '2026-03-04'",
    ),
    "back on another day": (
        "trial_line",
        "decided_on = '2026-03-03' WHERE id = 1",
        "decided_on = '2026-03-04'",
    ),
    "lost, but back": ("trial_line", "decision = 'lost' WHERE id = 1", "decision = 'returned'"),
    "back, but lost": ("trial_line", "decision = 'returned' WHERE trial_id = 3", "decision = 'lost'"),
    "sold by no sale": ("trial_line", "sale_id = NULL WHERE id = 2", "sale_id = 1"),
    "sold, but it isn't on the invoice": (
        "trial_line",
        "decision = 'bought', sale_id = 1 WHERE id = 1",
        "decision = 'returned', sale_id = NULL",
    ),
    "sold to somebody else": ("trial_line", "sale_id = 2 WHERE id = 2", "sale_id = 1"),
    "back by a sale": ("trial_line", "sale_id = 1 WHERE id = 1", "sale_id = NULL"),
    "a deposit of another trial": ("payment", "trial_id = 2 WHERE id = 1", "trial_id = 1"),
    "a deposit of no trial": ("payment", "trial_id = NULL WHERE id = {kept}", "trial_id = 2"),
    "a deposit of somebody else": ("trial", "person_id = {buyer} WHERE id = 2", "person_id = {player}"),
    "more set off than paid": ("payment", "minor = 10000 WHERE id = 1", "minor = 30000"),
}


@pytest.fixture
def shop(place: str | Path) -> Iterator[TriedShop]:
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()


def wrong(shop: TriedShop) -> list[Wrong]:
    return wrong_with(shop.ledger.where, "trial")


def tried(shop: TriedShop) -> dict[str, object]:
    """Have one trial over by a return, a sale and a loss, one that goes on, one of a thing that was lost."""
    first = lent(
        shop,
        row(consigned(shop)),
        row(bow(shop), "900.00"),
        row(None, "90.00", what="a case"),
        deposit=eur("300.00"),
        cleared=True,
    )
    second = lent(shop, row(consigned(shop)), row(bow(shop), "900.00"))
    gone = consigned(shop)
    lent(shop, row(gone))
    shop.pass_days(2)
    shop.act("take_trial_back", trial_id=first, lines="1")
    shop.act("lose_thing", trial_id=first, what_happened="left on the ferry")
    shop.act("decide_to_buy", trial_id=first)
    sell_kept(shop, first)
    shop.sold(consigned(shop))
    for day in (20, 30):
        due_on = shop.today.replace(day=day)
        shop.act("extend_trial", trial_id=second, due_on=due_on, agreed_by="by telephone")
    shop.act("take_trial_deposit", trial_id=second, amount=eur("50.00"))
    shop.act("decide_to_buy", trial_id=second, lines="2")
    shop.act("report_loss", instrument_id=gone, what_happened="fire", agreed_value=eur("900.00"))
    with shop.ledger.engine.connect() as connection:
        kept = connection.exec_driver_sql("SELECT id FROM payment WHERE trial_id = 2").scalar()
    return {"buyer": shop.buyer, "player": shop.player, "kept": kept}


def test_each_is_noticed(shop: TriedShop) -> None:
    known = tried(shop)
    assert prove(shop.ledger.where) == []
    for name, (table, planted, undone) in PLANTED.items():
        where = planted.partition(" WHERE ")[2]
        if name == "no line":
            where = "n = 9"
        plant, undo = f"UPDATE {table} SET {planted}", f"UPDATE {table} SET {undone} WHERE {where}"
        notice(shop.ledger.where, name, plant.format(**known), undo.format(**known), "trial")
    # Each was put right again: what is left of one would be taken for the next.
    assert prove(shop.ledger.where) == []


def test_a_trial_that_is_told_late_ends_when_its_last_line_was_decided(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)), deposit=eur("50.00"), cleared=True)
    shop.pass_days(5)
    shop.act("take_trial_back", trial_id=trial)
    shop.act("give_trial_deposit_back", trial_id=trial, on=shop.today - timedelta(days=3))
    assert prove(shop.ledger.where) == []
