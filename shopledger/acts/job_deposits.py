"""The deposit paid for a job beforehand: the client's money until it is set off against the bill or given back."""

from __future__ import annotations

from shopledger.acts.deposits import deposits_for_job, left_of
from shopledger.acts.paying import above_zero, clear, receipt, record_payment
from shopledger.model import Job, Payment
from shopledger.quantities.money import Money
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing


def record_job_deposit(
    writing: Writing,
    job: Job,
    amount: Money,
    method: str,
    *,
    reference: str = "",
    cleared: bool = False,
    field: str = "deposit",
) -> int:
    """Take a deposit of a job's client: owed to them, cleared at once where it is said so; give its receipt's id.

    Raises: Typed: it is not above zero.
    """
    minor = above_zero(amount, writing.currency, field)
    entry = writing.book(
        [Amount("in_transit", minor), Amount("deposits", -minor, job.client_id)], f"{job.number} deposit"
    )
    payment = record_payment(
        writing,
        Payment(
            person_id=job.client_id,
            job_id=job.id,
            method=method,
            minor=minor,
            received_on=writing.on,
            reference=reference,
            entry_id=entry,
        ),
        {},
    )
    if cleared:
        clear(writing, payment)
    return receipt(writing, payment)


def deposit_held(reading: Reading, job_id: int) -> Money:
    """Give what is still held of what was paid beforehand for a job: neither set off nor given back."""
    return reading.money(sum(left_of(reading, deposit) for deposit in deposits_for_job(reading, job_id)))
