"""What a job found and what it left: each measure of a set-up before and after, the difference exact, and strings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, select

from shopledger.model import Instrument, Job, Measurement, SetupString
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.measured import Measured, difference_words, kept, measured_of
from shopledger.quantities.words import N_, _
from shopledger.queries.readings import in_order
from shopledger.queries.sheet_shapes import Fact, Group
from shopledger.queries.strings import known_words
from shopledger.rules.measures import measure_label

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

STAGES = (("before", N_("before the work")), ("after", N_("after the work")))
"""When a set-up is taken."""


@dataclass(frozen=True, slots=True)
class SetupMeasure:
    """One measure before and after; None where it was not taken."""

    measure: str
    side: str
    before: Measured | None
    after: Measured | None

    @property
    def words(self) -> str:
        """The measure and its side in the reader's words."""
        return measure_label(self.measure, self.side)

    @property
    def difference_kept(self) -> int | None:
        """How much it grew (below zero: shrank), exactly; None where one reading is missing.

        Units:  nanometres, of an angle thousandths of a degree.
        """
        if self.before is None or self.after is None:
            return None
        return kept(self.after) - kept(self.before)

    def difference(self, manners: Manners = PLAIN) -> str:
        """Say by how much it grew, in inches where both readings were typed so; nothing where one is missing."""
        if self.before is None or self.after is None:
            return ""
        return difference_words(self.before, self.after, manners)


@dataclass(frozen=True, slots=True)
class StringOn:
    """A string that is on: what it is made of, and its gauge."""

    pitch: str
    what: str
    gauge: str


@dataclass(frozen=True, slots=True)
class SetupStringPair:
    """The string of one place, counted from the highest, before and after."""

    n: int
    before: StringOn | None
    after: StringOn | None


@dataclass(frozen=True, slots=True)
class SetupSheet:
    """The whole set-up of a job."""

    measures: tuple[SetupMeasure, ...]
    strings: tuple[SetupStringPair, ...]


def setup_of(reading: Reading, job_id: int) -> SetupSheet:
    """Give the set-up of a job: of each measure and string the newest reading before and after the work."""
    kind = reading.session.scalar(
        select(Instrument.kind).join(Job, Job.instrument_id == Instrument.id).where(Job.id == job_id)
    )
    rows = reading.session.execute(
        select(
            Measurement.measure,
            Measurement.side,
            Measurement.stage,
            Measurement.nm,
            Measurement.mg,
            Measurement.mdeg,
            Measurement.typed,
        )
        .where(Measurement.job_id == job_id, Measurement.stage != "")
        .order_by(Measurement.id)
    )
    newest = {
        (measure, side, stage): measured_of(nm, mg, mdeg, typed)
        for measure, side, stage, nm, mg, mdeg, typed in rows
    }
    places = in_order(kind or "other", list({(measure, side) for measure, side, _stage in newest}))
    measures = tuple(
        SetupMeasure(
            measure, side, newest.get((measure, side, "before")), newest.get((measure, side, "after"))
        )
        for measure, side in places
    )
    return SetupSheet(measures, _strings(reading, SetupString.job_id == job_id))


def _strings(reading: Reading, of: ColumnElement[bool]) -> tuple[SetupStringPair, ...]:
    rows = reading.session.scalars(select(SetupString).where(of).order_by(SetupString.id))
    on = {(row.n, row.stage): StringOn(row.pitch, row.what, _gauge(reading, row)) for row in rows}
    places = sorted({n for n, _stage in on})
    return tuple(SetupStringPair(n, on.get((n, "before")), on.get((n, "after"))) for n in places)


def _gauge(reading: Reading, row: SetupString) -> str:
    """Give the gauge of a string, with what a metre of it weighs, or its tension and the length it is known at."""
    words = known_words(row, reading.ledger.manners)
    return ", ".join(part for part in (row.gauge, words) if part)


def setups_of(reading: Reading, instrument_id: int) -> tuple[Group, ...]:
    """Give a group for each set-up of an instrument on its page, the newest job first."""
    jobs = reading.session.execute(
        select(Job.id, Job.number).where(Job.instrument_id == instrument_id).order_by(Job.id.desc())
    ).all()
    groups = [
        Group(_("Set-up, job {number}").format(number=number), setup_facts(reading, job_id))
        for job_id, number in jobs
    ]
    return tuple(group for group in groups if group.facts)


def setup_facts(reading: Reading, job_id: int) -> tuple[Fact, ...]:
    """Give the set-up of a job for a page: each measure and string before and after, and by how much it grew."""
    sheet = setup_of(reading, job_id)
    return (
        *(_fact(measure, reading.ledger.manners) for measure in sheet.measures),
        *(_string_fact(pair) for pair in sheet.strings),
    )


def _fact(measure: SetupMeasure, manners: Manners) -> Fact:
    words = " \u2192 ".join(one.typed if one else "\u2013" for one in (measure.before, measure.after))
    label = measure.words
    return Fact(label[:1].upper() + label[1:], words, measure.difference(manners))


def _string_fact(pair: SetupStringPair) -> Fact:
    said = [
        " ".join(word for word in (one.pitch, one.what, one.gauge) if word) if one else "\u2013"
        for one in (pair.before, pair.after)
    ]
    return Fact(_("String {n}").format(n=pair.n), " \u2192 ".join(said))
