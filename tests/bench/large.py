"""A large shop for the benches: the example shop told many times over, most of it done with, some of it still open.

Rows are copied in SQL with their keys moved on, since telling so many acts one after another would take days. What is
copied keeps the shapes, the indexes and the guards of a real ledger; journal, papers and change records stay as they
are.
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, Table, UniqueConstraint, text

from shopledger.example.building import build
from shopledger.model import tables
from shopledger.store.engine import for_writing
from shopledger.store.guards import put_up, take_down
from shopledger.store.ledger import open_ledger

LEFT_AS_IT_IS = frozenset(
    {
        "account", "change", "change_value", "content", "counter", "dated_rate", "deed", "entry", "line_entry", "paper",
        "paper_file", "posting", "safe_copy", "seal", "search", "shop",
    }
)  # fmt: skip
OPEN_ONE_IN = 100
"""Of so many copies one is left with all that is open in it."""


def large_ledger(folder: Path, instruments: int = 100_000, acts: int = 300_000) -> Path:
    """Give a ledger with at least so many instruments and so many acts on record."""
    where = folder / "large" / "demo.ledger"
    build(where.parent)
    with open_ledger(where) as ledger, for_writing(ledger.engine).connect() as connection, connection.begin():
        take_down(connection)
        connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
        count = connection.scalar(text("SELECT count(*) FROM instrument"))
        copies = -(-instruments // int(count or 1)) - 1
        moved = {table.name: _moved(connection, table) for table in _copied()}
        for table in _copied():
            _copy(connection, table, copies, moved)
        _close(connection, moved)
        _act_often(connection, acts)
        put_up(connection)
    return where


def _copied() -> list[Table]:
    return [table for table in tables().sorted_tables if table.name not in LEFT_AS_IT_IS]


def _moved(connection: Connection, table: Table) -> int:
    """Give by how much the keys of each copy lie above those of the one before."""
    key = next(iter(table.primary_key.columns)).name
    return int(connection.scalar(text(f"SELECT max({key}) FROM {table.name}")) or 0) + 1


def _copy(connection: Connection, table: Table, copies: int, moved: dict[str, int]) -> None:
    values = []
    unique = {
        next(iter(one.columns)).name
        for one in table.constraints
        if isinstance(one, UniqueConstraint) and len(one.columns) == 1
    }
    for column in table.columns:
        to = next(
            (key.column.table.name for key in column.foreign_keys), table.name if column.primary_key else ""
        )
        if to in moved:
            values.append(f"{column.name} + k * {moved[to]}")
        elif column.name in unique and column.info.get("field") is not None:
            values.append(f"{column.name} || '/' || k")
        else:
            values.append(column.name)
    names = ", ".join(column.name for column in table.columns)
    connection.execute(
        text(
            f"INSERT INTO {table.name} ({names}) WITH RECURSIVE copy(k) AS "
            f"(SELECT 1 UNION ALL SELECT k + 1 FROM copy WHERE k < {copies}) "
            f"SELECT {', '.join(values)} FROM {table.name}, copy"
        )
    )


def _close(connection: Connection, moved: dict[str, int]) -> None:
    """Have all done in the copies but one in so many: paid, settled, collected, given back, agreed for long."""

    def done(table: str, change: str) -> None:
        connection.execute(
            text(
                f"UPDATE {table} SET {change} WHERE id >= {moved[table]} AND (id / {moved[table]}) % {OPEN_ONE_IN} <> 0"
            )
        )

    paid = "(SELECT coalesce(sum({0}.minor), 0) FROM {0}_share {0} WHERE {0}.sale_line_id = sale_line.id)"
    done("payment", "cleared_on = coalesce(cleared_on, received_on), bounced_on = NULL")
    done("sale_line", f"buyer_pays = {paid.format('payment')} - {paid.format('refund')}, returned_on = NULL")
    done(
        "line_owner",
        "net = (SELECT coalesce(sum(share.minor - share.taken_back), 0) FROM settlement_share share JOIN settlement ON "
        "settlement.id = share.settlement_id WHERE settlement.sale_line_id = line_owner.sale_line_id AND "
        "share.person_id = line_owner.person_id)",
    )
    done(
        "settlement_share",
        "set_off = minor - taken_back - (SELECT coalesce(sum(minor), 0) FROM payout_share WHERE "
        "settlement_share_id = settlement_share.id)",
    )
    done("job", "ended_on = coalesce(ended_on, opened_on), ending = coalesce(ending, 'stays')")
    done("hold", "ended_on = coalesce(ended_on, until)")
    done("terms", "ends_on = date(ends_on, '+20 years')")
    done(
        "trial_line",
        "decided_on = coalesce(decided_on, '2026-01-01'), decision = coalesce(decision, 'returned')",
    )
    done("trial", "ended_on = coalesce(ended_on, due_on)")
    done("placing", "ended_on = coalesce(ended_on, until), ending = coalesce(ending, 'back')")
    done("shipment", "arrived_on = coalesce(arrived_on, sent_on)")
    done("wish", "ended_on = coalesce(ended_on, asked_on), ending = coalesce(ending, 'other')")


def _act_often(connection: Connection, acts: int) -> None:
    """Have so many deeds on record; their hashes are those of the first, since nothing here is proved."""
    there, last = connection.execute(text("SELECT count(*), max(id) FROM deed")).one()
    connection.execute(
        text(
            "INSERT INTO deed SELECT id + k * :last, op_id || '/' || k, act, by, booked_on, recorded_at, subject, "
            "subject_id, outcome, hash FROM deed, (WITH RECURSIVE copy(k) AS (SELECT 1 UNION ALL SELECT k + 1 "
            "FROM copy WHERE k < :copies) SELECT k FROM copy)"
        ),
        {"last": last, "copies": -(-acts // there)},
    )
