"""Condition reports: what was seen on each part of an instrument, how grave it is, and where on a photograph."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

OCCASIONS = (
    ("intake", N_("intake")),
    ("trial_out", N_("going out on trial")),
    ("trial_back", N_("back from a trial")),
    ("handover", N_("hand-over")),
    ("other", N_("other")),
)
SEVERITIES = (
    ("noted", N_("noted")),
    ("slight", N_("slight")),
    ("marked", N_("marked")),
    ("grave", N_("grave")),
)


class ConditionReport(Record):
    """What was seen of an instrument on one occasion; never changed, a later look is a further report."""

    __tablename__ = "condition_report"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Condition report"), searchable=True, given=True), unique=True)
    instrument_id: Mapped[int] = link("instrument.id", index=True)
    stay_id: Mapped[int | None] = link("stay.id")
    job_id: Mapped[int | None] = link("job.id")
    occasion: Mapped[str] = shown(Field(N_("Occasion"), Kind.CHOICE, required=True, choices=OCCASIONS))
    made_on: Mapped[date] = shown(Field(N_("Made on"), Kind.DAY, required=True, given=True))
    made_by: Mapped[str] = shown(Field(N_("Made by")))
    light: Mapped[str] = shown(Field(N_("Seen by"), help=N_("Such as daylight, raking light, lens, mirror.")))
    overall: Mapped[str] = shown(Field(N_("As a whole"), Kind.LINES))


class ConditionMark(Record):
    """One thing seen: on which part, what, how grave, and where its pin stands on a photograph."""

    __tablename__ = "condition_mark"
    __table_args__ = (
        UniqueConstraint("report_id", "n"),
        CheckConstraint("x >= 0 AND x <= 10000 AND y >= 0 AND y <= 10000", name="pin_on_picture"),
    )

    id: Mapped[int] = key()
    report_id: Mapped[int] = link("condition_report.id")
    n: Mapped[int] = hidden(Whole(), "the number of the pin")
    part: Mapped[str] = shown(Field(N_("Part"), required=True, help=N_("From the form for this kind.")))
    term: Mapped[str] = shown(Field(N_("What is seen"), required=True, help=N_("From the list of terms.")))
    severity: Mapped[str] = shown(
        Field(N_("How grave"), Kind.CHOICE, required=True, choices=SEVERITIES), default="noted"
    )
    note: Mapped[str] = shown(Field(N_("In words")))
    picture_id: Mapped[int | None] = link("picture.id")
    x: Mapped[int | None] = hidden(Whole(), "the pin, in ten-thousandths of the picture's width")
    y: Mapped[int | None] = hidden(Whole(), "the pin, in ten-thousandths of the picture's height")
