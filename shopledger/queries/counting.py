"""Counts of the stock asked: what should be here, what was seen, what is missing, what was met all the same."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import Instrument, Stay, StockTake, StockTakeLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_
from shopledger.queries.custody import custody_on, names_in, place_words
from shopledger.queries.declared import instrument_words
from shopledger.rules.custody import IN_SHOP

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class Counted:
    """One instrument of a count; `seen_at` is None while it was not ticked."""

    stay_id: int
    instrument_id: int
    number: str
    words: str
    """What names it: its number and what it is."""
    was_expected: bool
    seen_at: datetime | None
    note: str

    @property
    def what(self) -> str:
        """What it is, without its number."""
        return self.words.removeprefix(self.number).strip()


@dataclass(frozen=True, slots=True)
class Count:
    """One count with all its lines, by number."""

    id: int
    number: str
    began_on: date
    counted_by: str
    note: str
    ended_on: date | None
    lines: tuple[Counted, ...]

    @property
    def seen(self) -> tuple[Counted, ...]:
        """What should be here and was seen."""
        return tuple(line for line in self.lines if line.was_expected and line.seen_at is not None)

    @property
    def missing(self) -> tuple[Counted, ...]:
        """What should be here and was not seen, at least not yet."""
        return tuple(line for line in self.lines if line.was_expected and line.seen_at is None)

    @property
    def unexpected(self) -> tuple[Counted, ...]:
        """What was met without being expected."""
        return tuple(line for line in self.lines if not line.was_expected)

    @property
    def expected(self) -> int:
        """How many things should be here."""
        return sum(line.was_expected for line in self.lines)


def count_of(reading: Reading, count_id: int) -> Count:
    """Give a count with its lines.

    Raises: NotFound: there is no such count.
    """
    row = reading.session.get(StockTake, count_id)
    if row is None:
        raise NotFound(N_("There is no count with the key {id} in this ledger."), id=count_id)
    rows = reading.session.execute(
        select(
            StockTakeLine.stay_id,
            Stay.instrument_id,
            Instrument.number,
            StockTakeLine.was_expected,
            StockTakeLine.seen_at,
            StockTakeLine.note,
        )
        .join(Stay, Stay.id == StockTakeLine.stay_id)
        .join(Instrument, Instrument.id == Stay.instrument_id)
        .where(StockTakeLine.stock_take_id == count_id)
        .order_by(Stay.instrument_id, StockTakeLine.id)
    ).all()
    words = instrument_words(reading, [one.instrument_id for one in rows])
    return Count(
        row.id,
        row.number,
        row.began_on,
        row.counted_by,
        row.note,
        row.ended_on,
        tuple(
            Counted(
                one.stay_id,
                one.instrument_id,
                one.number,
                words[one.instrument_id],
                one.was_expected,
                one.seen_at,
                one.note,
            )
            for one in rows
        ),
    )


def count_going_on(reading: Reading) -> StockTake | None:
    """Give the count that goes on, if there is one; there is never another beside it."""
    return reading.session.scalars(select(StockTake).where(StockTake.ended_on.is_(None)).limit(1)).first()


def should_be_here(reading: Reading, on: date) -> tuple[int, ...]:
    """Give the stays of what is in the shop by its custody, here or at the bench, by number."""
    return tuple(
        one.at.stay for one in custody_on(reading, on) if one.at.place in IN_SHOP and one.at.stay is not None
    )


def elsewhere_words(reading: Reading, instrument_id: int, on: date) -> str:
    """Give where the books have an instrument, in words."""
    found = custody_on(reading, on, [instrument_id])
    return place_words(found[0].at, names_in(reading, found))
