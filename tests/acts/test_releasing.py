"""What a job is open on stays until the job ends; and what was let go all the same by a version that allowed it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from shopledger.acts import new_op_id, next_acts
from shopledger.acts.selling_forms import PartExchangeRow
from shopledger.model import Custody, Job, Stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import last_stay
from tests.acts.test_billing import bill, here, left, ready, work
from tests.acts.test_collecting import billed, job_and_stay
from tests.helpers.jobs import next_on, prefilled, preview_of, refused, state_of, twice
from tests.helpers.shops import TriedShop, eur

TO_OWNER: Mapping[str, Any] = {"handed_to": "Orla Fenn"}
TO_BUYER: Mapping[str, Any] = {"handed_to": "Tam Brine", "unpaid": True}


def offered(shop: TriedShop, instrument: int) -> set[str]:
    """Give the names of the acts that are on offer for an instrument."""
    with shop.ledger.read() as reading:
        return {one.name for one in next_acts(reading, Subject.INSTRUMENT, instrument)}


@pytest.mark.parametrize("name", ["return_to_owner", "hand_over"])
def test_what_a_job_is_open_on_is_not_let_go(any_shop: TriedShop, name: str) -> None:
    shop = any_shop
    instrument = shop.consigned(repairs_allowed=True, repairs_up_to=eur("200.00"))
    job = here(shop, instrument, "owner")
    given: dict[str, Any] = {"instrument_id": instrument, **TO_OWNER}
    if name == "hand_over":
        shop.sold(instrument)
        given |= TO_BUYER
    assert name not in offered(shop, instrument)
    said = refused(shop, Refused, None, name, **given)
    assert "26-0001-7" in said
    assert "end it first" in said
    ready(shop, job)
    bill(shop, job, work("80.00"), bill_to="owner")
    refused(shop, Refused, None, name, **given)
    shop.act("collect_job", job_id=job)
    assert name in offered(shop, instrument)
    twice(shop, name, **given)
    refused(shop, Refused, None, name, **given)


def test_what_was_left_for_work_goes_back_by_its_job(shop: TriedShop) -> None:
    job = left(shop)
    instrument = job_and_stay(shop, job)[0].instrument_id
    refused(shop, Refused, None, "return_to_owner", instrument_id=instrument, handed_to="Ida Skerry")
    shop.act("decline_job", job_id=job, given_by="Ida Skerry")
    refused(shop, Refused, None, "return_to_owner", instrument_id=instrument, handed_to="Ida Skerry")
    shop.act("return_declined", job_id=job, handed_to="Ida Skerry")


def test_a_part_exchange_on_the_bench_is_not_given_back(shop: TriedShop) -> None:
    row = PartExchangeRow(kind="violin", description="student violin", allowance=eur("1000.00"))
    sale = shop.sold(shop.consigned(), part_exchange=(row,))
    with shop.ledger.read() as reading:
        taken = reading.session.get_one(Stay, 2)
    job = here(shop, taken.instrument_id, "shop")
    given = {"sale_id": sale, "number": "PR 2026-001"}
    assert "end it first" in refused(shop, Refused, None, "bounce_payment", **given)
    ready(shop, job)
    bill(shop, job, work("10.00"), bill_to="shop")
    shop.act("collect_job", job_id=job)
    shop.act("bounce_payment", **given)


def test_a_loss_ends_its_job_and_is_not_held_up_by_it(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned()
    job = here(shop, instrument, "owner")
    twice(shop, "report_loss", instrument_id=instrument, what_happened="fire", agreed_value=eur("9000.00"))
    found, stay = job_and_stay(shop, job)
    assert (found.ended_on, found.ending) == (stay.ended_on, stay.ending) == (shop.today, "lost")


def let_go_as_before(shop: TriedShop, job: int, ending: str = "returned") -> None:
    """Let go what a job is open on, as the acts of the versions up to revision 0002 did."""
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=new_op_id(), act="return_to_owner", on=shop.today, by="the maker")
        found = writing.session.get_one(Job, job)
        stay = writing.session.get_one(Stay, found.stay_id)
        stay.ended_on, stay.ending, stay.handed_to = shop.today, ending, "Orla Fenn"
        writing.session.flush()
        writing.add(Custody(stay_id=stay.id, place="handed_over", since=shop.today, words="Orla Fenn"))
        told = {"subject": "instrument", "id": found.instrument_id, "changed": [], "papers": []}
        writing.finish_act("instrument", found.instrument_id, told)
        writing.commit()


def test_a_ledger_kept_from_before_is_sound_and_its_job_can_end(any_shop: TriedShop) -> None:
    shop = any_shop
    job, declined, going_on = billed(shop), left(shop), left(shop)
    shop.act("decline_job", job_id=declined, given_by="Ida Skerry")
    for one in (job, declined, going_on):
        let_go_as_before(shop, one)
    assert shop.wrong() == []
    gone = shop.today
    shop.pass_days(3)
    assert {"collect_job"} <= next_on(shop, job)
    assert prefilled(shop, "collect_job", job)["handed_to"] == ""
    given: dict[str, Any] = {"job_id": job, "amount": eur("80.00"), "cleared": True}
    said = refused(shop, Typed, "handed_to", "collect_job", **given, handed_to="Ida Skerry")
    assert "left the shop on" in said
    shown = preview_of(shop, "collect_job", **given)
    assert [line.label for line in shown.lines] == ["To pay", "Paid now", "Left owing"]
    assert len(twice(shop, "collect_job", **given).papers) == 1
    assert state_of(shop, job) == "stays"
    assert twice(shop, "return_declined", job_id=declined).papers == ()
    for one in (job, declined):
        found, stay = job_and_stay(shop, one)
        assert (stay.ended_on, stay.ending, stay.handed_to) == (gone, "returned", "Orla Fenn")
        with shop.ledger.read() as reading:
            now = last_stay(reading, found.instrument_id)
            assert now is not None
            assert now.place == "handed_over"


def test_a_later_stay_is_not_held_up_by_a_job_of_one_before(shop: TriedShop) -> None:
    job = left(shop)
    let_go_as_before(shop, job)
    instrument = job_and_stay(shop, job)[0].instrument_id
    shop.act("take_in_again", instrument_id=instrument, stay={"reason": "keep"})
    assert "26-0001-7" in refused(
        shop, Refused, None, "open_job_here", instrument_id=instrument, client_id=shop.player, hears="x"
    )
    shop.act("return_to_owner", instrument_id=instrument, handed_to="Ida Skerry")


def test_what_was_collected_while_sold_is_sound_after_the_sale_is_taken_back(shop: TriedShop) -> None:
    """The versions up to revision 0002 let a sold instrument's job hand it over; undone, its stay goes on."""
    instrument = shop.consigned()
    sale = shop.sold(instrument)
    job = here(shop, instrument, "owner")
    let_go_as_before(shop, job, "sold")
    shop.act("take_back", sale_id=sale, why="wolf note")
    assert job_and_stay(shop, job)[1].ended_on is None
