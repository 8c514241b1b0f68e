"""The terms of work: set, kept by what was reckoned before, and refused where they can't be so."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from shopledger.quantities.errors import Typed
from shopledger.queries.shop_sheet import sheet
from tests.helpers.jobs import prefilled, refused, twice
from tests.helpers.shops import TriedShop, eur


def test_the_terms_are_set_and_stand_on_the_shops_page(any_shop: TriedShop) -> None:
    shop = any_shop
    assert prefilled(shop, "set_work_terms", 1) == {
        "work_rate": None,
        "estimate_days": 30,
        "allowed_excess": Fraction(0),
        "work_tax_basis": "item",
        "tax_on_labour": True,
        "tax_on_parts": True,
        "tax_on_services": True,
    }
    twice(
        shop,
        "set_work_terms",
        work_rate=eur("84.00"),
        estimate_days=21,
        allowed_excess=Fraction(1, 10),
        work_tax_basis="invoice",
        tax_on_parts=True,
    )
    assert prefilled(shop, "set_work_terms", 1) == {
        "work_rate": eur("84.00"),
        "estimate_days": 21,
        "allowed_excess": Fraction(1, 10),
        "work_tax_basis": "invoice",
        "tax_on_labour": False,
        "tax_on_parts": True,
        "tax_on_services": False,
    }
    with shop.ledger.read() as reading:
        terms = next(group for group in sheet(reading).groups if group.title == "Terms of work")
    told = {fact.label: fact.value for fact in terms.facts}
    assert told["Hourly rate of the workshop"] == eur("84.00")
    assert told["An estimate is valid for"] == "21 days"
    assert told["Tax on work is reckoned"] == "on the whole"
    assert shop.wrong() == []


@pytest.mark.parametrize(
    ("field", "inputs"),
    [
        ("work_rate", {"work_rate": eur("-1.00")}),
        ("allowed_excess", {"allowed_excess": Fraction(-1, 100)}),
        ("allowed_excess", {"allowed_excess": Fraction(2)}),
        ("work_tax_basis", {"work_tax_basis": "by guess"}),
        ("estimate_days", {"estimate_days": -3}),
    ],
)
def test_terms_that_can_t_be_are_refused(shop: TriedShop, field: str, inputs: dict[str, Any]) -> None:
    refused(shop, Typed, field, "set_work_terms", **inputs)
