"""Stays and custody: an instrument's time with the shop, from take-in to hand-over, and where it was meanwhile."""

from __future__ import annotations

from datetime import date

from sqlalchemy import Index
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, key, link, shown, single_while
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

REASONS = (
    ("to_sell", N_("to sell")),
    ("own", N_("the shop's own")),
    ("repair", N_("to be repaired")),
    ("value", N_("to be valued")),
    ("keep", N_("to be looked after")),
)
OFFERED = ("to_sell", "own")
"""The reasons of what is offered for sale: it leaves by a sale, or goes back to its owner unsold."""
ENDINGS = (
    ("sold", N_("handed to the buyer")),
    ("returned", N_("returned to the owner")),
    ("lost", N_("lost")),
)
PLACES = (
    ("here", N_("here")),
    ("workshop", N_("in the workshop")),
    ("on_trial", N_("on trial")),
    ("away", N_("away")),
    ("handed_over", N_("handed over")),
    ("lost", N_("lost")),
)
BEARERS = (
    ("owner", N_("the owner")),
    ("shop", N_("the shop")),
    ("player", N_("the player")),
    ("dealer", N_("the other dealer")),
    ("carrier", N_("the carrier")),
    ("workshop", N_("the other workshop")),
)
"""Who can bear the risk of an instrument."""
INSURERS = (*BEARERS, ("nobody", N_("nobody")))
"""Whose insurance can cover it."""
HOLDERS = (
    ("owner", N_("its owner")),
    ("player", N_("a player")),
    ("dealer", N_("another dealer")),
    ("workshop", N_("another workshop")),
    ("carrier", N_("a carrier")),
    ("other", N_("someone else")),
)
"""With whom an instrument can be that isn't here."""


class Stay(Record):
    """One stay of an instrument: what came in, why, on whose word, in what condition."""

    __tablename__ = "stay"
    __table_args__ = (single_while("uq_stay_open", "instrument_id", "ended_on IS NULL"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Entry number"), searchable=True, given=True), unique=True)
    instrument_id: Mapped[int] = link("instrument.id", index=True)
    reason: Mapped[str] = shown(Field(N_("Left with the shop"), Kind.CHOICE, required=True, choices=REASONS))
    came_in_on: Mapped[date] = shown(Field(N_("Came in on"), Kind.DAY, required=True, given=True))
    brought_by_id: Mapped[int | None] = shown(Field(N_("Brought by"), Kind.PERSON))
    came_with: Mapped[str] = shown(
        Field(N_("What came with it"), Kind.LINES, help=N_("Case, bow, rest, covers: one a line."))
    )
    condition: Mapped[str] = shown(
        Field(N_("Condition"), Kind.LINES, help=N_("What is seen at the counter."))
    )
    insured_value: Mapped[int | None] = shown(Field(N_("Value to insure"), Kind.MONEY))
    identity_seen: Mapped[str] = shown(
        Field(N_("Identity seen"), help=N_("Which document, not its number."), personal=True)
    )
    authority: Mapped[str] = shown(
        Field(
            N_("Title and authority"),
            Kind.LINES,
            help=N_("Owner, heir with proof, agent with a letter; no liens."),
        )
    )
    no_liens: Mapped[bool] = shown(Field(N_("Says it is free of others' claims"), Kind.YES_NO))
    register_checked: Mapped[str] = shown(
        Field(N_("Register of stolen instruments"), help=N_("Which register, and what it answered."))
    )
    register_checked_on: Mapped[date | None] = shown(Field(N_("Register checked on"), Kind.DAY))
    cost: Mapped[int | None] = shown(Field(N_("Cost to the shop"), Kind.MONEY, given=True))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY, given=True))
    ending: Mapped[str | None] = shown(Field(N_("How it ended"), Kind.CHOICE, choices=ENDINGS, given=True))
    handed_to: Mapped[str] = shown(Field(N_("Handed to"), personal=True, given=True))
    condition_out: Mapped[str] = shown(Field(N_("Condition at hand-over"), Kind.LINES, given=True))


class Custody(Record):
    """Where an instrument is from a day on; never changed, the newest row says where it is."""

    __tablename__ = "custody"
    __table_args__ = (Index("ix_custody_stay_id_since", "stay_id", "since"),)

    id: Mapped[int] = key()
    stay_id: Mapped[int] = link("stay.id")
    place: Mapped[str] = shown(Field(N_("Where"), Kind.CHOICE, required=True, choices=PLACES))
    since: Mapped[date] = shown(Field(N_("Since"), Kind.DAY, required=True))
    holder: Mapped[str | None] = shown(Field(N_("With"), Kind.CHOICE, choices=HOLDERS))
    person_id: Mapped[int | None] = shown(Field(N_("With"), Kind.PERSON))
    words: Mapped[str] = shown(Field(N_("Note")))
    risk: Mapped[str | None] = shown(Field(N_("Risk is borne by"), Kind.CHOICE, choices=BEARERS))
    insured_by: Mapped[str | None] = shown(Field(N_("Insured by"), Kind.CHOICE, choices=INSURERS))
    insured_for: Mapped[int | None] = shown(Field(N_("Insured for"), Kind.MONEY))
    trial_id: Mapped[int | None] = link("trial.id", index=True)
    placing_id: Mapped[int | None] = link("placing.id")
    shipment_id: Mapped[int | None] = link("shipment.id")


class Hold(Record):
    """An instrument kept for a player until a day; at most one is in force."""

    __tablename__ = "hold"
    __table_args__ = (single_while("uq_hold_in_force", "stay_id", "ended_on IS NULL"),)

    id: Mapped[int] = key()
    stay_id: Mapped[int] = link("stay.id")
    person_id: Mapped[int] = shown(Field(N_("For"), Kind.PERSON, required=True), index=True)
    since: Mapped[date] = shown(Field(N_("Since"), Kind.DAY, required=True))
    until: Mapped[date] = shown(Field(N_("Until"), Kind.DAY, required=True))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY))
    ending: Mapped[str] = shown(Field(N_("How it ended")))
