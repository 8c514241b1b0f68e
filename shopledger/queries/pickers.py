"""Choices for pickers: people, instruments, goods and work found by a part of their names, makers or numbers."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import Goods, Instrument, Person, WorkItem
from shopledger.queries.declared import goods_words, instrument_words, work_words
from shopledger.store.matching import cut, matching, plain_words

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


def find_work(reading: Reading, words: str, limit: int = 20) -> tuple[Choice, ...]:
    """Give lines of the price list that are still offered and fit what was typed, by name.

    A price list is short enough to be read whole, so that it needs no search of its own.
    """
    ids = reading.session.scalars(
        select(WorkItem.id)
        .where(WorkItem.left_out_on.is_(None))
        .order_by(func.lower(WorkItem.what), WorkItem.id)
    ).all()
    named = work_words(reading, ids)
    typed = plain_words(words)
    found = (
        Choice(key, named[key])
        for key in ids
        if all(any(one.startswith(word) for one in cut(named[key])) for word in typed)
    )
    return tuple(islice(found, limit))
