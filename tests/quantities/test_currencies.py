"""Currencies: the decimals of ISO 4217, and the nearest name for a code that isn't one."""

from __future__ import annotations

import pytest

from shopledger.quantities import currencies
from shopledger.quantities.errors import Typed


@pytest.mark.parametrize(
    ("code", "units"), [("JPY", 0), ("KRW", 0), ("USD", 2), ("KWD", 3), ("TND", 3), ("IQD", 3)]
)
def test_decimals_are_those_of_iso_4217(code: str, units: int) -> None:
    # ISO 4217 table in the package `iso4217`.
    assert currencies.minor_units(code) == units
    assert currencies.known(code)


@pytest.mark.parametrize(
    ("code", "near"), [("usd", "USD"), ("US", "USD"), ("USF", "USD"), ("EURO", "EUR"), ("Eur", "EUR")]
)
def test_the_nearest_currency_is_named(code: str, near: str) -> None:
    with pytest.raises(Typed, match=f"The nearest is {near}") as refused:
        currencies.minor_units(code)
    assert refused.value.field == "currency"


@pytest.mark.parametrize("code", ["", "$", "#" * 100_000, "\ud800", "1\n2"])
def test_what_is_near_no_currency_is_told_how_to_write_one(code: str) -> None:
    with pytest.raises(Typed, match="three capitals, such as USD") as refused:
        currencies.minor_units(code, field="ledger.currency")
    assert refused.value.field == "ledger.currency"
    assert len(str(refused.value)) < 150
    assert str(refused.value).isprintable()


def test_gold_and_test_codes_are_no_money_to_count() -> None:
    for code in ("XAU", "XXX", "XTS"):
        assert not currencies.known(code)


def test_the_list_to_choose_from_is_in_order() -> None:
    codes = currencies.codes()
    assert list(codes) == sorted(codes)
    assert len(codes) > 150
    assert {"USD", "EUR", "JPY"} <= set(codes)
