"""What was measured of an instrument: every reading in the order of days, and the newest of each measure and side.

The newest reading counts: the one taken last and, of one day, the one written down last. A reading that is written down
late, with its own day, doesn't push a newer one aside.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import ColumnElement, bindparam, select

from shopledger.model import Measurement
from shopledger.quantities.measured import Measured, measured_of
from shopledger.rules.measures import SIDES, measure_label, measures_for, method_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

MEASUREMENT = Measurement.__table__
Key = tuple[str, str]
"""A measure and its side."""

_C = MEASUREMENT.c
# Put together once, since every paper about an instrument asks it.
_READINGS = (
    select(
        *(_C.id, _C.measure, _C.side, _C.nm, _C.mg, _C.mdeg, _C.typed, _C.method),
        *(_C.taken_on, _C.taken_by, _C.job_id, _C.stage),
    )
    .where(_C.instrument_id == bindparam("instrument"))
    .order_by(_C.taken_on, _C.id)
)


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading: what was measured on which side, the figure, and how, when and by whom it was taken."""

    id: int
    measure: str
    side: str
    figure: Measured
    method: str
    on: date
    by: str
    job_id: int | None
    stage: str

    @property
    def key(self) -> Key:
        """The measure and its side."""
        return self.measure, self.side

    @property
    def label(self) -> str:
        """The measure and its side in the reader's words, as a line begins."""
        words = measure_label(self.measure, self.side)
        return words[:1].upper() + words[1:]

    @property
    def how(self) -> str:
        """How it was taken, in the reader's words."""
        return method_words(self.method)


def readings_of(reading: Reading, instrument_id: int) -> tuple[Taken, ...]:
    """Give every reading of an instrument, the oldest first."""
    rows = reading.rows(_READINGS, {"instrument": instrument_id})
    return tuple(
        Taken(
            row.id,
            row.measure,
            row.side,
            measured_of(row.nm, row.mg, row.mdeg, row.typed),
            row.method,
            row.taken_on,
            row.taken_by,
            row.job_id,
            row.stage,
        )
        for row in rows
    )


def newest_readings(reading: Reading, instrument_id: int) -> Mapping[Key, Taken]:
    """Give the newest reading of each measure and side of an instrument."""
    return newest_by_key(readings_of(reading, instrument_id))


def newest_by_key(readings: Sequence[Taken]) -> Mapping[Key, Taken]:
    """Give of readings in the order of days the last of each measure and side."""
    return {one.key: one for one in readings}


def in_order(kind: str, keys: Sequence[Key] | Mapping[Key, Any]) -> list[Key]:
    """Give measures and sides in the order of the kind's set; those that are in no set stand last."""
    order = {measure.key: n for n, measure in enumerate(measures_for(kind))}
    sides = list(SIDES)

    def place(key: Key) -> tuple[int, str, int]:
        measure, side = key
        return order.get(measure, len(order)), measure, sides.index(side) if side in sides else len(sides)

    return sorted(keys, key=place)


def is_newest() -> ColumnElement[bool]:
    """Give the condition, in a question to the table of readings, that a row is the newest of its measure and side."""
    table, other = MEASUREMENT.c, MEASUREMENT.alias().c
    newest = (
        select(other.id)
        .where(
            other.instrument_id == table.instrument_id,
            other.measure == table.measure,
            other.side == table.side,
        )
        .order_by(other.taken_on.desc(), other.id.desc())
        .limit(1)
        .correlate(MEASUREMENT)
        .scalar_subquery()
    )
    return table.id == newest
