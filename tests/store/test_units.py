"""Units of work: whole or not at all, numbers without gaps, nothing held while idle, sentences for drivers' errors."""

from __future__ import annotations

import sqlite3
import threading
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import event, func, select, text
from sqlalchemy.exc import IntegrityError

from shopledger.model import Counter, Deed, Entry, Hold, Instrument, Person, SaleLine, Seal, Stay
from shopledger.quantities.errors import Bug, ChangedMeanwhile, Refused, Trouble
from shopledger.rules.journal import Amount
from shopledger.rules.series import SERIES
from shopledger.store.engine import SQLITE_PRAGMAS
from shopledger.store.ledger import Ledger
from shopledger.store.prove import prove
from shopledger.store.trouble import as_ledger_error, broken_constraint
from tests.helpers.ledgers import opened
from tests.helpers.story import DAY, act, book, pair, person, some_entries


def count(ledger: Ledger, record: type) -> int:
    with ledger.read() as reading:
        return int(reading.session.scalar(select(func.count()).select_from(record)) or 0)


def fail(ledger: Ledger) -> None:
    """Do an act that fails after it has written."""
    with act(ledger, "failed") as writing:
        person(writing, "Nobody")
        raise RuntimeError("planted")


def test_left_without_a_commit_nothing_stays(ledger: Ledger) -> None:
    with ledger.write() as writing:
        writing.begin_act(op_id="left", act="told", on=DAY, by="")
        person(writing, "Nobody")
        writing.book(pair(), "a test")
        writing.finish_act("shop", 1, {})
    assert (count(ledger, Entry), count(ledger, Deed), count(ledger, Person)) == (0, 0, 1)
    assert prove(ledger.where) == []


def test_an_error_inside_leaves_nothing(ledger: Ledger) -> None:
    with pytest.raises(RuntimeError, match="planted"):
        fail(ledger)
    assert count(ledger, Person) == 1


def test_numbers_have_no_gaps_under_rollback(ledger: Ledger) -> None:
    numbers = []
    for n in range(12):
        try:
            with act(ledger, f"op-{n}") as writing:
                numbers.append(person(writing, f"Person {n}").number)
                if n % 3 == 1:
                    numbers.pop()
                    raise RuntimeError("planted")
        except RuntimeError:
            pass
    assert numbers == [SERIES["person"].write(0, n) for n in range(1, 9)]
    assert prove(ledger.where) == []


def test_a_series_begins_anew_each_year(ledger: Ledger) -> None:
    given = []
    for op_id, on in (("a", date(2025, 12, 31)), ("b", date(2026, 1, 1)), ("c", date(2025, 12, 31))):
        with ledger.write() as writing:
            writing.begin_act(op_id=op_id, act="told", on=on, by="")
            given.append(writing.number("sale"))
            writing.finish_act("shop", 1, {})
            writing.commit()
    assert given == ["SI 2025-001", "SI 2026-001", "SI 2025-002"]


def test_an_id_sent_twice_books_once(ledger: Ledger) -> None:
    assert book(ledger, "same", *pair()) == 1
    with pytest.raises(ChangedMeanwhile, match="already done"):
        book(ledger, "same", *pair())
    assert (count(ledger, Entry), count(ledger, Deed)) == (1, 1)
    assert prove(ledger.where) == []


@pytest.mark.parametrize("op_id", ["", "a/2"])
def test_an_id_that_could_be_anothers_is_refused(ledger: Ledger, op_id: str) -> None:
    with ledger.write() as writing, pytest.raises(Bug, match="of an act"):
        writing.begin_act(op_id=op_id, act="told", on=DAY, by="")


def test_entries_of_one_act_carry_its_id(ledger: Ledger) -> None:
    with act(ledger, "three") as writing:
        assert [writing.book(pair(n), "a test") for n in (1, 2, 3)] == [1, 2, 3]
    with ledger.read() as reading:
        assert reading.session.scalars(select(Entry.op_id).order_by(Entry.id)).all() == [
            "three",
            "three/2",
            "three/3",
        ]


def test_a_second_reversal_is_refused_in_words(ledger: Ledger) -> None:
    entry = book(ledger, "first", *pair())
    with act(ledger, "undone") as writing:
        writing.reverse(entry, "undone")
        assert [(amount.account, amount.minor) for amount in writing.posted(entry + 1)] == [
            ("bank", -100),
            ("capital", 100),
        ]
    with pytest.raises(Refused, match="already reversed"), act(ledger, "again") as writing:
        writing.reverse(entry, "again")
    assert prove(ledger.where) == []


def test_what_does_not_balance_is_no_booking(ledger: Ledger) -> None:
    with pytest.raises(Bug, match="out of balance"):
        book(ledger, "lost", Amount("bank", 100), Amount("capital", -99))
    with pytest.raises(Bug, match="person"):
        book(ledger, "nobody", Amount("buyers", 100), Amount("capital", -100))
    assert count(ledger, Entry) == 0


def test_nothing_is_written_after_an_act_was_finished(ledger: Ledger) -> None:
    with ledger.write() as writing:
        writing.begin_act(op_id="late", act="told", on=DAY, by="")
        writing.finish_act("shop", 1, {})
        person(writing, "Too Late")
        with pytest.raises(Bug, match="finish_act"):
            writing.commit()
    with ledger.write() as writing, pytest.raises(Bug, match="begin_act"):
        writing.finish_act("shop", 1, {})
    assert count(ledger, Person) == 1


def test_rules_of_the_database_are_told_in_words(told_ledger: Ledger) -> None:
    with pytest.raises(Refused, match="already sold"), act(told_ledger, "sold") as writing:
        writing.session.get_one(SaleLine, 2).stay_id = 1
    with pytest.raises(Refused, match="already in the shop"), act(told_ledger, "here") as writing:
        writing.add(Stay(number="TI x", instrument_id=1, reason="repair", came_in_on=DAY))
    with pytest.raises(Refused, match="already on hold"), act(told_ledger, "held") as writing:
        writing.add(Hold(stay_id=3, person_id=2, since=DAY, until=DAY))
    with pytest.raises(Bug, match="database refused"), act(told_ledger, "kind") as writing:
        writing.add(Instrument(number="x", kind="kazoo"))
    with pytest.raises(Bug, match="database refused"), act(told_ledger, "number") as writing:
        writing.add(Person(number="P 001", name="Twice"))
    assert prove(told_ledger.where) == []


@pytest.mark.parametrize(
    ("statement", "name"),
    [
        ("UPDATE sale_line SET stay_id = 1 WHERE id = 2", "uq_sale_line_live"),
        ("INSERT INTO account (id, code) VALUES (99, 'bank')", "uq_account_code"),
        ("UPDATE person SET number = 'P 001'", "uq_person_number"),
        ("UPDATE fitting SET instrument_id = 1, part = 'pegs'; INSERT INTO fitting (id, instrument_id, part, what) "
         "VALUES (9, 1, 'pegs', 'x')", "uq_fitting_instrument_id_part"),
        ("UPDATE payment SET minor = 0", "ck_payment_above_zero"),
    ],
)  # fmt: skip
def test_the_broken_constraint_is_known_by_its_name(told_ledger: Ledger, statement: str, name: str) -> None:
    *before, last = statement.split("; ")
    with told_ledger.engine.connect() as connection:
        for one in before:
            connection.execute(text(one))
        with pytest.raises(IntegrityError) as refusal:
            connection.execute(text(last))
    cause = refusal.value.orig
    assert cause is not None
    assert broken_constraint(cause, str(cause)) == name


def test_an_error_that_names_nothing_is_no_rule() -> None:
    error = sqlite3.IntegrityError("FOREIGN KEY constraint failed")
    assert broken_constraint(error, str(error)) == ""
    assert broken_constraint(error, "UNIQUE constraint failed: nowhere.column") == ""


def test_a_full_disk_is_told(file_ledger: Ledger) -> None:
    # A limit on the file's pages stands for the disk: SQLite says SQLITE_FULL for both.
    @event.listens_for(file_ledger.engine, "connect")
    def on_connected(connection: sqlite3.Connection, _record: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages + 1}")

    file_ledger.engine.dispose()
    with pytest.raises(Trouble, match="disk is full"), act(file_ledger, "too-much") as writing:
        person(writing, "Full", notes="x" * 200_000)
    assert count(file_ledger, Person) == 1


def test_a_locked_ledger_is_told(file_place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(SQLITE_PRAGMAS, "busy_timeout", "20")  # type: ignore[arg-type]
    with opened(file_place) as ledger:
        other = sqlite3.connect(file_place, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(Trouble, match="in use by another program"):
            book(ledger, "waiting", *pair())
        assert count(ledger, Entry) == 0  # reading goes on beside a writer that has not begun to commit
        other.execute("ROLLBACK")
        other.close()
        assert book(ledger, "waiting", *pair()) == 1


def test_a_ledger_that_may_only_be_read_is_told(told_file: Path) -> None:
    from shopledger.store.engine import make_engine

    engine = make_engine(told_file, mode="ro")
    with engine.connect() as connection, pytest.raises(Exception, match="readonly") as refusal:
        connection.execute(text("UPDATE person SET name = 'x'"))
    engine.dispose()
    assert "may write to it" in as_ledger_error(refusal.value, told_file).sentence()


def test_whatever_a_driver_says_becomes_a_sentence() -> None:
    for error in (sqlite3.OperationalError("planted"), sqlite3.DatabaseError(""), ValueError("planted")):
        sentence = as_ledger_error(error, "a.ledger").sentence()
        assert sentence
        assert "{" not in sentence


def test_no_connection_is_in_a_transaction_while_idle(told_ledger: Ledger) -> None:
    with told_ledger.read() as reading:
        reading.session.scalars(select(Person)).all()
    book(told_ledger, "one", *pair())
    with pytest.raises(RuntimeError):
        fail(told_ledger)
    driver = told_ledger.engine.raw_connection()
    try:
        if told_ledger.engine.dialect.name == "sqlite":
            assert not driver.driver_connection.in_transaction  # type: ignore[union-attr]
        else:
            assert driver.driver_connection.info.transaction_status.name == "IDLE"  # type: ignore[union-attr]
    finally:
        driver.close()
    assert told_ledger.engine.pool.checkedout() == 0  # type: ignore[attr-defined]


def test_reading_blocks_nobody_after_it_ended(file_ledger: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    with file_ledger.read() as reading:
        reading.session.scalars(select(Person)).all()
    other = sqlite3.connect(file_ledger.where, isolation_level=None, timeout=0)
    other.execute("BEGIN EXCLUSIVE")
    other.execute("ROLLBACK")
    other.close()


def test_a_reading_sees_one_snapshot(server_ledger: Ledger) -> None:
    some_entries(server_ledger, 2)
    with server_ledger.read() as reading:
        first = reading.session.scalar(select(func.count()).select_from(Entry))
        book(server_ledger, "meanwhile", *pair())
        assert reading.session.scalar(select(func.count()).select_from(Entry)) == first == 2
    assert count(server_ledger, Entry) == 3


def test_a_reading_writes_nothing(server_ledger: Ledger) -> None:
    with pytest.raises(Trouble), server_ledger.read() as reading:
        reading.session.execute(text("UPDATE person SET name = 'x'"))


def test_a_writer_takes_the_lock_at_once(file_ledger: Ledger) -> None:
    with file_ledger.write() as writing:
        writing.session.scalar(select(func.count()).select_from(Person))
        other = sqlite3.connect(file_ledger.where, isolation_level=None, timeout=0)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        other.close()


def test_the_durability_that_promises_need(file_ledger: Ledger) -> None:
    with file_ledger.engine.connect() as connection:
        wanted = {"foreign_keys": 1, "recursive_triggers": 1, "synchronous": 3, "secure_delete": 1, "fullfsync": 1,
                  "cell_size_check": 1, "busy_timeout": 10000}  # fmt: skip
        there = {name: connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in wanted}
        assert there == wanted
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "delete"


def test_threads_have_units_of_their_own(ledger: Ledger) -> None:
    failed: list[BaseException] = []

    def work(worker: int) -> None:
        try:
            for n in range(6):
                book(ledger, f"{worker}-{n}", *pair(worker + 1))
                with ledger.read() as reading:
                    assert reading.session.scalar(select(func.max(Seal.entry_id))) is not None
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=work, args=(worker,)) for worker in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert count(ledger, Entry) == 24
    assert prove(ledger.where) == []


def test_the_first_acts_of_two_windows_meet(server_ledger: Ledger) -> None:
    # The row that queues writers is there from the beginning: neither inserts it.
    with server_ledger.read() as reading:
        assert reading.session.get(Counter, ("deed", 0)) is not None
