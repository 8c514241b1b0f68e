"""Describing: what an instrument is, what is fitted and how it looks, and writing down how it measures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.acts.columns import refill
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.keeping import keep_picture
from shopledger.model import Fitting, Instrument, Measurement, Picture, asked_of
from shopledger.quantities.errors import NotFound, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.measured import (
    Dimension,
    Measured,
    dimension_of,
    kept,
    read_measured,
    refuse_other_sort,
)
from shopledger.quantities.words import N_, _
from shopledger.queries.shapes import Subject
from shopledger.rules.measures import (
    SIDES,
    FittedPart,
    called,
    fittings_for,
    measures_for,
    measures_listed,
    method_words,
    methods_listed,
    read_method,
)
from shopledger.rules.measures import Measure as KnownMeasure
from shopledger.store.prepared import AnyPicture
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT})


@dataclass(frozen=True, kw_only=True)
class FittingRow:
    """A fitted part and what it is."""

    part: str = ask(Field(N_("Part"), required=True, help=N_("Pegs, fingerboard, tailpiece, bridge, case …")))
    what: str = ask(Field(N_("What is fitted"), required=True))


@dataclass(frozen=True, kw_only=True)
class MeasureRow:
    """A reading of one measure."""

    measure: str = ask(
        Field(
            N_("Measure"), required=True, help=N_("Body, stop, string, bouts, ribs …"), listed=measures_listed
        )
    )
    value: Measured | str = ask(
        Field(N_("Value"), Kind.MEASURED, required=True, help=N_("As 695 mm, 16 1/2 in, 61 g or 157°."))
    )
    side: str = ask(
        Field(
            N_("Side"),
            Kind.CHOICE,
            choices=tuple((side, words) for side, words in SIDES.items() if side),
            help=N_("Bass or treble, where it matters."),
        ),
        default="",
    )
    method: str = ask(
        Field(N_("Method"), help=N_("Over the arch or straight."), listed=methods_listed), default=""
    )


@dataclass(frozen=True, kw_only=True)
class Describe(Form):
    """What is known of an instrument, written anew."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    instrument: Mapping[str, Any] = ask(Field(N_("What is known"), Kind.GROUP, of=Instrument))
    fittings: tuple[FittingRow, ...] = ask(Field(N_("Fittings"), Kind.ROWS, of=FittingRow))


@dataclass(frozen=True, kw_only=True)
class AddPictures(Form):
    """Photographs of an instrument as it is today."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    caption: str = ask(Field(N_("Caption")), default="")
    pictures: tuple[AnyPicture, ...] = ask(Field(N_("Photographs"), Kind.PICTURES, required=True))


def instrument_of(reading: Reading, instrument_id: int) -> Instrument:
    """Give an instrument's record.

    Raises: NotFound, in words.
    """
    instrument = reading.find(Instrument, instrument_id)
    if instrument is None:
        raise NotFound(N_("There is no such instrument in the ledger. Choose one, or take it in."))
    return instrument


def refuse_unknown(reading: Reading, instrument_id: int) -> None:
    """Refuse what is about no instrument of the ledger."""
    instrument_of(reading, instrument_id)


def _words_of(things: Sequence[FittedPart] | Sequence[KnownMeasure]) -> str:
    return ", ".join(_(thing.words) for thing in things)


def record_fittings(writing: Writing, instrument: Instrument, rows: Sequence[FittingRow]) -> None:
    """Write what is fitted; a part that is on record is written anew.

    Raises: Typed: the kind of instrument has no such part; all of them are named.
    """
    parts = fittings_for(instrument.kind)
    have = {
        fitting.part: fitting
        for fitting in writing.session.scalars(select(Fitting).where(Fitting.instrument_id == instrument.id))
    }
    for n, row in enumerate(rows):
        part = called(row.part, parts)
        if part is None:
            raise Typed(
                N_(
                    "“{part}” is no part of this kind of instrument, or could be several: write one of {parts}."
                ),
                field=f"fittings[{n}].part",
                part=row.part,
                parts=_words_of(parts),
            )
        if part.key in have:
            have[part.key].what = row.what
        else:
            have[part.key] = Fitting(instrument_id=instrument.id, part=part.key, what=row.what)
            writing.session.add(have[part.key])
    writing.session.flush()


@dataclass(frozen=True, slots=True)
class ReadRow:
    """A row as it is understood: which measure of the kind, on which side, taken how, and the figure."""

    measure: KnownMeasure
    side: str
    method: str
    figure: Measured


def read_measures(reading: Reading, kind: str, rows: Sequence[MeasureRow]) -> tuple[ReadRow, ...]:
    """Give rows as they are understood for a kind of instrument.

    Raises: Typed: the kind has no such measure, side or method (those it has are named), or the value can't be read in
            the measure's unit.
    """
    known = measures_for(kind)
    return tuple(_read_row(reading, known, row, f"measures[{n}]") for n, row in enumerate(rows))


def _read_row(reading: Reading, known: Sequence[KnownMeasure], row: MeasureRow, path: str) -> ReadRow:
    measure = called(row.measure, known)
    if measure is None:
        raise Typed(
            N_("“{measure}” is no measure of this kind, or could be several: write one of {measures}."),
            field=f"{path}.measure",
            measure=row.measure,
            measures=_words_of(known),
        )
    if row.side not in measure.sides:
        # Of ribs, which have two sides and no whole, a reading without a side would be of neither.
        raise Typed(
            N_("{measure} is measured on each side: write bass or treble.")
            if not row.side
            else N_("{measure} has no sides: leave the side empty."),
            field=f"{path}.side",
            measure=_(measure.words),
        )
    method = read_method(measure, row.method)
    if method is None:
        may = ", ".join(method_words(one) for one in measure.methods)
        raise Typed(
            N_("{measure} is not taken “{said}”: write {may}.")
            if may
            else N_("{measure} is not taken “{said}”: leave the method empty."),
            field=f"{path}.method",
            measure=_(measure.words),
            said=row.method,
            may=may,
        )
    if isinstance(row.value, str):
        manners = reading.ledger.manners
        figure = read_measured(row.value, unit=measure.unit, manners=manners, field=f"{path}.value")
    else:
        refuse_other_sort(row.value, measure.unit, field=f"{path}.value")
        figure = row.value
    return ReadRow(measure, row.side, method, figure)


def record_measures(
    writing: Writing,
    instrument: Instrument,
    rows: Sequence[MeasureRow],
    *,
    taken_on: date | None = None,
    taken_by: str = "",
    job_id: int | None = None,
    stage: str = "",
) -> None:
    """Add readings as they were typed; those of a job also say whether they are from before or after its work.

    Raises: Typed, as `read_measures`.
    """
    for row in read_measures(writing, instrument.kind, rows):
        dimension = dimension_of(row.figure)
        writing.session.add(
            Measurement(
                instrument_id=instrument.id,
                measure=row.measure.key,
                side=row.side,
                method=row.method,
                nm=kept(row.figure) if dimension is Dimension.LENGTH else None,
                mg=kept(row.figure) if dimension is Dimension.MASS else None,
                mdeg=kept(row.figure) if dimension is Dimension.ANGLE else None,
                typed=row.figure.typed,
                taken_on=taken_on or writing.on,
                taken_by=taken_by,
                job_id=job_id,
                stage=stage,
            )
        )
    writing.session.flush()


def record_pictures(
    writing: Writing,
    instrument: Instrument,
    pictures: Sequence[AnyPicture],
    *,
    stay_id: int | None = None,
    job_id: int | None = None,
    caption: str = "",
) -> tuple[int, ...]:
    """Keep photographs, written anew without what a camera adds, before the commit that names them; give their ids.

    Raises: Typed: one is no photograph.
    """
    kept: list[Picture] = []
    for n, picture in enumerate(pictures):
        sha256 = keep_picture(writing.ledger.files, picture, f"pictures[{n}]")
        kept.append(
            Picture(
                instrument_id=instrument.id,
                stay_id=stay_id,
                job_id=job_id,
                sha256=sha256,
                caption=caption,
                taken_on=writing.on,
            )
        )
    writing.session.add_all(kept)
    writing.session.flush()
    return tuple(one.id for one in kept)


def run_describe(writing: Writing, form: Describe) -> Outcome:
    """Write what is known of an instrument anew; papers issued before stay as they were."""
    instrument = instrument_of(writing, form.instrument_id)
    refill(instrument, form.instrument, writing.currency, path="instrument")
    record_fittings(writing, instrument, form.fittings)
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED)


def prefill_describe(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give what is known now."""
    instrument = instrument_of(reading, instrument_id)
    fittings = reading.session.scalars(select(Fitting).where(Fitting.instrument_id == instrument_id))
    return {
        "instrument": {name: getattr(instrument, name) for name in asked_of(Instrument)},
        "fittings": tuple(FittingRow(part=fitting.part, what=fitting.what) for fitting in fittings),
    }


def run_add_pictures(writing: Writing, form: AddPictures) -> Outcome:
    """Add photographs to an instrument."""
    instrument = instrument_of(writing, form.instrument_id)
    record_pictures(writing, instrument, form.pictures, caption=form.caption)
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED)


DESCRIBE = Act(
    name="describe",
    text=N_("Describe"),
    subject=Subject.INSTRUMENT,
    form=Describe,
    run=run_describe,
    subject_input="instrument_id",
    allowed=refuse_unknown,
    prefill=prefill_describe,
)
ADD_PICTURES = Act(
    name="add_pictures",
    text=N_("Add photographs"),
    subject=Subject.INSTRUMENT,
    form=AddPictures,
    run=run_add_pictures,
    subject_input="instrument_id",
    allowed=refuse_unknown,
)
ACTS = (DESCRIBE, ADD_PICTURES)
