"""What a claim ticket states: whose instrument was left, with what, what is wanted, promised, paid and insured."""

from __future__ import annotations

from datetime import date

from shopledger.papers.claim_ticket import ClaimTicketFacts
from shopledger.queries.facts.jobs import deposits_paid, job_head, job_named, stay_of
from shopledger.queries.facts.parties import lines_of
from shopledger.store.unit import Reading


def claim_ticket_facts(reading: Reading, job_id: int, number: str, on: date) -> ClaimTicketFacts:
    """Give what the claim ticket of a job states.

    Raises: NotFound: there is no such job.
    """
    job = job_named(reading, job_id)
    stay = stay_of(reading, job)
    return ClaimTicketFacts(
        **job_head(reading, job, number, on),
        opened_on=job.opened_on,
        promised_on=job.promised_on,
        came_with=lines_of(stay.came_with),
        wants=" ".join(lines_of(job.hears)),
        deposit=deposits_paid(reading, job_id),
        value=None if stay.insured_value is None else reading.money(stay.insured_value),
    )
