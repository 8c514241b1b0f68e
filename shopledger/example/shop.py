"""The example shop: a ledger of two years told through the acts, its papers beside it, and what to look at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from sqlalchemy import select

from shopledger.example import (
    agreements,
    away,
    counts,
    jobs,
    materials,
    measuring,
    sales,
    trials,
    wanted,
    workbench,
)
from shopledger.example.agreed import AGREED
from shopledger.example.bows import BOWS
from shopledger.example.cases import CASES
from shopledger.example.cellos import CELLOS
from shopledger.example.clock import Chance, Clock
from shopledger.example.gambas import GAMBAS
from shopledger.example.haste import Printers, unflushed
from shopledger.example.people import PEOPLE
from shopledger.example.summary import Summary, summary_of
from shopledger.example.telling import CURRENCY, Teller, Thread, day, weave
from shopledger.example.things import come_in
from shopledger.example.violins import VIOLINS_AND_VIOLAS
from shopledger.example.workers import Workers
from shopledger.model import Paper, PaperFile
from shopledger.store.ledger import Ledger
from shopledger.store.new_ledger import NewShop, create_ledger

LEDGER = "demo.ledger"
PAPERS = "papers"

FIRST_DAY = day("2024-11-15")
LAST_DAY = day("2026-11-24")

SHOP = NewShop(
    name="Elias Merrow, Strings",
    address="3 Ropewalk\nSaltmere",
    phone="555-0100",
    email="bench@example.org",
    currency=CURRENCY,
    locale="en_GB",
    time_zone="Europe/Lisbon",
    tax_scheme="sales_tax",
    tax_rate=Fraction(8, 100),
    tax_from=FIRST_DAY,
    tax_source="Invented for the example: Saltmere harbour rate",
)


@dataclass(frozen=True, slots=True)
class Built:
    """The example shop as it was built."""

    ledger: Path
    papers: tuple[Path, ...]
    summary: Summary

    def summary_lines(self) -> list[str]:
        """Give lines that say what was built, the figures of one sale, and what is held for owners."""
        return self.summary.lines(self.ledger, len(self.papers))


def tell(directory: Path, workers: Workers) -> Built:
    """Tell the story of the shop into a new ledger in a folder, and write its papers beside it.

    Raises: Trouble: a ledger is there already, or the folder can't be written.
    """
    clock = Clock(FIRST_DAY)
    with create_ledger(directory / LEDGER, SHOP, clock=clock, randomness=Chance("Saltmere")) as ledger:
        unflushed(ledger, directory / LEDGER)
        printers = Printers(workers)
        teller = Teller(ledger, clock, printers)
        weave(teller, _threads(teller))
        printers.keep_all(ledger)
        papers = tuple(_papers(ledger, directory / PAPERS))
        return Built(directory / LEDGER, papers, summary_of(ledger, teller.sales["figures"], LAST_DAY))


def _threads(teller: Teller) -> Iterator[Thread]:
    for thing in (*CELLOS, *GAMBAS, *VIOLINS_AND_VIOLAS, *BOWS, *CASES):
        yield come_in(teller, thing)
    for agreed in AGREED:
        yield agreements.agree(teller, agreed)
    told = (
        *workbench.THREADS,
        *agreements.THREADS,
        *sales.THREADS,
        *away.THREADS,
        *jobs.THREADS,
        *trials.THREADS,
        *counts.THREADS,
        *wanted.THREADS,
    )
    known = (materials.what_things_are_made_of, measuring.what_was_measured_again)
    for thread in (*told, *known, _everyone_else):
        yield thread(teller)


def _everyone_else(teller: Teller) -> Thread:
    """Add whoever has only asked so far."""
    yield LAST_DAY
    for someone in PEOPLE:
        teller.who(someone.key)


def file_name(number: str) -> str:
    """Give the name of a paper's file: its number, safe on every system."""
    safe = "".join(letter if letter.isalnum() or letter in "-." else "_" for letter in number)
    return f"{safe}.pdf"


def _papers(ledger: Ledger, folder: Path) -> Iterator[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    with ledger.read() as reading:
        rows = reading.session.execute(
            select(Paper.number, PaperFile.sha256)
            .join(PaperFile, PaperFile.paper_id == Paper.id)
            .order_by(Paper.id)
        ).all()
    for number, sha256 in rows:
        path = folder / file_name(number)
        path.write_bytes(ledger.files.get(sha256))
        yield path
