"""What every paper about a job names: its claim number, its client, its instrument; and what was approved and paid."""

from __future__ import annotations

from datetime import date

from sqlalchemy import bindparam, func, select

from shopledger.model import Approval, Instrument, Job, JobBill, Payment, Stay
from shopledger.papers.parts import PartyFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.facts.instruments import instrument_named, maker_words, name_of
from shopledger.queries.facts.parties import Head, head, party_facts
from shopledger.store.unit import Reading

_GOING_ON = select(Job.number).where(Job.stay_id == bindparam("stay"), Job.ended_on.is_(None))
_BILL_STANDING = select(JobBill).where(JobBill.job_id == bindparam("job"), JobBill.taken_back_on.is_(None))


class JobHead(Head):
    """What every paper about a job has, by the names of its facts."""

    claim_number: str
    client: PartyFacts
    thing: ThingFacts


def job_named(reading: Reading, job_id: int) -> Job:
    """Give the record of a job.

    Raises: NotFound: there is no such job.
    """
    job = reading.find(Job, job_id)
    if job is None:
        raise NotFound(N_("There is no job {id} in this ledger."), id=str(job_id))
    return job


def job_going_on(reading: Reading, stay_id: int) -> str | None:
    """Give the claim number of the job that is open in a stay; None where none is."""
    return reading.rows(_GOING_ON, {"stay": stay_id}).scalar()


def job_head(reading: Reading, job: Job, number: str, issued_on: date) -> JobHead:
    """Give what every paper about a job has."""
    return JobHead(
        **head(reading, number, issued_on),
        claim_number=job.number,
        client=party_facts(reading, job.client_id),
        thing=thing_facts(instrument_named(reading, job.instrument_id)),
    )


def thing_facts(instrument: Instrument) -> ThingFacts:
    """Give an instrument as the workshop's papers name it."""
    standing, maker = maker_words(instrument)
    said = " ".join(part for part in (standing, maker) if part) if maker else ""
    return ThingFacts(
        number=instrument.number,
        name=name_of(instrument),
        maker=", ".join(part for part in (said, instrument.made_when) if part),
    )


def stay_of(reading: Reading, job: Job) -> Stay:
    """Give the stay during which a job is done."""
    return reading.session.get_one(Stay, job.stay_id)


def approved_now(reading: Reading, job_id: int) -> Money | None:
    """Give up to what a job is approved: the newest approval counts; None where there is none."""
    minor = reading.session.scalar(
        select(Approval.up_to).where(Approval.job_id == job_id).order_by(Approval.id.desc()).limit(1)
    )
    return None if minor is None else reading.money(minor)


def deposits_paid(reading: Reading, job_id: int) -> Money | None:
    """Give what was paid beforehand for a job and did not bounce; None where nothing was."""
    minor = reading.session.scalar(
        select(func.sum(Payment.minor)).where(
            Payment.job_id == job_id,
            Payment.sale_id.is_(None),
            Payment.deposit_id.is_(None),
            Payment.bounced_on.is_(None),
        )
    )
    return reading.money(int(minor)) if minor else None


def bill_standing(reading: Reading, job_id: int) -> JobBill | None:
    """Give the bill of a job that was not taken back; None where it is not billed."""
    return reading.session.scalars(_BILL_STANDING, {"job": job_id}).one_or_none()
