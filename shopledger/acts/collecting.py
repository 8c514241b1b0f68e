"""The end of a job: collected and paid, or left owing in writing; declined and returned; or done on what stays here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.billing_sale import refuse_uncleared
from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.deposits import deposits_for_job, give_back_deposit, left_of
from shopledger.acts.opening import going_job
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import payable, take_payment
from shopledger.acts.people import person_of
from shopledger.acts.releasing import end_stay
from shopledger.model import Job, Sale, Stay
from shopledger.model.money import PAID_BY
from shopledger.model.stays import OFFERED
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.jobs import bill_standing
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import last_stay
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset(
    {Subject.JOB, Subject.INSTRUMENT, Subject.PERSON, Subject.SALE, Subject.ENTRY, Subject.ACCOUNT}
)
HANDED_TO = Field(N_("Handed to"))
IDENTITY = Field(N_("Identity seen"), help=N_("Which document, not its number."), personal=True)
CONDITION = Field(N_("Condition at hand-over"), Kind.LINES)


@dataclass(frozen=True, kw_only=True)
class CollectJob(Form):
    """The work is done and billed; the instrument goes to whoever fetches it, or stays with the shop."""

    job_id: int
    handed_to: str = ask(HANDED_TO, default="")
    identity_seen: str = ask(IDENTITY, default="")
    condition_out: str = ask(CONDITION, default="")
    amount: Money | None = ask(Field(N_("Paid now"), Kind.MONEY))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, choices=PAID_BY), default="cash")
    reference: str = ask(Field(N_("Reference")), default="")
    cleared: bool = ask(
        Field(N_("Cleared already"), Kind.YES_NO, help=N_("Cash, or a transfer that has arrived."))
    )
    owing_agreed: str = ask(
        Field(
            N_("Left owing, in writing"),
            Kind.LINES,
            help=N_("Until when the rest is paid, and where that is written down."),
        ),
        default="",
    )


@dataclass(frozen=True, kw_only=True)
class ReturnDeclined(Form):
    """The work was declined; the instrument goes back as it came."""

    job_id: int
    handed_to: str = ask(HANDED_TO, default="")
    identity_seen: str = ask(IDENTITY, default="")
    condition_out: str = ask(CONDITION, default="")


def job_to_collect(reading: Reading, job_id: int) -> Job:
    """Give a job that can be collected now.

    Raises: NotFound: there is none. Refused: it ended, was declined, is not ready, or is not billed.
    """
    job = going_job(reading, job_id)
    if job.ready_on is None:
        if job.declined_on is not None and job.begun_on is None:
            raise Refused(N_("The work of job {job} was declined. Return the instrument."), job=job.number)
        raise Refused(N_("The job {job} is not ready. Mark it as ready first."), job=job.number)
    if bill_standing(reading, job.id) is None:
        raise Refused(
            N_(
                "The job {job} is not billed. Bill it first, no more than was approved; nothing else stops the "
                "hand-over."
            ),
            job=job.number,
        )
    return job


def job_to_return(reading: Reading, job_id: int) -> Job:
    """Give a job whose instrument goes back because the work was declined.

    Raises: NotFound: there is none. Refused: it ended, or was not declined.
    """
    job = going_job(reading, job_id)
    if job.declined_on is None or job.begun_on is not None or job.ready_on is not None:
        raise Refused(N_("The work of job {job} was not declined."), job=job.number)
    return job


def _sale_of(reading: Reading, job: Job) -> Sale | None:
    bill = bill_standing(reading, job.id)
    return None if bill is None or bill.sale_id is None else reading.session.get_one(Sale, bill.sale_id)


def _owes(reading: Reading, job: Job) -> Money:
    """Give what the client still owes on the job's invoice."""
    sale = _sale_of(reading, job)
    return reading.money(0) if sale is None else sale_money(reading, sale.id).owes


def _leaves(stay: Stay, handed_to: str) -> bool:
    """Tell whether the instrument leaves the shop when the job ends.

    Raises: Typed: it has to be said to whom, or it can't be handed out by this act.
    """
    named = bool(handed_to.strip())
    if stay.ended_on is not None:
        # Nothing is let go with a job open any more; a ledger kept from before can hold what was.
        if named:
            raise Typed(
                N_("It left the shop on {day}, before the job ended. Leave this empty."),
                field="handed_to",
                day=stay.ended_on,
            )
        return False
    if stay.reason in OFFERED:
        if named:
            raise Typed(
                N_(
                    "It stays with the shop when the job ends. Leave this empty; return or sell it by its own act."
                ),
                field="handed_to",
            )
        return False
    if stay.reason == "repair" and not named:
        raise Typed(N_("To whom is it handed? Write the name."), field="handed_to")
    return named


@dataclass(frozen=True, slots=True)
class _Collected:
    """A job that can end as its form says: whether the instrument leaves, what is owed before and after."""

    job: Job
    stay: Stay
    leaves: bool
    sale: Sale | None
    owed: Money
    owes: Money


def _ready(reading: Reading, form: CollectJob) -> _Collected:
    """Give what a form ends, with everything that could refuse it asked.

    Raises: Typed, Refused, NotFound: it can't end so; the field names why.
    """
    job = job_to_collect(reading, form.job_id)
    bill = bill_standing(reading, job.id)
    if bill is not None and form.on < bill.billed_on:
        raise Typed(
            N_("The job {job} was billed on {day}: it can't be handed over before."),
            field="on",
            job=job.number,
            day=bill.billed_on,
        )
    stay = reading.session.get_one(Stay, job.stay_id)
    leaves = _leaves(stay, form.handed_to)
    sale, owed = _sale_of(reading, job), _owes(reading, job)
    owes = owed
    if form.amount is not None:
        if sale is None:
            raise Typed(N_("Nothing is billed to the client: nothing is to be paid."), field="amount")
        payable(reading, sale, form.amount)
        owes = owed - form.amount
    _check_owing(form, owes)
    return _Collected(job, stay, leaves, sale, owed, owes)


def run_collect_job(writing: Writing, form: CollectJob) -> Outcome:
    """End a job: payment, what is left owing, hand-over with its slip, or back to its place in the shop."""
    ready = _ready(writing, form)
    job, leaves = ready.job, ready.leaves
    papers: list[int] = []
    if form.amount is not None and ready.sale is not None:
        papers.append(
            take_payment(
                writing, ready.sale, form.amount, form.method, reference=form.reference, cleared=form.cleared
            )
        )
    job.owing_agreed = form.owing_agreed
    _end(writing, job, ready.stay, form, "collected" if leaves else "stays", leaves=leaves)
    if leaves:
        papers.insert(0, _slip(writing, job))
    return Outcome(Subject.JOB, job.id, CHANGED, tuple(papers))


def _check_owing(form: CollectJob, owes: Money) -> None:
    if owes.minor > 0 and not form.owing_agreed.strip():
        raise Refused(
            N_(
                "{owes} is still to be paid. Take the payment, or write down what was agreed about it: by when, and "
                "where that is signed."
            ),
            field="owing_agreed",
            owes=owes,
        )
    if owes.minor <= 0 and form.owing_agreed.strip():
        raise Typed(N_("Nothing is left owing: leave this empty."), field="owing_agreed")


def _end(
    writing: Writing, job: Job, stay: Stay, form: CollectJob | ReturnDeclined, ending: str, *, leaves: bool
) -> None:
    """End the job, and with it the stay where the instrument leaves; where it stays it goes back to its place."""
    job.ended_on, job.ending = writing.on, ending
    job.handed_to, job.identity_seen = form.handed_to.strip(), form.identity_seen
    job.condition_out = form.condition_out
    writing.session.flush()
    if leaves:
        end_stay(
            writing,
            stay,
            "returned",
            place="handed_over",
            handed_to=job.handed_to,
            condition=form.condition_out,
        )
        return
    now = last_stay(writing, job.instrument_id)
    if stay.ended_on is None and now is not None and now.place == "workshop":
        move(writing, stay.id, "here", words=job.number)


def _slip(writing: Writing, job: Job) -> int:
    from shopledger.queries.facts.collection import collection_facts

    facts = collection_facts(writing, job.id, writing.number("collection"), writing.on)
    return leave_paper(
        writing,
        "collection",
        facts,
        instrument_id=job.instrument_id,
        person_id=job.client_id,
        job_id=job.id,
    )


def run_return_declined(writing: Writing, form: ReturnDeclined) -> Outcome:
    """Give an instrument back whose work was declined, and with it the deposit."""
    job = job_to_return(writing, form.job_id)
    if job.declined_on is not None and form.on < job.declined_on:
        raise Typed(
            N_("The work of job {job} was declined on {day}: it can't have been returned before."),
            field="on",
            job=job.number,
            day=job.declined_on,
        )
    refuse_uncleared(writing, job)
    stay = writing.session.get_one(Stay, job.stay_id)
    leaves = _leaves(stay, form.handed_to)
    papers = []
    for deposit in deposits_for_job(writing, job.id):
        left = left_of(writing, deposit)
        if left:
            papers.append(give_back_deposit(writing, deposit, left, deposit.method))
    _end(writing, job, stay, form, "declined", leaves=leaves)
    if leaves:
        papers.insert(0, _slip(writing, job))
    return Outcome(Subject.JOB, job.id, CHANGED, tuple(papers))


def refuse_no_collection(reading: Reading, job_id: int) -> None:
    """Refuse to hand out what is not ready and billed."""
    job_to_collect(reading, job_id)


def refuse_no_return(reading: Reading, job_id: int) -> None:
    """Refuse to return as declined what was not."""
    job_to_return(reading, job_id)


def _handed_to(reading: Reading, job: Job) -> str:
    """Give who is expected to fetch it: the client; nobody where it stays."""
    stay = reading.session.get_one(Stay, job.stay_id)
    stays = stay.ended_on is not None or stay.reason in OFFERED
    return "" if stays else person_of(reading, job.client_id).name


def prefill_collect_job(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give who is expected, and what is left to pay."""
    job = job_to_collect(reading, job_id)
    found: dict[str, Any] = {"handed_to": _handed_to(reading, job)}
    owes = _owes(reading, job)
    if owes.minor > 0:
        found["amount"] = owes
    return found


def prefill_return_declined(reading: Reading, job_id: int) -> Mapping[str, Any]:
    """Give who is expected."""
    return {"handed_to": _handed_to(reading, job_to_return(reading, job_id))}


def preview_collect_job(reading: Reading, form: CollectJob) -> Preview:
    """Give what is paid now and what is left owing."""
    ready = _ready(reading, form)
    lines = [Line(_("To pay"), amount=ready.owed)] if ready.sale is not None else []
    if form.amount is not None:
        lines += [
            Line(_("Paid now"), amount=-form.amount),
            Line(_("Left owing"), amount=ready.owes, strong=True),
        ]
    if not ready.leaves and ready.stay.ended_on is None:
        lines.append(Line(_("It stays with the shop")))
    return Preview(ready.job.number, tuple(lines))


COLLECT_JOB = Act(
    name="collect_job",
    text=N_("Hand over after work"),
    subject=Subject.JOB,
    form=CollectJob,
    run=run_collect_job,
    subject_input="job_id",
    allowed=refuse_no_collection,
    prefill=prefill_collect_job,
    preview=preview_collect_job,
    shortcut="Ctrl+Shift+H",
    help=N_("To whom, identity seen, condition, and the balance paid or left owing in writing."),
    papers=("collection", "payment_receipt"),
)
RETURN_DECLINED = Act(
    name="return_declined",
    text=N_("Return, the work declined"),
    subject=Subject.JOB,
    form=ReturnDeclined,
    run=run_return_declined,
    subject_input="job_id",
    allowed=refuse_no_return,
    prefill=prefill_return_declined,
    help=N_("It goes back as it came; a deposit is given back."),
    papers=("collection", "refund_receipt"),
)
ACTS = (COLLECT_JOB, RETURN_DECLINED)
