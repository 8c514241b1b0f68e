"""Lengths, weights and angles by the unit of their measure, and how one figure differs from another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.angles import Angle, read_angle, show_angle
from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import Manners
from shopledger.quantities.measured import (
    Dimension,
    difference_words,
    dimension_of,
    kept,
    measured,
    other_unit_of,
    read_measured,
    refuse_other_sort,
    show_grown,
    show_grown_in_inches,
    show_measured,
)


@pytest.mark.parametrize(
    ("typed", "mdeg", "said"),
    [
        ("157", 157_000, "157°"),
        ("157.5°", 157_500, "157.5°"),
        ("157,5 deg", 157_500, "157,5 deg"),
        ("157° 30'", 157_500, "157° 30'"),
        ("154.32", 154_320, "154.32°"),
        ("180°", 180_000, "180°"),
    ],
)
def test_an_angle_is_kept_as_typed(typed: str, mdeg: int, said: str) -> None:
    assert read_angle(typed) == Angle(mdeg, said)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("steep", "is no angle"),
        ("157.5° 30'", "is no angle"),
        ("157° 60'", "is no angle"),
        ("0", "above 0°"),
        ("180.001", "at most 180°"),
        ("157.12345", "three decimals"),
    ],
)
def test_what_is_no_angle_is_refused_in_words(typed: str, says: str) -> None:
    with pytest.raises(Typed, match=says):
        read_angle(typed)


@given(st.integers(1, 180_000))
def test_an_angle_that_is_shown_reads_back(mdeg: int) -> None:
    assert read_angle(show_angle(mdeg)).mdeg == mdeg


@pytest.mark.parametrize(
    ("text", "unit", "number", "typed"),
    [
        ("695", "mm", 695_000_000, "695 mm"),
        ("16.5", "in", 419_100_000, "16.5 in"),
        ("60", "g", 60_000, "60 g"),
        ("2 oz", "g", 56_699, "2 oz"),
        ("3", "kg", 3_000_000, "3 kg"),
        ("158", "°", 158_000, "158°"),
    ],
)
def test_a_figure_without_a_unit_is_in_the_measures_own(
    text: str, unit: str, number: int, typed: str
) -> None:
    figure = read_measured(text, unit=unit)
    assert (kept(figure), figure.typed) == (number, typed)
    assert measured(dimension_of(figure), number, typed) == figure


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("60 g", "mm", "is a weight, but a length is measured here: write it in mm"),
        ("157°", "g", "is an angle, but a weight is measured here: write it in g"),
        ("16 in", "°", "is a length, but an angle is measured here: write it in °"),
        ("wide", "mm", "is no length"),
    ],
)
def test_another_sort_of_figure_is_refused_with_what_is_due(text: str, unit: str, says: str) -> None:
    with pytest.raises(Typed, match=says) as refused:
        read_measured(text, unit=unit, field="measures[0].value")
    assert refused.value.field == "measures[0].value"


def test_a_figure_read_elsewhere_is_refused_where_another_sort_is_due() -> None:
    with pytest.raises(Typed, match="is an angle, but a length is measured here"):
        refuse_other_sort(read_angle("157"), "mm")
    refuse_other_sort(read_angle("157"), "°")


def test_the_other_unit_is_that_of_the_figures_sort() -> None:
    assert other_unit_of(read_measured("16 1/2 in")) == "419.1 mm"
    assert other_unit_of(read_measured("60 g", unit="g")) == "≈ 2.12 oz"
    assert other_unit_of(read_measured("157°", unit="°")) == ""


def test_kept_numbers_are_shown_exactly() -> None:
    german = Manners(decimal=",")
    assert show_measured(Dimension.LENGTH, 358_775_000) == "358.775 mm"
    assert show_measured(Dimension.MASS, 56_699, german) == "56,699 g"
    assert show_measured(Dimension.ANGLE, 157_500) == "157.5°"


def test_a_difference_has_a_sign_and_is_in_inches_where_both_are() -> None:
    def said(before: str, after: str, unit: str = "mm") -> str:
        return difference_words(read_measured(before, unit=unit), read_measured(after, unit=unit))

    assert said("695 mm", "693.5 mm") == "−1.5 mm"
    assert said("16 1/2 in", "16 9/16 in") == "+1/16 in"
    assert said("16 in", "410 mm") == "+3.6 mm"
    assert said("60 g", "62.5 g", "g") == "+2.5 g"
    assert said("158°", "157°", "°") == "−1°"
    assert said("61 g", "61 g", "g") == "0 g"
    assert show_grown(Dimension.LENGTH, 500_000, Manners(decimal=",")) == "+0,5 mm"


@pytest.mark.parametrize(
    ("nm", "said"),
    [
        (793_750, "+1/32 in"),
        (-1_587_500, "−1/16 in"),
        (26_987_500, "+1 1/16 in"),
        (25_400_000, "+1 in"),
        (0, "0 in"),
    ],
)
def test_a_difference_of_inches_is_an_exact_fraction(nm: int, said: str) -> None:
    # 1 in = 25.4 mm exactly: the inch of 1959.
    assert show_grown_in_inches(nm) == said
