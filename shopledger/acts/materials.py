"""Materials: what an instrument or bow is made of, component by component, on what evidence, and the statement of it.

The statement is of one act on one day, and states no leave to do anything: it says what may need papers, what seems
exempt, what can't be told, and whom to ask.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import CHANGED, instrument_of, refuse_unknown
from shopledger.acts.papers import leave_paper
from shopledger.model import Component, ComponentEvidence, field_of
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.masses import Mass, read_mass
from shopledger.quantities.words import N_, _
from shopledger.queries.materials import act_lines, finding_lines, judged, part_of, parts_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.materials_answer import ACT_WORDS, CAUTION
from shopledger.rules.materials_parts import component_words, read_component, usual_components
from shopledger.rules.materials_terms import Act as Deed
from shopledger.rules.materials_terms import Judgement, MaterialsCase
from shopledger.rules.places import read_place
from shopledger.store.unit import Reading, Writing

MORE = N_("Dates, weight and evidence")
_WORDS = ("material", "species", "note")
_SAME = ("is_certain", "finished", "made_on", "taken_before", "imported_on")
DEEDS = tuple((deed.value, ACT_WORDS[deed]) for deed in Deed)
YES_NO_UNKNOWN = (("yes", N_("yes")), ("no", N_("no")))


@dataclass(frozen=True, kw_only=True)
class EvidenceRow:
    """One piece of evidence for a component."""

    sort: str = ask(field_of(ComponentEvidence.sort), default="receipt")
    what: str = ask(field_of(ComponentEvidence.what))
    dated_on: date | None = ask(field_of(ComponentEvidence.dated_on))
    place: str = ask(field_of(ComponentEvidence.place), default="")


@dataclass(frozen=True, kw_only=True)
class ComponentRow:
    """One component; `component_id` is that of one on record, None of a new one."""

    component: str = ask(field_of(Component.component))
    material: str = ask(field_of(Component.material), default="")
    species: str = ask(field_of(Component.species), default="")
    is_certain: bool = ask(field_of(Component.is_certain))
    finished: str | None = ask(field_of(Component.finished), default="finished")
    made_on: date | None = ask(replace(field_of(Component.made_on), under=MORE))
    taken_before: date | None = ask(replace(field_of(Component.taken_before), under=MORE))
    imported_on: date | None = ask(replace(field_of(Component.imported_on), under=MORE))
    mass: str = ask(replace(field_of(Component.mass_typed), under=MORE), default="")
    note: str = ask(replace(field_of(Component.note), under=MORE), default="")
    evidence: tuple[EvidenceRow, ...] = ask(Field(N_("Evidence"), Kind.ROWS, of=EvidenceRow, under=MORE))
    component_id: int | None = None


@dataclass(frozen=True, kw_only=True)
class RecordMaterials(Form):
    """What an instrument is made of, written anew: a component that is left out is taken off the record."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    components: tuple[ComponentRow, ...] = ask(Field(N_("Components"), Kind.ROWS, of=ComponentRow))


@dataclass(frozen=True, kw_only=True)
class StateMaterials(Form):
    """Of which act on which day a statement is made."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    act: str = ask(Field(N_("For"), Kind.CHOICE, required=True, choices=DEEDS), default=Deed.SALE_HOME.value)
    act_on: date = ask(
        Field(N_("To be done on"), Kind.DAY, required=True, help=N_("The rules of that day are asked."))
    )
    from_place: str = ask(
        Field(N_("From"), help=N_("A country's two letters, and where rules differ its part: DE, US-CA.")),
        default="",
    )
    to_place: str = ask(
        Field(N_("To"), help=N_("Such as DE or US-CA; empty where it isn't known.")), default=""
    )
    re_export: str | None = ask(
        Field(
            N_("It was imported before and is re-exported"),
            Kind.CHOICE,
            choices=YES_NO_UNKNOWN,
            help=N_("Matters for some rules; leave it empty where it isn't known."),
        )
    )


def _mass(row: ComponentRow, path: str) -> Mass | None:
    return read_mass(row.mass, field=f"{path}.mass") if row.mass.strip() else None


def _check(on: date, row: ComponentRow, path: str) -> None:
    """Refuse days that have not come or contradict each other."""
    days = [("made_on", row.made_on), ("taken_before", row.taken_before), ("imported_on", row.imported_on)]
    days += [(f"evidence[{n}].dated_on", one.dated_on) for n, one in enumerate(row.evidence)]
    for name, day in days:
        if day is not None and day > on:
            raise Typed(
                N_("{day} has not come yet: write a day up to {on}."), field=f"{path}.{name}", day=day, on=on
            )
    if row.is_certain and not (row.species or row.material or "").strip():
        raise Typed(
            N_("The species is called certain, but none is named: name it, or take the tick away."),
            field=f"{path}.species",
        )


def run_record_materials(writing: Writing, form: RecordMaterials) -> Outcome:
    """Write the components anew: those on record are changed, new ones added, those left out removed."""
    instrument = instrument_of(writing, form.instrument_id)
    have = {
        one.id: one
        for one in writing.session.scalars(select(Component).where(Component.instrument_id == instrument.id))
    }
    last = max((one.n for one in have.values()), default=0)
    kept: set[int] = set()
    for n, row in enumerate(form.components):
        path = f"components[{n}]"
        _check(writing.on, row, path)
        found = have.get(row.component_id or 0)
        if row.component_id is not None and (found is None or found.id in kept):
            raise Refused(
                N_("{component} is no longer on record here. Open the form again."),
                field=f"{path}.component",
                component=component_words(read_component(row.component)),
            )
        if found is None:
            last += 1
            found = Component(instrument_id=instrument.id, n=last)
            writing.session.add(found)
        else:
            kept.add(found.id)
        _fill(found, row, path)
        writing.session.flush()
        _write_evidence(writing, found.id, row.evidence)
    for one in have.values():
        if one.id not in kept:
            _write_evidence(writing, one.id, ())
            writing.session.delete(one)
    writing.session.flush()
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED)


def _fill(component: Component, row: ComponentRow, path: str) -> None:
    component.component = read_component(row.component)
    mass = _mass(row, path)
    component.mg, component.mass_typed = (None, "") if mass is None else (mass.mg, mass.typed)
    for name in _WORDS:
        setattr(component, name, (getattr(row, name) or "").strip())
    for name in _SAME:
        setattr(component, name, getattr(row, name))


def _write_evidence(writing: Writing, component_id: int, rows: Sequence[EvidenceRow]) -> None:
    """Bring the evidence of a component to these rows; what stays as it was is not written again."""
    have = list(
        writing.session.scalars(
            select(ComponentEvidence)
            .where(ComponentEvidence.component_id == component_id)
            .order_by(ComponentEvidence.id)
        )
    )
    left = list(rows)
    for one in have:
        same = EvidenceRow(sort=one.sort, what=one.what, dated_on=one.dated_on, place=one.place)
        if same in left:
            left.remove(same)
        else:
            writing.session.delete(one)
    for row in left:
        writing.session.add(
            ComponentEvidence(
                component_id=component_id,
                sort=row.sort,
                what=row.what.strip(),
                dated_on=row.dated_on,
                place=(row.place or "").strip(),
            )
        )
    writing.session.flush()


def prefill_record_materials(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give what is on record, or else the components that everything of the kind has, their materials unknown."""
    components = reading.session.scalars(
        select(Component).where(Component.instrument_id == instrument_id).order_by(Component.n)
    ).all()
    if not components:
        kind = instrument_of(reading, instrument_id).kind
        return {"components": tuple(ComponentRow(component=code) for code in usual_components(kind))}
    return {"components": tuple(_row(reading, one) for one in components)}


def _row(reading: Reading, one: Component) -> ComponentRow:
    evidence = reading.session.scalars(
        select(ComponentEvidence)
        .where(ComponentEvidence.component_id == one.id)
        .order_by(ComponentEvidence.id)
    )
    return ComponentRow(
        component=one.component,
        **{name: getattr(one, name) for name in (*_WORDS, *_SAME)},
        mass=one.mass_typed,
        evidence=tuple(
            EvidenceRow(sort=each.sort, what=each.what, dated_on=each.dated_on, place=each.place)
            for each in evidence
        ),
        component_id=one.id,
    )


def preview_record_materials(reading: Reading, form: RecordMaterials) -> Preview:
    """Say what the components would mean today for a sale, a loan, a repair and a trip."""
    parts = []
    for n, row in enumerate(form.components):
        path = f"components[{n}]"
        _check(form.on, row, path)
        component = Component()
        _fill(component, row, path)
        parts.append(part_of(component, "; ".join(one.what for one in row.evidence)))
    lines = act_lines(reading, parts, reading.ledger.today())
    return Preview(_("What they mean for an act today"), lines, (_(CAUTION),))


def _judgement(reading: Reading, form: StateMaterials) -> Judgement:
    """Give what is to be stated.

    Raises: Typed: a place can't be so or contradicts the act, or a component is from after the day.
    """
    instrument_of(reading, form.instrument_id)
    case = MaterialsCase(
        on=form.act_on,
        act=Deed(form.act),
        parts=parts_of(reading, form.instrument_id),
        from_place=read_place(form.from_place or "", "from_place"),
        to_place=read_place(form.to_place or "", "to_place"),
        re_export=None if not form.re_export else form.re_export == "yes",
    )
    try:
        return judged(case)
    except Typed as error:
        error.field = "to_place" if error.field == "to" else "act_on"
        raise


def run_state_materials(writing: Writing, form: StateMaterials) -> Outcome:
    """Leave the statement of materials as a paper."""
    from shopledger.queries.facts.materials_statement import materials_facts

    instrument = instrument_of(writing, form.instrument_id)
    judgement = _judgement(writing, form)
    facts = materials_facts(writing, instrument.id, judgement, writing.number("materials"), writing.on)
    paper = leave_paper(writing, "materials_statement", facts, instrument_id=instrument.id)
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED, (paper,))


def prefill_state_materials(reading: Reading, _instrument_id: int) -> Mapping[str, Any]:
    """Give today, and the shop's own country at both ends of a sale at home."""
    country = reading.shop().country
    return {"act_on": reading.ledger.today(), "from_place": country, "to_place": country}


def preview_state_materials(reading: Reading, form: StateMaterials) -> Preview:
    """Say what the statement would answer, component by component."""
    judgement = _judgement(reading, form)
    advice = tuple(Line(_("Besides"), words) for words in judgement.advice)
    return Preview(_("What the statement will say"), (*finding_lines(judgement), *advice), (_(CAUTION),))


RECORD_MATERIALS = Act(
    name="record_materials",
    text=N_("Record its materials"),
    subject=Subject.INSTRUMENT,
    form=RecordMaterials,
    run=run_record_materials,
    subject_input="instrument_id",
    allowed=refuse_unknown,
    prefill=prefill_record_materials,
    preview=preview_record_materials,
    help=N_("Component by component. What isn't known stays empty: unknown is unknown, never fine."),
)
STATE_MATERIALS = Act(
    name="state_materials",
    text=N_("State its materials"),
    subject=Subject.INSTRUMENT,
    form=StateMaterials,
    run=run_state_materials,
    subject_input="instrument_id",
    allowed=refuse_unknown,
    prefill=prefill_state_materials,
    preview=preview_state_materials,
    papers=("materials_statement",),
    help=N_("A paper for one act on one day: what may need papers, what can't be told, and whom to ask."),
)
ACTS = (RECORD_MATERIALS, STATE_MATERIALS)
