"""What can be done with an answer: its figures in order, its mirror, and a later change."""

from __future__ import annotations

from shopledger.rules.reckoning import reckon
from shopledger.rules.split import FIGURES, part_cleared
from tests.rules.written import sale, usd


def test_figures_come_in_the_order_of_the_written_answer() -> None:
    assert tuple(reckon(sale("1000")).figures()) == FIGURES


def test_a_later_price_reduction_is_the_difference_of_two_reckonings() -> None:
    first, second = reckon(sale("1000")), reckon(sale("900"))
    change = second.changed_from(first)
    assert change["price"] == usd("-100")
    assert change["commission"] == usd("-20")
    assert change["owner_net"] == usd("-80")
    assert not any(reckon(sale("1000")).changed_from(first).values())


def test_a_step_is_found_by_its_figure() -> None:
    split = reckon(sale("1000"))
    step = split.step_of("commission")
    assert step is not None
    assert step.amount == usd("200")
    assert split.step_of("shop_costs") is None


def test_the_part_of_a_net_that_has_cleared_is_rounded_down() -> None:
    assert part_cleared(usd("800"), usd("333.33"), usd("1100")) == usd("242.42")
    assert part_cleared(usd("-800"), usd("500"), usd("1100")) == usd("0")
    assert part_cleared(usd("800"), usd("1100"), usd("1100")) == usd("800")
    assert part_cleared(usd("800"), usd("5000"), usd("1100")) == usd("800")
