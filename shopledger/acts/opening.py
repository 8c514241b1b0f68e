"""Opening a job: an instrument is taken in for work at the counter, or one that is in the shop goes on the bench."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.acts.columns import filled, refill
from shopledger.acts.conditions import leave_report, record_report
from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Outcome
from shopledger.acts.deposits import deposit_held, take_deposit
from shopledger.acts.describing import instrument_of, record_pictures
from shopledger.acts.opening_forms import ChangeJob, OpenJob, OpenJobHere
from shopledger.acts.owning import OwnerRow, Share, owners_now, record_owners, shares_of, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.people import person_of, record_person
from shopledger.acts.taking_in import begin_stay, need_open_stay, open_stay
from shopledger.model import Instrument, Job, Person, Stay, asked_of
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.words import N_
from shopledger.queries.facts.jobs import bill_standing, job_named
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import last_agreement, last_stay
from shopledger.rules.claims import claim_number, read_claim
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.JOB, Subject.INSTRUMENT, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})


def job_of(reading: Reading, job_id: int) -> Job:
    """Give a job's record.

    Raises: NotFound, in words.
    """
    return job_named(reading, job_id)


def going_job(reading: Reading, job_id: int) -> Job:
    """Give a job that has not ended.

    Raises: NotFound: there is no such job. Refused: it ended.
    """
    job = job_of(reading, job_id)
    if job.ended_on is not None:
        raise Refused(
            N_("The job {job} ended on {day}. Open another for further work."),
            job=job.number,
            day=job.ended_on,
        )
    return job


def job_in_work(reading: Reading, job_id: int) -> Job:
    """Give a job whose work can still change: it has not ended and no bill stands.

    Raises: NotFound: there is no such job. Refused: it ended, or is billed.
    """
    job = going_job(reading, job_id)
    bill = bill_standing(reading, job.id)
    if bill is not None:
        raise Refused(
            N_("The job {job} was billed on {day}. Take the bill back first, if its work is to change."),
            job=job.number,
            day=bill.billed_on,
        )
    return job


def run_open_job(writing: Writing, form: OpenJob) -> Outcome:
    """Take an instrument in for work: client, instrument, stay, job, deposit, ticket."""
    if form.insured_value is not None and form.insured_value.minor < 0:
        raise Typed(N_("The value to insure can't be below zero."), field="insured_value")
    client = _client(writing, form)
    instrument = _instrument(writing, form)
    stay = begin_stay(
        writing,
        instrument.id,
        {
            "reason": "repair",
            "came_with": form.came_with,
            "insured_value": form.insured_value,
            "identity_seen": form.identity_seen,
        },
        brought_by=client.id,
        cost=None,
    )
    job = _record_job(writing, form, stay, client.id)
    shares = _owners(writing, form, instrument.id, client.id)
    if owners_now(writing, instrument.id) != shares:
        record_owners(writing, instrument.id, shares, how=f"said at intake {job.number}")
    return _opened(writing, form, job, instrument)


def run_open_job_here(writing: Writing, form: OpenJobHere) -> Outcome:
    """Put an instrument that is in the shop on the bench; its stay goes on."""
    refuse_no_work(writing, form.instrument_id)
    instrument = instrument_of(writing, form.instrument_id)
    person_of(writing, form.client_id, "client_id")
    job = _record_job(writing, form, need_open_stay(writing, instrument.id), form.client_id)
    return _opened(writing, form, job, instrument)


def _client(writing: Writing, form: OpenJob) -> Person:
    if form.client_id is None:
        if not form.client.get("name"):
            raise Typed(N_("Whose job is it? Choose the client, or write a new one."), field="client_id")
        return record_person(writing, form.client, "client")
    if any(form.client.get(name) for name in ("name", "phone", "email", "address")):
        raise Typed(N_("Choose a known client or write a new one, not both."), field="client_id")
    return person_of(writing, form.client_id, "client_id")


def _instrument(writing: Writing, form: OpenJob) -> Instrument:
    if form.instrument_id is None:
        if not form.instrument.get("kind"):
            raise Typed(
                N_("What is left? Choose a known instrument, or say what kind it is."), field="instrument_id"
            )
        instrument = filled(Instrument, form.instrument, writing.currency, path="instrument", number="")
        instrument.number = writing.number("instrument")
        writing.add(instrument)
        return instrument
    if form.instrument.get("kind"):
        raise Typed(N_("Choose a known instrument or describe a new one, not both."), field="instrument_id")
    instrument = instrument_of(writing, form.instrument_id)
    _refuse_open_job(writing, instrument)
    stay = open_stay(writing, instrument.id)
    if stay is not None:
        raise Refused(
            N_(
                "{instrument} has been in the shop since {since} ({entry}). Choose it in the stock and open the "
                "job there."
            ),
            field="instrument_id",
            instrument=instrument.number,
            since=stay.came_in_on,
            entry=stay.number,
        )
    return instrument


def _owners(writing: Writing, form: OpenJob, instrument_id: int, client_id: int) -> tuple[Share, ...]:
    if form.owners:
        return shares_of(form.owners)
    return owners_now(writing, instrument_id) or shares_of([OwnerRow(person_id=client_id)])


def _record_job(writing: Writing, form: OpenJob | OpenJobHere, stay: Stay, client_id: int) -> Job:
    """Write the job under its claim number, and put the instrument into the workshop."""
    earlier = _earlier(writing, form.earlier_claim, stay.instrument_id, form.bill_to)
    _check_bearer(writing, form.bill_to, stay, client_id, "bill_to")
    _check_promise(form.promised_on, writing.on, "promised_on")
    if form.deposit is not None and form.bill_to != "client":
        raise Typed(
            N_("A deposit is taken of a client who pays for the work: leave it out."), field="deposit"
        )
    job = Job(
        number=claim_number(writing.on.year, writing.counted("job")),
        stay_id=stay.id,
        instrument_id=stay.instrument_id,
        client_id=client_id,
        bill_to=form.bill_to,
        earlier_job_id=earlier,
        opened_on=writing.on,
        promised_on=form.promised_on,
        hears=form.hears,
        sees=form.sees,
    )
    writing.add(job)
    now = last_stay(writing, stay.instrument_id)
    if now is None or now.place != "workshop":
        move(writing, stay.id, "workshop", words=job.number)
    return job


def _opened(writing: Writing, form: OpenJob | OpenJobHere, job: Job, instrument: Instrument) -> Outcome:
    """Keep photographs, condition and deposit, and leave the ticket before their papers."""
    from shopledger.queries.facts.claim_ticket import claim_ticket_facts

    further: list[int] = []
    if form.marks:
        report = record_report(
            writing, instrument.id, "intake", form.marks, form.pictures,
            stay_id=job.stay_id, job_id=job.id, made_by=form.by,
        )  # fmt: skip
        further.append(leave_report(writing, report))
    else:
        record_pictures(writing, instrument, form.pictures, stay_id=job.stay_id, job_id=job.id)
    if form.deposit is not None:
        further.append(
            take_deposit(
                writing, job.client_id, job.number, form.deposit, form.method,
                cleared=form.cleared, job_id=job.id,
            )
        )  # fmt: skip
    facts = claim_ticket_facts(writing, job.id, job.number, writing.on)
    ticket = leave_paper(
        writing,
        "claim_ticket",
        facts,
        instrument_id=instrument.id,
        person_id=job.client_id,
        job_id=job.id,
    )
    return Outcome(Subject.JOB, job.id, CHANGED, (ticket, *further))


def _earlier(reading: Reading, typed: str, instrument_id: int, bill_to: str) -> int | None:
    """Give the earlier job on the same instrument that was typed by its claim number; None where none was.

    Raises: Typed: it has a slip, is no job on this instrument, or is missing under warranty.
    """
    if not typed.strip():
        if bill_to == "warranty":
            raise Typed(
                N_("Which earlier job is it the warranty of? Type its claim number."), field="earlier_claim"
            )
        return None
    try:
        number = read_claim(typed)
    except Typed as error:
        error.field = "earlier_claim"
        raise
    earlier = reading.session.scalar(
        select(Job.id).where(Job.number == number, Job.instrument_id == instrument_id)
    )
    if earlier is None:
        raise Typed(
            N_("{claim} is no earlier job on this instrument. Read the number again."),
            field="earlier_claim",
            claim=number,
        )
    return int(earlier)


def _check_bearer(reading: Reading, bill_to: str, stay: Stay, client_id: int, field: str) -> None:
    """Refuse a bearer who can't be billed for the work."""
    if bill_to == "owner" and last_agreement(reading, stay.id) is None:
        raise Typed(
            N_("Nothing is agreed with an owner of it. Choose the client, or agree terms first."), field=field
        )
    if bill_to == "client" and client_id == shop_person(reading):
        raise Typed(N_("The client is the shop itself: the work is paid for by the shop."), field=field)


def _check_promise(promised: date | None, opened: date, field: str) -> None:
    if promised is not None and promised < opened:
        raise Typed(
            N_("It can't be promised for {day}, before it was left on {opened}."),
            field=field,
            day=promised,
            opened=opened,
        )


def _refuse_open_job(reading: Reading, instrument: Instrument) -> None:
    number = reading.session.scalar(
        select(Job.number).where(Job.instrument_id == instrument.id, Job.ended_on.is_(None))
    )
    if number is not None:
        raise Refused(
            N_("{instrument} has the job {job} open: write what is wanted there."),
            instrument=instrument.number,
            job=number,
        )


def refuse_no_work(reading: Reading, instrument_id: int) -> None:
    """Refuse to open a job on what is not in the shop's rooms, or has one open."""
    instrument = instrument_of(reading, instrument_id)
    need_open_stay(reading, instrument_id)
    _refuse_open_job(reading, instrument)
    now = last_stay(reading, instrument_id)
    if now is not None and now.place not in ("here", "workshop"):
        raise Refused(
            N_("{instrument} is out of the shop since {day}. Have it back first."),
            instrument=instrument.number,
            day=now.since,
        )


def prefill_open_job_here(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give whose it is and who usually pays: the shop for its own, the owner's account for what is consigned."""
    stay = open_stay(reading, instrument_id)
    owners = owners_now(reading, instrument_id)
    agreed = stay is not None and last_agreement(reading, stay.id) is not None
    own = stay is not None and stay.reason == "own"
    found: dict[str, Any] = {"bill_to": "shop" if own else "owner" if agreed else "client"}
    if owners:
        found["client_id"] = owners[0].person_id
    return found


def run_change_job(writing: Writing, form: ChangeJob) -> Outcome:
    """Write anew what is wanted, seen and promised, and who pays."""
    job = job_in_work(writing, form.job_id)
    client = form.job.get("client_id", job.client_id)
    if client not in {None, job.client_id}:
        person_of(writing, client, "job.client_id")
        _refuse_deposit(writing, job, "job.client_id")
    if job.bill_to == "client" != form.job.get("bill_to", "client"):
        _refuse_deposit(writing, job, "job.bill_to")
    refill(job, form.job, writing.currency, path="job")
    stay = writing.session.get_one(Stay, job.stay_id)
    if form.earlier_claim.strip() or job.bill_to != "warranty" or job.earlier_job_id is None:
        earlier = _earlier(writing, form.earlier_claim, job.instrument_id, job.bill_to)
        if earlier == job.id:
            raise Typed(N_("{claim} is this job itself."), field="earlier_claim", claim=job.number)
        job.earlier_job_id = earlier
    _check_bearer(writing, job.bill_to, stay, job.client_id, "job.bill_to")
    _check_promise(job.promised_on, job.opened_on, "job.promised_on")
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, frozenset({Subject.JOB}))


def _refuse_deposit(reading: Reading, job: Job, field: str) -> None:
    """Refuse that another pays while a deposit of the client is held."""
    if deposit_held(reading, job.id):
        raise Refused(
            N_("A deposit of {client} is held for the job {job}: give it back before another pays."),
            field=field,
            client=person_of(reading, job.client_id).name,
            job=job.number,
        )


def prefill_change_job(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give what is known now."""
    job = job_of(reading, job_id)
    earlier = None if job.earlier_job_id is None else job_of(reading, job.earlier_job_id)
    return {
        "job": {name: getattr(job, name) for name in asked_of(Job)},
        "earlier_claim": "" if earlier is None else earlier.number,
    }


def refuse_no_change(reading: Reading, job_id: int) -> None:
    """Refuse to change a job that ended or is billed."""
    job_in_work(reading, job_id)


OPEN_JOB = Act(
    name="open_job",
    text=N_("Take in for work"),
    subject=Subject.SHOP,
    form=OpenJob,
    run=run_open_job,
    shortcut="Ctrl+Shift+J",
    help=N_("Claim ticket, what came with it, what is wanted, when it is promised."),
    papers=("claim_ticket", "condition_report", "payment_receipt"),
)
OPEN_JOB_HERE = Act(
    name="open_job_here",
    text=N_("Open a job on it"),
    subject=Subject.INSTRUMENT,
    form=OpenJobHere,
    run=run_open_job_here,
    subject_input="instrument_id",
    allowed=refuse_no_work,
    prefill=prefill_open_job_here,
    papers=("claim_ticket", "condition_report", "payment_receipt"),
)
CHANGE_JOB = Act(
    name="change_job",
    text=N_("Change what is wanted"),
    subject=Subject.JOB,
    form=ChangeJob,
    run=run_change_job,
    subject_input="job_id",
    allowed=refuse_no_change,
    prefill=prefill_change_job,
)
ACTS = (OPEN_JOB, OPEN_JOB_HERE, CHANGE_JOB)
