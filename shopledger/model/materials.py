"""What an instrument or bow is made of, component by component, how sure that is, and on what evidence."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_
from shopledger.rules.materials_parts import components_listed, species_listed

FINISHED = (
    ("finished", N_("finished")),
    ("unfinished", N_("not finished")),
)
EVIDENCE_KINDS = (
    ("receipt", N_("receipt")),
    ("certificate", N_("certificate")),
    ("permit", N_("permit")),
    ("statement", N_("statement")),
    ("analysis", N_("analysis")),
    ("opinion", N_("opinion")),
    ("other", N_("other")),
)


class Component(Record):
    """One component and what it is made of."""

    __tablename__ = "component"
    __table_args__ = (
        UniqueConstraint("instrument_id", "n"),
        CheckConstraint("mg > 0", name="above_zero"),
    )

    id: Mapped[int] = key()
    instrument_id: Mapped[int] = link("instrument.id")
    n: Mapped[int] = hidden(Whole(), "the order in which they are listed")
    component: Mapped[str] = shown(
        Field(
            N_("Component"),
            required=True,
            help=N_("Fingerboard, pegs, bow stick, frog, tip, grip, inlay …"),
            listed=components_listed,
        )
    )
    material: Mapped[str] = shown(
        Field(N_("Made of"), searchable=True, help=N_("In the trade's words, such as ebony or bone."))
    )
    species: Mapped[str] = shown(
        Field(
            N_("Species"),
            searchable=True,
            help=N_("Scientific name, or a common one that means one species; empty where it isn't known."),
            listed=species_listed,
        )
    )
    is_certain: Mapped[bool] = shown(Field(N_("The species is certain"), Kind.YES_NO))
    finished: Mapped[str | None] = shown(Field(N_("State"), Kind.CHOICE, choices=FINISHED))
    made_on: Mapped[date | None] = shown(Field(N_("Made on"), Kind.DAY))
    taken_before: Mapped[date | None] = shown(
        Field(
            N_("Taken from the wild before"),
            Kind.DAY,
            help=N_("The day before which it was certainly taken."),
        )
    )
    imported_on: Mapped[date | None] = shown(Field(N_("Imported on"), Kind.DAY))
    mg: Mapped[int | None] = hidden(Whole(), "its weight in milligrams; shown as it was typed")
    mass_typed: Mapped[str] = shown(Field(N_("Weight"), help=N_("Such as 12 g; an estimate is no weighing.")))
    note: Mapped[str] = shown(Field(N_("Note"), Kind.LINES))


class ComponentEvidence(Record):
    """One piece of evidence for what a component is made of, or when and where that came from."""

    __tablename__ = "component_evidence"

    id: Mapped[int] = key()
    component_id: Mapped[int] = link("component.id", index=True)
    sort: Mapped[str] = shown(Field(N_("Evidence"), Kind.CHOICE, required=True, choices=EVIDENCE_KINDS))
    what: Mapped[str] = shown(Field(N_("What it says"), Kind.LINES, required=True))
    dated_on: Mapped[date | None] = shown(Field(N_("Dated"), Kind.DAY))
    place: Mapped[str] = shown(Field(N_("Place")))
