"""From a bill's form to what can be billed: who pays, what is allowed, what it comes to, what is not billed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sqlalchemy import select

from shopledger.acts.declare import Form
from shopledger.acts.describing import instrument_of
from shopledger.acts.owning import shop_person
from shopledger.model import Estimate, Job, JobBill
from shopledger.model.jobs import BILL_TO, WORK_KINDS
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_
from shopledger.queries.facts.jobs import approved_now, bill_standing, job_named
from shopledger.queries.shop import work_taxed
from shopledger.queries.standing import AgreementNow, last_agreement
from shopledger.rules.billing import (
    Billed,
    RepairShare,
    WorkAmount,
    brought_down,
    most_allowed,
    reckon_bill,
    repair_shares,
)
from shopledger.rules.claims import read_claim
from shopledger.rules.estimating import for_time
from shopledger.rules.terms import Bearer, OwnerShare
from shopledger.store.unit import Reading

FREE = ("shop", "warranty")
"""To whom a bill asks nobody for money."""


@dataclass(frozen=True, kw_only=True)
class WorkRow:
    """One line of the bill."""

    kind: str = ask(Field(N_("Sort"), Kind.CHOICE, required=True, choices=WORK_KINDS), default="labour")
    what: str = ask(Field(N_("What"), required=True))
    minutes: int | None = ask(Field(N_("Time"), Kind.COUNT, unit=N_("min")))
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)
    amount: Money | None = ask(
        Field(
            N_("Amount"),
            Kind.MONEY,
            help=N_("For all of the line; empty for time at the hourly rate."),
        )
    )


@dataclass(frozen=True, kw_only=True)
class GoodsRow:
    """Something bought along with the work: a sale on the same invoice, outside of what was approved."""

    goods_id: int | None = ask(Field(N_("From the goods"), Kind.GOODS))
    what: str = ask(Field(N_("What"), help=N_("Empty for goods: their own words stand.")), default="")
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)
    price: Money | None = ask(
        Field(N_("Price"), Kind.MONEY, help=N_("For all of the line; empty for goods with a price."))
    )
    taxable: bool = ask(Field(N_("Taxable"), Kind.YES_NO), default=True)


@dataclass(frozen=True, kw_only=True)
class BillJob(Form):
    """What a job comes to, and who pays for it."""

    job_id: int
    bill_to: str = ask(
        Field(N_("Is paid for by"), Kind.CHOICE, required=True, choices=BILL_TO), default="client"
    )
    lines: tuple[WorkRow, ...] = ask(Field(N_("Lines"), Kind.ROWS, required=True, of=WorkRow))
    discount: Money | None = ask(Field(N_("Discount"), Kind.MONEY))
    goods: tuple[GoodsRow, ...] = ask(
        Field(
            N_("Goods bought along"),
            Kind.ROWS,
            of=GoodsRow,
            help=N_("Strings or a case that the client buys on the same invoice."),
        )
    )
    tax_rate: Fraction | None = ask(
        Field(
            N_("Rate of tax"),
            Kind.RATE,
            help=N_("Empty for none. Which lines it falls on is a setting of the shop; places differ: ask."),
        )
    )
    bill_only_approved: bool = ask(
        Field(
            N_("Bill no more than was approved"),
            Kind.YES_NO,
            help=N_("What is above it stands on the bill as not billed, and is the shop's."),
        )
    )
    earlier_claim: str = ask(
        Field(N_("Earlier job, under warranty"), help=N_("Its claim number, such as 26-0014-7.")), default=""
    )
    note: str = ask(Field(N_("Note on the invoice"), Kind.LINES), default="")


@dataclass(frozen=True, slots=True)
class ReadyLine:
    """A line that can be billed."""

    row: WorkRow
    amount: Money
    is_taxed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyBill:
    """A bill that can be made.

    Shape:  the lines less `discount` and `unbilled` are the net of `billed`; `shares` is by owner, in the order of
            `owner_ids`, for a bill to the owner's account, and empty otherwise.
    """

    job: Job
    bill_to: str
    lines: tuple[ReadyLine, ...]
    discount: Money
    unbilled: Money
    billed: Billed
    rate: Fraction | None
    approved: Money | None
    earlier: Job | None = None
    agreement: AgreementNow | None = None
    owner_ids: tuple[int, ...] = ()
    shares: tuple[RepairShare, ...] = ()


def job_to_bill(reading: Reading, job_id: int) -> Job:
    """Give a job that can be billed now.

    Raises: NotFound: there is none. Refused: it is billed, was declined, is lost or sold, or is not ready.
    """
    job = job_named(reading, job_id)
    bill = bill_standing(reading, job.id)
    if bill is not None:
        raise Refused(
            N_("The job {job} was billed on {day}. Take that bill back before you make another."),
            job=job.number,
            day=bill.billed_on,
        )
    if job.ending in {"declined", "lien"} or (job.declined_on is not None and job.ready_on is None):
        raise Refused(N_("The work of job {job} was declined: there is nothing to bill."), job=job.number)
    if job.ending == "lost":
        raise Refused(
            N_("What the job {job} was about was lost on {day}: there is nothing to bill."),
            job=job.number,
            day=job.ended_on,
        )
    if job.ready_on is None:
        raise Refused(N_("The job {job} is not ready. Mark it as ready, then bill it."), job=job.number)
    return job


def hourly_rate(reading: Reading, job_id: int) -> Money | None:
    """Give what an hour of a job is billed at: as last estimated, else the shop's rate; None where neither is known."""
    estimated = reading.session.scalar(
        select(Estimate.hourly_rate).where(Estimate.job_id == job_id).order_by(Estimate.n.desc()).limit(1)
    )
    rate = reading.shop().work_rate if estimated is None else estimated
    return None if rate is None else reading.money(rate)


def ready_bill(reading: Reading, form: BillJob) -> ReadyBill:
    """Give what a form bills, with everything that could refuse it asked.

    Raises: Typed, Refused, NotFound: it can't be billed so; the field names why.
    """
    job = job_to_bill(reading, form.job_id)
    if form.tax_rate is not None and not 0 <= form.tax_rate <= 1:
        raise Typed(
            N_("{rate} is out of bounds. A rate is from 0% to 100%."), field="tax_rate", rate=form.tax_rate
        )
    lines = _lines(reading, form, job)
    amounts = [WorkAmount(line.amount, line.is_taxed) for line in lines]
    discount = form.discount or reading.money(0)
    approved = approved_now(reading, job.id)
    if form.bill_to in FREE:
        whole = total([line.amount for line in lines], reading.currency)
        reckon_bill(amounts, discount, None, by_invoice=False)  # refuses a discount beyond the lines
        return ReadyBill(
            job=job,
            bill_to=form.bill_to,
            lines=lines,
            discount=discount,
            unbilled=whole - discount,
            billed=reckon_bill(amounts, whole, None, by_invoice=False),
            rate=None,
            approved=approved,
            earlier=_earlier(reading, form, job),
        )
    agreement = _agreement(reading, job) if form.bill_to == "owner" else None
    if agreement is None and job.client_id == shop_person(reading):
        raise Refused(N_("The client is the shop itself. Bill it to the shop."), field="bill_to")
    by_invoice = reading.shop().work_tax_basis == "invoice"
    billed = reckon_bill(amounts, discount, form.tax_rate, by_invoice=by_invoice)
    without_asking, most = _limits(reading, approved, agreement)
    if form.bill_only_approved:
        up_to = max(without_asking, approved or reading.money(0))
        billed = brought_down(amounts, discount, form.tax_rate, up_to, by_invoice=by_invoice)
    elif billed.total > most:
        raise _beyond(job, billed.total, most, approved, agreement)
    return ReadyBill(
        job=job,
        bill_to=form.bill_to,
        lines=lines,
        discount=discount,
        unbilled=billed.discount - discount,
        billed=billed,
        rate=form.tax_rate,
        approved=approved,
        agreement=agreement,
        owner_ids=() if agreement is None else tuple(party.person_id for party in agreement.owners),
        shares=() if agreement is None else shares_by(agreement, billed.net, billed.tax),
    )


def shares_by(agreement: AgreementNow, net: Money, tax: Money) -> tuple[RepairShare, ...]:
    """Give what each owner of an agreement bears of a repair, in the order of its owners."""
    owners = [OwnerShare(party.number, party.share) for party in agreement.owners]
    return repair_shares(net, tax, Bearer(agreement.terms.repairs_borne_by), owners)


def _lines(reading: Reading, form: BillJob, job: Job) -> tuple[ReadyLine, ...]:
    taxed = work_taxed(reading)
    hourly = hourly_rate(reading, job.id)
    found = []
    for n, row in enumerate(form.lines):
        if not row.what.strip():
            raise Typed(N_("Say what was done in a few words."), field=f"lines[{n}].what")
        if row.quantity < 1:
            raise Typed(N_("The quantity is at least 1."), field=f"lines[{n}].quantity")
        amount = row.amount
        if amount is None and row.minutes is not None and hourly is not None:
            amount = for_time(hourly, row.minutes)
        if amount is None:
            raise Typed(
                N_("What does “{what}” come to? Type its amount, or its time where an hourly rate is known."),
                field=f"lines[{n}].amount",
                what=row.what,
            )
        found.append(ReadyLine(row, amount, taxed[row.kind] and form.tax_rate is not None))
    return tuple(found)


def _earlier(reading: Reading, form: BillJob, job: Job) -> Job | None:
    """Give the earlier job whose warranty this one is.

    Raises: Typed: it is not said, is not there, or was on another instrument.
    """
    if form.bill_to != "warranty":
        return None
    if not form.earlier_claim.strip():
        if job.earlier_job_id is None:
            raise Typed(
                N_("Which earlier job is it the warranty of? Type its claim number."), field="earlier_claim"
            )
        return reading.session.get_one(Job, job.earlier_job_id)
    try:
        number = read_claim(form.earlier_claim)
    except Typed as error:
        error.field = "earlier_claim"
        raise
    earlier = reading.session.scalars(select(Job).where(Job.number == number)).first()
    if earlier is None or earlier.instrument_id != job.instrument_id or earlier.id >= job.id:
        raise Typed(
            N_("{claim} is no earlier job on this instrument. Read the number again."),
            field="earlier_claim",
            claim=number,
        )
    return earlier


def _agreement(reading: Reading, job: Job) -> AgreementNow:
    agreement = last_agreement(reading, job.stay_id)
    if agreement is None:
        raise Refused(
            N_("Nothing is agreed with an owner of {instrument}. Bill the client, or agree terms first."),
            field="bill_to",
            instrument=instrument_of(reading, job.instrument_id).number,
        )
    return agreement


def _limits(reading: Reading, approved: Money | None, agreement: AgreementNow | None) -> tuple[Money, Money]:
    """Give up to what may be billed without asking, and up to what at most with what was approved."""
    zero = reading.money(0)
    without_asking = zero
    if agreement is not None and agreement.terms.repairs_allowed:
        # Where no limit is agreed the shop asks before each repair.
        without_asking = reading.money(agreement.terms.repairs_up_to or 0)
    with_approval = zero if approved is None else most_allowed(approved, reading.shop().allowed_excess)
    return without_asking, max(without_asking, with_approval)


def _beyond(
    job: Job, total: Money, most: Money, approved: Money | None, agreement: AgreementNow | None
) -> Refused:
    """Give the refusal of a bill that is above what was approved or agreed, with the facts."""
    if agreement is not None:
        return Refused(
            N_(
                "The bill of {total} is above the {most} that {agreement} and the owner's consent allow. Record the "
                "owner's consent, or bill no more than that."
            ),
            field="bill_only_approved",
            total=total,
            most=most,
            agreement=agreement.number,
        )
    if approved is None:
        return Refused(
            N_(
                "Nothing is approved for the job {job}, and the bill comes to {total}. Record the approval first."
            ),
            field="bill_only_approved",
            job=job.number,
            total=total,
        )
    return Refused(
        N_(
            "The bill comes to {total}, and {approved} is approved: at most {most} can be billed. Record a further "
            "approval, or bill no more than was approved."
        ),
        field="bill_only_approved",
        total=total,
        approved=approved,
        most=most,
    )


def bills_of(reading: Reading, job_id: int) -> Sequence[JobBill]:
    """Give all bills of a job, in order, those taken back too."""
    return reading.session.scalars(select(JobBill).where(JobBill.job_id == job_id).order_by(JobBill.id)).all()
