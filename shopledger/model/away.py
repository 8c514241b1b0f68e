"""Instruments elsewhere and what is said of them: with another dealer, sent, valued, damaged; counts of the stock."""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown, single_while
from shopledger.model.stays import BEARERS, INSURERS
from shopledger.model.types import Instant
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_
from shopledger.rules.places import check_place

PLACING_ENDINGS = (("back", N_("came back")), ("sold", N_("sold by the dealer")), ("lost", N_("lost")))
SENT_WHY = (
    ("sale", N_("sold")),
    ("trial", N_("on trial")),
    ("return", N_("back to its owner")),
    ("workshop", N_("to another workshop")),
    ("dealer", N_("to another dealer")),
    ("other", N_("other")),
)
PURPOSES = (
    ("insurance", N_("insurance")),
    ("sale", N_("sale")),
    ("estate", N_("estate")),
    ("division", N_("division between owners")),
    ("other", N_("other")),
)


class Placing(Record):
    """An instrument given on to another dealer to be sold there; at most one at a time."""

    __tablename__ = "placing"
    __table_args__ = (single_while("uq_placing_going_on", "stay_id", "ended_on IS NULL"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Placing"), searchable=True, given=True), unique=True)
    stay_id: Mapped[int] = link("stay.id")
    dealer_id: Mapped[int] = shown(Field(N_("Dealer"), Kind.PERSON, required=True), index=True)
    since: Mapped[date] = shown(Field(N_("Since"), Kind.DAY, required=True, given=True))
    until: Mapped[date] = shown(Field(N_("Until"), Kind.DAY, required=True))
    asking: Mapped[int | None] = shown(Field(N_("Asking price there"), Kind.MONEY))
    dealer_rate: Mapped[Fraction | None] = shown(Field(N_("The dealer keeps"), Kind.RATE))
    terms: Mapped[str] = shown(Field(N_("What is agreed"), Kind.LINES))
    value: Mapped[int] = shown(Field(N_("Value"), Kind.MONEY, required=True))
    risk: Mapped[str] = shown(
        Field(N_("Risk is borne by"), Kind.CHOICE, required=True, choices=BEARERS), default="dealer"
    )
    insured_by: Mapped[str] = shown(
        Field(N_("Insured by"), Kind.CHOICE, required=True, choices=INSURERS), default="dealer"
    )
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY, given=True))
    ending: Mapped[str | None] = shown(
        Field(N_("How it ended"), Kind.CHOICE, choices=PLACING_ENDINGS, given=True)
    )


class Shipment(Record):
    """What was sent with a carrier: to whom, insured for what, and when it arrived."""

    __tablename__ = "shipment"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Shipment"), searchable=True, given=True), unique=True)
    sent_on: Mapped[date] = shown(Field(N_("Sent on"), Kind.DAY, required=True, given=True))
    why: Mapped[str] = shown(Field(N_("Why"), Kind.CHOICE, required=True, choices=SENT_WHY))
    carrier: Mapped[str] = shown(Field(N_("Carrier"), required=True))
    tracking: Mapped[str] = shown(Field(N_("Tracking number"), searchable=True))
    to_id: Mapped[int] = shown(Field(N_("To"), Kind.PERSON, required=True), index=True)
    to_place: Mapped[str] = shown(Field(N_("Address"), Kind.LINES, personal=True))
    goes_to: Mapped[str] = shown(
        Field(
            N_("Country it goes to"),
            help=N_("Such as DE, where it crosses a border; empty at home."),
            checks=(check_place,),
        )
    )
    insured_for: Mapped[int | None] = shown(Field(N_("Insured for"), Kind.MONEY))
    insured_by: Mapped[str] = shown(
        Field(N_("Insured by"), Kind.CHOICE, required=True, choices=INSURERS), default="carrier"
    )
    risk: Mapped[str] = shown(
        Field(N_("Risk is borne by"), Kind.CHOICE, required=True, choices=BEARERS), default="shop"
    )
    sale_id: Mapped[int | None] = link("sale.id", index=True)
    trial_id: Mapped[int | None] = link("trial.id", index=True)
    arrived_on: Mapped[date | None] = shown(Field(N_("Arrived on"), Kind.DAY, given=True))
    arrived_how: Mapped[str] = shown(Field(N_("How it arrived"), Kind.LINES, given=True))


class ShipmentLine(Record):
    """One instrument in a shipment."""

    __tablename__ = "shipment_line"
    __table_args__ = (UniqueConstraint("shipment_id", "stay_id"),)

    id: Mapped[int] = key()
    shipment_id: Mapped[int] = link("shipment.id")
    stay_id: Mapped[int] = link("stay.id", index=True)
    value: Mapped[int | None] = shown(Field(N_("Value"), Kind.MONEY))


class Valuation(Record):
    """What an instrument was said to be worth: by whom, on which day, for what purpose, on what basis."""

    __tablename__ = "valuation"
    __table_args__ = (CheckConstraint("value > 0", name="above_zero"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Valuation"), searchable=True, given=True), unique=True)
    instrument_id: Mapped[int] = link("instrument.id", index=True)
    for_id: Mapped[int | None] = shown(Field(N_("For"), Kind.PERSON), index=True)
    value: Mapped[int] = shown(Field(N_("Value"), Kind.MONEY, required=True))
    purpose: Mapped[str] = shown(Field(N_("Purpose"), Kind.CHOICE, required=True, choices=PURPOSES))
    valued_by: Mapped[str] = shown(Field(N_("Valued by"), required=True, help=N_("Who says so.")))
    valued_on: Mapped[date] = shown(Field(N_("Valued on"), Kind.DAY, required=True))
    basis: Mapped[str] = shown(
        Field(
            N_("On what basis"), Kind.LINES, help=N_("Replacement, market, insurer's wording; what was seen.")
        )
    )
    is_appraisal: Mapped[bool] = shown(
        Field(
            N_("A certified appraisal"), Kind.YES_NO, help=N_("Only where who valued it says that it is one.")
        )
    )


class Damage(Record):
    """Damage in custody: what happened, who bears it, and the claim."""

    __tablename__ = "damage"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Damage"), searchable=True, given=True), unique=True)
    stay_id: Mapped[int] = link("stay.id", index=True)
    trial_id: Mapped[int | None] = link("trial.id", index=True)
    report_id: Mapped[int | None] = link("condition_report.id")
    happened_on: Mapped[date | None] = shown(Field(N_("Happened on"), Kind.DAY))
    found_on: Mapped[date] = shown(Field(N_("Found on"), Kind.DAY, required=True))
    what_happened: Mapped[str] = shown(Field(N_("What happened"), Kind.LINES, required=True))
    borne_by: Mapped[str] = shown(Field(N_("Borne by"), Kind.CHOICE, choices=BEARERS))
    reported_to: Mapped[str] = shown(
        Field(N_("Reported to"), help=N_("Insurer, police, and their references."))
    )
    claimed: Mapped[int | None] = shown(Field(N_("Claimed"), Kind.MONEY))
    closed_on: Mapped[date | None] = shown(Field(N_("Claim closed on"), Kind.DAY, given=True))
    paid: Mapped[int | None] = shown(Field(N_("Paid on the claim"), Kind.MONEY, given=True))
    outcome: Mapped[str] = shown(Field(N_("How the claim ended"), Kind.LINES, given=True))


class StockTake(Record):
    """One count of the stock: what should be here is listed at its start, and ticked as it is seen."""

    __tablename__ = "stock_take"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Count"), in_table=True, searchable=True, given=True), unique=True)
    began_on: Mapped[date] = shown(Field(N_("Begun on"), Kind.DAY, required=True, in_table=True, given=True))
    counted_by: Mapped[str] = shown(Field(N_("Counted by"), in_table=True))
    note: Mapped[str] = shown(Field(N_("Note"), Kind.LINES))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY, in_table=True, given=True))


class StockTakeLine(Record):
    """One instrument of a count: expected at its start or met without being expected, and when it was seen."""

    __tablename__ = "stock_take_line"
    __table_args__ = (UniqueConstraint("stock_take_id", "stay_id"),)

    id: Mapped[int] = key()
    stock_take_id: Mapped[int] = link("stock_take.id")
    stay_id: Mapped[int] = link("stay.id", index=True)
    was_expected: Mapped[bool] = shown(Field(N_("Should be here"), Kind.YES_NO, given=True))
    seen_at: Mapped[datetime | None] = hidden(Instant(timezone=True), "when it was ticked; its day is shown")
    note: Mapped[str] = shown(Field(N_("Note")))
