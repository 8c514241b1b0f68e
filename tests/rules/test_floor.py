"""How far a commission gives way for the floor: compared with trying every amount."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.quantities.money import Money
from shopledger.rules.floor import largest_with_vat, made_up

anywhere = settings(deadline=None, print_blob=True)
rates = st.fractions(0, 1, max_denominator=400)


def fits(commission: int, room: int, rate: Fraction) -> bool:
    money = Money(commission, "USD")
    return money + money.times(rate) <= Money(room, "USD")


@anywhere
@given(st.integers(-500, 3000), rates)
def test_the_largest_that_fits_with_its_vat_is_found_as_by_trying(room: int, rate: Fraction) -> None:
    tried = max((c for c in range(room + 1) if fits(c, room, rate)), default=0)
    assert largest_with_vat(Money(room, "USD"), rate) == Money(tried, "USD")


def test_where_nothing_is_left_nothing_fits() -> None:
    for rate in (Fraction(0), Fraction(1, 5), Fraction(1)):
        for room in (-2, -1, 0):
            assert largest_with_vat(Money(room, "USD"), rate) == Money(0, "USD")
            assert made_up(Money(7, "USD"), Money(room, "USD"), rate) == Money(7, "USD")
    assert largest_with_vat(Money(1, "USD"), Fraction(1, 5)) == Money(1, "USD")
    assert largest_with_vat(Money(1, "USD"), Fraction(1, 2)) == Money(0, "USD")


@anywhere
@given(st.integers(0, 10**15), rates)
def test_it_fits_and_one_more_does_not(room: int, rate: Fraction) -> None:
    found = largest_with_vat(Money(room, "USD"), rate).minor
    assert fits(found, room, rate)
    assert not fits(found + 1, room, rate)


@anywhere
@given(st.integers(0, 3000), st.integers(-500, 3000), rates)
def test_the_reduction_is_the_smallest_that_leaves_enough(commission: int, room: int, rate: Fraction) -> None:
    enough = (less for less in range(commission + 1) if fits(commission - less, room, rate))
    assert made_up(Money(commission, "USD"), Money(room, "USD"), rate) == Money(
        next(enough, commission), "USD"
    )
