"""What an estimate comes to: lines at least and at most by amount, price or time, and tax over them as on a bill."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.money import Money
from shopledger.rules.billing import WorkAmount, reckon_bill
from shopledger.rules.estimating import LineRange, WorkWanted, amounts_of, for_time, reckon_estimate
from tests.rules.written import percent, usd

anywhere = settings(deadline=None, print_blob=True)
NOTHING = usd("0.00")
RATE = usd("84.00")


def known(*amounts: str, is_taxed: bool = True) -> list[LineRange]:
    return [LineRange(usd(amount), usd(amount), is_taxed) for amount in amounts]


@pytest.mark.parametrize(
    ("hourly", "minutes", "amount"),
    [
        ("84.00", 60, "84.00"),
        ("84.00", 90, "126.00"),
        ("80.00", 75, "100.00"),
        ("77.77", 50, "64.81"),  # exact 64.808333…
        ("0.01", 30, "0.01"),  # exactly half a cent, away from zero
        ("84.00", 0, "0.00"),
    ],
)
def test_time_costs_its_part_of_the_hour_rounded_once(hourly: str, minutes: int, amount: str) -> None:
    # By hand.
    assert for_time(usd(hourly), minutes) == usd(amount)


@pytest.mark.parametrize(
    ("wanted", "low", "high"),
    [
        ({"minutes": 90}, "126.00", "126.00"),
        ({"minutes": 90, "minutes_high": 120}, "126.00", "168.00"),
        ({"minutes_high": 60, "amount": "30.00"}, "30.00", "84.00"),
        ({"price": "45.00"}, "45.00", "45.00"),
        ({"price": "45.00", "quantity": 4}, "180.00", "180.00"),
        ({"price": "45.00", "minutes": 90}, "45.00", "45.00"),
        ({"price": "45.00", "quantity": 2, "amount": "80.00"}, "80.00", "80.00"),
        ({"minutes": 90, "amount": "100.00", "amount_high": "150.00"}, "100.00", "150.00"),
        ({"minutes": 90, "minutes_high": 600, "amount_high": "150.00"}, "126.00", "150.00"),
        ({"amount": "0.00"}, "0.00", "0.00"),
    ],
)
def test_an_amount_goes_before_a_price_and_a_price_before_the_time(
    wanted: dict[str, Any], low: str, high: str
) -> None:
    given = {name: usd(value) if isinstance(value, str) else value for name, value in wanted.items()}
    # By hand, at 84.00 an hour.
    assert amounts_of(WorkWanted(**given), RATE) == (usd(low), usd(high))


def test_what_says_nothing_of_its_cost_is_not_reckoned() -> None:
    assert amounts_of(WorkWanted(), RATE) is None
    assert amounts_of(WorkWanted(minutes_high=60), RATE) is None


@pytest.mark.parametrize(
    ("wanted", "field"),
    [
        (WorkWanted(minutes=60, quantity=0), "quantity"),
        (WorkWanted(minutes=60, minutes_high=59), "minutes_high"),
        (WorkWanted(amount=usd("-0.01")), "amount"),
        (WorkWanted(amount=usd("10.00"), amount_high=usd("9.99")), "amount_high"),
        (WorkWanted(price=usd("100.00"), minutes_high=60), "minutes_high"),
    ],
)
def test_what_can_t_be_is_refused_at_its_field(wanted: WorkWanted, field: str) -> None:
    with pytest.raises(Typed) as caught:
        amounts_of(wanted, RATE)
    assert caught.value.field == field


def test_hourly_work_and_parts_at_a_quarter() -> None:
    # EN 16931, sample invoice ubl-tc434-example2: what is taxed at 25 % are lines of 1,273.00 and 187.50, with an
    # allowance and a charge of 100.00 each: 1,460.50, of which the tax is 365.13 (exact 365.125). Here the first is
    # 1,273 minutes at 60.00 an hour and the second a part of 62.50, three times.
    work = amounts_of(WorkWanted(minutes=1273), usd("60.00"))
    part = amounts_of(WorkWanted(price=usd("62.50"), quantity=3), usd("60.00"))
    assert work is not None
    assert part is not None
    assert (work[0], part[0]) == (usd("1273.00"), usd("187.50"))
    lines = [LineRange(*work, True), LineRange(*part, True)]
    whole = reckon_estimate(lines, NOTHING, percent("25"), by_invoice=True).high
    assert (whole.net, whole.tax, whole.total) == (usd("1460.50"), usd("365.13"), usd("1825.63"))


def test_each_rate_of_a_sample_with_many_lines() -> None:
    # EN 16931, sample invoice ubl-tc434-example1: 183.23 at 6 % is 10.99, and 46.37 at 21 % is 9.74.
    for net, rate, tax in (("183.23", "6", "10.99"), ("46.37", "21", "9.74")):
        assert reckon_estimate(known(net), NOTHING, percent(rate), by_invoice=True).low.tax == usd(tax)


def test_a_reversal_s_figures_as_an_estimate() -> None:
    # EN 16931 samples, BIS3 positive: 625,743.54 at 25 % is 156,435.89.
    done = reckon_estimate(known("625743.54"), NOTHING, percent("25"), by_invoice=True)
    assert done.high.tax == usd("156435.89")


def test_item_and_invoice_basis_of_section_324() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: ten of 1.10 at 6.625 % are 0.70 by item, 0.73 by invoice;
    # 1.00 at 12.5 % is carried to the third decimal; 4 % and 1.5 % on 0.30 are aggregated.
    ten = known(*["1.10"] * 10)
    assert reckon_estimate(ten, NOTHING, percent("6.625"), by_invoice=False).low.tax == usd("0.70")
    assert reckon_estimate(ten, NOTHING, percent("6.625"), by_invoice=True).low.tax == usd("0.73")
    for by_invoice in (False, True):
        assert reckon_estimate(known("1.00"), NOTHING, percent("12.5"), by_invoice=by_invoice).low.tax == usd(
            "0.13"
        )
        assert reckon_estimate(
            known("0.30"), NOTHING, percent("4") + percent("1.5"), by_invoice=by_invoice
        ).low.tax == usd("0.02")


def test_least_and_most_are_each_reckoned_for_themselves_and_the_discount_is_on_both() -> None:
    lines = [
        LineRange(usd("100.00"), usd("200.00"), is_taxed=True),
        LineRange(usd("100.00"), usd("100.00"), is_taxed=False),
    ]
    done = reckon_estimate(lines, usd("30.00"), percent("10"), by_invoice=False)
    # 30.00 by 100 and 100, then by 200 and 100: 85.00 and 180.00 are taxed. By hand.
    assert (done.low.net, done.low.tax) == (usd("170.00"), usd("8.50"))
    assert (done.high.net, done.high.tax) == (usd("270.00"), usd("18.00"))
    with pytest.raises(Typed) as caught:
        reckon_estimate(lines, usd("200.01"), None, by_invoice=False)
    assert caught.value.field == "discount"


@anywhere
@given(
    st.lists(st.tuples(st.integers(0, 10**6), st.integers(0, 10**6), st.booleans()), min_size=1, max_size=8),
    st.fractions(0, 1, max_denominator=1000),
    st.booleans(),
)
def test_either_end_is_what_a_bill_of_it_would_be_and_most_is_never_below_least(
    rows: list[tuple[int, int, bool]], rate: Any, by_invoice: bool
) -> None:
    lines = [LineRange(Money(low, "USD"), Money(low + more, "USD"), taxed) for low, more, taxed in rows]
    done = reckon_estimate(lines, NOTHING, rate, by_invoice=by_invoice)
    high = [WorkAmount(line.high, line.is_taxed) for line in lines]
    assert done.high == reckon_bill(high, NOTHING, rate, by_invoice=by_invoice)
    assert done.low.net <= done.high.net
    assert done.low.tax <= done.high.tax
