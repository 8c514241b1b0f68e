"""Choices for pickers: people, instruments and goods found by a part of their names, makers or numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import Goods, Instrument, Person
from shopledger.queries.declared import goods_words, instrument_words
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class Choice:
    """One that can be chosen: its key and the words by which it is known."""

    id: int
    words: str


def find_people(reading: Reading, words: str, limit: int = 20) -> tuple[Choice, ...]:
    """Give people who fit what was typed, by name; all of them where nothing was typed."""
    rows = select(Person.id, Person.name, Person.number).order_by(func.lower(Person.name), Person.id)
    found = matching(reading.session, "person", words)
    if found is not None:
        rows = rows.where(Person.id.in_(found.scalar_subquery()))
    return tuple(
        Choice(key, f"{name}, {number}") for key, name, number in reading.session.execute(rows.limit(limit))
    )


def find_instruments(reading: Reading, words: str, limit: int = 20) -> tuple[Choice, ...]:
    """Give instruments that fit what was typed, the newest first; all of them where nothing was typed."""
    rows = select(Instrument.id).order_by(Instrument.id.desc())
    found = matching(reading.session, "instrument", words)
    if found is not None:
        rows = rows.where(Instrument.id.in_(found.scalar_subquery()))
    ids = list(reading.session.scalars(rows.limit(limit)))
    named = instrument_words(reading, ids)
    return tuple(Choice(key, named[key]) for key in ids)


def find_goods(reading: Reading, words: str, limit: int = 20) -> tuple[Choice, ...]:
    """Give sorts of parts and goods that fit what was typed, by name; all of them where nothing was typed."""
    rows = select(Goods.id).order_by(func.lower(Goods.what), Goods.id)
    found = matching(reading.session, "goods", words)
    if found is not None:
        rows = rows.where(Goods.id.in_(found.scalar_subquery()))
    ids = list(reading.session.scalars(rows.limit(limit)))
    named = goods_words(reading, ids)
    return tuple(Choice(key, named[key]) for key in ids)
