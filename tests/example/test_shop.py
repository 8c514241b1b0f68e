"""The example shop: whole, provable, the same every time, and what it prints is what its papers and exports say."""

from __future__ import annotations

import csv
import hashlib
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
from pypdf import PdfReader
from sqlalchemy import select

from shopledger.example.building import build
from shopledger.example.shop import Built, file_name
from shopledger.model import Paper, PaperFile
from shopledger.quantities.errors import Trouble
from shopledger.quantities.showing import show_amount
from shopledger.store.export import export
from shopledger.store.ledger import Ledger
from shopledger.store.prove import prove


@pytest.fixture(scope="module")
def exported(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("exported") / "out"
    export(built.ledger, out)
    return out


def _files(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _rows(path: Path) -> Iterator[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def _text(built: Built, number: str) -> str:
    path = built.ledger.parent / "papers" / file_name(number)
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


def test_nothing_is_wrong_in_it(built: Built) -> None:
    assert prove(built.ledger) == []


def test_it_is_the_same_every_time(built: Built, exported: Path, tmp_path: Path) -> None:
    again = build(tmp_path / "again")
    assert again.summary_lines() == built.summary_lines()
    assert _files(again.ledger.parent / "papers") == _files(built.ledger.parent / "papers")
    assert _files(Path(f"{again.ledger}.files")) == _files(Path(f"{built.ledger}.files"))
    export(again.ledger, tmp_path / "out")
    assert _files(tmp_path / "out") == _files(exported)


def test_a_ledger_that_is_there_is_not_built_over(built: Built) -> None:
    with pytest.raises(Trouble, match="there already"):
        build(built.ledger.parent)
    assert (built.ledger.parent / "letter.txt").read_text(encoding="utf-8") == "kept"


def test_its_papers_are_the_ones_that_were_issued(built: Built, example: Ledger) -> None:
    with example.read() as reading:
        issued = reading.session.execute(
            select(Paper.number, PaperFile.sha256).outerjoin(PaperFile, PaperFile.paper_id == Paper.id)
        ).all()
    assert _files(built.ledger.parent / "papers") == {file_name(number): sha256 for number, sha256 in issued}
    assert (
        len({file_name(number).casefold() for number, _sha256 in issued}) == len(issued) == len(built.papers)
    )
    for path in built.papers:
        assert path.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("number", "named"),
    [
        ("AS 2025-002/1", "AS_2025-002_1.pdf"),
        ("SI 2026-003/1.2", "SI_2026-003_1.2.pdf"),
        ('a\\b:c*"?', "a_b_c___.pdf"),
    ],
)
def test_a_number_becomes_a_name_that_is_safe_everywhere(number: str, named: str) -> None:
    assert file_name(number) == named


def test_what_it_prints_stands_on_its_papers(built: Built) -> None:
    figures = {label: show_amount(amount, built.summary.manners) for label, amount in built.summary.figures}
    invoice = _text(built, built.summary.invoice)
    for label in ("Price", "Discount", "Sales tax", "The buyer pays"):
        assert figures[label] in invoice
    assert f"Total with tax {figures['The buyer pays']}" in invoice
    account = _text(built, "AS 2025-001")
    assert built.summary.invoice in account
    for label in ("Price", "Discount", "Commission", "Owner’s costs", "Owner’s net", "Referral, by the shop"):
        assert figures[label] in account
    assert f"Owner’s net {figures['Owner’s net']}" in account
    assert f"Paid out {figures['Paid out']}" in _text(built, "RM 2025-001")
    receipts = [_text(built, number) for number in ("PR 2025-001", "PR 2025-002")]
    assert "10,000.00" in receipts[0]
    assert "14,300.00" in receipts[1]
    assert figures["Paid"] == "24,300.00"


def test_what_it_prints_is_what_the_reckoning_says(built: Built) -> None:
    # Worked by hand: 20% of 22,500.00; the owner bears the bridge, the shop 2% of the price for the referral; 8% tax.
    assert {label: amount.plain() for label, amount in built.summary.figures} == {
        "Price": "22500.00",
        "Discount": "1500.00",
        "Commission": "4500.00",
        "Owner’s costs": "180.00",
        "Owner’s net": "17820.00",
        "Referral, by the shop": "450.00",
        "The shop keeps": "4050.00",
        "Sales tax": "1800.00",
        "The buyer pays": "24300.00",
        "Paid": "24300.00",
        "Settled": "17820.00",
        "Paid out": "17820.00",
    }


def test_what_it_prints_is_what_is_exported(built: Built, exported: Path) -> None:
    balances: Counter[str] = Counter()
    by_entry: Counter[str] = Counter()
    sold: Counter[str] = Counter()
    for row in _rows(exported / "journal.csv"):
        cents = int((Decimal(row["debit"] or "0") - Decimal(row["credit"] or "0")) * 100)
        balances[row["account"]] += cents
        by_entry[row["entry"]] += cents
        if row["source"] == f"{built.summary.invoice} line 1":
            sold[row["account"]] += cents
    assert set(by_entry.values()) == {0}
    totals = {label: amount.minor for label, amount in built.summary.totals}
    assert totals == {
        "Held for owners": -balances["owners_held"],
        "Pending for owners": -balances["owners_pending"],
        "Bank, owners’ money": balances["bank_owners"],
        "Bank, the shop’s": balances["bank"],
    }
    assert min(totals.values()) > 0
    assert totals["Bank, owners’ money"] >= totals["Held for owners"]
    figures = {label: amount.minor for label, amount in built.summary.figures}
    assert sold["buyers"] == figures["The buyer pays"]
    assert -sold["owners_pending"] == figures["Owner’s net"]
    assert -sold["commission"] == figures["Commission"]
    assert -sold["sales_tax"] == figures["Sales tax"]
    assert figures["The shop keeps"] == -sold["commission"] - sold["fees_paid"]


def test_the_lines_it_prints_name_the_sale_and_every_figure(built: Built) -> None:
    lines = built.summary_lines()
    assert "demo.ledger" in lines[0]
    assert any(built.summary.invoice in line for line in lines)
    for label, amount in (*built.summary.figures, *built.summary.totals):
        assert any(
            line.split(label)[-1].strip() == show_amount(amount, built.summary.manners)
            for line in lines
            if label in line
        )
