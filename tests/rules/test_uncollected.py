"""Work that nobody collects: reminders by their days, and what of a sale for what is owed is the owner's."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from shopledger.rules.uncollected import REMINDER_DAYS, lien_split, next_reminder, reminder_due
from tests.rules.written import usd

READY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("days", "sent", "due"),
    [
        (29, (), None),
        (30, (), 30),
        (30, (30,), None),
        (59, (30,), None),
        (60, (30,), 60),
        (75, (), 60),
        (89, (60,), None),
        (90, (30, 60), 90),
        (90, (90,), None),
        (400, (60,), 90),
        (400, (90,), None),
    ],
)
def test_a_reminder_is_due_on_its_day_and_once(days: int, sent: tuple[int, ...], due: int | None) -> None:
    assert reminder_due(READY, READY + timedelta(days=days), sent) == due


def test_the_next_reminder_has_a_day() -> None:
    sent: list[int] = []
    for days in REMINDER_DAYS:
        assert next_reminder(READY, sent) == READY + timedelta(days=days)
        sent.append(days)
    assert next_reminder(READY, sent) is None


def test_the_surplus_is_the_owners() -> None:
    # California Civil Code 3051 and 3052: sold for 900.00, 310.00 due, 40.00 of costs; 550.00 is the owner's.
    split = lien_split(usd("900.00"), usd("310.00"), usd("40.00"))
    assert (split.to_shop, split.surplus, split.costs_left) == (usd("310.00"), usd("550.00"), usd("0.00"))


@pytest.mark.parametrize(
    ("price", "to_shop", "surplus", "costs_left"),
    [
        ("350.00", "310.00", "0.00", "0.00"),
        ("350.01", "310.00", "0.01", "0.00"),
        ("300.00", "260.00", "0.00", "0.00"),
        ("40.00", "0.00", "0.00", "0.00"),
        ("30.00", "0.00", "0.00", "10.00"),
    ],
)
def test_what_a_low_price_leaves(price: str, to_shop: str, surplus: str, costs_left: str) -> None:
    # By hand: costs first, then what is due, then the owner.
    split = lien_split(usd(price), usd("310.00"), usd("40.00"))
    assert (split.to_shop, split.surplus, split.costs_left) == (usd(to_shop), usd(surplus), usd(costs_left))
