"""What the paper of a count states: what is missing, what was met without being expected, what was seen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy import select

from shopledger.model import Instrument
from shopledger.papers.stock_take import CountedFacts, StockTakeFacts
from shopledger.queries.counting import Counted, count_of
from shopledger.queries.facts.instruments import maker_words, name_of
from shopledger.queries.facts.parties import head, lines_of
from shopledger.store.unit import Reading


def stock_take_facts(reading: Reading, count_id: int, number: str, issued_on: date) -> StockTakeFacts:
    """Give what the paper of a count states; of one that goes on it is what it would be if it ended now.

    Raises: NotFound: there is no such count.
    """
    count = count_of(reading, count_id)
    instruments = {
        each.id: each
        for each in reading.session.scalars(
            select(Instrument).where(Instrument.id.in_([line.instrument_id for line in count.lines]))
        )
    }

    def told(lines: Sequence[Counted]) -> tuple[CountedFacts, ...]:
        return tuple(_told(instruments[line.instrument_id], line.note) for line in lines)

    return StockTakeFacts(
        **head(reading, number, issued_on),
        began_on=count.began_on,
        ended_on=count.ended_on or issued_on,
        counted_by=count.counted_by,
        expected=count.expected,
        missing=told(count.missing),
        unexpected=told(count.unexpected),
        seen=told(count.seen),
        note=lines_of(count.note),
    )


def _told(instrument: Instrument, note: str) -> CountedFacts:
    return CountedFacts(
        number=instrument.number,
        what=name_of(instrument),
        maker=" ".join(part for part in maker_words(instrument) if part),
        note=note,
    )
