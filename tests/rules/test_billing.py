"""What a bill for work comes to: discount and tax over its lines, down to what was approved, and who bears a repair."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.money import Money, total
from shopledger.rules.billing import WorkAmount, brought_down, most_allowed, reckon_bill, repair_shares
from shopledger.rules.terms import Bearer, OwnerShare
from tests.rules.written import percent, usd

anywhere = settings(deadline=None, print_blob=True)
NOTHING = usd("0.00")


def taxed(*amounts: str) -> list[WorkAmount]:
    return [WorkAmount(usd(amount), is_taxed=True) for amount in amounts]


def test_item_and_invoice_basis_differ_as_published() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: ten lines of 1.10 at 6.625 %.
    lines = taxed(*["1.10"] * 10)
    item = reckon_bill(lines, NOTHING, percent("6.625"), by_invoice=False)
    assert (item.tax, item.taxes) == (usd("0.70"), (usd("0.07"),) * 10)
    whole = reckon_bill(lines, NOTHING, percent("6.625"), by_invoice=True)
    assert whole.tax == usd("0.73")
    # 0.73 over ten equal lines by largest remainder, the first named first: by hand.
    assert whole.taxes == (usd("0.08"),) * 3 + (usd("0.07"),) * 7


def test_a_half_goes_away_from_zero() -> None:
    # EN 16931, sample invoice ubl-tc434-example2: 25 % of 1,460.50 is 365.13 (exact 365.125).
    assert reckon_bill(taxed("1460.50"), NOTHING, percent("25"), by_invoice=True).tax == usd("365.13")
    # Section 324: 12.5 % of 1.00, carried to the third decimal.
    assert reckon_bill(taxed("1.00"), NOTHING, percent("12.5"), by_invoice=False).tax == usd("0.13")


def test_many_lines_at_one_rate() -> None:
    # EN 16931, sample invoice ubl-tc434-example1: 183.23 at 6 % is 10.99; 46.37 at 21 % is 9.74.
    assert reckon_bill(taxed("100.00", "83.23"), NOTHING, percent("6"), by_invoice=True).tax == usd("10.99")
    assert reckon_bill(taxed("46.37"), NOTHING, percent("21"), by_invoice=True).tax == usd("9.74")


def test_only_the_kinds_that_are_taxed_bear_tax_and_a_discount_falls_on_all_lines() -> None:
    lines = [WorkAmount(usd("300.00"), is_taxed=False), WorkAmount(usd("100.00"), is_taxed=True)]
    for by_invoice in (False, True):
        bill = reckon_bill(lines, usd("40.00"), percent("10"), by_invoice=by_invoice)
        # 40.00 by 300 and 100: 30.00 and 10.00; 10 % of the 90.00 that is left. By hand.
        assert (bill.nets, bill.taxes) == ((usd("270.00"), usd("90.00")), (NOTHING, usd("9.00")))
        assert (bill.net, bill.tax, bill.total) == (usd("360.00"), usd("9.00"), usd("369.00"))


def test_without_a_rate_there_is_no_tax() -> None:
    bill = reckon_bill(taxed("10.00"), NOTHING, None, by_invoice=True)
    assert (bill.taxes, bill.total) == ((NOTHING,), usd("10.00"))
    assert reckon_bill([], NOTHING, None, by_invoice=False).total == NOTHING


@pytest.mark.parametrize("discount", ["-0.01", "10.01"])
def test_a_discount_beyond_the_lines_is_refused(discount: str) -> None:
    with pytest.raises(Typed) as caught:
        reckon_bill(taxed("10.00"), usd(discount), None, by_invoice=False)
    assert caught.value.field == "discount"
    with pytest.raises(Typed, match="below nothing"):
        reckon_bill(taxed("-1.00"), NOTHING, None, by_invoice=False)


def test_a_bill_is_brought_down_to_what_was_approved_and_no_lower() -> None:
    # 550.00 and 10 % are 605.00; of 495.00 approved 450.00 is net and 45.00 tax. By hand.
    bill = brought_down(taxed("400.00", "150.00"), NOTHING, percent("10"), usd("495.00"), by_invoice=False)
    assert (bill.net, bill.tax, bill.discount) == (usd("450.00"), usd("45.00"), usd("100.00"))
    within = brought_down(taxed("400.00"), usd("5.00"), None, usd("395.00"), by_invoice=False)
    assert (within.total, within.discount) == (usd("395.00"), usd("5.00"))
    nothing = brought_down(taxed("400.00"), NOTHING, percent("7"), NOTHING, by_invoice=True)
    assert (nothing.total, nothing.discount) == (NOTHING, usd("400.00"))


@anywhere
@given(
    st.lists(st.tuples(st.integers(0, 10**6), st.booleans()), min_size=1, max_size=8),
    st.fractions(0, 1, max_denominator=1000),
    st.integers(0, 10**6),
    st.booleans(),
)
def test_a_bill_brought_down_is_within_what_was_approved_and_a_unit_less_off_is_not(
    lines: list[tuple[int, bool]], rate: Fraction, up_to: int, by_invoice: bool
) -> None:
    amounts = [WorkAmount(Money(minor, "USD"), is_taxed) for minor, is_taxed in lines]
    bill = brought_down(amounts, NOTHING, rate, Money(up_to, "USD"), by_invoice=by_invoice)
    assert bill.total.minor <= up_to
    assert total(bill.nets, "USD") == bill.net
    assert total(bill.taxes, "USD") == bill.tax
    assert bill.net + bill.discount == total([line.amount for line in amounts], "USD")
    if bill.discount:
        less_off = Money(bill.discount.minor - 1, "USD")
        assert reckon_bill(amounts, less_off, rate, by_invoice=by_invoice).total.minor > up_to


def test_an_allowed_excess_is_a_share_of_what_was_approved_in_whole_units() -> None:
    # Ten in a hundred over 100.05 is 110.055: the half unit is not allowed. By hand.
    assert most_allowed(usd("100.05"), Fraction(1, 10)) == usd("110.05")
    assert most_allowed(usd("100.05"), Fraction(0)) == usd("100.05")


def test_who_bears_a_repair() -> None:
    one = [OwnerShare("P 001", Fraction(1))]
    (whole,) = repair_shares(usd("100.00"), usd("8.25"), Bearer.OWNER, one)
    assert (whole.net, whole.tax, whole.amount) == (usd("100.00"), usd("8.25"), usd("108.25"))
    (none,) = repair_shares(usd("100.00"), usd("8.25"), Bearer.SHOP, one)
    assert none.amount == NOTHING
    # Of 108.25 the owner bears 54.12, the odd unit is the shop's. By hand.
    (half,) = repair_shares(usd("100.00"), usd("8.25"), Bearer.BOTH, one)
    assert (half.net, half.tax) == (usd("50.00"), usd("4.12"))
    assert repair_shares(usd("1.00"), NOTHING, Bearer.OWNER, []) == ()


def test_owners_bear_a_repair_by_their_shares() -> None:
    owners = [OwnerShare(name, Fraction(1, 3)) for name in ("P 001", "P 002", "P 003")]
    parts = repair_shares(usd("100.00"), usd("0.02"), Bearer.OWNER, owners)
    # 100.00 by thirds, largest remainder, equal ones in the order named; 0.02 likewise. By hand.
    assert [part.amount for part in parts] == [usd("33.35"), usd("33.34"), usd("33.33")]


@anywhere
@given(st.integers(0, 10**7), st.integers(0, 10**6), st.sampled_from(Bearer), st.integers(1, 6))
def test_owners_never_bear_more_than_their_half(net: int, tax: int, bearer: Bearer, count: int) -> None:
    owners = [OwnerShare(str(n), Fraction(1, count)) for n in range(count)]
    parts = repair_shares(Money(net, "USD"), Money(tax, "USD"), bearer, owners)
    theirs = sum(part.amount.minor for part in parts)
    assert theirs == {"owner": net + tax, "shop": 0, "both": (net + tax) // 2}[bearer.value]
    assert all(part.net.minor >= 0 and part.tax.minor >= 0 for part in parts)
