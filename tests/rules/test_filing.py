"""The caution on filing, against the published text of the rule."""

from __future__ import annotations

from datetime import date

import pytest

from shopledger.quantities.errors import Trouble
from shopledger.quantities.money import Money
from shopledger.rules.filing import filing_says, limits, parse_limits

ON = date(2026, 3, 2)


def dollars(*amounts: str | None) -> list[Money | None]:
    return [None if amount is None else Money.parse(amount, "USD") for amount in amounts]


# Uniform Commercial Code 9-102(a)(20): a delivery worth 1,000.00 or more in the aggregate, at the time of delivery, of
# goods that are not consumer goods: 600 and 400 together meet the value; 999.99, or 600 and 400 on two days, don't.
@pytest.mark.parametrize(
    ("use", "values", "says"),
    [
        ("equipment", dollars("600.00", "400.00"), "may_be_met"),
        ("dealer", dollars("1000.00"), "may_be_met"),
        ("equipment", dollars("999.99"), "not_met"),
        ("equipment", dollars("600.00"), "not_met"),
        ("equipment", dollars("400.00"), "not_met"),
        # An amateur's own violin is consumer goods, a working player's is equipment (same section and its comment).
        ("consumer", dollars("25000.00"), "not_met"),
        ("equipment", dollars("25000.00"), "may_be_met"),
        # What isn't known is not decided: common sense of the caution, no source.
        ("unknown", dollars("1000.00"), "may_be_met"),
        ("unknown", dollars("999.99"), "not_met"),
        ("equipment", dollars("999.99", None), ""),
        ("equipment", dollars("1000.00", None), "may_be_met"),
    ],
)
def test_the_rule_may_be_met_by_one_delivery(use: str, values: list[Money | None], says: str) -> None:
    assert filing_says(use, values, "USD", ON) == says


def test_nothing_is_said_in_another_currency_or_before_the_rule() -> None:
    assert filing_says("equipment", [Money(500_000, "EUR")], "EUR", ON) == ""
    assert filing_says("equipment", dollars("5000.00"), "USD", date(1999, 1, 1)) == ""


def test_every_limit_names_its_source() -> None:
    assert limits()
    assert all(limit.source for limit in limits())


@pytest.mark.parametrize(
    "text", ["[", "[[limit]]\nworth = '1000.00'", "[[limit]]\ncurrency = 'USD'\nworth = 'much'"]
)
def test_broken_limits_are_trouble_in_words(text: str) -> None:
    with pytest.raises(Trouble, match="Install the program again"):
        parse_limits(text)
