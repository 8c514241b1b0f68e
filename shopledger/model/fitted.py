"""What is fitted to an instrument, and the photographs of how it looks."""

from __future__ import annotations

from datetime import date

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_


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
