"""The command line: statuses, one sentence for what is refused, and the way without a screen."""

from __future__ import annotations

import csv
import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from shopledger.boot import main
from shopledger.screen import DEBIAN_PACKAGES, has_screen


def _said(capsys: pytest.CaptureFixture[str]) -> str:
    """Give the one line on standard error, having made sure that nothing stands on standard output."""
    captured = capsys.readouterr()
    assert captured.out == ""
    lines = captured.err.splitlines()
    assert len(lines) == 1, captured.err
    return lines[0]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--colour"], "No such option '--colour'"),
        (["sel"], "No such command 'sel'"),
        (["open"], "Missing argument 'LEDGER'"),
        (["open", "nowhere.ledger"], "there is no ledger “nowhere.ledger”"),
        (["prove", "nowhere.ledger"], "there is no ledger “nowhere.ledger”"),
        (["prove", "."], "there is no ledger “.”"),
        (["export", "pyproject.toml"], "Missing option '--out'"),
        (["reckon"], "Missing argument 'FILE'"),
        (["reckon", "nowhere.json"], "nowhere.json"),
        (["reckon", "--json"], "Missing argument 'FILE'"),
        (["strings"], "Missing argument 'FILE'"),
        (["strings", "nowhere.json"], "nowhere.json"),
        (["custody"], "Missing argument 'LEDGER'"),
        (["custody", "nowhere.ledger"], "there is no ledger “nowhere.ledger”"),
        (["paper"], "Missing argument 'LEDGER'"),
        (["paper", "nowhere.ledger", "SI 2026-001"], "there is no ledger “nowhere.ledger”"),
        (["paper", "pyproject.toml"], "Missing argument 'MARK...'"),
        (["demo", "--at"], "'--at' requires an argument"),
        (["demo", "--at", "pyproject.toml"], "is a file"),
    ],
)
def test_what_cant_be_understood_is_told_in_one_sentence(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    assert says in _said(capsys)


@pytest.mark.parametrize(
    "arguments",
    [
        ["--help"],
        ["-h"],
        ["demo", "--help"],
        ["strings", "--help"],
        ["custody", "--help"],
        ["paper", "-h"],
        ["prove", "--help"],
        ["export", "-h"],
    ],
)
def test_help_is_there_everywhere(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 0
    assert capsys.readouterr().out.startswith("Usage: shopledger")


def test_strings_are_answered_and_refused_by_the_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "strings.json"
    case = {
        "a4_hz": 440.0,
        "strings": [{"pitch": "A4", "g_per_m": 0.7}],
        "geometry": {"nut": [0, 5.0], "bridge_top": [327.0, 33.0], "tail": [382.0, 16.0]},
    }
    file.write_text(json.dumps(case), encoding="utf-8")
    assert main(["strings", str(file), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (round(answer["length_mm"], 2), round(answer["angle_deg"], 2)) == (328.20, 157.93)
    assert main(["strings", str(file)]) == 0
    assert "A load is a guide, not a limit; damage is possible; the maker decides." in capsys.readouterr().out
    file.write_text(json.dumps({**case, "angle_deg": 158.0}), encoding="utf-8")
    assert main(["strings", str(file)]) == 2
    assert "Exactly one of angle_deg and geometry" in _said(capsys)


@pytest.mark.parametrize("arguments", [[], ["open", "pyproject.toml"]])
def test_without_a_screen_the_window_is_refused(
    arguments: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert main(arguments) == 1
    assert "There is no screen here" in _said(capsys)


def test_what_is_no_ledger_cant_be_proved_or_exported(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, content in (
        ("empty", b""),
        ("words", b"whose is this\n" * 100),
        ("short", b"SQLite format 3\x00"),
    ):
        path = tmp_path / f"{name}.ledger"
        path.write_bytes(content)
        assert main(["prove", str(path)]) == 2
        assert path.name in _said(capsys)
        assert main(["prove", str(path), "--json"]) == 2
        assert path.name in _said(capsys)
        assert main(["export", str(path), "--out", str(tmp_path / "out")]) == 1
        assert path.name in _said(capsys)
        assert path.read_bytes() == content


def test_a_sheet_of_paper_is_compared_with_the_ledger(
    told_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    where = str(told_file)
    with closing(sqlite3.connect(told_file)) as ledger:
        number, digest, issued_on = ledger.execute(
            "SELECT number, facts_sha256, issued_on FROM paper WHERE kind = 'invoice'"
        ).fetchone()
    before = told_file.read_bytes()
    assert main(["paper", where, f"{number} {digest}"]) == 0
    assert f"Invoice {number}, issued on " in capsys.readouterr().out
    # As a scanner types it, without quotes.
    assert main(["paper", where, *number.split(), digest, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["number"], answer["matches"], answer["issued_on"]) == (number, True, issued_on)
    assert answer["digest"] == answer["kept"] == digest

    assert main(["paper", where, f"{number} {'0' * 64}"]) == 1
    assert "The code doesn't match" in capsys.readouterr().out
    assert main(["paper", where, f"SI 1999-001 {digest}", "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert (answer["matches"], answer["issued_on"]) == (False, None)

    assert main(["paper", where, number]) == 2
    assert "This code is not from a paper of the ledger." in _said(capsys)
    assert main(["paper", "pyproject.toml", f"{number} {digest}"]) == 2
    assert "pyproject.toml" in _said(capsys)
    assert told_file.read_bytes() == before


def test_what_is_in_custody_is_told_and_written_for_a_spreadsheet(
    told_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    where = str(told_file)
    before = told_file.read_bytes()
    assert main(["custody", where]) == 0
    told = capsys.readouterr().out.splitlines()
    numbers = [line.split("  ")[1] for line in told if line.startswith("  No. ")]
    assert numbers
    assert told[-1].startswith("together: ")
    assert told[-1].endswith(f" for {len(numbers)} things")

    file = tmp_path / "custody.csv"
    assert main(["custody", where, "--csv", str(file)]) == 0
    assert capsys.readouterr().out == f"Written to {file}.\n"
    with file.open(encoding="utf-8-sig", newline="") as opened:
        rows = [row for row in csv.reader(opened) if row]
    assert [row[0] for row in rows if row[0].startswith("No. ")] == numbers
    assert rows[-1][:2] == ["Together", str(len(numbers))]
    together = told[-1].removeprefix("together: ").partition(" for ")[0]
    assert rows[-1][3] == together.replace(",", "")

    assert main(["custody", where, "--on", "2001-01-01"]) == 0
    assert "Nothing was in the care of the shop on this day." in capsys.readouterr().out
    for typed, says in (
        ("yesterday", "“yesterday” is no day"),
        ("20260304", "is no day"),
        ("2026-02-30", "is no day"),
        ("9999-01-01", "has not come yet"),
    ):
        assert main(["custody", where, "--on", typed]) == 2
        assert says in _said(capsys)
    assert main(["custody", where, "--csv", str(tmp_path / "nowhere" / "a.csv")]) == 1
    assert "It can't be done" in _said(capsys)
    assert main(["custody", "pyproject.toml"]) == 1
    assert "pyproject.toml" in _said(capsys)
    assert told_file.read_bytes() == before


def test_a_folder_with_other_things_is_left_alone_by_the_demo(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "letter.txt").write_text("kept", encoding="utf-8")
    assert main(["demo", "--at", str(tmp_path), "--no-window"]) == 1
    assert "holds files that are no example shop" in _said(capsys)
    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]


def test_the_demo_is_built_proved_and_exported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shop = tmp_path / "shop"
    assert main(["demo", "--at", str(shop), "--no-window"]) == 0
    first = capsys.readouterr().out
    assert list((shop / "papers").glob("*.pdf"))
    (shop / "my own note.txt").write_text("kept", encoding="utf-8")

    # Built again over itself, it is the same shop, and what somebody put beside it stays.
    assert main(["demo", "--at", str(shop), "--no-window"]) == 0
    assert capsys.readouterr().out == first
    assert (shop / "my own note.txt").exists()

    ledger = str(shop / "demo.ledger")
    assert main(["prove", ledger]) == 0
    assert "Nothing is wrong" in capsys.readouterr().out
    assert main(["prove", ledger, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"ok": True, "wrong": []}

    assert main(["export", ledger, "--out", str(tmp_path / "out")]) == 0
    capsys.readouterr()
    assert {"journal.csv", "manifest.json"} <= {path.name for path in (tmp_path / "out").iterdir()}


def test_without_a_screen_the_demo_says_so_and_succeeds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert main(["demo", "--at", str(tmp_path / "shop")]) == 0
    assert "There is no screen here, so the window stays closed." in capsys.readouterr().out


@pytest.mark.parametrize(
    ("environ", "platform", "seen"),
    [
        ({}, "linux", False),
        ({"DISPLAY": ""}, "linux", False),
        ({"DISPLAY": ":0"}, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, "linux", False),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "minimal"}, "linux", False),
        ({"QT_QPA_PLATFORM": "xcb"}, "linux", False),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "wayland;xcb"}, "linux", True),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "xcb"}, "linux", True),
        ({"QT_QPA_PLATFORM": "vnc:size=1280x720"}, "linux", True),
        ({}, "win32", True),
        ({}, "darwin", True),
        ({"QT_QPA_PLATFORM": "offscreen"}, "win32", False),
    ],
)
def test_a_screen_is_known_by_its_signs(environ: dict[str, str], platform: str, seen: bool) -> None:
    # Names of platforms: Qt's documentation of QPA, "Qt Platform Abstraction".
    assert has_screen(environ, platform) is seen


def test_the_readme_names_the_packages_that_the_program_names() -> None:
    readme = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
    assert f"apt-get install python3-venv {' '.join(DEBIAN_PACKAGES)}\n" in readme
