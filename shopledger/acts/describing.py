"""Describing: what an instrument is, how it measures, what is fitted, how it looks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, TypeVar

from sqlalchemy import select

from shopledger.acts.columns import refill
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.keeping import keep_picture
from shopledger.model import Fitting, Instrument, Measurement, Picture, asked_of
from shopledger.quantities.errors import NotFound, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.lengths import Length
from shopledger.quantities.words import N_, _
from shopledger.queries.shapes import Subject
from shopledger.rules.measures import FittedPart, fittings_for, measures_for
from shopledger.rules.measures import Measure as KnownMeasure
from shopledger.store.prepared import AnyPicture
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT})
Named = TypeVar("Named", FittedPart, KnownMeasure)


@dataclass(frozen=True, kw_only=True)
class FittingRow:
    """A fitted part and what it is."""

    part: str = ask(Field(N_("Part"), required=True, help=N_("Pegs, fingerboard, tailpiece, bridge, case …")))
    what: str = ask(Field(N_("What is fitted"), required=True))


@dataclass(frozen=True, kw_only=True)
class MeasureRow:
    """A reading of one measure."""

    measure: str = ask(Field(N_("Measure"), required=True, help=N_("Body, stop, string, bouts, ribs …")))
    value: Length = ask(Field(N_("Value"), Kind.LENGTH, required=True))
    side: str = ask(Field(N_("Side"), help=N_("Bass or treble, where it matters.")), default="")
    method: str = ask(Field(N_("Method"), help=N_("Over the arch or straight.")), default="")


@dataclass(frozen=True, kw_only=True)
class Describe(Form):
    """What is known of an instrument, written anew."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    instrument: Mapping[str, Any] = ask(Field(N_("What is known"), Kind.GROUP, of=Instrument))
    fittings: tuple[FittingRow, ...] = ask(Field(N_("Fittings"), Kind.ROWS, of=FittingRow))


@dataclass(frozen=True, kw_only=True)
class Measure(Form):
    """New readings; earlier ones stay."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    taken_on: date | None = ask(Field(N_("Taken on"), Kind.DAY))
    taken_by: str = ask(Field(N_("Taken by")), default="")
    measures: tuple[MeasureRow, ...] = ask(Field(N_("Measurements"), Kind.ROWS, required=True, of=MeasureRow))


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


def called(typed: str, things: Sequence[Named]) -> Named | None:
    """Give the thing that was meant: by its code, its words, or words that only one of them begins with.

    Shape:  things with a `key` and marked `words`, as the sets of measures and fitted parts have them.
    """
    wanted = " ".join(typed.casefold().replace("_", " ").split())
    names = {thing: (thing.key.replace("_", " "), _(thing.words).casefold()) for thing in things}
    exact = [thing for thing, own in names.items() if wanted in own]
    begun = [thing for thing, own in names.items() if wanted and any(name.startswith(wanted) for name in own)]
    found = exact or begun
    return found[0] if len(found) == 1 else None


def _words_of(things: Sequence[Named]) -> str:
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

    Raises: Typed: the kind of instrument has no such measure, side or method; those it has are named.
    """
    known = measures_for(instrument.kind)
    for n, row in enumerate(rows):
        measure = called(row.measure, known)
        if measure is None:
            raise Typed(
                N_("“{measure}” is no measure of this kind, or could be several: write one of {measures}."),
                field=f"measures[{n}].measure",
                measure=row.measure,
                measures=_words_of(known),
            )
        for part, said, may in (("side", row.side, measure.sides), ("method", row.method, measure.methods)):
            if said and said not in may:
                raise Typed(
                    N_("{measure} is not taken “{said}”: write {may}."),
                    field=f"measures[{n}].{part}",
                    measure=row.measure,
                    said=said,
                    may=", ".join(may) or "–",
                )
        writing.session.add(
            Measurement(
                instrument_id=instrument.id,
                measure=measure.key,
                side=row.side,
                method=row.method,
                nm=row.value.nm,
                typed=row.value.typed,
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


def run_measure(writing: Writing, form: Measure) -> Outcome:
    """Add readings to an instrument."""
    instrument = instrument_of(writing, form.instrument_id)
    record_measures(writing, instrument, form.measures, taken_on=form.taken_on, taken_by=form.taken_by)
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED)


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
MEASURE = Act(
    name="measure",
    text=N_("Measure"),
    subject=Subject.INSTRUMENT,
    form=Measure,
    run=run_measure,
    subject_input="instrument_id",
    allowed=refuse_unknown,
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
ACTS = (DESCRIBE, MEASURE, ADD_PICTURES)
