"""Several at once: no number missing or double, nothing sold twice, every total the same, on a server and on a file.

The short form of promise 8. Whoever comes second is refused by the database's own index, told in words.
"""

from __future__ import annotations

import subprocess
import sys
import textwrap
import threading
from collections import Counter as Tally
from pathlib import Path

import pytest
from sqlalchemy import func, select, text

from shopledger.model import Entry, Instrument, Posting, Sale, SaleLine, Stay
from shopledger.quantities.errors import Refused
from shopledger.rules.series import SERIES
from shopledger.store.ledger import Ledger
from shopledger.store.prove import prove
from tests.helpers.ledgers import opened
from tests.helpers.story import DAY, act, pair

WRITERS = 8
INSTRUMENTS = 6


def sell(ledger: Ledger, op_id: str, stay_id: int) -> str:
    """Try to sell an instrument without looking first: the index alone decides."""
    try:
        with act(ledger, op_id) as writing:
            sale = writing.add(Sale(number=writing.number("sale"), buyer_id=1, sold_on=DAY))
            writing.add(
                SaleLine(sale_id=sale.id, n=1, kind="own", stay_id=stay_id, what="x", asking=1, price=1, buyer_pays=1,
                         reckoned_from="{}")
            )  # fmt: skip
            writing.book(pair(), sale.number)
    except Refused as refusal:
        assert "already sold" in refusal.sentence()
        return "refused"
    return "sold"


def stock(ledger: Ledger) -> list[int]:
    with act(ledger, "stock") as writing:
        stays = []
        for _n in range(INSTRUMENTS):
            instrument = writing.add(Instrument(number=writing.number("instrument"), kind="violin"))
            stay = writing.add(
                Stay(number=writing.number("stay"), instrument_id=instrument.id, reason="own", came_in_on=DAY)
            )
            stays.append(stay.id)
    return stays


def sound(ledger: Ledger, sold: int) -> None:
    with ledger.read() as reading:
        numbers = reading.session.scalars(select(Sale.number).order_by(Sale.number)).all()
        assert numbers == [SERIES["sale"].write(2025, n) for n in range(1, sold + 1)]
        live = select(func.count()).select_from(SaleLine).where(SaleLine.returned_on.is_(None))
        assert reading.session.scalar(live) == sold
        entries = reading.session.scalars(select(Entry.id).order_by(Entry.id)).all()
        assert entries == list(range(1, len(entries) + 1))
    # The sales of this test post no figures of their own, so only these are compared.
    kinds = {"entry", "chain", "deed", "number", "stay", "record", "guard", "reference"}
    assert not [wrong for wrong in prove(ledger.where) if wrong.what in kinds]


def test_many_writers_on_a_server(server_place: str) -> None:
    with opened(server_place) as ledger:
        stays = stock(ledger)
        tally: Tally[str] = Tally()
        failed: list[BaseException] = []
        totals: set[int] = set()
        over = threading.Event()

        def write(worker: int) -> None:
            try:
                for n, stay in enumerate(stays[worker % len(stays) :] + stays[: worker % len(stays)]):
                    tally[sell(ledger, f"{worker}-{n}", stay)] += 1
            except BaseException as error:
                failed.append(error)

        def look() -> None:
            try:
                while not over.is_set():
                    with ledger.read() as reading:
                        totals.add(int(reading.session.scalar(select(func.sum(Posting.amount))) or 0))
            except BaseException as error:
                failed.append(error)

        reader = threading.Thread(target=look)
        writers = [threading.Thread(target=write, args=(worker,)) for worker in range(WRITERS)]
        for thread in (reader, *writers):
            thread.start()
        for thread in writers:
            thread.join()
        over.set()
        reader.join()
        assert failed == []
        assert tally == {"sold": INSTRUMENTS, "refused": INSTRUMENTS * (WRITERS - 1)}
        assert totals <= {0}
        sound(ledger, INSTRUMENTS)


def test_the_index_is_what_decides(server_place: str) -> None:
    """The planted fault: without the index the same tries sell an instrument twice, and the proof says so."""
    with opened(server_place) as ledger:
        stays = stock(ledger)
        with ledger.engine.begin() as connection:
            connection.execute(text("DROP INDEX uq_sale_line_live"))
        assert [sell(ledger, f"twice-{n}", stays[0]) for n in range(2)] == ["sold", "sold"]
        assert {"stay", "schema"} <= {wrong.what for wrong in prove(server_place)}


CHILD = """
    import sys
    from pathlib import Path
    from tests.helpers.ledgers import opened
    from tests.store.test_contention import sell

    worker, stays = sys.argv[2], [int(stay) for stay in sys.argv[3].split(",")]
    sys.stdin.readline()
    with opened(Path(sys.argv[1])) as ledger:
        for n, stay in enumerate(stays):
            print(sell(ledger, f"{worker}-{n}", stay), flush=True)
"""


def test_three_programs_on_one_file(file_place: Path) -> None:
    with opened(file_place) as ledger:
        stays = stock(ledger)
    asked = ",".join(str(stay) for stay in stays)
    children = [
        subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(CHILD), str(file_place), str(worker), asked],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            cwd=Path(__file__).parents[2],
            text=True,
        )
        for worker in range(3)
    ]
    tally: Tally[str] = Tally()
    for child in children:
        assert child.stdin is not None
        child.stdin.write("\n")
        child.stdin.flush()
    for child in children:
        said, _errors = child.communicate()
        assert child.returncode == 0
        tally.update(said.split())
    assert tally == {"sold": INSTRUMENTS, "refused": INSTRUMENTS * 2}
    with opened(file_place) as ledger:
        sound(ledger, INSTRUMENTS)


@pytest.mark.parametrize("planted", [True, False])
def test_a_number_taken_outside_the_queue_would_be_noticed(file_place: Path, planted: bool) -> None:
    """The planted fault: a number that is read, not counted, is given twice or leaves a gap that the proof names."""
    with opened(file_place) as ledger:
        with act(ledger, "one") as writing:
            number = "SI 2025-002" if planted else writing.number("sale")
            writing.add(Sale(number=number, buyer_id=1, sold_on=DAY))
        assert ("number" in {wrong.what for wrong in prove(file_place)}) == planted
