"""Strings and bridge as they are typed: the same figures as by a written case, and a sentence at whatever is wrong."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from shopledger.quantities.lengths import read_length
from shopledger.rules.strings_form import StringsTyped, StringTyped
from shopledger.rules.strings_work import Worked, work_out


def typed(*strings: StringTyped, **known: Any) -> StringsTyped:
    for name in ("length", "afterlength", "length_then"):
        if isinstance(known.get(name), str):
            known[name] = read_length(known[name])
    return StringsTyped(**{"length": read_length("328"), "angle": "158", **known}, strings=strings or SET)


def at(length: str) -> Any:
    return read_length(length)


SET = (
    StringTyped(pitch="E5", known="0.45 g/m"),
    StringTyped(pitch="A4", known="58.8 N", at_length=at("330")),
)
SIDE = {
    "over": "side", "angle": "", "nut_height": "5", "top_height": "33", "tail_height": "16",
}  # fmt: skip


def wrong(worked: Worked) -> dict[str, str]:
    return {path: error.sentence() for path, error in worked.wrong}


def test_the_figures_are_those_of_the_written_case() -> None:
    # The example of issue 4: E5 of 0.45 g/m and A4 of 58.8 N at 330 mm, on 328 mm at 158°, 84 N wanted.
    worked = work_out(typed(wants="load", wanted="84 N"))
    assert worked.pull is not None
    assert worked.reached is not None
    assert [round(one.tension_n, 4) for one in worked.pull.strings] == [84.1642, 58.0894]
    assert worked.pull.load_n == pytest.approx(54.28653117, abs=1e-8)
    assert worked.reached.set_up.angle_deg == pytest.approx(145.65525718, abs=1e-8)
    assert worked.wrong == ()


def test_a_violin_string_of_a_textbook() -> None:
    # L 0.33 m, mass 0.23 g, 440 Hz: 58.78 N (Jaffe and Taylor, The Physics of Energy, chapter 4; read).
    grams = 0.23 / 0.33
    worked = work_out(typed(StringTyped(pitch="A4", known=f"{grams:.6f} g/m"), length="330"))
    assert worked.pull is not None
    assert worked.pull.tension_n == pytest.approx(58.78, abs=0.01)


def test_pounds_of_a_textbook() -> None:
    # 18 lb of tension giving 8 lb means 154.32° (Hart, The Violin; read).
    worked = work_out(typed(StringTyped(pitch="A4", known="18 lb"), unit="lbf", wants="load", wanted="8"))
    assert worked.reached is not None
    assert worked.reached.set_up.angle_deg == pytest.approx(154.32, abs=0.005)


def test_a_violins_whole_load() -> None:
    # 220 N at 158° gives 83.96 N (makers' pages on the angle; read).
    worked = work_out(typed(StringTyped(pitch="A4", known="220 N"), angle="158"))
    assert worked.pull is not None
    assert worked.pull.load_n == pytest.approx(83.96, abs=0.005)
    assert work_out(typed(angle="180")).pull.load_n == 0  # type: ignore[union-attr]


def test_a_side_view_by_lengths_and_heights() -> None:
    # The geometry of issue 4: nut (0, 5), bridge top (327, 33), tail (382, 16): 328.20 mm and 157.93°.
    length, after = (327**2 + 28**2) ** 0.5, (55**2 + 17**2) ** 0.5
    worked = work_out(typed(length=f"{length:.6f}", afterlength=f"{after:.6f}", **SIDE))
    assert worked.pull is not None
    assert worked.view is not None
    assert worked.pull.angle_deg == pytest.approx(157.93, abs=0.005)
    assert worked.pull.length_mm == pytest.approx(328.20, abs=0.005)
    top = worked.view.geometry.bridge_top
    assert (top.along_mm, top.height_mm) == (pytest.approx(327, abs=1e-5), 33)
    assert worked.view.to_scale


def test_a_height_written_back_gives_the_load() -> None:
    first = work_out(typed(length="328.2", afterlength="57.5", wants="load", wanted="50", **SIDE))
    assert first.reached is not None
    assert first.set_up is not None
    again = first.reached.set_up
    from shopledger.rules.strings import pull_of

    assert pull_of(again).load_n == pytest.approx(50, abs=1e-9)


@pytest.mark.parametrize("unit", ["N", "kgf", "lbf"])
def test_a_length_written_back_gives_the_tension(unit: str) -> None:
    worked = work_out(typed(unit=unit, wants="tension", wanted="100 N"))
    assert worked.reached is not None
    from shopledger.rules.strings import pull_of

    assert pull_of(worked.reached.set_up).tension_n == pytest.approx(100, abs=1e-9)


def test_what_a_change_does() -> None:
    # A 440 to 442 raises tension by 0.911 % (reckoned: (442/440)² − 1).
    worked = work_out(typed(a4_then="442"))
    assert worked.change is not None
    assert worked.change.tension_n.by_share == pytest.approx(0.00911, abs=5e-6)
    shorter = work_out(typed(length_then="320"))
    assert shorter.change is not None
    assert shorter.change.tension_n.by_share == pytest.approx((320 / 328) ** 2 - 1)
    lighter = work_out(typed(string_then=1, density_then="0.40"))
    assert lighter.change is not None
    assert lighter.change.strings[0].tension_n.by_share == pytest.approx(0.40 / 0.45 - 1)
    assert lighter.change.strings[1].tension_n.by == 0
    second = work_out(typed(string_then=2, density_then="0.60"))
    assert second.change is not None
    assert second.change.strings[0].tension_n.by == 0
    assert second.change.strings[1].tension_n.by


def test_a_tension_without_a_length_is_known_at_this_one() -> None:
    worked = work_out(typed(StringTyped(pitch="A4", known="60 N")))
    assert worked.pull is not None
    assert worked.pull.tension_n == pytest.approx(60)


def test_how_far_it_may_be_off() -> None:
    worked = work_out(typed())
    assert worked.uncertain is not None
    assert {part.words for part in worked.uncertain.parts} == {"string length", "angle"}
    nothing = work_out(typed(off_length="", off_angle="0"))
    assert nothing.uncertain is not None
    assert nothing.uncertain.parts == ()
    heavier = work_out(typed(off_length="", off_angle="", off_density="2"))
    assert heavier.uncertain is not None
    # Every string off by 2 %: at worst 2 % of the whole load.
    assert heavier.uncertain.at_worst_n == pytest.approx(0.02 * heavier.uncertain.load_n)
    side = work_out(typed(length="328.2", afterlength="57.5", **SIDE))
    assert side.uncertain is not None
    assert len(side.uncertain.parts) == 6


@pytest.mark.parametrize(
    ("field", "says", "known"),
    [
        ("length", "missing", {"length": None}),
        ("length", "can't be a string length", {"length": "13 mm"}),
        ("a4", "can't be read", {"a4": "high"}),
        ("a4", "from 300 to 600", {"a4": "44"}),
        ("angle", "missing", {"angle": " "}),
        ("angle", "can't be so", {"angle": "181"}),
        ("angle", "can't be read", {"angle": "157 mm"}),
        ("strings[0].pitch", "no pitch", {"strings": (StringTyped(pitch="H4", known="1 g/m"),)}),
        ("strings[0].known", "missing", {"strings": (StringTyped(pitch="A4"),)}),
        ("strings[0].known", "two things", {"strings": (StringTyped(pitch="A4", known="58.8"),)}),
        ("strings[0].known", "no force", {"strings": (StringTyped(pitch="A4", known="58.8 Nm"),)}),
        ("strings[0].known", "0.1 to 2000", {"strings": (StringTyped(pitch="A4", known="9000 N"),)}),
        ("strings[0].known", "500 g/m", {"strings": (StringTyped(pitch="A4", known="900 g/m"),)}),
        (
            "strings[0].at_length",
            "belongs to a tension",
            {"strings": (StringTyped(pitch="A4", known="1 g/m", at_length=at("328")),)},
        ),
        ("nut_height", "missing", {**SIDE, "afterlength": "57", "nut_height": ""}),
        ("nut_height", "too far", {**SIDE, "afterlength": "57", "nut_height": "-400"}),
        ("tail_height", "too far", {**SIDE, "afterlength": "57", "tail_height": "-60"}),
        ("afterlength", "missing", {**SIDE}),
        ("top_height", "below the straight line", {**SIDE, "afterlength": "57", "top_height": "1"}),
    ],
)
def test_what_is_wrong_is_said_at_its_field(field: str, says: str, known: dict[str, Any]) -> None:
    strings = known.pop("strings", SET) if "strings" in known else SET
    worked = work_out(typed(*strings, **dict(known)))
    assert worked.pull is None
    assert says in wrong(worked)[field], wrong(worked)


@pytest.mark.parametrize(
    ("field", "says", "known"),
    [
        ("wanted", "missing", {"wants": "load"}),
        ("wanted", "no force", {"wants": "load", "wanted": "much"}),
        ("wanted", "can't be reached", {"wants": "load", "wanted": "5000"}),
        ("wanted", "can't be reached", {"wants": "tension", "wanted": "0.001"}),
        ("a4_then", "from 300 to 600", {"a4_then": "4400"}),
        ("length_then", "can't be a string length", {"length_then": "3 mm"}),
        ("string_then", "from 1 to 2", {"string_then": 3, "density_then": "0.4"}),
        ("density_then", "missing", {"string_then": 1}),
        ("off_angle", "can't be so", {"off_angle": "120"}),
        ("off_density", "can't be read", {"off_density": "2 mm"}),
    ],
)
def test_what_is_wrong_beside_costs_nothing_else(field: str, says: str, known: dict[str, Any]) -> None:
    worked = work_out(typed(**known))
    assert worked.pull is not None
    assert worked.pull.load_n == pytest.approx(54.2865, abs=1e-4)
    assert list(wrong(worked)) == [field]
    assert says in wrong(worked)[field]


def test_figures_of_another_way_are_not_asked() -> None:
    worked = work_out(replace(typed(), nut_height="x", off_height="x"))
    assert worked.wrong == ()
