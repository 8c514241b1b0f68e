"""What starts: the version before anything is imported, and commands that import only what they need."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from shopledger import __version__
from shopledger.boot import main

ROOT = Path(__file__).parent.parent
SLOW = {
    "click",
    "PySide6",
    "shiboken6",
    "sqlalchemy",
    "alembic",
    "psycopg",
    "reportlab",
    "babel",
    "PIL",
    "pypdfium2",
}
CASE = {
    "currency": "USD",
    "asking": "12000.00",
    "price": "11250.00",
    "terms": {"commission": {"rate": "20%"}, "floor": "8500.00"},
    "tax": {"scheme": "sales_tax", "rate": "8.25%"},
}

STRINGS = {
    "length_mm": 328.0,
    "a4_hz": 440.0,
    "strings": [{"pitch": "A4", "tension_n": 220.0, "at_length_mm": 328.0}],
    "angle_deg": 158.0,
}


def _modules_after(*arguments: str) -> tuple[set[str], str, int]:
    """Run the program in a child and give the names of all libraries that it imported, its output and status."""
    watch = (
        "import sys\n"
        "from shopledger.boot import main\n"
        "status = main(sys.argv[1:])\n"
        "print('\\n' + ' '.join(sorted({name.split('.')[0] for name in sys.modules})), file=sys.stderr)\n"
        "sys.exit(status)\n"
    )
    child = subprocess.run(
        [sys.executable, "-c", watch, *arguments],
        cwd=ROOT,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return set(child.stderr.splitlines()[-1].split()), child.stdout, child.returncode


def test_the_version_is_answered_before_anything_is_imported() -> None:
    modules, out, status = _modules_after("--version")
    assert (out, status) == (f"shopledger {__version__}\n", 0)
    assert modules & SLOW == set()
    assert "argparse" not in modules


def test_the_version_in_this_process(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"shopledger {__version__}\n"


def test_help_imports_only_the_command_line() -> None:
    modules, out, status = _modules_after("--help")
    assert status == 0
    assert modules & SLOW == {"click"}
    for command in ("demo", "export", "materials", "open", "prove", "reckon", "strings"):
        assert f"\n  {command} " in out


@pytest.mark.parametrize("as_json", [True, False])
def test_a_reckoning_needs_no_window_no_paper_and_no_database(tmp_path: Path, as_json: bool) -> None:
    file = tmp_path / "case.json"
    file.write_text(json.dumps(CASE), encoding="utf-8")
    modules, out, status = _modules_after("reckon", str(file), *(["--json"] if as_json else []))
    assert status == 0, out
    assert modules & SLOW == {"click"}
    if as_json:
        assert (
            json.loads(out)["buyer_pays"] == "12178.13"
        )  # 11,250.00 and 8.25 % of it, 928.125, half away from zero
    else:
        assert "12,178.13" in out


@pytest.mark.parametrize("as_json", [True, False])
def test_strings_need_no_window_no_paper_and_no_database(tmp_path: Path, as_json: bool) -> None:
    file = tmp_path / "case.json"
    file.write_text(json.dumps(STRINGS), encoding="utf-8")
    modules, out, status = _modules_after("strings", str(file), *(["--json"] if as_json else []))
    assert status == 0, out
    assert modules & SLOW == {"click"}
    # 2 × 220 N × cos(79°) = 83.96 N, as the published angle of a violin gives it
    assert round(json.loads(out)["load_n"], 2) == 83.96 if as_json else " 83.96 " in out


@pytest.mark.parametrize("as_json", [True, False])
def test_materials_need_no_window_no_paper_and_no_database(tmp_path: Path, as_json: bool) -> None:
    part = {"component": "bow stick", "species": "Paubrasilia echinata", "certain": True, "finished": True}
    file = tmp_path / "materials.json"
    file.write_text(json.dumps({"on": "2026-03-05", "act": "sale_abroad", "parts": [part]}), encoding="utf-8")
    modules, out, status = _modules_after("materials", str(file), *(["--json"] if as_json else []))
    assert status == 0, out
    assert modules & SLOW == {"click"}
    # CITES CoP20: the sale of existing bows across a border needs permits from 5 March 2026.
    assert (json.loads(out)["answer"] == "may_need_papers") if as_json else ("may need papers" in out)


def test_python_runs_the_package_as_the_command_does() -> None:
    child = subprocess.run(
        [sys.executable, "-m", "shopledger", "--version"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert child.stdout == f"shopledger {__version__}\n"


def test_the_window_loads_only_what_its_first_table_takes_and_qt_last() -> None:
    told = (
        "import json, sys\n"
        "from shopledger.screen import load_window\n"
        "load_window()\n"
        "print(json.dumps(list(sys.modules)))\n"
    )
    child = subprocess.run([sys.executable, "-c", told], cwd=ROOT, capture_output=True, text=True, check=True)
    loaded = json.loads(child.stdout)
    for unneeded in (
        "model.sales",
        "model.money",
        "model.journal",
        "model.fitted",
        "store.unit",
        "queries.sheet_shapes",
        "quantities.lengths",
        "acts",
        "papers",
        "desk.form",
    ):
        assert f"shopledger.{unneeded}" not in loaded
    assert "babel" not in loaded
    # PySide reads the source of whatever is imported after it: that of all of SQLAlchemy takes an eighth of the start.
    assert loaded.index("sqlalchemy") < loaded.index("PySide6")
