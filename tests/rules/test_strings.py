"""Tension and load, against published values and against each other's inverse."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Refused
from shopledger.quantities.forces import ForceUnit, in_newtons, newtons_in
from shopledger.rules.bridge import Geometry, Measured, Point, angle_for_load_deg, load_n
from shopledger.rules.strings import SetUp, Strung, g_per_m_of, pull_of, tension_n
from shopledger.rules.strings_wanted import WantedLoad, WantedTension, reach

SIDE = Geometry(nut=Point(0, 5.0), bridge_top=Point(327.0, 33.0), tail=Point(382.0, 16.0))
STRINGS = (Strung("E5", 0.45), Strung("A4", 0.7), Strung("D4", 1.1), Strung("G3", 2.2))

lengths = st.floats(100, 1500)
gauges = st.floats(0.05, 50)
angles = st.floats(90, 179.9)
heights = st.floats(10, 200)


def test_a_violin_string_tuned_to_a() -> None:
    # Jaffe and Taylor, The Physics of Energy, chapter 4: 0.33 m, 0.23 g, 440 Hz give 58.78 N
    assert tension_n(330.0, 440.0, 0.23 / 0.33) == pytest.approx(58.78, abs=0.005)


def test_where_a_string_is_stopped() -> None:
    # Serway, chapter 18: 0.350 m, open G 392 Hz; A 440 sounds at 0.3118 m, the finger 3.82 cm from the nut. The same
    # string at the same tension: what tension it has open, it has at 440 Hz over the shorter length.
    open_string = tension_n(350.0, 392.0, 1.0)
    stopped = SetUp((Strung("A4", 1.0),), Measured(350.0, 158.0), 440.0)
    sounding = reach(stopped, WantedTension(open_string)).set_up.length_mm
    assert sounding == pytest.approx(311.8, abs=0.05)
    assert (350.0 - sounding) / 10 == pytest.approx(3.82, abs=0.005)


def test_eighteen_pounds_press_with_eight() -> None:
    # Hart, The Violin: 18 lb of tension give 8 lb on the bridge; the angle follows as 154.32°
    assert angle_for_load_deg(8.0, 18.0) == pytest.approx(154.32, abs=0.005)
    pounds = newtons_in(load_n(in_newtons(18.0, ForceUnit.POUND_FORCE), 154.32), ForceUnit.POUND_FORCE)
    assert pounds == pytest.approx(8.0, abs=0.0005)


def test_a_whole_violin_at_a_usual_angle() -> None:
    # 2 × 220 N × cos(79°) = 83.96 N; 157° to 158° is what makers' pages give for violins, 157° for violas
    assert load_n(220.0, 158.0) == pytest.approx(83.96, abs=0.005)
    assert 157.0 < SIDE.angle_deg < 158.0


def test_a_straight_string_presses_on_nothing() -> None:
    assert load_n(220.0, 180.0) == 0.0
    assert angle_for_load_deg(0.0, 220.0) == 180.0
    flat = SIDE.with_bridge_height(SIDE.straight_height_mm)
    assert load_n(220.0, flat.angle_deg) == pytest.approx(0.0, abs=1e-9)
    assert SIDE.with_bridge_height(0.0).angle_deg == 180.0


def test_a_higher_tuning_pulls_harder() -> None:
    low, high = (pull_of(SetUp(STRINGS, Measured(328.0, 158.0), a4)) for a4 in (440.0, 442.0))
    # (442 / 440)² − 1: A 440 to 442 Hz raises the tension by 0.911 %
    assert (high.tension_n / low.tension_n - 1) * 100 == pytest.approx(0.911, abs=0.0005)


def test_a_side_view_gives_length_and_angle() -> None:
    assert (round(SIDE.length_mm, 2), round(SIDE.angle_deg, 2)) == (328.20, 157.93)
    # by the law of cosines, another way round
    a, b = SIDE.length_mm, SIDE.afterlength_mm
    c = math.dist((0, 5.0), (382.0, 16.0))
    assert SIDE.angle_deg == pytest.approx(
        math.degrees(math.acos((a * a + b * b - c * c) / (2 * a * b))), abs=1e-9
    )


def test_the_angle_does_not_depend_on_where_one_measures_from() -> None:
    turned = math.radians(7)

    def point(p: Point) -> Point:
        x, y = p.along_mm + 11, p.height_mm - 40
        return Point(x * math.cos(turned) - y * math.sin(turned), x * math.sin(turned) + y * math.cos(turned))

    moved = Geometry(point(SIDE.nut), point(SIDE.bridge_top), point(SIDE.tail))
    assert moved.angle_deg == pytest.approx(SIDE.angle_deg, abs=1e-9)
    assert moved.length_mm == pytest.approx(SIDE.length_mm, abs=1e-9)


def test_the_sums_are_those_of_the_strings() -> None:
    pull = pull_of(SetUp(STRINGS, SIDE, 440.0))
    assert pull.tension_n == pytest.approx(sum(each.tension_n for each in pull.strings), rel=1e-15)
    assert pull.load_n == pytest.approx(load_n(pull.tension_n, pull.angle_deg), rel=1e-14)


@given(lengths, gauges, st.floats(20, 2000))
def test_a_density_and_its_tension(length: float, gauge: float, hz: float) -> None:
    assert g_per_m_of(tension_n(length, hz, gauge), length, hz) == pytest.approx(gauge, rel=1e-12)


@given(lengths, lengths)
def test_a_tension_known_at_a_length_goes_with_its_square(known: float, here: float) -> None:
    string = Strung("A4", g_per_m_of(58.8, known, 440.0))
    pull = pull_of(SetUp((string,), Measured(here, 158.0), 440.0))
    assert pull.tension_n == pytest.approx(58.8 * (here / known) ** 2, rel=1e-12)


@given(lengths, gauges, angles, angles)
def test_a_wanted_load_by_the_angle(length: float, gauge: float, now: float, then: float) -> None:
    set_up = SetUp((Strung("A4", gauge), Strung("D4", 2 * gauge)), Measured(length, now), 440.0)
    wanted = pull_of(set_up.at_angle(then)).load_n
    reached = reach(set_up, WantedLoad(wanted)).set_up
    assert reached.angle_deg == pytest.approx(then, abs=1e-9)
    assert pull_of(reached).load_n == pytest.approx(wanted, rel=1e-9)
    assert pull_of(reached).tension_n == pull_of(set_up).tension_n


@given(lengths, lengths, gauges)
def test_a_wanted_tension_by_the_length(now: float, then: float, gauge: float) -> None:
    set_up = SetUp((Strung("A4", gauge), Strung("D4", 2 * gauge)), Measured(now, 158.0), 440.0)
    wanted = pull_of(set_up.at_length(then)).tension_n
    reached = reach(set_up, WantedTension(wanted)).set_up
    assert reached.length_mm == pytest.approx(then, rel=1e-9)
    assert pull_of(reached).tension_n == pytest.approx(wanted, rel=1e-9)


@given(
    st.floats(-30, 60),
    st.floats(100, 1100),
    heights,
    st.floats(5, 400),
    st.floats(-30, 60),
    st.floats(0.01, 1),
)
def test_a_wanted_load_by_the_height(
    nut: float, along: float, over: float, after: float, tail: float, share: float
) -> None:
    nearly = Geometry(Point(0, nut), Point(along, 0.0), Point(along + after, tail))
    line = nearly.straight_height_mm
    given_height = max(line, 0.0) + over
    set_up = SetUp(STRINGS, nearly.with_bridge_height(given_height), 440.0)
    then = line + share * (2 * given_height - line)
    geometry = nearly.with_bridge_height(then)
    wanted = pull_of(SetUp(STRINGS, geometry, 440.0)).load_n
    reached = reach(set_up, WantedLoad(wanted)).set_up
    over_bridge = reached.over
    assert isinstance(over_bridge, Geometry)
    assert over_bridge.bridge_top.height_mm == pytest.approx(then, rel=1e-9, abs=1e-9)
    assert pull_of(reached).load_n == pytest.approx(wanted, rel=1e-9)
    assert pull_of(reached).length_mm == pytest.approx(geometry.length_mm, rel=1e-9)


def test_the_ends_of_what_can_be_reached() -> None:
    set_up = SetUp(STRINGS, SIDE, 440.0)
    nothing = reach(set_up, WantedLoad(0.0)).set_up.over
    assert isinstance(nothing, Geometry)
    assert nothing.bridge_top.height_mm == pytest.approx(SIDE.straight_height_mm, abs=1e-6)
    most = pull_of(SetUp(STRINGS, SIDE.with_bridge_height(66.0), 440.0)).load_n
    highest = reach(set_up, WantedLoad(most)).set_up.over
    assert isinstance(highest, Geometry)
    assert highest.bridge_top.height_mm == pytest.approx(66.0, abs=1e-9)
    with pytest.raises(Refused, match=r"from 14\.42 mm \(straight\) to 66\.00 mm"):
        reach(set_up, WantedLoad(most * 1.000001))


def test_the_range_that_a_refusal_names_can_be_reached() -> None:
    one = SetUp((Strung("A4", 0.45),), Measured(328.0, 158.0), 440.0)
    with pytest.raises(Refused) as refused:
        reach(one, WantedTension(5000.0))
    for end in ("least", "most"):
        reach(one, WantedTension(refused.value.values[end].number))  # type: ignore[attr-defined]
    with pytest.raises(Refused) as refused:
        reach(one, WantedLoad(80.0))
    reach(one, WantedLoad(refused.value.values["most"].number - 0.01))  # type: ignore[attr-defined]
    with pytest.raises(Refused) as refused:
        reach(SetUp(STRINGS, SIDE, 440.0), WantedLoad(50_000.0))
    reach(SetUp(STRINGS, SIDE, 440.0), WantedLoad(refused.value.values["most"].number))  # type: ignore[attr-defined]


def test_of_several_heights_the_lowest_is_given() -> None:
    # A string that falls steeply to its bridge becomes shorter first: the load rises, falls and rises again.
    steep = Geometry(Point(0, 400.0), Point(60.0, 280.0), Point(61.0, 100.0))
    set_up = SetUp(STRINGS, steep, 440.0)
    heights = [steep.straight_height_mm + n * (560.0 - steep.straight_height_mm) / 200 for n in range(201)]
    loads = [pull_of(SetUp(STRINGS, steep.with_bridge_height(height), 440.0)).load_n for height in heights]
    assert any(b < a for a, b in pairwise(loads))
    for wanted in (0.25 * max(loads), 0.5 * max(loads), 0.99 * max(loads)):
        reached = reach(set_up, WantedLoad(wanted)).set_up
        assert pull_of(reached).load_n == pytest.approx(wanted, rel=1e-9)


def test_there_may_be_no_height_to_look_for() -> None:
    low = Geometry(Point(0, -50.0), Point(327.0, -20.0), Point(382.0, -30.0))
    with pytest.raises(Refused, match="Measure heights from a line further down"):
        reach(SetUp(STRINGS, low, 440.0), WantedLoad(40.0))
