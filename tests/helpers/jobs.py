"""Jobs for what is tried on one: written as records, for where opening a job isn't what is tried."""

from __future__ import annotations

from typing import Any

from shopledger.acts import new_op_id
from shopledger.model import Job
from shopledger.queries.standing import last_stay
from shopledger.rules.claims import claim_number
from tests.helpers.shops import TriedShop


def job_on(shop: TriedShop, instrument: int, **known: Any) -> int:
    """Give the key of a job on an instrument, written as a record under the next claim number, with a deed to tell."""
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=new_op_id(), act="open_job_here", on=shop.today, by="the maker")
        stay = last_stay(writing, instrument)
        assert stay is not None
        job = Job(
            number=claim_number(shop.today.year, writing.counted("job")),
            stay_id=stay.id,
            instrument_id=instrument,
            client_id=shop.owner,
            opened_on=shop.today,
            hears="a wolf on F",
            **known,
        )
        writing.add(job)
        writing.finish_act("job", job.id, {"subject": "job", "id": job.id, "changed": [], "papers": []})
        writing.commit()
        return job.id
