"""Jobs of the workshop: what came in, what was estimated, approved, done, billed, and how it was collected.

The state of a job is never stored as such: it follows from the days below (`rules/job_state.py`).
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown, single_while
from shopledger.model.shop import TAX_BASES
from shopledger.model.types import Instant, Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

BILL_TO = (
    ("client", N_("the client")),
    ("owner", N_("the owner's account")),
    ("shop", N_("the shop itself")),
    ("warranty", N_("nobody: warranty")),
)
WORK_KINDS = (
    ("labour", N_("work")),
    ("part", N_("part")),
    ("service", N_("bought-in service")),
)
APPROVED_HOW = (
    ("counter", N_("at the counter")),
    ("telephone", N_("by telephone")),
    ("letter", N_("by letter")),
    ("email", N_("by e-mail")),
)
JOB_ENDINGS = (
    ("collected", N_("collected")),
    ("declined", N_("declined and returned")),
    ("lien", N_("sold for what was owed")),
    ("stays", N_("done; it stays with the shop")),
    ("lost", N_("lost in the shop")),
)


class Job(Record):
    """One job on one instrument, from intake to collection."""

    __tablename__ = "job"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(
        Field(N_("Claim number"), in_table=True, searchable=True, given=True), unique=True
    )
    stay_id: Mapped[int] = link("stay.id", index=True)
    instrument_id: Mapped[int] = link("instrument.id", index=True)
    client_id: Mapped[int] = shown(Field(N_("Client"), Kind.PERSON, required=True), index=True)
    bill_to: Mapped[str] = shown(
        Field(N_("Is paid for by"), Kind.CHOICE, required=True, choices=BILL_TO), default="client"
    )
    earlier_job_id: Mapped[int | None] = link("job.id")
    opened_on: Mapped[date] = shown(Field(N_("Opened on"), Kind.DAY, required=True, given=True))
    promised_on: Mapped[date | None] = shown(Field(N_("Promised for"), Kind.DAY, in_table=True))
    hears: Mapped[str] = shown(
        Field(N_("What the client hears and wants"), Kind.LINES, required=True, searchable=True)
    )
    sees: Mapped[str] = shown(Field(N_("What the maker sees"), Kind.LINES, searchable=True))
    estimated_on: Mapped[date | None] = shown(Field(N_("Estimated on"), Kind.DAY, given=True))
    approved_on: Mapped[date | None] = shown(Field(N_("Approved on"), Kind.DAY, given=True))
    begun_on: Mapped[date | None] = shown(Field(N_("Begun on"), Kind.DAY, given=True))
    waits_for: Mapped[str] = shown(Field(N_("Waits for"), given=True))
    ready_on: Mapped[date | None] = shown(Field(N_("Ready on"), Kind.DAY, given=True))
    declined_on: Mapped[date | None] = shown(Field(N_("Declined on"), Kind.DAY, given=True))
    ended_on: Mapped[date | None] = shown(Field(N_("Ended on"), Kind.DAY, given=True))
    ending: Mapped[str | None] = shown(
        Field(N_("How it ended"), Kind.CHOICE, choices=JOB_ENDINGS, given=True)
    )
    handed_to: Mapped[str] = shown(Field(N_("Handed to"), personal=True, given=True))
    identity_seen: Mapped[str] = shown(Field(N_("Identity seen"), personal=True, given=True))
    condition_out: Mapped[str] = shown(Field(N_("Condition at hand-over"), Kind.LINES, given=True))
    owing_agreed: Mapped[str] = shown(Field(N_("Left owing, in writing"), Kind.LINES, given=True))


class WorkItem(Record):
    """A line of the shop's own price list of work."""

    __tablename__ = "work_item"
    __table_args__ = (UniqueConstraint("what"),)

    id: Mapped[int] = key()
    what: Mapped[str] = shown(Field(N_("Work"), required=True, searchable=True))
    for_kind: Mapped[str] = shown(Field(N_("For"), help=N_("Such as cello; empty for any.")))
    minutes: Mapped[int | None] = shown(Field(N_("Usual time"), Kind.COUNT, unit=N_("min")))
    price: Mapped[int | None] = shown(
        Field(N_("Price"), Kind.MONEY, help=N_("Empty: the time at the hourly rate."))
    )
    left_out_on: Mapped[date | None] = shown(Field(N_("No longer offered since"), Kind.DAY, given=True))


class Estimate(Record):
    """What a job was said to come to; a change is a further estimate, never an edit."""

    __tablename__ = "estimate"
    __table_args__ = (UniqueConstraint("job_id", "n"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Estimate"), searchable=True, given=True), unique=True)
    job_id: Mapped[int] = link("job.id")
    n: Mapped[int] = hidden(Whole(), "1 for the first, then counted up")
    made_on: Mapped[date] = shown(Field(N_("Made on"), Kind.DAY, required=True, given=True))
    valid_until: Mapped[date] = shown(Field(N_("Valid until"), Kind.DAY, required=True))
    hourly_rate: Mapped[int] = shown(Field(N_("Hourly rate"), Kind.MONEY, required=True))
    discount: Mapped[int] = shown(Field(N_("Discount"), Kind.MONEY), default=0)
    tax_rate: Mapped[Fraction | None] = shown(Field(N_("Rate of tax"), Kind.RATE))
    tax_basis: Mapped[str] = shown(
        Field(N_("Tax is reckoned"), Kind.CHOICE, choices=TAX_BASES), default="item"
    )
    note: Mapped[str] = shown(Field(N_("Further words"), Kind.LINES))
    net_low: Mapped[int] = shown(Field(N_("Net, at least"), Kind.MONEY, given=True, required=True))
    net_high: Mapped[int] = shown(Field(N_("Net, at most"), Kind.MONEY, given=True, required=True))
    tax_low: Mapped[int] = shown(Field(N_("Tax, at least"), Kind.MONEY, given=True, required=True))
    tax_high: Mapped[int] = shown(Field(N_("Tax, at most"), Kind.MONEY, given=True, required=True))


class EstimateLine(Record):
    """One line of an estimate: low and high are the same where it can be known."""

    __tablename__ = "estimate_line"
    __table_args__ = (
        UniqueConstraint("estimate_id", "n"),
        CheckConstraint("low >= 0 AND high >= low", name="low_then_high"),
    )

    id: Mapped[int] = key()
    estimate_id: Mapped[int] = link("estimate.id")
    n: Mapped[int] = hidden(Whole(), "the order of the lines")
    kind: Mapped[str] = shown(Field(N_("Sort"), Kind.CHOICE, required=True, choices=WORK_KINDS))
    what: Mapped[str] = shown(Field(N_("What"), required=True))
    minutes: Mapped[int | None] = shown(Field(N_("Time"), Kind.COUNT, unit=N_("min")))
    minutes_high: Mapped[int | None] = shown(Field(N_("Time, at most"), Kind.COUNT, unit=N_("min")))
    goods_id: Mapped[int | None] = link("goods.id")
    quantity: Mapped[int] = shown(Field(N_("Quantity"), Kind.COUNT), default=1)
    low: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    high: Mapped[int] = shown(Field(N_("Amount, at most"), Kind.MONEY, required=True))
    is_taxed: Mapped[bool] = shown(Field(N_("Taxed"), Kind.YES_NO))


class Approval(Record):
    """What the client (or the owner) approved: who, when, how, up to what; the newest counts, nothing adds up."""

    __tablename__ = "approval"
    __table_args__ = (CheckConstraint("up_to >= 0", name="not_below_zero"),)

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id", index=True)
    estimate_id: Mapped[int | None] = link("estimate.id")
    given_by: Mapped[str] = shown(Field(N_("Given by"), required=True, personal=True))
    given_on: Mapped[date] = shown(Field(N_("Given on"), Kind.DAY, required=True))
    how: Mapped[str] = shown(Field(N_("How"), Kind.CHOICE, required=True, choices=APPROVED_HOW))
    up_to: Mapped[int] = shown(
        Field(N_("Up to"), Kind.MONEY, required=True, help=N_("In all, with tax, for the whole job."))
    )
    note: Mapped[str] = shown(Field(N_("In words")))


class WorkTime(Record):
    """Time spent on a job, typed or by a start and a stop; at most one runs. What was taken off stands as none."""

    __tablename__ = "work_time"
    __table_args__ = (
        CheckConstraint("minutes >= 0", name="not_below_zero"),
        single_while("uq_work_time_running", "job_id", "minutes IS NULL"),
    )

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id", index=True)
    worked_on: Mapped[date] = shown(Field(N_("Worked on"), Kind.DAY, required=True))
    minutes: Mapped[int | None] = shown(Field(N_("Time"), Kind.COUNT, unit=N_("min")))
    started_at: Mapped[datetime | None] = hidden(
        Instant(), "when the clock was started; empty where time was typed"
    )
    what: Mapped[str] = shown(Field(N_("What was done")))
    worked_by: Mapped[str] = shown(Field(N_("By")))


class JobNote(Record):
    """A note on a job."""

    __tablename__ = "job_note"

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id", index=True)
    noted_on: Mapped[date] = shown(Field(N_("On"), Kind.DAY, required=True))
    words: Mapped[str] = shown(Field(N_("Note"), Kind.LINES, required=True))


class JobService(Record):
    """A service that the shop bought in for a job: what it cost, and what the job is charged for it."""

    __tablename__ = "job_service"

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id", index=True)
    what: Mapped[str] = shown(Field(N_("What"), required=True))
    supplier: Mapped[str] = shown(Field(N_("From")))
    bought_on: Mapped[date] = shown(Field(N_("Bought on"), Kind.DAY, required=True))
    cost: Mapped[int] = shown(Field(N_("Cost"), Kind.MONEY, required=True))
    price: Mapped[int] = shown(Field(N_("Charged"), Kind.MONEY, required=True))
    entry_id: Mapped[int] = link("entry.id")


class JobBill(Record):
    """What a job was billed at, to whom it was, and what it cost the shop; a bill that was taken back stays."""

    __tablename__ = "job_bill"
    __table_args__ = (single_while("uq_job_bill_stands", "job_id", "taken_back_on IS NULL"),)

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id")
    billed_on: Mapped[date] = shown(Field(N_("Billed on"), Kind.DAY, required=True))
    bill_to: Mapped[str] = shown(Field(N_("Paid for by"), Kind.CHOICE, required=True, choices=BILL_TO))
    net: Mapped[int] = shown(Field(N_("Net"), Kind.MONEY, required=True))
    tax: Mapped[int] = shown(Field(N_("Tax"), Kind.MONEY, required=True))
    cost: Mapped[int] = shown(Field(N_("Cost of parts and services"), Kind.MONEY, required=True))
    minutes: Mapped[int] = shown(Field(N_("Time spent"), Kind.COUNT, unit=N_("min"), required=True))
    sale_id: Mapped[int | None] = link("sale.id")
    entry_id: Mapped[int | None] = link("entry.id")
    taken_back_on: Mapped[date | None] = shown(Field(N_("Taken back on"), Kind.DAY))


class JobBillLine(Record):
    """One line of what was billed."""

    __tablename__ = "job_bill_line"
    __table_args__ = (UniqueConstraint("bill_id", "n"),)

    id: Mapped[int] = key()
    bill_id: Mapped[int] = link("job_bill.id")
    n: Mapped[int] = hidden(Whole(), "the order of the lines")
    kind: Mapped[str] = shown(Field(N_("Sort"), Kind.CHOICE, required=True, choices=WORK_KINDS))
    what: Mapped[str] = shown(Field(N_("What"), required=True))
    minutes: Mapped[int | None] = shown(Field(N_("Time"), Kind.COUNT, unit=N_("min")))
    quantity: Mapped[int] = shown(Field(N_("Quantity"), Kind.COUNT), default=1)
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    is_taxed: Mapped[bool] = shown(Field(N_("Taxed"), Kind.YES_NO))


class Reminder(Record):
    """A letter that reminded of work not collected."""

    __tablename__ = "reminder"
    __table_args__ = (UniqueConstraint("job_id", "after_days"),)

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id")
    after_days: Mapped[int] = shown(Field(N_("After"), Kind.COUNT, unit=N_("days"), required=True))
    sent_on: Mapped[date] = shown(Field(N_("Sent on"), Kind.DAY, required=True))


class LienSale(Record):
    """Uncollected work sold for what was owed: the price, what was due, the costs, and what is the owner's."""

    __tablename__ = "lien_sale"

    id: Mapped[int] = key()
    job_id: Mapped[int] = link("job.id", unique=True)
    sold_on: Mapped[date] = shown(Field(N_("Sold on"), Kind.DAY, required=True))
    sold_to: Mapped[str] = shown(Field(N_("Sold to"), required=True, personal=True))
    price: Mapped[int] = shown(Field(N_("Price"), Kind.MONEY, required=True))
    due: Mapped[int] = shown(Field(N_("Due to the shop"), Kind.MONEY, required=True))
    costs: Mapped[int] = shown(Field(N_("Costs of the sale"), Kind.MONEY, required=True))
    surplus: Mapped[int] = shown(Field(N_("The owner's"), Kind.MONEY, required=True))
    by_what_right: Mapped[str] = shown(
        Field(
            N_("By what right"),
            Kind.LINES,
            required=True,
            help=N_("The law, the notices given, the waiting time."),
        )
    )
    entry_id: Mapped[int | None] = link("entry.id")


class SetupString(Record):
    """One string of a set-up sheet as it was found or left: what is strung, at what pitch."""

    __tablename__ = "setup_string"
    __table_args__ = (Index("ix_setup_string_instrument_id_taken_on", "instrument_id", "taken_on"),)

    id: Mapped[int] = key()
    instrument_id: Mapped[int] = link("instrument.id")
    job_id: Mapped[int | None] = link("job.id", index=True)
    stage: Mapped[str] = hidden(Words(), "before or after the work; empty outside a job")
    n: Mapped[int] = hidden(Whole(), "counted from the highest string")
    pitch: Mapped[str] = shown(Field(N_("Pitch"), required=True, help=N_("Such as A4 or G2.")))
    what: Mapped[str] = shown(Field(N_("String"), help=N_("What it is made of; no brand.")))
    gauge: Mapped[str] = shown(Field(N_("Gauge"), help=N_("As the packet says, or in mm.")))
    ug_per_m: Mapped[int | None] = hidden(Whole(), "its linear density in micrograms a metre; shown in g/m")
    tension_mn: Mapped[int | None] = hidden(
        Whole(), "a known tension in millinewtons; shown in the unit typed"
    )
    tension_at_nm: Mapped[int | None] = hidden(Whole(), "the string length at which the tension is known")
    taken_on: Mapped[date] = shown(Field(N_("On"), Kind.DAY, required=True))
