"""Trials: what is out with a player to be tried, until when, at whose risk, and what was decided of each thing."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown, single_while
from shopledger.model.stays import BEARERS, INSURERS
from shopledger.model.types import Whole
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_
from shopledger.rules.places import check_place

CARRIAGE_BY = (("player", N_("the player")), ("shop", N_("the shop")), ("owner", N_("the owner")))
DECISIONS = (
    ("returned", N_("came back")),
    ("bought", N_("to be bought")),
    ("lost", N_("lost")),
)


class Trial(Record):
    """One trial: a player, an end, and one line for each thing lent."""

    __tablename__ = "trial"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Trial"), in_table=True, searchable=True, given=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("Player"), Kind.PERSON, required=True, in_table=True), index=True)
    began_on: Mapped[date] = shown(Field(N_("Went out on"), Kind.DAY, required=True, given=True))
    due_on: Mapped[date] = shown(Field(N_("Back by"), Kind.DAY, required=True, in_table=True))
    signed_on: Mapped[date | None] = shown(
        Field(N_("Signed by both on"), Kind.DAY, help=N_("Before it goes out; empty while it isn't signed."))
    )
    identity_seen: Mapped[str] = shown(
        Field(N_("Identity seen"), help=N_("Which document, not its number."), personal=True)
    )
    at_place: Mapped[str] = shown(
        Field(N_("Where it is played"), Kind.LINES, help=N_("Town or address."), personal=True)
    )
    goes_to: Mapped[str] = shown(
        Field(
            N_("Country it goes to"),
            help=N_("Such as DE, where it crosses a border; empty at home."),
            checks=(check_place,),
        )
    )
    risk: Mapped[str] = shown(
        Field(N_("Risk is borne by"), Kind.CHOICE, required=True, choices=BEARERS), default="player"
    )
    insured_by: Mapped[str] = shown(
        Field(N_("Insured by"), Kind.CHOICE, required=True, choices=INSURERS), default="player"
    )
    insurance: Mapped[str] = shown(
        Field(N_("Insurance"), help=N_("Insurer and policy, and what was seen of it."))
    )
    carriage_by: Mapped[str] = shown(
        Field(N_("Carriage is paid by"), Kind.CHOICE, required=True, choices=CARRIAGE_BY), default="player"
    )
    note: Mapped[str] = shown(Field(N_("Note"), Kind.LINES, searchable=True))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY, given=True))


class TrialLine(Record):
    """One thing lent: decided for itself; an instrument of the ledger is out on at most one trial."""

    __tablename__ = "trial_line"
    __table_args__ = (
        UniqueConstraint("trial_id", "n"),
        CheckConstraint("value > 0", name="value_above_zero"),
        CheckConstraint("(decided_on IS NULL) = (decision IS NULL)", name="decided_as_a_whole"),
        single_while("uq_trial_line_out", "stay_id", "decided_on IS NULL AND stay_id IS NOT NULL"),
    )

    id: Mapped[int] = key()
    trial_id: Mapped[int] = link("trial.id")
    n: Mapped[int] = hidden(Whole(), "the order on the paper")
    stay_id: Mapped[int | None] = link("stay.id", index=True)
    what: Mapped[str] = shown(
        Field(N_("What"), help=N_("Of a thing that has no number of its own, such as a case."))
    )
    value: Mapped[int] = shown(Field(N_("Value"), Kind.MONEY, required=True))
    report_out_id: Mapped[int | None] = link("condition_report.id")
    report_back_id: Mapped[int | None] = link("condition_report.id")
    condition_out: Mapped[str] = shown(Field(N_("Condition going out"), Kind.LINES))
    condition_back: Mapped[str] = shown(Field(N_("Condition coming back"), Kind.LINES, given=True))
    decided_on: Mapped[date | None] = shown(Field(N_("Decided on"), Kind.DAY, given=True))
    decision: Mapped[str | None] = shown(Field(N_("Decision"), Kind.CHOICE, choices=DECISIONS, given=True))
    sale_id: Mapped[int | None] = link("sale.id", index=True)


class TrialExtension(Record):
    """A later end agreed for a trial; the earlier ends stay."""

    __tablename__ = "trial_extension"
    __table_args__ = (CheckConstraint("due_on > due_before_on", name="later"),)

    id: Mapped[int] = key()
    trial_id: Mapped[int] = link("trial.id", index=True)
    agreed_on: Mapped[date] = shown(Field(N_("Agreed on"), Kind.DAY, required=True))
    due_before_on: Mapped[date] = shown(Field(N_("Was due on"), Kind.DAY, required=True))
    due_on: Mapped[date] = shown(Field(N_("Back by"), Kind.DAY, required=True))
    agreed_by: Mapped[str] = shown(Field(N_("Agreed with"), help=N_("Who, and how.")))


class TrialReminder(Record):
    """A letter that reminded of a trial's end."""

    __tablename__ = "trial_reminder"
    __table_args__ = (UniqueConstraint("trial_id", "sent_on"),)

    id: Mapped[int] = key()
    trial_id: Mapped[int] = link("trial.id")
    sent_on: Mapped[date] = shown(Field(N_("Sent on"), Kind.DAY, required=True))
    due_on: Mapped[date] = shown(Field(N_("Was due on"), Kind.DAY, required=True))
