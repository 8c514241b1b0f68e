"""The command on a file of strings: its shape, its refusals, its statement."""

from __future__ import annotations

import json
import os
from copy import deepcopy
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any

import pytest

from shopledger.rules.case_file import answer_file
from shopledger.rules.strings_answer import ASSUMED, CAUTION
from shopledger.rules.strings_file import STRINGS

ANGLE: dict[str, Any] = {
    "length_mm": 328.0,
    "a4_hz": 440.0,
    "strings": [
        {"pitch": "E5", "g_per_m": 0.45},
        {"pitch": "A4", "tension_n": 58.8, "at_length_mm": 330.0},
    ],
    "angle_deg": 158.0,
    "geometry": None,
    "wanted": {"load_n": 84.0},
}
SIDE: dict[str, Any] = {
    "a4_hz": 440.0,
    "strings": ANGLE["strings"],
    "geometry": {"nut": [0, 5.0], "bridge_top": [327.0, 33.0], "tail": [382.0, 16.0]},
    "wanted": {"load_n": 84.0},
}


def run(path: Path, written: object, *, as_json: bool = True) -> tuple[int, str, str]:
    """Give exit status, standard output and error output of the command on a case, a list, or text as it is."""
    path.write_text(written if isinstance(written, str) else json.dumps(written), encoding="utf-8")
    out, err = StringIO(), StringIO()
    status = answer_file(STRINGS, str(path), as_json, out, err)
    return status, out.getvalue(), err.getvalue()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Give the path of a file to write a case into."""
    return tmp_path / "strings.json"


def changed(case: dict[str, Any], path: str, value: object) -> dict[str, Any]:
    """Give the case with the value at a path of keys and numbers; the value ... takes the key away."""
    copy = deepcopy(case)
    place: Any = copy
    *before, last = [int(part) if part.isdigit() else part for part in path.split("/")]
    for part in before:
        place = place[part]
    if value is ...:
        del place[last]
    else:
        place[last] = value
    return copy


def refused(file: Path, written: object) -> str:
    """Give the one line that refuses the file, having made sure that nothing else was said."""
    for as_json in (False, True):
        status, out, err = run(file, written, as_json=as_json)
        assert (status, out) == (2, ""), (written, out)
        assert len(err.splitlines()) == 1, err
    return err


def test_the_shape_of_an_answer(file: Path) -> None:
    status, out, err = run(file, ANGLE)
    answer = json.loads(out)
    assert (status, err) == (0, "")
    assert list(answer) == ["strings", "tension_n", "load_n", "angle_deg", "length_mm", "wanted"]
    assert list(answer["strings"][0]) == ["pitch", "hz", "tension_n", "load_n"]
    assert [each["pitch"] for each in answer["strings"]] == ["E5", "A4"]
    assert (answer["angle_deg"], answer["length_mm"]) == (158.0, 328.0)
    assert list(answer["wanted"]) == ["angle_deg"]
    assert answer["strings"][0]["hz"] == pytest.approx(659.2551, abs=1e-4)  # ISO 16 and equal temperament
    # 58.8 N at 330 mm are less at 328 mm, by the square of the lengths
    assert answer["strings"][1]["tension_n"] == pytest.approx(58.8 * (328 / 330) ** 2, rel=1e-12)


def test_nothing_wanted_nothing_answered(file: Path) -> None:
    for wanted in (None, ...):
        assert "wanted" not in json.loads(run(file, changed(ANGLE, "wanted", wanted))[1])


def test_a_wanted_load_by_angle_written_back(file: Path) -> None:
    found = json.loads(run(file, ANGLE)[1])["wanted"]
    again = json.loads(run(file, changed(ANGLE, "angle_deg", found["angle_deg"]))[1])
    assert again["load_n"] == pytest.approx(84.0, abs=1e-9)


def test_a_wanted_load_by_height_written_back(file: Path) -> None:
    answer = json.loads(run(file, SIDE)[1])
    assert (round(answer["length_mm"], 2), round(answer["angle_deg"], 2)) == (328.20, 157.93)
    found = answer["wanted"]
    assert list(found) == ["bridge_top_mm", "angle_deg", "length_mm"]
    higher = changed(SIDE, "geometry/bridge_top", [327.0, found["bridge_top_mm"]])
    again = json.loads(run(file, higher)[1])
    assert again["load_n"] == pytest.approx(84.0, abs=1e-9)
    assert again["angle_deg"] == pytest.approx(found["angle_deg"], abs=1e-9)
    assert again["length_mm"] == pytest.approx(found["length_mm"], abs=1e-9)


@pytest.mark.parametrize("case", [ANGLE, SIDE])
def test_a_wanted_tension_written_back(file: Path, case: dict[str, Any]) -> None:
    found = json.loads(run(file, changed(case, "wanted", {"tension_n": 150.0}))[1])["wanted"]
    assert list(found) == ["length_mm"]
    again = json.loads(run(file, changed(ANGLE, "length_mm", found["length_mm"]))[1])
    assert again["tension_n"] == pytest.approx(150.0, abs=1e-9)


def test_a_length_beside_a_side_view_may_differ_by_half_a_millimetre(file: Path) -> None:
    for length in (327.7, 328.0, 328.69):
        answer = json.loads(run(file, {**SIDE, "length_mm": length})[1])
        assert answer["length_mm"] == pytest.approx(328.1966, abs=1e-4)
    for length in (327.69, 328.7):
        assert "differs by more than 0.5 mm from the 328.20 mm" in refused(
            file, {**SIDE, "length_mm": length}
        )


def test_a_statement_for_a_person(file: Path) -> None:
    status, out, err = run(file, SIDE, as_json=False)
    assert (status, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == (
        "Strings and bridge: A4 = 440.0 Hz, string length 328.20 mm, angle over the bridge 157.93°"
    )
    assert lines[2].split("  ")[0] == "string"
    assert [line.split()[0] for line in lines[3:6]] == ["E5", "A4", "all"]
    assert lines[5].split()[1:] == ["142.42", "14.52", "32.02", "54.52", "5.56", "12.26"]
    assert "Wanted, a load of 84.00 N: the bridge top at a height of 44.27 mm" in out
    assert lines[-2:] == [ASSUMED, CAUTION]
    assert CAUTION == "A load is a guide, not a limit; damage is possible; the maker decides."
    by_angle = run(file, ANGLE, as_json=False)[1]
    assert "Wanted, a load of 84.00 N: an angle of 145.66° at the present tensions." in by_angle
    by_length = run(file, changed(ANGLE, "wanted", {"tension_n": 150.0}), as_json=False)[1]
    assert "Wanted, a tension of 150.00 N: a string length of 336.81 mm at the same pitches." in by_length


def test_a_list_answers_in_order_and_refuses_in_place(file: Path) -> None:
    cases = [ANGLE, changed(ANGLE, "angle_deg", 181), SIDE, 7]
    status, out, err = run(file, cases)
    answers = json.loads(out)
    assert (status, err) == (2, "")
    assert [set(answer) == {"refused"} for answer in answers] == [False, True, False, True]
    assert answers[1]["refused"].startswith("angle_deg: 181 can't be used here.")
    assert answers[2] == json.loads(run(file, SIDE)[1])
    assert run(file, [ANGLE, SIDE])[0] == 0
    words = run(file, cases, as_json=False)
    assert words[0] == 2
    assert "Case 2\nRefused: angle_deg: 181" in words[1]


@pytest.mark.parametrize("key", ["length_mm", "a4_hz", "strings", "angle_deg"])
def test_what_may_not_be_left_out(file: Path, key: str) -> None:
    for value in (None, ...):
        assert refused(file, changed(ANGLE, key, value)).startswith(f"{key}: ")


FIGURES = (
    "length_mm",
    "a4_hz",
    "angle_deg",
    "strings/0/g_per_m",
    "strings/1/tension_n",
    "strings/1/at_length_mm",
    "wanted/load_n",
)


@pytest.mark.parametrize("path", FIGURES)
@pytest.mark.parametrize(
    "value", ["328.0", "", True, False, [328.0], {}, -1, -0.001, 1e300, float("nan"), float("inf")]
)
def test_what_is_no_usable_figure(file: Path, path: str, value: object) -> None:
    field = path.replace("/0", "[0]").replace("/1", "[1]").replace("/", ".")
    assert refused(file, changed(ANGLE, path, value)).startswith(f"{field}: ")


@pytest.mark.parametrize(
    "number", ["1e999", "-1e999", "1" * 5_000, "0." + "0" * 400 + "1", "NaN", "-Infinity"]
)
def test_numbers_beyond_reason(file: Path, number: str) -> None:
    text = json.dumps(ANGLE).replace("158.0", number)
    line = refused(file, text)
    assert line.startswith("angle_deg: ")
    assert len(line) < 200


@pytest.mark.parametrize("path", FIGURES[:-1])
def test_zero_is_no_measurement(file: Path, path: str) -> None:
    refused(file, changed(ANGLE, path, 0))


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        ("geometry", SIDE["geometry"], "Exactly one of angle_deg and geometry"),
        ("lenght_mm", 328.0, "lenght_mm: This key is not known. The nearest known one is length_mm."),
        ("strings/0/gauge", 1, "strings[0].gauge: This key is not known."),
        ("wanted/load", 84, "wanted.load: This key is not known. The nearest known one is load_n."),
        ("wanted", {}, "wanted: Exactly one of load_n and tension_n can be wanted."),
        ("wanted", {"load_n": 84, "tension_n": 150}, "wanted: Exactly one of load_n and tension_n"),
        ("wanted", {"tension_n": 0}, "wanted.tension_n: 0 can't be used here."),
        ("wanted", 84.0, "wanted: Here stands the number 84.0."),
        ("wanted/load_n", 284.6, "to below 284.50 N (folded back)"),
        (
            "wanted",
            {"tension_n": 2.0},
            "between string lengths of 50 mm and 3000 mm this set has 3.31 N to 11900.30 N",
        ),
        ("strings", [], "strings: Here are 0 strings. Write 1 to 40."),
        ("strings", [ANGLE["strings"][0]] * 41, "strings: Here are 41 strings."),
        ("strings", {"pitch": "A4"}, "strings: Here stands an object."),
        ("strings/0", "A4", "strings[0]: Here stands the text “A4”."),
        ("strings/0/pitch", "H4", "strings[0].pitch: “H4” is no pitch."),
        ("strings/0/pitch", 4, "strings[0].pitch: Here stands the number 4."),
        ("strings/0/pitch", ..., "strings[0].pitch: This is missing."),
        ("strings/0/g_per_m", ..., "strings[0].g_per_m: Exactly one of g_per_m and tension_n"),
        ("strings/0/tension_n", 58.8, "strings[0].g_per_m: Exactly one of g_per_m and tension_n"),
        ("strings/0/at_length_mm", 330.0, "strings[0].at_length_mm: A length belongs to a tension"),
        ("strings/1/at_length_mm", ..., "strings[1].at_length_mm: This is missing."),
    ],
)
def test_what_cant_be_so(file: Path, path: str, value: object, says: str) -> None:
    assert says in refused(file, changed(ANGLE, path, value))


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        ("geometry/nut", ..., "geometry.nut: This is missing."),
        ("geometry/nut", [0], "geometry.nut: Here are 1 figures. Write two"),
        ("geometry/nut", [0, 1, 2], "geometry.nut: Here are 3 figures."),
        ("geometry/nut", 5.0, "geometry.nut: Here stands the number 5.0. Write a list"),
        ("geometry/nut", ["0", 5.0], "geometry.nut[0]: Here stands the text “0”."),
        ("geometry/nut", [0, None], "geometry.nut[1]: Here stands null."),
        ("geometry/nut", [0, True], "geometry.nut[1]: Here stands true."),
        ("geometry/nut", [0, 1e9], "geometry.nut[1]: 1000000000.0 can't be used here."),
        ("geometry/saddle", [382.0, 16.0], "geometry.saddle: This key is not known."),
        ("geometry/nut", [400.0, 5.0], "doesn't lie between nut (400.00 mm) and tail (382.00 mm)"),
        ("geometry/tail", [327.5, 16.0], "doesn't lie between nut"),
        ("geometry/bridge_top", [327.0, 14.0], "at a height of 14.00 mm lies below the straight line"),
        ("geometry/nut", [326.0, 5.0], "From nut to bridge top it is 28.02 mm."),
        ("wanted/load_n", 5_000, "from 14.42 mm (straight) to 66.00 mm (twice the given height)"),
        ("a4_hz", 44.0, "a4_hz: 44.0 can't be used here. Write a number from 300 to 600."),
    ],
)
def test_what_cant_be_so_of_a_side_view(file: Path, path: str, value: object, says: str) -> None:
    assert says in refused(file, changed(SIDE, path, value))


def test_a_key_twice_and_what_is_no_json(file: Path) -> None:
    assert refused(file, json.dumps(ANGLE)[:-1] + ', "a4_hz": 415}').startswith(
        "a4_hz: This key stands here twice."
    )
    assert "This is not JSON" in refused(file, json.dumps(ANGLE)[:-1])


def test_hostile_files_end_in_an_answer_or_a_line(file: Path) -> None:
    seed = int(os.environ.get("SHOPLEDGER_SEED", Random().randrange(10**9)))
    print(f"SHOPLEDGER_SEED={seed}")
    dice = Random(seed)
    for _ in range(500):
        text = list(json.dumps(dice.choice([ANGLE, SIDE])))
        for _ in range(dice.randint(1, 8)):
            place = dice.randrange(len(text))
            if dice.random() < 0.5:
                text[place] = dice.choice('0123456789.-e[]{}",:nA')
            else:
                text[place:place] = list(dice.choice(["9" * 30, "-", "e99", "null", "NaN", ".", "[", '"']))
        status, out, err = run(file, "".join(text), as_json=dice.random() < 0.5)
        assert status in (0, 2), seed
        assert bool(out) == (status == 0), seed
        assert len(err.splitlines()) == (status == 2), (seed, err)
