"""The written form of a case on protected materials, its answer, and bad input of every kind."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any

import pytest

from shopledger.boot import main
from shopledger.rules.case_file import answer_file
from shopledger.rules.materials_file import MATERIALS

STICK: dict[str, Any] = {
    "component": "bow stick",
    "species": "Paubrasilia echinata",
    "certain": True,
    "finished": True,
}
EXAMPLE: dict[str, Any] = {"on": "2026-03-05", "act": "sale_abroad", "parts": [STICK]}
GROUND = ["rule", "source", "verified_on", "ask"]


def run(file: Path, written: object, *, as_json: bool = True) -> tuple[int, str, str]:
    """Give exit status, standard output and error output of the command on a case, or on bytes as they are."""
    file.write_bytes(written if isinstance(written, bytes) else json.dumps(written).encode())
    out, err = StringIO(), StringIO()
    status = answer_file(MATERIALS, str(file), as_json, out, err)
    return status, out.getvalue(), err.getvalue()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Give the path of a file to write a case into."""
    return tmp_path / "case.json"


def test_the_answer_has_its_shape(file: Path) -> None:
    status, out, err = run(file, EXAMPLE)
    answer = json.loads(out)
    assert (status, err) == (0, "")
    assert list(answer) == ["answer", "because", *GROUND, "parts", "advice", "caution"]
    assert list(answer["parts"][0]) == ["component", "species", "answer", "because", *GROUND]
    # CITES CoP20: sale of existing bows across a border from 5 March 2026 (read).
    assert answer["answer"] == answer["parts"][0]["answer"] == "may_need_papers"
    assert "annotation #10 as amended at CoP20" in answer["rule"]
    assert answer["verified_on"] == "2026-11-25"
    assert "management authority" in answer["ask"]
    assert "not advice" in answer["caution"]


def test_the_top_speaks_for_the_gravest_part(file: Path) -> None:
    shell = {"component": "frog", "species": "Eretmochelys imbricata", "certain": True, "finished": True}
    grip = {"component": "grip", "species": None}
    answer = json.loads(run(file, EXAMPLE | {"act": "travel", "parts": [STICK, grip, shell]})[1])
    assert [part["answer"] for part in answer["parts"]] == ["seems_exempt", "cannot_tell", "may_need_papers"]
    assert {key: answer[key] for key in ["answer", "because", *GROUND]} == {
        key: answer["parts"][2][key] for key in ["answer", "because", *GROUND]
    }
    assert answer["parts"][1]["species"] == ""
    assert "Musical Instrument Certificate" in answer["advice"][0]


def test_a_statement_can_be_read_by_a_person(file: Path) -> None:
    case = EXAMPLE | {"from": "US-MA", "to": "DE", "parts": [STICK | {"component": "bow\nstick\u001b"}]}
    status, out, err = run(file, case, as_json=False)
    lines = out.splitlines()
    assert (status, err) == (0, "")
    assert lines[0] == "Protected materials: sale abroad on 5 Mar 2026, US-MA \u2192 DE"
    assert lines[1] == "On the whole: may need papers"
    assert "bow stick , Paubrasilia echinata: may need papers" in lines
    assert any(line.startswith("  Source: ") and "last gone through on 25 Nov 2026" in line for line in lines)
    assert any(line.startswith("  Ask: ") for line in lines)
    assert "General information, not advice" in lines[-1]
    assert "what isn't known is not thereby free" in lines[-1]
    assert "Protected materials: sale abroad on 5 Mar 2026\n" in run(file, EXAMPLE, as_json=False)[1]


def test_what_is_left_out_or_null_is_not_known(file: Path) -> None:
    def of(**facts: object) -> str:
        answer = json.loads(run(file, EXAMPLE | {"act": "travel", "parts": [STICK | facts]})[1])
        return str(answer["answer"])

    assert of() == "seems_exempt"
    for key in ("certain", "finished", "species"):
        assert of(**{key: None}) == "cannot_tell"
    assert of(certain=False) == "cannot_tell"
    bare = {"component": "bow stick", "species": "Paubrasilia echinata"}
    assert json.loads(run(file, EXAMPLE | {"parts": [bare]})[1])["answer"] == "cannot_tell"
    assert of(made_on=None, taken_before=None, imported_on=None, mass_g=None, evidence=None) == "seems_exempt"
    assert of(made_on="1890-12-31", mass_g=55, evidence="receipt of 1998, Saltmere") == "seems_exempt"


def test_masses_are_added_without_a_residue(file: Path) -> None:
    ivory = {
        "component": "tip",
        "species": "Loxodonta africana",
        "certain": True,
        "finished": True,
        "made_on": "1950-12-31",
        "imported_on": "1951-12-31",
    }
    home = {"on": "2026-03-05", "act": "sale_home", "from": "US", "to": "US"}

    def of(*masses: float) -> str:
        answer = json.loads(run(file, home | {"parts": [ivory | {"mass_g": mass} for mass in masses]})[1])
        return str(answer["answer"])

    # As floats 199.7 + 0.1 + 0.1 + 0.1 stays below 200; it is 200.0, which fails (81 FR 36387, read).
    assert 199.7 + 0.1 + 0.1 + 0.1 < 200
    assert of(199.7, 0.1, 0.1, 0.1) == "may_need_papers"
    assert of(199.6, 0.1, 0.1, 0.1) == "seems_exempt"
    assert of(200.0) == "may_need_papers"
    assert of(199.9) == "seems_exempt"


@pytest.mark.parametrize(
    ("changes", "field", "says"),
    [
        ({"on": None}, "on", 'This is missing. Write it, such as "2026-03-05".'),
        ({"on": "2026-02-30"}, "on", "no day of the calendar"),
        ({"on": "5.3.2026"}, "on", "no day of the calendar"),
        ({"on": 20260305}, "on", "Here stands the number 20260305"),
        ({"act": None}, "act", 'such as "sale_abroad"'),
        ({"act": "sale_abraod"}, "act", "The nearest is sale_abroad"),
        ({"act": "gift"}, "act", "is not known here"),
        ({"act": 5}, "act", "Here stands the number 5"),
        ({"parts": None}, "parts", "This is missing"),
        ({"parts": []}, "parts", "There is no part. Write at least one."),
        ({"parts": STICK}, "parts", "a list in square brackets"),
        ({"parts": [5]}, "parts[0]", "Here stands the number 5"),
        ({"parts": [STICK] * 201}, "parts", "201 members"),
        ({"prats": []}, "prats", "The nearest known one is parts"),
        ({"from": "us"}, "from", "Write it as US"),
        ({"from": "UK"}, "from", "Write it as GB"),
        ({"to": "Germany"}, "to", "is no place of ISO 3166"),
        ({"to": "US-ZZ"}, "to", "is no part of US in ISO 3166"),
        ({"to": "QQ-1"}, "to", "is no place of ISO 3166"),
        ({"to": ""}, "to", "is no place of ISO 3166"),
        ({"to": 5}, "to", "Here stands the number 5"),
        ({"from": "DE", "to": "DE"}, "to", "This goes abroad, but from and to are both in DE"),
        ({"act": "sale_home", "from": "DE", "to": "FR"}, "to", "A sale at home stays in one country"),
        ({"re_export": "yes"}, "re_export", "true or false"),
    ],
)
def test_bad_input_of_a_case_is_refused_in_one_line(file: Path, changes: Any, field: str, says: str) -> None:
    for as_json in (True, False):
        status, out, err = run(file, EXAMPLE | changes, as_json=as_json)
        assert (status, out, len(err.splitlines())) == (2, "", 1)
        assert err.startswith(f"{field}: ")
        assert says in err


@pytest.mark.parametrize(
    ("changes", "field", "says"),
    [
        ({"component": None}, "component", 'such as "bow stick"'),
        ({"component": "  "}, "component", 'such as "bow stick"'),
        ({"component": 5}, "component", "Here stands the number 5"),
        ({"component": "x" * 501}, "component", "501 characters"),
        ({"species": 5}, "species", "Here stands the number 5"),
        ({"species": ["ivory"]}, "species", "Here stands a list"),
        ({"certain": "true"}, "certain", "true or false"),
        ({"certain": 1}, "certain", "true or false"),
        ({"finished": "no"}, "finished", "true or false"),
        ({"made_on": "1890"}, "made_on", "write its last day, 1890-12-31"),
        ({"made_on": "1890-13-01"}, "made_on", "no day of the calendar"),
        ({"made_on": "2026-03-06"}, "made_on", "lies after the day of the act"),
        ({"imported_on": "2026-03-06"}, "imported_on", "lies after the day of the act"),
        ({"taken_before": 1976}, "taken_before", "Here stands the number 1976"),
        ({"mass_g": "5"}, "mass_g", "a number without quotes"),
        ({"mass_g": True}, "mass_g", "a number without quotes"),
        ({"mass_g": 0}, "mass_g", "above 0"),
        ({"mass_g": -1}, "mass_g", "above 0"),
        ({"mass_g": 1e7}, "mass_g", "at most 1000000"),
        ({"evidence": {}}, "evidence", "Here stands an object"),
        ({"specie": "ivory"}, "specie", "The nearest known one is species"),
    ],
)
def test_bad_input_of_a_part_is_refused_in_one_line(file: Path, changes: Any, field: str, says: str) -> None:
    status, out, err = run(file, EXAMPLE | {"parts": [STICK, STICK | changes]})
    assert (status, out, len(err.splitlines())) == (2, "", 1)
    assert err.startswith(f"parts[1].{field}: ")
    assert says in err


def test_a_species_that_was_forgotten_is_asked_for(file: Path) -> None:
    status, out, err = run(file, EXAMPLE | {"parts": [{"component": "frog", "certain": True}]})
    assert (status, out) == (2, "")
    assert err.startswith("parts[0].species: This is missing.")
    assert "null where it isn't known" in err


@pytest.mark.parametrize("number", [b"NaN", b"Infinity", b"-Infinity", b"1e999", b"9" * 400])
def test_numbers_that_are_none_are_refused(file: Path, number: bytes) -> None:
    written = json.dumps(EXAMPLE | {"parts": [STICK | {"mass_g": 77777}]}).encode().replace(b"77777", number)
    status, out, err = run(file, written)
    assert (status, out) == (2, "")
    assert err.startswith("parts[0].mass_g: ")


def test_a_key_twice_is_refused(file: Path) -> None:
    written = json.dumps(EXAMPLE)[:-1] + ', "act": "travel"}'
    assert run(file, written.encode())[2].startswith("act: This key stands here twice.")


def test_a_list_answers_in_order_and_refuses_in_place(file: Path) -> None:
    status, out, err = run(file, [EXAMPLE, EXAMPLE | {"act": "sell"}, 7, EXAMPLE | {"on": "2007-09-12"}])
    answers = json.loads(out)
    assert (status, err) == (2, "")
    assert [answer.get("answer") for answer in answers] == ["may_need_papers", None, None, "not_listed"]
    assert answers[1]["refused"].startswith("act: ")
    status, out, err = run(file, [EXAMPLE, EXAMPLE | {"act": "sell"}], as_json=False)
    assert (status, err) == (2, "")
    assert "Case 1\nProtected materials" in out
    assert "Case 2\nRefused: act: " in out
    assert run(file, [EXAMPLE])[0] == 0


def test_the_command_itself(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text(json.dumps(EXAMPLE), encoding="utf-8")
    assert main(["materials", str(file), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["answer"] == "may_need_papers"
    assert main(["materials", str(file)]) == 0
    assert "may need papers" in capsys.readouterr().out
    file.write_text("{}", encoding="utf-8")
    assert main(["materials", str(file)]) == 2
    captured = capsys.readouterr()
    assert (captured.out, captured.err) == ("", 'on: This is missing. Write it, such as "2026-03-05".\n')


def test_hostile_files_end_in_an_answer_or_a_line(file: Path) -> None:
    seed = int(os.environ.get("SHOPLEDGER_SEED", Random().randrange(10**9)))
    print(f"SHOPLEDGER_SEED={seed}")
    dice = Random(seed)
    sound = json.dumps(EXAMPLE | {"from": "US-CA", "to": "DE", "parts": [STICK | {"mass_g": 1.5}]}).encode()
    for _ in range(300):
        raw = bytearray(sound)
        for _ in range(dice.randint(1, 8)):
            place = dice.randrange(len(raw))
            match dice.randrange(3):
                case 0:
                    raw[place] = dice.randrange(256)
                case 1:
                    del raw[place : place + dice.randint(1, 30)]
                case _:
                    raw[place:place] = dice.choice([b"[", b"{", b'"', b"9" * 400, b"\\ud800", b"null", b","])
        status, _out, err = run(file, bytes(raw), as_json=dice.random() < 0.5)
        assert status in (0, 2), seed
        assert len(err.splitlines()) <= 1, (seed, err)


def test_materials_import_nothing_slow() -> None:
    code = (
        "import sys, shopledger.rules.materials_file;"
        "print(sorted({name.split('.')[0] for name in sys.modules} & "
        "{'PySide6', 'reportlab', 'sqlalchemy', 'alembic', 'babel', 'PIL', 'click', 'iso4217'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
