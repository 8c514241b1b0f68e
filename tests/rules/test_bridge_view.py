"""The side view as points and arrows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.rules.bridge import Geometry, Measured, Point
from shopledger.rules.bridge_view import AFTERLENGTH_SHARE, Arrow, side_view
from shopledger.rules.strings import SetUp, Strung, pull_of

STRINGS = (Strung("E5", 0.45), Strung("A4", 0.7))
SIDE = Geometry(Point(0, 5.0), Point(327.0, 33.0), Point(382.0, 16.0))


def _vector(arrow: Arrow) -> tuple[float, float]:
    return arrow.end.along_mm - arrow.begin.along_mm, arrow.end.height_mm - arrow.begin.height_mm


def test_a_side_view_is_drawn_as_it_was_measured() -> None:
    view = side_view(SetUp(STRINGS, SIDE, 440.0))
    assert view.to_scale
    assert view.geometry == SIDE
    assert view.foot == Point(327.0, 0.0)
    assert (round(view.length_mm, 2), round(view.angle_deg, 2)) == (328.20, 157.93)


def test_the_load_is_the_sum_of_both_pulls_to_the_same_scale() -> None:
    set_up = SetUp(STRINGS, SIDE, 440.0)
    view, pull = side_view(set_up), pull_of(set_up)
    nut, tail, load = (_vector(arrow) for arrow in (view.to_nut, view.to_tail, view.load))
    assert (nut[0] + tail[0], nut[1] + tail[1]) == pytest.approx(load, abs=1e-9)
    assert view.to_nut.newtons == view.to_tail.newtons == pull.tension_n
    assert view.load.newtons == pull.load_n
    scales = [
        math.hypot(*vector) / arrow.newtons
        for vector, arrow in ((nut, view.to_nut), (tail, view.to_tail), (load, view.load))
    ]
    assert scales == pytest.approx([scales[0]] * 3, rel=1e-9)
    assert load[1] < 0  # the strings press down


def test_the_pulls_go_along_the_strings() -> None:
    view = side_view(SetUp(STRINGS, SIDE, 440.0))
    for arrow, end in ((view.to_nut, SIDE.nut), (view.to_tail, SIDE.tail)):
        along, height = _vector(arrow)
        way = (end.along_mm - 327.0, end.height_mm - 33.0)
        assert along * way[1] - height * way[0] == pytest.approx(0.0, abs=1e-9)
        assert along * way[0] + height * way[1] > 0


@given(st.floats(100, 1200), st.floats(90, 180))
def test_a_measured_angle_is_drawn_upright(length: float, angle: float) -> None:
    set_up = SetUp(STRINGS, Measured(length, angle), 440.0)
    view = side_view(set_up)
    assert not view.to_scale
    assert view.geometry.length_mm == pytest.approx(length, rel=1e-12)
    assert view.geometry.angle_deg == pytest.approx(angle, abs=1e-6)
    assert _vector(view.load)[0] == pytest.approx(0.0, abs=1e-9)
    low, high = view.corners
    drawn = [view.geometry.nut, view.geometry.bridge_top, view.geometry.tail, view.foot]
    for point in [*drawn, view.to_nut.end, view.to_tail.end, view.load.end]:
        assert low.along_mm <= point.along_mm <= high.along_mm
        assert low.height_mm <= point.height_mm <= high.height_mm


@pytest.mark.parametrize(("length", "after"), [(330.0, 55.0), (690.0, 115.0)])
def test_the_usual_afterlength_is_a_sixth(length: float, after: float) -> None:
    # one sixth of the string length: 330 gives 55.0, 690 gives 115.0 (common practice of makers, from their pages)
    assert length * AFTERLENGTH_SHARE == pytest.approx(after, abs=1e-9)
    view = side_view(SetUp(STRINGS, Measured(length, 158.0), 440.0))
    assert view.geometry.afterlength_mm == pytest.approx(after, abs=1e-9)
