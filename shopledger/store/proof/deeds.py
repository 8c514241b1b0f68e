"""The change record proved: its chain, the digests of what still stands, and rows as their last change left them."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import inspect, select

from shopledger.model import Change, ChangeValue, Counter, Deed, Entry, Record, Seal, tables
from shopledger.quantities.words import N_
from shopledger.rules.journal import FIRST_HASH
from shopledger.store.changes import change_line, digest_of, plain
from shopledger.store.proof.finding import Proof
from shopledger.store.unit import deed_hash, seal_line

AT_THE_START = frozenset({"shop", "dated_rate"})
"""Records that a new ledger is furnished with before its first act."""


def prove_deeds(proof: Proof) -> None:
    """Go through the acts in their order, each with the hash before it, the entries it booked and what it changed."""
    booked = _booked(proof)
    last, before = 0, FIRST_HASH
    columns = Deed.__table__.c
    changes = _changes(proof)
    for deed in proof.rows(select(*columns).order_by(Deed.id)):
        where = str(deed.id)
        if deed.id != last + 1:
            proof.wrong(
                "deed",
                where,
                N_("Act {number} follows act {last}: those between are missing."),
                number=where,
                last=str(last),
            )
        last = deed.id
        lines = [*booked.pop(deed.op_id, ()), *changes.of(deed.id)]
        if deed_hash(before, deed._asdict(), lines) != deed.hash:
            proof.wrong(
                "deed",
                where,
                N_(
                    "Act {number} ({act}) is not what its hash says: it, its entries, its changes or the act before "
                    "were changed."
                ),
                number=where,
                act=deed.act,
            )
        before = deed.hash
    for lines in booked.values():
        for line in lines:
            number = line.split("\t")[1]
            proof.wrong("entry", number, N_("Entry {number} belongs to no act on record."), number=number)
    counted = proof.connection.execute(
        select(Counter.last).where(Counter.series == "deed", Counter.year == 0)
    ).scalar()
    if (counted or 0) != last:
        proof.wrong(
            "deed",
            "",
            N_("{counted} acts were counted, the last on record is {last}."),
            counted=counted or 0,
            last=last,
        )


def _booked(proof: Proof) -> dict[str, list[str]]:
    """Give what deeds' hashes state of entries, by the id of the deed."""
    found: dict[str, list[str]] = defaultdict(list)
    for number, op_id, sealed in proof.rows(
        select(Entry.id, Entry.op_id, Seal.hash).join(Seal, Seal.entry_id == Entry.id).order_by(Entry.id)
    ):
        found[op_id.partition("/")[0]].append(seal_line(number, sealed))
    return found


class _Changes:
    """What deeds' hashes state of changes; both are read in the order of the deeds' numbers, side by side."""

    def __init__(self, proof: Proof, rows: Iterator[Any]) -> None:
        self._proof = proof
        self._rows = rows
        self._next = next(rows, None)

    def of(self, deed_id: int) -> list[str]:
        """Give the lines of a deed's changes, each compared with its values while they still stand."""
        lines = []
        while self._next is not None and self._next.deed_id <= deed_id:
            if self._next.deed_id == deed_id:  # one of a deed that isn't there is a broken reference
                _prove_change(self._proof, self._next)
                lines.append(change_line(self._next.record, self._next.row_id, self._next.digest))
            self._next = next(self._rows, None)
        return lines


def _changes(proof: Proof) -> _Changes:
    question = (
        select(
            Change.deed_id,
            Change.record,
            Change.row_id,
            Change.digest,
            ChangeValue.change_id,
            ChangeValue.salt,
            ChangeValue.values.label("told"),
        )
        .outerjoin(ChangeValue, ChangeValue.change_id == Change.id)
        .order_by(Change.deed_id, Change.id)
    )
    return _Changes(proof, iter(proof.rows(question)))


def _prove_change(proof: Proof, change: Any) -> None:
    where = f"{change.record} {change.row_id}"
    if change.change_id is None:
        proof.wrong("change", where, N_("A change of {row} has lost the row of its values."), row=where)
    elif (change.salt is None) != (change.told is None):
        proof.wrong("change", where, N_("A change of {row} was emptied by halves."), row=where)
    elif change.told is not None and digest_of(change.salt, change.told) != change.digest:
        proof.wrong(
            "change", where, N_("The values of a change of {row} are not what its digest says."), row=where
        )


def prove_records(proof: Proof) -> None:
    """Compare each kept record with what the acts wrote: a row changed by anything else is noticed."""
    wanted = _as_written(proof)
    tables()
    for mapper in Record.registry.mappers:
        record = mapper.class_
        if record.kept:
            _prove_record(proof, record, wanted.pop(record.__tablename__, {}))
    for table in wanted:
        proof.wrong(
            "change", table, N_("The change record speaks of {table}, which isn't kept in it."), table=table
        )


Row = dict[str, Any] | None
"""A row's values by attribute, None where it was taken away; Ellipsis stands for what was erased."""


def _as_written(proof: Proof) -> dict[str, dict[int, Row]]:
    wanted: dict[str, dict[int, Row]] = defaultdict(dict)
    question = (
        select(Change.record, Change.row_id, ChangeValue.values.label("told"))
        .join(ChangeValue, ChangeValue.change_id == Change.id)
        .order_by(Change.id)
    )
    for record, row_id, told in proof.rows(question):
        rows = wanted[record]
        if told is None:  # erased: from here on only what is written later is known
            rows[row_id] = {}
            continue
        after = json.loads(told)["after"]
        rows[row_id] = None if after is None else {**(rows.get(row_id) or {}), **after}
    return wanted


def _prove_record(proof: Proof, record: type[Record], wanted: Mapping[int, Row]) -> None:
    names = {each.columns[0].name: each.key for each in inspect(record).column_attrs}
    table = record.__tablename__
    seen = set()
    for row in proof.rows(select(*record.__table__.columns)):
        key = row.id
        seen.add(key)
        where = f"{table} {key}"
        told = wanted.get(key)
        if told is None:
            if table not in AT_THE_START and not (table == "person" and key == proof.shop_person):
                proof.wrong("record", where, N_("{row} is there, but no act wrote it."), row=where)
            continue
        _prove_row(proof, where, {names[name]: value for name, value in row._mapping.items()}, told)
    for key in sorted(key for key, told in wanted.items() if told is not None and key not in seen):
        where = f"{table} {key}"
        proof.wrong("record", where, N_("{row} was written by an act, but isn't there."), row=where)


def _prove_row(proof: Proof, where: str, row: Mapping[str, Any], told: Mapping[str, Any]) -> None:
    other = [name for name, value in row.items() if name in told and plain(value) != told[name]]
    if other:
        proof.wrong(
            "record",
            where,
            N_("{row} is not as the acts left it: {columns} was changed by something else."),
            row=where,
            columns=", ".join(other),
        )
