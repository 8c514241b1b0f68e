"""What is measured on an instrument, what is fitted to it, and the photographs of how it looks."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_


class Measurement(Record):
    """One reading of one measure; the newest reading of a measure counts, earlier ones stay."""

    __tablename__ = "measurement"
    __table_args__ = (
        CheckConstraint(
            "(nm > 0 AND mg IS NULL AND mdeg IS NULL) OR (mg > 0 AND nm IS NULL AND mdeg IS NULL)"
            " OR (mdeg > 0 AND nm IS NULL AND mg IS NULL)",
            name="one_figure_above_zero",
        ),
        Index("ix_measurement_instrument_measure", "instrument_id", "measure", "taken_on"),
    )

    id: Mapped[int] = key()
    instrument_id: Mapped[int] = link("instrument.id")
    measure: Mapped[str] = shown(Field(N_("Measure"), required=True, help=N_("From the set for this kind.")))
    side: Mapped[str] = shown(Field(N_("Side"), help=N_("Bass or treble, where it matters.")))
    method: Mapped[str] = shown(Field(N_("Method"), help=N_("Over the arch or straight, button in or out.")))
    nm: Mapped[int | None] = shown(Field(N_("Value"), Kind.LENGTH))
    mg: Mapped[int | None] = hidden(Whole(), "a weight, in milligrams; shown as the value, as it was typed")
    mdeg: Mapped[int | None] = hidden(Whole(), "an angle, in thousandths of a degree; shown as the value")
    typed: Mapped[str] = hidden(Words(), "shown as the value, as it was typed")
    taken_on: Mapped[date] = shown(Field(N_("Taken on"), Kind.DAY, required=True))
    taken_by: Mapped[str] = shown(Field(N_("Taken by")))
    job_id: Mapped[int | None] = link("job.id", index=True)
    stage: Mapped[str] = hidden(Words(), "before or after the work of the job; empty outside one", default="")


class Fitting(Record):
    """One fitted thing: pegs, fingerboard, tailpiece, bridge, case, and what it is."""

    __tablename__ = "fitting"
    __table_args__ = (UniqueConstraint("instrument_id", "part"),)

    id: Mapped[int] = key()
    instrument_id: Mapped[int] = link("instrument.id")
    part: Mapped[str] = shown(Field(N_("Part"), required=True, help=N_("From the set for this kind.")))
    what: Mapped[str] = shown(Field(N_("What is fitted"), required=True, searchable=True))


class Picture(Record):
    """A photograph of an instrument, kept by content."""

    __tablename__ = "picture"

    id: Mapped[int] = key()
    instrument_id: Mapped[int] = link("instrument.id", index=True)
    stay_id: Mapped[int | None] = link("stay.id")
    job_id: Mapped[int | None] = link("job.id", index=True)
    sha256: Mapped[str] = hidden(Words(), "the name of the file")
    caption: Mapped[str] = shown(Field(N_("Caption")))
    taken_on: Mapped[date] = shown(Field(N_("Taken on"), Kind.DAY, required=True))
