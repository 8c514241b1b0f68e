"""How long the page of the day takes on a large shop, beside its own questions asked through `sqlite3` alone."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sqlalchemy import event

from shopledger.queries import today
from shopledger.store.ledger import Ledger, open_ledger
from tests.bench.large import large_ledger
from tests.bench.measuring import Ratio, compare_worst, seconds

RUNS = 200


def page_of_the_day() -> Ratio:
    """Compare the page of the day with its plain SQL, on 100,000 instruments and 300,000 acts."""
    with TemporaryDirectory() as folder:
        where = large_ledger(Path(folder))
        with open_ledger(where) as ledger, closing(sqlite3.connect(where)) as bare:
            asked = _listened(ledger)
            return compare_worst(
                "the page of the day ÷ its plain SQL (p99 of 200)",
                lambda: seconds(lambda: _ours(ledger)),
                lambda: seconds(lambda: [bare.execute(words, values).fetchall() for words, values in asked]),
                bound=1.5,
                runs=RUNS,
            )


def _ours(ledger: Ledger) -> None:
    with ledger.read() as reading:
        today.sections(reading)


def _listened(ledger: Ledger) -> list[tuple[str, Any]]:
    """Give the questions that the page asks, as the driver is given them."""
    asked: list[tuple[str, Any]] = []

    def listen(_connection: Any, _cursor: Any, words: str, values: Any, *_rest: Any) -> None:
        if words.startswith(("SELECT", "WITH")):
            asked.append((words, values))

    event.listen(ledger.engine, "before_cursor_execute", listen)
    _ours(ledger)
    event.remove(ledger.engine, "before_cursor_execute", listen)
    return asked
