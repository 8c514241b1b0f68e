"""How much an act costs beside the same rows written by hand through `sqlite3`.

The rows are those that the act itself writes: its statements are listened to once and said again on a copy of the same
file, with the same settings for durability and the same triggers.
"""

from __future__ import annotations

import gc
import os
import shutil
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sqlalchemy import event, text

from shopledger.acts.agreeing import AGREE_TERMS, AgreeTerms
from shopledger.acts.declare import Act, Form, new_op_id
from shopledger.acts.doing import _once, do
from shopledger.acts.owning import OwnerRow
from shopledger.acts.people import ADD_PERSON, AddPerson
from shopledger.acts.selling import SELL
from shopledger.acts.selling_forms import Sell, SellLine
from shopledger.acts.taking_in import TAKE_IN, TakeIn
from shopledger.quantities.money import Money
from shopledger.store.engine import SQLITE_PRAGMAS
from shopledger.store.ledger import Ledger, open_ledger
from shopledger.store.new_ledger import NewShop, create_ledger
from tests.bench.measuring import Ratio, compare, seconds

DAY = date(2026, 3, 4)


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement as the driver was given it."""

    words: str
    values: Any
    many: bool


def act_beside_rows() -> Ratio:
    """Compare selling one consigned instrument with its rows written by hand."""
    with TemporaryDirectory() as folder:
        before = Path(folder) / "before.ledger"
        form = _shop_with_one_cello(before)
        place = Path(folder) / "shop.ledger"
        shutil.copy(before, place)
        with open_ledger(place) as ledger:
            rows = _listen(ledger, lambda: _once(ledger, SELL, form))
            # As the window does once it stands: what is loaded for good is not gone through for garbage.
            gc.collect()
            gc.freeze()
            return compare(
                f"an act (sell) ÷ its {len(rows)} statements by hand",
                lambda: _act(ledger, before, place, SELL, form),
                lambda: _by_hand(before, Path(folder) / "by_hand.ledger", rows),
                bound=5,
                runs=21,
                warm=3,
            )


def _shop_with_one_cello(where: Path) -> Form:
    """Make a ledger in which one consigned cello waits for its buyer, and give the form that sells it."""
    shop = NewShop(name="Bench Shop", currency="USD", address="1 Quay Street")
    with create_ledger(where, shop) as ledger:
        owner = do(ledger, ADD_PERSON, AddPerson(op_id=new_op_id(), on=DAY, person={"name": "An Owner"})).id
        buyer = do(ledger, ADD_PERSON, AddPerson(op_id=new_op_id(), on=DAY, person={"name": "A Buyer"})).id
        cello = do(
            ledger,
            TAKE_IN,
            TakeIn(
                op_id=new_op_id(),
                on=DAY,
                instrument={"kind": "cello", "maker": "Bench Maker"},
                owners=(OwnerRow(person_id=owner),),
                stay={"reason": "to_sell", "condition": "as new", "insured_value": Money(1_200_000, "USD")},
            ),
        ).id
        terms = {
            "asking": Money(1_200_000, "USD"),
            "commission_rule": "rate",
            "commission_rate": Fraction(1, 5),
            "ends_on": DAY + timedelta(days=365),
        }
        do(
            ledger,
            AGREE_TERMS,
            AgreeTerms(op_id=new_op_id(), on=DAY, instrument_id=cello, terms=terms, signed_by="An Owner"),
        )
    line = SellLine(instrument_id=cello, price=Money(1_125_000, "USD"))
    return Sell(op_id=new_op_id(), on=DAY, buyer_id=buyer, lines=(line,))


def _listen(ledger: Ledger, action: Callable[[], object]) -> list[Statement]:
    """Do the action and give the statements by which it wrote."""
    heard: list[Statement] = []

    def on_statement(_c: Any, _cursor: Any, words: str, values: Any, _context: Any, many: bool) -> None:
        if words.lstrip().upper().startswith(("INSERT", "UPDATE", "DELETE")):
            # Rows written in batches that give their keys back come as one set of values, though they are many.
            heard.append(Statement(words, values, many and isinstance(values, list)))

    event.listen(ledger.engine, "before_cursor_execute", on_statement)
    try:
        action()
    finally:
        event.remove(ledger.engine, "before_cursor_execute", on_statement)
    return heard


def _act(ledger: Ledger, before: Path, place: Path, act: Act[Any], form: Form) -> float:
    """Put the ledger back to what it was, untimed, and give how long the act takes to be committed."""
    fresh = place.with_suffix(".fresh")
    shutil.copy(before, fresh)
    os.replace(fresh, place)
    with ledger.read() as reading:
        # The replaced file is noticed and opened anew before the clock starts.
        reading.session.execute(text("SELECT count(*) FROM person"))
    return seconds(lambda: _once(ledger, act, form))


def _by_hand(before: Path, place: Path, rows: list[Statement]) -> float:
    """Give how long it takes to write the rows in one transaction of a connection that is open already."""
    shutil.copy(before, place)
    connection = sqlite3.connect(place, isolation_level=None)
    try:
        for name, value in SQLITE_PRAGMAS.items():
            connection.execute(f"PRAGMA {name}={value}")
        connection.execute("SELECT count(*) FROM person").fetchall()
        return seconds(lambda: _write(connection, rows))
    finally:
        connection.close()


def _write(connection: sqlite3.Connection, rows: list[Statement]) -> None:
    """Say the statements again and commit."""
    connection.execute("BEGIN IMMEDIATE")
    for row in rows:
        if row.many:
            connection.executemany(row.words, row.values)
        else:
            connection.execute(row.words, row.values).fetchall()
    connection.execute("COMMIT")
