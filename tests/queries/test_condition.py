"""Which kind of instrument a form is about."""

from __future__ import annotations

from shopledger.queries.condition import kind_of
from shopledger.queries.shapes import Subject
from tests.helpers.jobs import job_on
from tests.helpers.shops import TriedShop


def test_the_kind_is_that_of_the_instrument_or_of_the_job_s(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, bow = shop.taken_in(), shop.taken_in(instrument={"kind": "bow", "maker": "Ansel Quill"})
    job = job_on(shop, bow)
    with shop.ledger.read() as reading:
        assert kind_of(reading, Subject.INSTRUMENT, cello) == "cello"
        assert kind_of(reading, Subject.INSTRUMENT, bow) == "bow"
        assert kind_of(reading, Subject.JOB, job) == "bow"
        assert kind_of(reading, Subject.JOB, job + 1) == ""
        assert kind_of(reading, Subject.PERSON, cello) == ""
