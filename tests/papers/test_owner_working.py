"""From the reckoning to the lines an owner reads: they add up to the net, whatever the terms."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from shopledger.papers.adding import working_must_add_up
from shopledger.papers.owner_working import owner_working
from shopledger.quantities.money import Money
from shopledger.rules.reckoning import reckon
from shopledger.rules.terms import (
    Bearer,
    Case,
    CommissionRate,
    Cost,
    Referral,
    Scheme,
    Tax,
    Terms,
)
from tests.papers.sample_things import usd

CASE = Case(
    currency="USD",
    asking=usd("12000.00"),
    price=usd("11250.00"),
    terms=Terms(commission=CommissionRate(Fraction(1, 5)), floor=usd("8500.00")),
    costs=(Cost(what="new bridge", amount=usd("180.00")),),
    tax=Tax(scheme=Scheme.SALES_TAX, rate=Fraction(825, 10000)),
    paid=usd("5000.00"),
)


def test_the_worked_case_reads_as_an_owner_reads_it() -> None:
    lines = owner_working(reckon(CASE))
    # The figures are those of the worked input and answer in the specification of the reckoning.
    assert [(line.label, line.amount.plain(), line.counts) for line in lines] == [
        ("Price", "11250.00", True),
        ("Discount", "750.00", False),
        ("Commission", "-2250.00", True),
        ("Owner's costs", "-180.00", True),
    ]
    working_must_add_up("account", lines, usd("8820.00"))


def test_what_concerns_the_shops_own_purse_is_left_out() -> None:
    case = Case(
        currency="USD",
        price=usd("1000.00"),
        terms=Terms(commission=CommissionRate(Fraction(1, 5))),
        costs=(Cost(what="advertisement", amount=usd("30.00"), borne_by=Bearer.SHOP),),
        tax=Tax(scheme=Scheme.MARGIN, rate=Fraction(1, 5)),
    )
    said = " ".join(line.label for line in owner_working(reckon(case)))
    assert said == "Price Commission"


def test_a_commission_that_gives_way_to_the_floor_counts_once() -> None:
    case = Case(
        currency="USD",
        price=usd("10000.00"),
        terms=Terms(commission=CommissionRate(Fraction(1, 5)), floor=usd("8500.00")),
        make_up=True,
    )
    split = reckon(case)
    lines = owner_working(split)
    assert [line.amount.plain() for line in lines if line.counts] == ["10000.00", "-1500.00"]
    working_must_add_up("account", lines, split.owner_net)


@given(
    price=st.integers(100, 10**7),
    above=st.integers(0, 10**6),
    rate=st.fractions(0, Fraction(1, 2)),
    cost=st.integers(0, 50),
    cost_by=st.sampled_from(Bearer),
    fee=st.fractions(0, Fraction(1, 10)),
    fee_by=st.sampled_from(Bearer),
    scheme=st.sampled_from([Scheme.NONE, Scheme.VAT_ON_COMMISSION, Scheme.MARGIN, Scheme.SALES_TAX]),
    floor=st.integers(0, 10**7),
    make_up=st.booleans(),
)
def test_the_counting_lines_always_add_up_to_the_net_and_mirror_with_it(
    price: int,
    above: int,
    rate: Fraction,
    cost: int,
    cost_by: Bearer,
    fee: Fraction,
    fee_by: Bearer,
    scheme: Scheme,
    floor: int,
    make_up: bool,
) -> None:
    case = Case(
        currency="USD",
        asking=Money(price + above, "USD"),
        price=Money(price, "USD"),
        terms=Terms(commission=CommissionRate(rate), floor=Money(floor, "USD")),
        costs=(Cost(what="a", amount=Money(cost, "USD"), borne_by=cost_by),),
        referral=Referral(rate=fee, borne_by=fee_by),
        tax=Tax() if scheme is Scheme.NONE else Tax(scheme=scheme, rate=Fraction(1, 5)),
        make_up=make_up,
    )
    split = reckon(case)
    working_must_add_up("account", owner_working(split), split.owner_net)
    working_must_add_up("account", owner_working(split.mirrored()), -split.owner_net)


def test_an_example_can_say_that_its_price_is_the_one_asked() -> None:
    assert owner_working(reckon(CASE), price_how="the asking price")[0].how == "the asking price"
    assert owner_working(reckon(CASE))[0].how == "agreed with the buyer"
