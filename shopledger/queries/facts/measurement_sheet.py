"""What a measurement sheet states: readings, what was before them, what handbooks give, which size it feels like."""

from __future__ import annotations

from datetime import date

from shopledger.papers.measurement_sheet import (
    FeelFacts,
    HandbookFacts,
    MeasurementSheetFacts,
    ReadingFacts,
)
from shopledger.quantities.measured import other_unit_of
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import head
from shopledger.queries.fit import compared_words, fit_of
from shopledger.queries.measure_lines import MeasureLine, measure_lines
from shopledger.rules.fit import Feel
from shopledger.rules.handbook import sources_of
from shopledger.store.unit import Reading


class _Sources:
    """The sources as they are named, numbered from one."""

    def __init__(self) -> None:
        self.words: list[str] = []

    def number(self, words: str) -> int:
        if words not in self.words:
            self.words.append(words)
        return self.words.index(words) + 1


def measurement_facts(
    reading: Reading, instrument_id: int, number: str, on: date, *, note: str = ""
) -> MeasurementSheetFacts:
    """Give what the measurement sheet of an instrument states.

    Raises: NotFound: there is no such instrument.
    """
    instrument = instrument_named(reading, instrument_id)
    sources = _Sources()
    lines = measure_lines(reading, instrument_id, instrument.kind, instrument.size)
    readings = tuple(_reading(reading, line, sources) for line in lines)
    feels = tuple(_feel(reading, feel, sources) for feel in fit_of(reading, instrument_id, instrument.kind))
    return MeasurementSheetFacts(
        **head(reading, number, on),
        thing=thing_facts(instrument),
        readings=readings,
        feels=feels,
        sources=tuple(sources.words),
        note=note,
    )


def _reading(reading: Reading, line: MeasureLine, sources: _Sources) -> ReadingFacts:
    manners = reading.ledger.manners
    taken, before = line.taken, line.before
    return ReadingFacts(
        label=taken.label,
        typed=taken.figure.typed,
        other=other_unit_of(taken.figure, manners),
        method=taken.how,
        taken_on=taken.on,
        taken_by=taken.by,
        before="" if before is None else before.figure.typed,
        before_on=None if before is None else before.on,
        before_method="" if before is None else before.how,
        grown=line.grown(manners),
        handbook=tuple(
            HandbookFacts(words=one.words, off=one.off, source=sources.number(one.source))
            for one in line.handbook
        ),
    )


def _feel(reading: Reading, feel: Feel, sources: _Sources) -> FeelFacts:
    manners = reading.ledger.manners
    return FeelFacts(
        label=_(feel.words),
        figure=feel.typed,
        says=feel.said(manners),
        compared=compared_words(feel, manners),
        sources=tuple(sources.number(words) for words in sources_of(feel.used)),
        notes=tuple(part for part in (feel.how, *feel.cautions) if part),
    )
