"""How an instrument measures, line by line: the newest reading, the one before it, and what handbooks say beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shopledger.quantities.measured import Dimension, difference_words, kept, other_unit_of, show_measured
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.readings import Key, Taken, in_order, newest_by_key, readings_of
from shopledger.queries.sheet_shapes import Fact
from shopledger.rules.fit import beside
from shopledger.rules.handbook import HandbookValue, proportions_of, sized, sources_of
from shopledger.rules.measures import measure_label

if TYPE_CHECKING:
    from shopledger.quantities.manners import Manners
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class Beside:
    """What a handbook says beside a reading: the figure in words, by how much the reading is off, and the source."""

    words: str
    off: str
    source: str


@dataclass(frozen=True, slots=True)
class MeasureLine:
    """One measure of an instrument: its newest reading, the one before it, and the handbook's figures."""

    taken: Taken
    before: Taken | None
    handbook: tuple[Beside, ...]

    def grown(self, manners: Manners) -> str:
        """Say by how much it grew since the reading before, with its sign; nothing where there is none."""
        if self.before is None:
            return ""
        return difference_words(self.before.figure, self.taken.figure, manners)


def measure_lines(reading: Reading, instrument_id: int, kind: str, size: str = "") -> tuple[MeasureLine, ...]:
    """Give what was measured of an instrument in the order of its kind's set."""
    readings = readings_of(reading, instrument_id)
    newest = newest_by_key(readings)
    manners = reading.ledger.manners
    return tuple(
        MeasureLine(
            newest[key],
            _before(readings, newest[key]),
            handbook_beside(kind, size, newest[key], newest, manners),
        )
        for key in in_order(kind, newest)
    )


def _before(readings: Sequence[Taken], newest: Taken) -> Taken | None:
    """Give the reading before the newest of its measure and side: of an earlier day, or before the work of a job."""
    earlier = [one for one in readings if one.key == newest.key and one.id != newest.id]
    return earlier[-1] if earlier else None


def handbook_beside(
    kind: str, size: str, taken: Taken, all_of_it: Mapping[Key, Taken], manners: Manners
) -> tuple[Beside, ...]:
    """Give what handbooks say beside a reading: of the nominal size or the nearest, and by another measure."""
    number = kept(taken.figure)
    found = [
        Beside(_figure(value, manners), _off(value, number, manners), sources_of([value])[0])
        for value in beside(kind, taken.measure, taken.side, number, size)
    ]
    for proportion in proportions_of(kind, taken.measure):
        other = all_of_it.get((proportion.of, ""))
        if other is None or taken.side:
            continue
        # To a tenth of a millimetre: a share is a rule of thumb.
        due = (proportion.of_number(kept(other.figure)) + 50_000) // 100_000 * 100_000
        share = f"{proportion.share.numerator}/{proportion.share.denominator}"
        dimension = Dimension.LENGTH
        words = _("{share} of {measure}: {figure}").format(
            share=share,
            measure=measure_label(proportion.of),
            figure=show_measured(dimension, due, manners),
        )
        found.append(Beside(words, _apart(dimension, number - due, manners), proportion.source.cited()))
    return tuple(found)


def _figure(value: HandbookValue, manners: Manners) -> str:
    words = sized(value, manners)
    return f"{words} ({_(value.method)})" if value.method else words


def _off(value: HandbookValue, number: int, manners: Manners) -> str:
    return "" if value.holds(number) else _apart(value.dimension, value.off(number), manners)


def _apart(dimension: Dimension, off: int, manners: Manners) -> str:
    if not off:
        return ""
    far = show_measured(dimension, abs(off), manners)
    return (_("{far} above") if off > 0 else _("{far} below")).format(far=far)


def measure_facts(reading: Reading, instrument_id: int, kind: str) -> tuple[Fact, ...]:
    """Give the newest reading of each measure for a page: as typed, the other unit, the method, what changed."""
    manners = reading.ledger.manners
    facts = []
    for line in measure_lines(reading, instrument_id, kind):
        grown = ""
        if line.before is not None:
            grown = _("{grown} since {day}").format(
                grown=line.grown(manners), day=show_day(line.before.on, manners)
            )
        quiet = [other_unit_of(line.taken.figure, manners), line.taken.how, grown]
        facts.append(Fact(line.taken.label, line.taken.figure, ", ".join(part for part in quiet if part)))
    return tuple(facts)
