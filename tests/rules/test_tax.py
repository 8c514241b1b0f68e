"""The arithmetic of taxes, against published examples."""

from __future__ import annotations

from fractions import Fraction

import pytest

from shopledger.quantities.money import Money
from shopledger.rules import tax
from tests.rules.written import percent, usd


def gbp(text: str) -> Money:
    return Money.parse(text, "GBP")


def test_item_basis_and_invoice_basis_differ_and_both_are_allowed() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: ten lines of 1.10 at 6.625 %.
    lines = [usd("1.10")] * 10
    assert tax.tax_by_item(lines, percent("6.625"), "USD") == usd("0.70")
    assert tax.tax_by_invoice(lines, percent("6.625"), "USD") == usd("0.73")


def test_rates_of_several_authorities_are_aggregated_before_rounding() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: 0.30 at 4 % and 1.5 %.
    together = tax.combined_rate([percent("4"), percent("1.5")])
    assert tax.sales_tax(usd("0.30"), together) == usd("0.02")


@pytest.mark.parametrize(
    ("bought", "sold", "vat"),
    [
        ("1500", "2000", "83.33"),
        ("1800", "2100", "50.00"),
        ("2000", "1500", "0.00"),
        ("1500", "1500", "0.00"),
    ],
)
def test_the_margin_of_an_own_instrument(bought: str, sold: str, vat: str) -> None:
    # HMRC VAT Notice 718: a sixth of the margin at 20 %; a loss bears none.
    assert tax.margin_vat_on_own(gbp(bought), gbp(sold), percent("20")) == gbp(vat)


def test_the_share_within_an_amount_is_a_sixth_at_twenty_percent() -> None:
    # HMRC VAT Notice 718.
    assert tax.share_within(percent("20")) == Fraction(1, 6)


def test_who_counts_as_the_seller() -> None:
    # California Regulation 1569 and annotation 185.0010: a consigned piano at 8,000.00, 7.25 %.
    unasked = tax.sellers_base(usd("8000"), passes_title_unasked=True)
    assert tax.sales_tax(unasked.amount, percent("7.25")) == usd("580.00")
    assert unasked.note == ""
    asked = tax.sellers_base(usd("8000"), passes_title_unasked=False)
    assert asked.amount == usd("0.00")
    assert "ask the tax authority or an accountant" in asked.note


def test_an_exempt_sale_bears_no_tax() -> None:
    assert tax.sales_tax(usd("100"), percent("8"), exempt=True) == usd("0")
    assert tax.tax_by_item([], percent("8"), "USD") == usd("0")
