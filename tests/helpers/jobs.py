"""Jobs for what is tried on one, written as records where opening isn't tried, and how acts on them are tried."""

from __future__ import annotations

from typing import Any

import pytest

from shopledger.acts import act, do, new_op_id, next_acts
from shopledger.acts.declare import Outcome
from shopledger.acts.releasing import end_stay
from shopledger.model import Approval, Estimate, Job, Stay
from shopledger.quantities.errors import LedgerError
from shopledger.queries.job_standing import state_code_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Preview
from shopledger.queries.standing import last_stay
from shopledger.rules.claims import claim_number
from shopledger.store.unit import Writing
from tests.helpers.shops import TriedShop


def job_on(shop: TriedShop, instrument: int, **known: Any) -> int:
    """Give the key of a job on an instrument, written as a record under the next claim number, with a deed to tell.

    What its days rest on is written with it: an estimate, an approval, the end of its stay.
    """
    if known.get("ready_on") or known.get("ending") == "collected":
        known = {"ready_on": shop.today, "begun_on": shop.today, **known}
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
        _decided(writing, job)
        if job.ending == "collected":
            end_stay(writing, writing.session.get_one(Stay, stay.id), "returned", place="handed_over")
        writing.finish_act("job", job.id, {"subject": "job", "id": job.id, "changed": [], "papers": []})
        writing.commit()
        return job.id


def _decided(writing: Writing, job: Job) -> None:
    """Write what a job was estimated at, and whether that was approved."""
    estimate = None
    if job.estimated_on is not None:
        estimate = writing.add(
            Estimate(
                number=writing.number("estimate"), job_id=job.id, n=1, made_on=job.estimated_on,
                valid_until=job.estimated_on, hourly_rate=0, tax_basis="item", net_low=0, net_high=0, tax_low=0,
                tax_high=0,
            )
        )  # fmt: skip
    for given_on, up_to in ((job.approved_on, 500_00), (job.declined_on, 0)):
        if given_on is not None:
            writing.add(
                Approval(
                    job_id=job.id, estimate_id=None if estimate is None else estimate.id, given_by="Orla Fenn",
                    given_on=given_on, how="counter", up_to=up_to,
                )
            )  # fmt: skip


def with_settings(shop: TriedShop, **known: Any) -> None:
    """Change the shop's own settings, as its page does."""
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=new_op_id(), act="change_job", on=shop.today, by="the maker")
        own = writing.shop()
        for name, value in known.items():
            setattr(own, name, value)
        writing.session.flush()
        writing.finish_act("shop", 1, {"subject": "shop", "id": 1, "changed": [], "papers": []})
        writing.commit()


def refused(shop: TriedShop, kind: type[LedgerError], field: str | None, name: str, **inputs: Any) -> str:
    """Make sure that an act is refused about a field and writes nothing; give the sentence."""
    before = shop.rows()
    with pytest.raises(kind) as caught:
        shop.act(name, **inputs)
    assert shop.rows() == before
    sentence = caught.value.sentence(shop.ledger.manners)
    assert type(caught.value) is kind, sentence
    assert caught.value.field == field, sentence
    assert sentence.endswith((".", "?"))
    assert "{" not in sentence
    return sentence


def twice(shop: TriedShop, name: str, /, **inputs: Any) -> Outcome:
    """Send one filled form twice, as a double click does; the second time writes nothing."""
    form = shop.form(name, **inputs)
    first = do(shop.ledger, act(name), form)
    rows = shop.rows()
    assert do(shop.ledger, act(name), form) == first
    assert shop.rows() == rows
    return first


def prefilled(shop: TriedShop, name: str, subject_id: int) -> dict[str, Any]:
    """Give what an act's form begins with."""
    prefill = act(name).prefill
    assert prefill is not None
    with shop.ledger.read() as reading:
        return dict(prefill(reading, subject_id))


def preview_of(shop: TriedShop, name: str, /, **inputs: Any) -> Preview:
    """Give what an act says it would do; nothing is written."""
    preview = act(name).preview
    assert preview is not None
    before = shop.rows()
    with shop.ledger.read() as reading:
        said = preview(reading, shop.form(name, **inputs))
    assert shop.rows() == before
    return said


def next_on(shop: TriedShop, job: int) -> set[str]:
    """Give the names of the acts that are on offer for a job."""
    with shop.ledger.read() as reading:
        return {one.name for one in next_acts(reading, Subject.JOB, job)}


def state_of(shop: TriedShop, job: int) -> str:
    """Give the code of the state a job is in."""
    with shop.ledger.read() as reading:
        return state_code_of(reading.session.get_one(Job, job))
