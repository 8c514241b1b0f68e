"""What changes of a set-up do, and how far a load may be off."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from shopledger.quantities.errors import Typed
from shopledger.rules.bridge import Geometry, Measured, Point
from shopledger.rules.strings import SetUp, Strung, pull_of
from shopledger.rules.strings_change import Tolerances, compare, uncertainty_of

STRINGS = (Strung("E5", 0.45), Strung("A4", 0.7))
SET_UP = SetUp(STRINGS, Measured(328.0, 158.0), 440.0)
SIDE = SetUp(STRINGS, Geometry(Point(0, 5.0), Point(327.0, 33.0), Point(382.0, 16.0)), 440.0)


def test_what_another_tuning_does() -> None:
    change = compare(SET_UP, SET_UP.at_a4(442.0))
    # (442 / 440)² − 1: A 440 to 442 Hz raises the tension by 0.911 %
    for each in (change.tension_n, change.load_n, *(string.tension_n for string in change.strings)):
        assert each.by_share == pytest.approx(0.00911, abs=5e-6)
    assert (change.angle_deg.by, change.length_mm.by) == (0.0, 0.0)


def test_what_another_length_does() -> None:
    change = compare(SET_UP, SET_UP.at_length(330.0))
    assert change.tension_n.by_share == pytest.approx((330 / 328) ** 2 - 1, rel=1e-9)
    assert change.length_mm.by == 2.0


def test_what_another_gauge_does() -> None:
    change = compare(SET_UP, SET_UP.with_gauge(1, 0.77))
    assert change.strings[0].tension_n.by == 0.0
    assert change.strings[1].tension_n.by_share == pytest.approx(0.1, rel=1e-9)
    assert change.tension_n.by == pytest.approx(change.strings[1].tension_n.by, rel=1e-9)


def test_what_a_higher_bridge_does() -> None:
    over = SIDE.over
    assert isinstance(over, Geometry)
    change = compare(SIDE, SIDE.at_bridge_height(over, 35.0))
    assert change.angle_deg.by < 0 < change.load_n.by
    assert change.length_mm.by > 0


def test_from_nothing_there_is_no_share() -> None:
    assert compare(SET_UP.at_angle(180.0), SET_UP).load_n.by_share is None


def test_sets_of_another_number_of_strings_cant_be_compared() -> None:
    with pytest.raises(Typed, match="1 strings before and 2 after"):
        compare(replace(SET_UP, strings=STRINGS[:1]), SET_UP)


def test_the_parts_of_an_uncertainty_are_those_of_the_derivatives() -> None:
    load, tension = pull_of(SET_UP).load_n, pull_of(SET_UP).tension_n
    found = uncertainty_of(SET_UP, Tolerances(length_mm=1e-3, angle_deg=1e-3, gauge_share=1e-6, a4_hz=1e-3))
    strings = [string.load_n * 1e-6 for string in pull_of(SET_UP).strings]
    expected = [
        load * 2 * 1e-3 / 328.0,  # the tension goes with the square of the length
        tension * math.sin(math.radians(79.0)) * math.radians(1e-3),  # d/dθ of 2 T cos(θ/2)
        *strings,
        load * 2 * 1e-3 / 440.0,
    ]
    assert [part.newtons for part in found.parts] == pytest.approx(expected, rel=1e-4)
    # the root of the sum of squares: JCGM 100:2008 (GUM), 5.1.2
    assert found.likely_n == pytest.approx(math.sqrt(sum(part**2 for part in expected)), rel=1e-4)
    assert found.at_worst_n == pytest.approx(sum(expected), rel=1e-4)
    assert found.load_n == load


def test_one_degree_is_a_large_part_of_a_load() -> None:
    found = uncertainty_of(SET_UP, Tolerances(length_mm=1.0, angle_deg=1.0))
    by = {part.words: part.newtons / found.load_n for part in found.parts}
    assert by["angle"] == pytest.approx(0.045, abs=0.001)  # tan(79°) × half a degree
    assert by["string length"] == pytest.approx(0.0061, abs=0.0001)


def test_an_angle_is_not_moved_beyond_straight() -> None:
    found = uncertainty_of(SET_UP.at_angle(179.5), Tolerances(angle_deg=1.0))
    assert found.parts[0].newtons == pytest.approx(
        pull_of(SET_UP.at_angle(178.5)).load_n - pull_of(SET_UP.at_angle(179.5)).load_n
    )


def test_every_point_of_a_side_view_counts() -> None:
    found = uncertainty_of(SIDE, Tolerances(along_mm=0.5, height_mm=0.5))
    assert len(found.parts) == 6
    by = {part.words: part.newtons for part in found.parts}
    assert max(by, key=lambda words: by[words]) == "bridge top, height"
    assert found.likely_n < found.at_worst_n


def test_without_tolerances_there_is_no_uncertainty() -> None:
    found = uncertainty_of(SIDE, Tolerances())
    assert (found.likely_n, found.at_worst_n, found.parts) == (0.0, 0.0, ())


@pytest.mark.parametrize(
    ("set_up", "tolerances", "field"),
    [
        (SET_UP, Tolerances(length_mm=-1.0), "length_mm"),
        (SET_UP, Tolerances(length_mm=328.0), "length_mm"),
        (SET_UP, Tolerances(angle_deg=math.nan), "angle_deg"),
        (SET_UP, Tolerances(gauge_share=1.0), "gauge_share"),
        (SET_UP, Tolerances(a4_hz=math.inf), "a4_hz"),
        (SET_UP, Tolerances(along_mm=0.5), "along_mm"),
        (SIDE, Tolerances(angle_deg=0.5), "angle_deg"),
        (SIDE, Tolerances(height_mm=-0.5), "height_mm"),
    ],
)
def test_tolerances_that_cant_be(set_up: SetUp, tolerances: Tolerances, field: str) -> None:
    with pytest.raises(Typed) as refused:
        uncertainty_of(set_up, tolerances)
    assert refused.value.field == field
    assert refused.value.sentence()
