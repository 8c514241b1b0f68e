"""Measuring: new readings of an instrument, a bow or a case, and the measurement sheet.

Earlier readings stay. A reading that is out of the ordinary is asked about before it is written down, never refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import (
    CHANGED,
    MeasureRow,
    ReadRow,
    instrument_of,
    read_measures,
    record_measures,
    refuse_unknown,
)
from shopledger.acts.papers import leave_paper
from shopledger.model import Instrument
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.measured import Measured, difference_words, other_unit_of
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.measure_lines import handbook_beside
from shopledger.queries.readings import Key, Taken, newest_readings
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.doubting import Earlier, doubts
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class Measure(Form):
    """New readings; earlier ones stay."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    taken_on: date | None = ask(
        Field(N_("Taken on"), Kind.DAY, help=N_("Where it was another day than this is booked on."))
    )
    taken_by: str = ask(Field(N_("Taken by")), default="")
    measures: tuple[MeasureRow, ...] = ask(Field(N_("Measurements"), Kind.ROWS, required=True, of=MeasureRow))


@dataclass(frozen=True, kw_only=True)
class PrintMeasures(Form):
    """A sheet of what was measured up to now."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    note: str = ask(Field(N_("Note"), Kind.LINES, help=N_("Printed under the measurements.")), default="")


def _day(form: Measure) -> date:
    """Give the day the readings were taken.

    Raises: Typed: it has not come yet.
    """
    if form.taken_on is not None and form.taken_on > form.on:
        raise Typed(
            N_("{day} is after the day this is booked on: write a day up to {on}."),
            field="taken_on",
            day=form.taken_on,
            on=form.on,
        )
    return form.taken_on or form.on


def run_measure(writing: Writing, form: Measure) -> Outcome:
    """Add readings to an instrument."""
    instrument = instrument_of(writing, form.instrument_id)
    record_measures(writing, instrument, form.measures, taken_on=_day(form), taken_by=form.taken_by)
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED)


def preview_measure(reading: Reading, form: Measure) -> Preview:
    """Say each reading with the one before it and what handbooks give, and ask about what is out of the ordinary."""
    instrument = instrument_of(reading, form.instrument_id)
    on = _day(form)
    rows = read_measures(reading, instrument.kind, form.measures)
    before = newest_readings(reading, instrument.id)
    # A share of another measure is reckoned with what is being typed, where that is typed too.
    now = dict(before) | {(row.measure.key, row.side): _taken(row, on, form.taken_by) for row in rows}
    lines: list[Line] = []
    warnings: list[str] = []
    manners = reading.ledger.manners
    for row in rows:
        key = row.measure.key, row.side
        taken, earlier = _taken(row, on, form.taken_by), before.get(key)
        lines.append(Line(taken.label, _how(reading, instrument, taken, earlier, now)))
        seen = Earlier(earlier.figure, earlier.method, earlier.on) if earlier is not None else None
        warnings += doubts(row.measure, row.side, row.figure, row.method, seen, manners)
    return Preview(_("Measure {number}").format(number=instrument.number), tuple(lines), tuple(warnings))


def _taken(row: ReadRow, on: date, by: str) -> Taken:
    return Taken(0, row.measure.key, row.side, row.figure, row.method, on, by, None, "")


def _both(figure: Measured, reading: Reading) -> str:
    other = other_unit_of(figure, reading.ledger.manners)
    return f"{figure.typed} ({other})" if other else figure.typed


def _how(
    reading: Reading,
    instrument: Instrument,
    taken: Taken,
    earlier: Taken | None,
    now: dict[Key, Taken],
) -> str:
    manners = reading.ledger.manners
    said = [_both(taken.figure, reading)]
    if earlier is not None:
        said.append(
            _("{grown} from {before} of {day}").format(
                grown=difference_words(earlier.figure, taken.figure, manners),
                before=earlier.figure.typed,
                day=show_day(earlier.on, manners),
            )
        )
    for one in handbook_beside(instrument.kind, instrument.size, taken, now, manners):
        said.append(_("handbook {figure} [{source}]").format(figure=one.words, source=one.source))
    return "; ".join(said)


def refuse_unmeasured(reading: Reading, instrument_id: int) -> None:
    """Refuse a sheet of what was never measured."""
    instrument = instrument_of(reading, instrument_id)
    if not newest_readings(reading, instrument_id):
        raise Refused(
            N_("{number} was not measured yet: measure it before its sheet is printed."),
            number=instrument.number,
        )


def run_print_measures(writing: Writing, form: PrintMeasures) -> Outcome:
    """Leave the measurement sheet of an instrument."""
    from shopledger.queries.facts.measurement_sheet import measurement_facts

    refuse_unmeasured(writing, form.instrument_id)
    facts = measurement_facts(
        writing, form.instrument_id, writing.number("measures"), writing.on, note=form.note
    )
    paper = leave_paper(writing, "measurement_sheet", facts, instrument_id=form.instrument_id)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


MEASURE = Act(
    name="measure",
    text=N_("Measure"),
    subject=Subject.INSTRUMENT,
    form=Measure,
    run=run_measure,
    subject_input="instrument_id",
    allowed=refuse_unknown,
    preview=preview_measure,
    help=N_("Typed in millimetres or inches, grams or ounces, degrees; earlier readings stay."),
)
PRINT_MEASURES = Act(
    name="print_measures",
    text=N_("Print the measurements"),
    subject=Subject.INSTRUMENT,
    form=PrintMeasures,
    run=run_print_measures,
    subject_input="instrument_id",
    allowed=refuse_unmeasured,
    papers=("measurement_sheet",),
)
ACTS = (MEASURE, PRINT_MEASURES)
