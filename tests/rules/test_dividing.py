"""A single price over several things, payments over the lines of an invoice, a net among owners."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.errors import Refused
from shopledger.quantities.money import Money, total
from shopledger.rules.dividing import among_owners, paid_on_lines, single_price_over_lines
from shopledger.rules.terms import OwnerShare
from tests.rules.written import usd

anywhere = settings(deadline=None, print_blob=True)


def test_a_single_price_is_divided_by_asking_prices() -> None:
    # Common practice, no source: cello 9,000, bow 2,000, case 1,000 for 10,000.01 together.
    parts = single_price_over_lines(usd("10000.01"), [usd("9000"), usd("2000"), usd("1000")])
    assert parts == (usd("7500.01"), usd("1666.67"), usd("833.33"))


def test_without_any_asking_price_a_single_price_is_refused() -> None:
    with pytest.raises(Refused, match="Agree a price for each line"):
        single_price_over_lines(usd("100"), [usd("0"), usd("0")])


def test_a_payment_falls_on_lines_by_what_each_buyer_pays() -> None:
    assert paid_on_lines(usd("100"), [usd("200"), usd("100")]) == (usd("66.67"), usd("33.33"))
    assert paid_on_lines(usd("0"), [usd("200"), usd("100")]) == (usd("0"), usd("0"))
    assert paid_on_lines(usd("300"), [usd("200"), usd("100")]) == (usd("200"), usd("100"))
    assert paid_on_lines(usd("5"), [usd("0"), usd("0")]) == (usd("5"), usd("0"))
    assert paid_on_lines(usd("0"), []) == ()


@anywhere
@given(st.lists(st.integers(0, 10**6), min_size=1, max_size=8), st.data())
def test_every_line_is_paid_when_the_invoice_is(lines: list[int], data: st.DataObject) -> None:
    amounts = [Money(line, "USD") for line in lines]
    due = total(amounts, "USD")
    assert list(paid_on_lines(due, amounts)) == amounts
    part = Money(data.draw(st.integers(0, due.minor)), "USD")
    parts = paid_on_lines(part, amounts)
    assert total(parts, "USD") == part
    assert all(paid <= line for paid, line in zip(parts, amounts, strict=True))


def test_owners_share_a_net_whatever_its_sign() -> None:
    heirs = (OwnerShare("Ada", Fraction(1, 3)), OwnerShare("Bert", Fraction(2, 3)))
    assert among_owners(usd("100"), heirs) == (usd("33.33"), usd("66.67"))
    assert among_owners(usd("-100"), heirs) == (usd("-33.33"), usd("-66.67"))
