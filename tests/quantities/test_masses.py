"""Weights as they are typed: exact factors, the words kept, and texts that are no weight."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import Manners
from shopledger.quantities.masses import MG_PER_OUNCE, Mass, other_mass_unit, read_mass, show_mass


def test_an_ounce_and_a_pound_are_those_of_1959() -> None:
    # NIST Special Publication 811, appendix B.8: the pound is 0.45359237 kg exactly, the avoirdupois ounce a sixteenth
    # of it, 28.349523125 g.
    assert Fraction("28349.523125") == MG_PER_OUNCE
    assert Fraction("453592.37") == 16 * MG_PER_OUNCE


@pytest.mark.parametrize(
    ("typed", "mg", "kept"),
    [
        ("61.5", 61_500, "61.5 g"),
        ("61,5 g", 61_500, "61,5 g"),
        ("2.8 kg", 2_800_000, "2.8 kg"),
        ("2.8kg", 2_800_000, "2.8kg"),
        ("0.001 g", 1, "0.001 g"),
        ("1 oz", 28_350, "1 oz"),  # 28,349.523 to the nearest milligram
        ("2 1/8 oz", 60_243, "2 1/8 oz"),
        ("2⅛ oz", 60_243, "2⅛ oz"),
        ("1 lb", 453_592, "1 lb"),
        ("6 lbs", 2_721_554, "6 lbs"),
        ("6 lb 4 oz", 2_834_952, "6 lb 4 oz"),
        ("6 lb, 4 oz", 2_834_952, "6 lb, 4 oz"),
    ],
)
def test_a_weight_is_read_exactly_and_kept_as_typed(typed: str, mg: int, kept: str) -> None:
    assert read_mass(typed) == Mass(mg, kept)


def test_without_a_unit_the_measures_own_is_meant() -> None:
    assert read_mass("2.8", default_unit="kg") == Mass(2_800_000, "2.8 kg")
    assert read_mass("60", default_unit="kg").mg == 60_000_000


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("heavy", "is no weight"),
        ("", "is no weight"),
        ("-3 g", "is no weight"),
        ("1e9 g", "is no weight"),
        ("61.5 mm", "is no weight"),
        ("0", "above 0"),
        ("0.0001 g", "above 0"),
        ("1001 kg", "at most 1000 kg"),
        ("2/0 oz", "divides by zero"),
        ("2.5 1/2 oz", "two ways"),
        ("1,250 g", "two things"),
    ],
)
def test_what_is_no_weight_is_refused_in_words(typed: str, says: str) -> None:
    with pytest.raises(Typed, match=says) as refused:
        read_mass(typed, field="weight")
    assert refused.value.field == "weight"


def test_a_comma_before_three_figures_is_plain_where_a_comma_stands_before_decimals() -> None:
    assert read_mass("1,250 kg", manners=Manners(decimal=",", group=".")).mg == 1_250_000


def test_the_other_unit_stands_behind() -> None:
    assert other_mass_unit(read_mass("60 g")) == "≈ 2.12 oz"
    assert other_mass_unit(read_mass("2.8 kg")) == "≈ 6.17 lb"
    assert other_mass_unit(read_mass("2 oz")) == "≈ 56.7 g"
    assert other_mass_unit(read_mass("6 lb"), Manners(decimal=",")) == "≈ 2,722 kg"


def test_a_weight_is_shown_to_the_milligram() -> None:
    assert show_mass(61_500) == "61.5 g"
    assert show_mass(999_999) == "999.999 g"
    assert show_mass(2_834_952) == "2.834952 kg"
    assert show_mass(-12_000) == "−12 g"
    assert show_mass(0) == "0 g"


@given(st.integers(1, 10**9))
def test_what_is_shown_reads_back_as_the_same_weight(mg: int) -> None:
    assert read_mass(show_mass(mg)).mg == mg
