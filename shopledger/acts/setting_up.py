"""Setting up: what a job found and what it left, measured in millimetres or inches, and the strings that are on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import MeasureRow, instrument_of, record_measures
from shopledger.acts.papers import leave_paper
from shopledger.model import Instrument, Job, SetupString
from shopledger.quantities.densities import read_density
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.forces import read_force
from shopledger.quantities.lengths import Length
from shopledger.quantities.words import N_, _
from shopledger.queries.setup import STAGES
from shopledger.queries.shapes import Subject
from shopledger.rules.measures import called, setup_listed, setup_measures_for
from shopledger.rules.pitches import semitones_from_a4
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class StringRow:
    """One string, from the highest down."""

    pitch: str = ask(Field(N_("Pitch"), required=True, help=N_("Such as A4 or G2.")))
    what: str = ask(Field(N_("String"), help=N_("What it is made of; no brand.")), default="")
    gauge: str = ask(Field(N_("Gauge"), help=N_("As the packet says, or in mm.")), default="")
    density: str = ask(Field(N_("A metre weighs"), help=N_("Such as 0.45 g/m.")), default="")
    tension: str = ask(
        Field(N_("… or its tension"), help=N_("As the packet says: 58.8 N, 6 kgf or 13.2 lbf.")), default=""
    )
    at_length: Length | None = ask(
        Field(N_("… known at"), Kind.LENGTH, help=N_("The string length at which it has that tension."))
    )


@dataclass(frozen=True, kw_only=True)
class SetupRow(MeasureRow):
    """A reading of a measure of a set-up."""

    measure: str = ask(
        Field(
            N_("Measure"), required=True, help=N_("String heights, nut, bridge, angle …"), listed=setup_listed
        )
    )


@dataclass(frozen=True, kw_only=True)
class RecordSetup(Form):
    """The set-up of a job's instrument, before or after the work; a later reading of a measure counts."""

    job_id: int
    stage: str = ask(Field(N_("Taken"), Kind.CHOICE, required=True, choices=STAGES), default="before")
    measures: tuple[MeasureRow, ...] = ask(Field(N_("Measurements"), Kind.ROWS, of=SetupRow))
    strings: tuple[StringRow, ...] = ask(
        Field(N_("Strings"), Kind.ROWS, of=StringRow, help=N_("From the highest down."))
    )


def refuse_no_setup(reading: Reading, job_id: int) -> None:
    """Refuse a set-up of what has none, or of a job that ended.

    Raises: NotFound: there is no such job. Refused: it ended, or its instrument is a bow.
    """
    _instrument_to_set_up(reading, job_id)


def _instrument_to_set_up(reading: Reading, job_id: int) -> Instrument:
    job = reading.session.get(Job, job_id)
    if job is None:
        raise NotFound(N_("There is no such job in the ledger. Choose one, or open it."))
    if job.ended_on is not None:
        raise Refused(
            N_("Job {number} ended on {day}: its set-up stays as it was measured."),
            number=job.number,
            day=job.ended_on,
        )
    instrument = instrument_of(reading, job.instrument_id)
    if not setup_measures_for(instrument.kind):
        raise Refused(
            N_("{number} has no strings to set up: measure it on its own page."), number=instrument.number
        )
    return instrument


def record_strings(
    writing: Writing, instrument_id: int, rows: Sequence[StringRow], *, job_id: int | None, stage: str
) -> None:
    """Add the strings that are on, counted from the highest.

    Raises: Typed: a pitch is none, or the strings don't go down.
    """
    heard: int | None = None
    for n, row in enumerate(rows):
        pitch = row.pitch.strip()
        steps = semitones_from_a4(pitch, field=f"strings[{n}].pitch")
        if heard is not None and steps > heard:
            raise Typed(
                N_("{pitch} is higher than the string before it: write the strings from the highest down."),
                field=f"strings[{n}].pitch",
                pitch=pitch,
            )
        heard = steps
        writing.session.add(
            SetupString(
                instrument_id=instrument_id,
                job_id=job_id,
                stage=stage,
                n=n + 1,
                pitch=pitch,
                what=row.what,
                gauge=row.gauge,
                **_weight(row, f"strings[{n}]"),
                taken_on=writing.on,
            )
        )
    writing.session.flush()


def _weight(row: StringRow, path: str) -> dict[str, int | None]:
    """Give what a metre of a string weighs, or its tension at a length, as they are kept.

    Raises: Typed: both are given, a tension without its length or a length without a tension, or a figure can't be so.
    """
    density, tension = (row.density or "").strip(), (row.tension or "").strip()
    if density and tension:
        raise Typed(
            N_("Either what a metre weighs or its tension: take one of the two away."),
            field=f"{path}.tension",
        )
    if bool(tension) != (row.at_length is not None):
        raise Typed(
            N_(
                "A tension and the string length at which it is known belong together: write both or neither."
            ),
            field=f"{path}.at_length" if tension else f"{path}.tension",
        )
    return {
        "ug_per_m": read_density(density, field=f"{path}.density") if density else None,
        "tension_mn": round(read_force(tension, field=f"{path}.tension") * 1000) if tension else None,
        "tension_at_nm": None if row.at_length is None else row.at_length.nm,
    }


def run_record_setup(writing: Writing, form: RecordSetup) -> Outcome:
    """Record a job's set-up; the one after the work leaves the set-up sheet."""
    instrument = _instrument_to_set_up(writing, form.job_id)
    if not (form.measures or form.strings):
        raise Typed(N_("Nothing is measured: write a measurement or a string."), field="measures")
    known = setup_measures_for(instrument.kind)
    for n, row in enumerate(form.measures):
        if called(row.measure, known) is None:
            raise Typed(
                N_("“{measure}” is no measure of a set-up, or could be several: write one of {measures}."),
                field=f"measures[{n}].measure",
                measure=row.measure,
                measures=", ".join(_(one.words) for one in known),
            )
    record_measures(
        writing, instrument, form.measures, taken_by=form.by, job_id=form.job_id, stage=form.stage
    )
    record_strings(writing, instrument.id, form.strings, job_id=form.job_id, stage=form.stage)
    papers: tuple[int, ...] = ()
    if form.stage == "after":
        from shopledger.queries.facts.setup_sheet import setup_facts

        facts = setup_facts(writing, form.job_id, writing.number("setup"), writing.on)
        papers = (
            leave_paper(writing, "setup_sheet", facts, instrument_id=instrument.id, job_id=form.job_id),
        )
    return Outcome(Subject.JOB, form.job_id, frozenset({Subject.JOB, Subject.INSTRUMENT}), papers)


RECORD_SETUP = Act(
    name="record_setup",
    text=N_("Record the set-up"),
    subject=Subject.JOB,
    form=RecordSetup,
    run=run_record_setup,
    subject_input="job_id",
    allowed=refuse_no_setup,
    papers=("setup_sheet",),
)
ACTS = (RECORD_SETUP,)
