"""One file in, one answer out: exit status, output, error line; lists; files that can't be read or hold rubbish."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from io import BytesIO, TextIOWrapper
from pathlib import Path
from random import Random

import pytest

from shopledger.rules.case_file import LARGEST_FILE, MOST_CASES, answer_file
from shopledger.rules.reckon_file import RECKONING
from tests.rules.written import EXAMPLE, plain_case, run


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Give the path of a file to write a case into."""
    return tmp_path / "case.json"


def put(file: Path, written: object) -> Path:
    """Write a case, or bytes as they are, into the file."""
    file.write_bytes(written if isinstance(written, bytes) else json.dumps(written).encode())
    return file


def test_a_single_case_is_answered_as_json(file: Path) -> None:
    status, out, err = run(put(file, EXAMPLE))
    answer = json.loads(out)
    assert (status, err) == (0, "")
    assert list(answer)[:4] == ["currency", "price", "discount", "commission"]
    assert list(answer)[-3:] == ["owners", "due_now", "working"]
    assert {"label": "Commission", "how": "20% of 11,250.00", "amount": "2250.00"} in answer["working"]


def test_due_now_stands_there_only_where_paid_was_told(file: Path) -> None:
    assert "due_now" not in json.loads(run(put(file, plain_case()))[1])
    assert json.loads(run(put(file, plain_case(paid="0")))[1])["due_now"] == "0.00"


def test_a_statement_can_be_read_by_a_person(file: Path) -> None:
    status, out, err = run(put(file, EXAMPLE), as_json=False)
    assert (status, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "Reckoning of a sale, amounts in USD"
    assert "Commission             2,250.00  20% of 11,250.00" in lines
    assert any(line.startswith("Owner's net") and " 8,820.00  " in line for line in lines)
    assert lines[-1].endswith("Ask the tax authority or an accountant.")
    columns = {
        line.index(amount) + len(amount)
        for line in lines
        for amount in ("11,250.00  ", "928.13  ")
        if amount in line
    }
    assert len(columns) == 1


def test_a_statement_says_what_stands_below_the_figures(file: Path) -> None:
    case = plain_case(terms={"floor": "900"}, costs=[{"what": "repair", "amount": "1000"}])
    status, out, _err = run(put(file, case), as_json=False)
    assert status == 0
    assert "The owner's net is 1,100.00 below the lowest net agreed: it takes the owner's consent." in out
    assert "The owner owes the shop 200.00." in out
    assert "Tax rules" not in out


def test_a_refused_case_prints_one_line_and_nothing_else(file: Path) -> None:
    for as_json in (True, False):
        status, out, err = run(put(file, plain_case(price="0")), as_json=as_json)
        assert (status, out) == (2, "")
        assert err == "price: A price of USD 0.00 is no sale. Write a price above zero.\n"


def test_a_list_answers_in_order_and_refuses_in_place(file: Path) -> None:
    cases = [plain_case(), plain_case(price="0"), 7, EXAMPLE, '{"price": "5"}', None, []]
    status, out, err = run(put(file, cases))
    answers = json.loads(out)
    assert (status, err) == (2, "")
    assert [set(answer) == {"refused"} for answer in answers] == [False, True, True, False, True, True, True]
    assert answers[1]["refused"] == "price: A price of USD 0.00 is no sale. Write a price above zero."
    assert answers[2]["refused"].startswith("case: Here stands the number 7.")
    assert answers[3] == json.loads(run(put(file, EXAMPLE))[1])


def test_a_list_without_a_refusal_exits_with_zero(file: Path) -> None:
    assert run(put(file, [plain_case(), EXAMPLE]))[0] == 0
    assert run(put(file, []))[:2] == (0, "[]\n")


def test_a_key_twice_in_one_case_leaves_the_others(file: Path) -> None:
    good = json.dumps(plain_case())
    twice = good[:-1] + ', "price": "5"}'
    status, out, _err = run(put(file, f"[{good}, {twice}, {good}]".encode()))
    assert status == 2
    assert [("refused" in answer) for answer in json.loads(out)] == [False, True, False]


def test_a_list_reads_well_for_a_person_too(file: Path) -> None:
    status, out, err = run(put(file, [plain_case(), plain_case(price="0")]), as_json=False)
    assert (status, err) == (2, "")
    assert "Case 1\nReckoning of a sale" in out
    assert "Case 2\nRefused: price: A price of USD 0.00 is no sale." in out


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "This is not JSON"),
        (b"{", "This is not JSON"),
        (b"7", "This is the number 7. Write a case in braces, or a list of cases."),
        (b'"text"', "This is the text"),
        (b"null", "This is null."),
        (b"true", "This is true."),
        (b"\xff\xfe{\x00}\x00", "This is not UTF-8 text (byte 0). Save it as UTF-8."),
        (b'{"currency": "\xe9"}', "This is not UTF-8 text"),
        (b"[" * 3_000_000, "nested far too deep"),
        (b" " * (LARGEST_FILE + 1), "larger than 8000000 bytes"),
        (json.dumps([5] * (MOST_CASES + 1)).encode(), "This list has 10001 cases."),
        (bytes(range(256)) * 10, "This is not UTF-8 text"),
        (b"\x00" * 100, "This is not JSON"),
    ],
)
def test_a_file_of_rubbish_is_refused_whole(file: Path, raw: bytes, says: str) -> None:
    status, out, err = run(put(file, raw))
    assert (status, out) == (2, "")
    assert says in err
    assert err.startswith(str(file)[:100])
    assert len(err.splitlines()) == 1


def test_a_byte_order_mark_does_no_harm(file: Path) -> None:
    assert run(put(file, b"\xef\xbb\xbf" + json.dumps(EXAMPLE).encode()))[0] == 0


def test_a_file_that_is_not_there_a_folder_and_a_name_no_system_knows(tmp_path: Path) -> None:
    for path, says in (
        (str(tmp_path / "nothing.json"), "There is no such file. Check the name and the folder."),
        (str(tmp_path), "This is a folder. Name the file in it."),
        ("a\x00b", "This can't be read"),
        ("x" * 5_000, "This can't be read"),
        (str(tmp_path / "nothing.json" / "deeper"), "There is no such file"),
    ):
        status, out, err = run(path)
        assert (status, out) == (2, "")
        assert says in err
        assert len(err.splitlines()) == 1


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read(file: Path) -> None:
    put(file, EXAMPLE).chmod(0)
    status, out, err = run(file)
    assert (status, out) == (2, "")
    assert "This file may not be read." in err


def test_standard_input_is_named_by_a_dash(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(json.dumps(EXAMPLE).encode())))
    assert run("-")[0] == 0
    monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(b"{")))
    assert run("-")[2].startswith("standard input: This is not JSON")


def test_an_output_that_lacks_letters_gets_question_marks(file: Path) -> None:
    put(file, plain_case(costs=[{"what": "Größe ♪", "amount": "5"}], asking="1100"))
    raw = BytesIO()
    out = TextIOWrapper(raw, encoding="ascii")
    assert answer_file(RECKONING, str(file), False, out, sys.stderr) == 0
    out.flush()
    assert b"Gr??e ? 5.00" in raw.getvalue()
    raw = BytesIO()
    out = TextIOWrapper(raw, encoding="ascii")
    assert answer_file(RECKONING, str(file), True, out, sys.stderr) == 0
    out.flush()
    assert "Größe ♪ 5.00" in json.dumps(json.loads(raw.getvalue()), ensure_ascii=False)


def test_hostile_files_end_in_an_answer_or_a_line(file: Path) -> None:
    seed = int(os.environ.get("SHOPLEDGER_SEED", Random().randrange(10**9)))
    print(f"SHOPLEDGER_SEED={seed}")
    dice = Random(seed)
    sound = json.dumps(EXAMPLE).encode()
    for _ in range(500):
        raw = bytearray(sound)
        for _ in range(dice.randint(1, 12)):
            place = dice.randrange(len(raw))
            match dice.randrange(4):
                case 0:
                    raw[place] = dice.randrange(256)
                case 1:
                    del raw[place : place + dice.randint(1, 30)]
                case 2:
                    raw[place:place] = dice.choice(
                        [b"[", b"{", b'"', b"9" * 400, b"\\ud800", b"1e999", b"null", b","]
                    )
                case _:
                    raw[place:place] = raw[: dice.randint(1, 60)]
        status, out, err = run(put(file, bytes(raw)))
        assert status in (0, 2), seed
        assert bool(out) == (status == 0) or out.startswith("["), seed
        assert len(err.splitlines()) <= 1, (seed, err)


def test_reckoning_a_file_imports_nothing_slow() -> None:
    code = (
        "import sys, shopledger.rules.reckon_file;"
        "print(sorted({name.split('.')[0] for name in sys.modules} & "
        "{'PySide6', 'reportlab', 'sqlalchemy', 'alembic', 'babel', 'PIL', 'click', 'iso4217'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
