"""An export holds the whole ledger: read back by another reader it equals the database, value by value."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
from collections import defaultdict
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import select

from shopledger.model import Paper, PaperFile, Person, Picture, Signature, tables
from shopledger.quantities.errors import LedgerError, Trouble
from shopledger.store.export import export, paper_path
from shopledger.store.ledger import Ledger
from tests.helpers.exported import read_csv, value_of
from tests.helpers.story import act, person, tell

HOSTILE = (
    "=1+1",
    "+44",
    "-1",
    "@SUM(A1)",
    "\tlead",
    'a "quoted", text',
    "two\nlines",
    "dos\r\nlines",
    " ",
    "",
    "€ – 𝄞",
    "'",
)


@pytest.fixture
def told(told_ledger: Ledger) -> Ledger:
    with act(told_ledger, "hostile") as writing:
        for n, text in enumerate(HOSTILE):
            person(writing, f"hostile {n}", notes=text, address=text)
    return told_ledger


def test_every_value_comes_back_as_it_is(told: Ledger, tmp_path: Path) -> None:
    out = export(told.where, tmp_path / "out")
    with told.engine.connect() as connection:
        for table in tables().tables.values():
            if table.name == "content":  # the bytes of files are files
                assert not (out / "content.csv").exists()
                continue
            head, *rows = read_csv(out / f"{table.name}.csv")
            assert head == [column.name for column in table.columns]
            there = connection.execute(select(*table.columns).order_by(*table.primary_key.columns)).all()
            columns = list(table.columns)
            read = [
                tuple(value_of(column, field, 2) for column, field in zip(columns, row, strict=True))
                for row in rows
            ]
            assert read == [tuple(row) for row in there], table.name


def test_hostile_texts_are_not_altered(told: Ledger, tmp_path: Path) -> None:
    out = export(told.where, tmp_path / "out")
    head, *rows = read_csv(out / "person.csv")
    notes = [row[head.index("notes")] for row in rows if str(row[head.index("name")]).startswith("hostile")]
    assert notes == list(HOSTILE)
    # The library's own reader gives the same texts.
    rows_too = list(csv.DictReader(io.StringIO((out / "person.csv").read_bytes().decode(), newline="")))
    assert [row["notes"] for row in rows_too if row["name"].startswith("hostile")] == list(HOSTILE)


def test_no_value_and_empty_text_differ(told: Ledger, tmp_path: Path) -> None:
    out = export(told.where, tmp_path / "out")
    head, *rows = read_csv(out / "sale.csv")
    assert [row[head.index("tax_rate")] for row in rows] == ["23/100", None]
    assert [row[head.index("note")] for row in rows] == ["", ""]


def test_the_journal_balances_in_decimal(told: Ledger, tmp_path: Path) -> None:
    out = export(told.where, tmp_path / "out")
    with (out / "journal.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == ["entry", "date", "account", "person", "debit", "credit", "currency", "source"]
    sums: dict[str, Decimal] = defaultdict(Decimal)
    for row in rows:
        assert (row["debit"] == "") != (row["credit"] == "")
        sums[row["entry"]] += Decimal(row["debit"] or 0) - Decimal(row["credit"] or 0)
        assert not row["person"] or row["person"].startswith("P ")
    assert set(sums.values()) == {Decimal(0)}
    assert list(sums) == [str(n) for n in range(1, len(sums) + 1)]
    first = [row for row in rows if row["entry"] == "1"]
    assert [(row["account"], row["person"]) for row in first][:1] == [("buyers", "P 003")]


def test_the_manifest_names_every_other_file(told: Ledger, tmp_path: Path) -> None:
    out = export(told.where, tmp_path / "out")
    manifest = json.loads((out / "manifest.json").read_bytes())
    there = {
        path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in out.rglob("*")
        if path.is_file() and path.name != "manifest.json"
    }
    assert manifest == {"format": 1, "files": there}
    assert list(manifest["files"]) == sorted(there)
    assert not any(path.read_bytes().startswith(b"\xef\xbb\xbf") for path in out.glob("*.csv"))


def test_papers_pictures_and_scans_are_there(told: Ledger, tmp_path: Path) -> None:
    out = export(told.where, tmp_path / "out")
    with told.read() as reading:
        papers = reading.session.execute(select(Paper.number, PaperFile.sha256).join(PaperFile)).all()
        kept = [
            *reading.session.scalars(select(Picture.sha256)),
            *reading.session.scalars(select(Signature.scan_sha256)),
        ]
    assert len(papers) == len(list((out / "papers").iterdir())) > 5
    for number, sha256 in papers:
        assert hashlib.sha256((out / "papers" / f"{number}.pdf").read_bytes()).hexdigest() == sha256
    assert sorted(path.stem for path in (out / "files").iterdir()) == sorted(kept)


def test_the_same_ledger_gives_the_same_bytes(told: Ledger, tmp_path: Path) -> None:
    first, second = export(told.where, tmp_path / "one"), export(told.where, tmp_path / "two")
    assert (first / "manifest.json").read_bytes() == (second / "manifest.json").read_bytes()


def test_a_folder_in_use_is_refused(file_ledger: Ledger, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "letter.txt").write_text("mine")
    with pytest.raises(Trouble, match="isn't empty"):
        export(file_ledger.where, out)
    assert [path.name for path in out.iterdir()] == ["letter.txt"]
    with pytest.raises(Trouble, match="isn't empty"):
        export(file_ledger.where, out / "letter.txt")


def test_an_empty_folder_is_used(file_ledger: Ledger, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    assert (export(file_ledger.where, tmp_path / "out") / "journal.csv").is_file()


def test_a_missing_file_leaves_no_export(file_ledger: Ledger, tmp_path: Path) -> None:
    tell(file_ledger)
    with file_ledger.read() as reading:
        sha256 = str(reading.session.scalar(select(Picture.sha256)))
    (tmp_path / "shop.ledger.files" / sha256[:2] / sha256).unlink()
    with pytest.raises(LedgerError, match="missing"):
        export(file_ledger.where, tmp_path / "exported" / "out")
    assert list((tmp_path / "exported").iterdir()) == []


def test_a_folder_that_cant_be_written_is_told(file_ledger: Ledger, tmp_path: Path) -> None:
    (tmp_path / "plain").write_text("a file")
    with pytest.raises(Trouble, match="can't be written"):
        export(file_ledger.where, tmp_path / "plain" / "out")


def test_only_its_user_may_look_in(file_ledger: Ledger, tmp_path: Path) -> None:
    if os.name == "nt":
        pytest.skip("a folder has no such mode there")
    assert export(file_ledger.where, tmp_path / "out").stat().st_mode & 0o777 == 0o700


def test_no_such_ledger(tmp_path: Path) -> None:
    with pytest.raises(Trouble, match="no ledger at"):
        export(tmp_path / "none.ledger", tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


def test_numbers_become_names_of_files() -> None:
    assert paper_path("SI 2025-001/1.2") == "papers/SI 2025-001-1.2.pdf"
    assert paper_path("../../AG 1") == "papers/..-..-AG 1.pdf"


def test_exporting_writes_nothing_to_the_ledger(file_ledger: Ledger, tmp_path: Path) -> None:
    tell(file_ledger)
    where = Path(file_ledger.where)
    before = where.read_bytes()
    export(where, tmp_path / "out")
    assert where.read_bytes() == before
    with file_ledger.read() as reading:
        assert reading.session.scalar(select(Person.name).where(Person.id == 2)) == "Adaline Fenwraith"
