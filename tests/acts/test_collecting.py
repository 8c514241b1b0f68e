"""The end of a job: handed over against a slip, paid or left owing in writing, declined and returned, or it stays."""

from __future__ import annotations

import pytest

from shopledger.acts import act
from shopledger.model import Job, Stay
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.owing import sale_money
from shopledger.queries.standing import last_stay
from tests.acts.test_billing import bill, here, left, papers_of, read_back, ready, sale_of, work
from tests.helpers.jobs import next_on, prefilled, preview_of, refused, state_of, twice
from tests.helpers.shops import FIRST_DAY, TriedShop, eur
from tests.papers.reading_back import in_order


def billed(shop: TriedShop, amount: str = "80.00") -> int:
    """Give a client's job that is ready and billed."""
    job = ready(shop, left(shop, came_with="Case\nBow"), "500.00")
    bill(shop, job, work(amount))
    return job


def job_and_stay(shop: TriedShop, job: int) -> tuple[Job, Stay]:
    with shop.ledger.read() as reading:
        found = reading.session.get_one(Job, job)
        return found, reading.session.get_one(Stay, found.stay_id)


def test_it_is_collected_and_paid_in_one_form(any_shop: TriedShop) -> None:
    shop = any_shop
    job = billed(shop)
    assert prefilled(shop, "collect_job", job) == {"handed_to": "Ida Skerry", "amount": eur("80.00")}
    shown = preview_of(shop, "collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("80.00"))
    assert [line.amount for line in shown.lines] == [eur("80.00"), eur("-80.00"), eur("0.00")]
    done = twice(
        shop, "collect_job", job_id=job, handed_to="Ida Skerry", identity_seen="passport",
        condition_out="As it came", amount=eur("80.00"), cleared=True,
    )  # fmt: skip
    assert [kind for kind, _number in papers_of(shop, done)] == ["collection", "payment_receipt"]
    assert in_order(
        read_back(shop, done.papers[0]), "Handed to", "Ida Skerry", "passport", "As it came", "Case; Bow"
    )
    found, stay = job_and_stay(shop, job)
    assert (found.ended_on, found.ending, found.handed_to) == (shop.today, "collected", "Ida Skerry")
    assert (stay.ended_on, stay.ending, stay.handed_to) == (shop.today, "returned", "Ida Skerry")
    with shop.ledger.read() as reading:
        now = last_stay(reading, found.instrument_id)
        assert now is not None
        assert now.place == "handed_over"
        assert sale_money(reading, sale_of(shop, job)).owes == eur("0.00")
    assert state_of(shop, job) == "collected"
    refused(shop, Refused, None, "collect_job", job_id=job, handed_to="Ida Skerry")


def test_work_beyond_what_was_approved_never_stops_the_hand_over(any_shop: TriedShop) -> None:
    shop = any_shop
    job = ready(shop, left(shop), "80.00")
    given = {"job_id": job, "lines": (work("95.00"),)}
    refused(shop, Refused, "bill_only_approved", "bill_job", **given)
    shop.act("bill_job", **given, bill_only_approved=True)
    shop.act("collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("80.00"), cleared=True)
    assert state_of(shop, job) == "collected"
    assert shop.owes(sale_of(shop, job)) == 0
    # The rest can't be billed afterwards.
    refused(shop, Refused, None, "bill_job", job_id=job, lines=(work("15.00"),))


def test_what_is_left_owing_is_written_down(any_shop: TriedShop) -> None:
    shop = any_shop
    job = billed(shop)
    said = refused(
        shop, Refused, "owing_agreed", "collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("30.00")
    )
    assert "50.00" in said
    done = shop.act(
        "collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("30.00"), cleared=True,
        owing_agreed="The rest by 30 April; her note of today.",
    )  # fmt: skip
    assert in_order(
        read_back(shop, done.papers[0]), "billed in all", "80.00", "50.00", "The rest by 30 April"
    )
    # It can still be paid afterwards, and the slip stays as it was.
    shop.pay(sale_of(shop, job))


def test_what_is_refused_at_the_counter(shop: TriedShop) -> None:
    job = billed(shop)
    given = {"job_id": job, "handed_to": "Ida Skerry"}
    refused(shop, NotFound, None, "collect_job", job_id=999, handed_to="Ida Skerry")
    refused(shop, Typed, "handed_to", "collect_job", job_id=job, handed_to=" ", amount=eur("80.00"))
    refused(shop, Refused, "amount", "collect_job", **given, amount=eur("80.01"))
    refused(shop, Typed, "amount", "collect_job", **given, amount=eur("0.00"))
    refused(shop, Typed, "owing_agreed", "collect_job", **given, amount=eur("80.00"), owing_agreed="later")
    refused(shop, Typed, "method", "collect_job", **given, amount=eur("80.00"), method="shells")
    # What is shown beforehand asks the same.
    for wrong in ({"amount": eur("80.01")}, {"amount": eur("30.00")}, {"handed_to": ""}):
        with shop.ledger.read() as reading, pytest.raises((Refused, Typed)):
            act("collect_job").preview(reading, shop.form("collect_job", **{**given, **wrong}))


def test_nothing_is_handed_over_before_it_was_billed_or_declined(shop: TriedShop) -> None:
    job, declined = left(shop), left(shop)
    shop.pass_days(2)
    before = shop.today
    shop.pass_days(2)
    ready(shop, job, "500.00")
    bill(shop, job, work("80.00"))
    given = {"job_id": job, "handed_to": "Ida Skerry", "amount": eur("80.00")}
    assert "6 Mar 2026" in refused(shop, Typed, "on", "collect_job", **given, on=before)
    assert "6 Mar 2026" in refused(shop, Typed, "on", "collect_job", **given, on=FIRST_DAY)
    shop.act("decline_job", job_id=declined, given_by="Ida Skerry")
    given = {"job_id": declined, "handed_to": "Ida Skerry"}
    assert "6 Mar 2026" in refused(shop, Typed, "on", "return_declined", **given, on=before)
    shop.act("return_declined", **given)


def test_what_is_shown_says_where_it_stays(shop: TriedShop) -> None:
    job = ready(shop, here(shop, shop.own(), "shop"))
    bill(shop, job, work("80.00"), bill_to="shop")
    assert [line.label for line in preview_of(shop, "collect_job", job_id=job).lines] == [
        "It stays with the shop"
    ]


def test_only_what_is_ready_and_billed_is_handed_over(shop: TriedShop) -> None:
    job = left(shop)
    refused(shop, Refused, None, "collect_job", job_id=job, handed_to="Ida Skerry")
    ready(shop, job, "100.00")
    assert "bill" in refused(shop, Refused, None, "collect_job", job_id=job, handed_to="Ida Skerry").lower()
    bill(shop, job, work("130.00"), bill_only_approved=True)
    # Work beyond what was approved never stops the hand-over.
    shop.act("collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("100.00"), cleared=True)
    assert state_of(shop, job) == "collected"


def test_on_what_stays_the_job_ends_and_it_is_here_again(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned(repairs_allowed=True, repairs_up_to=eur("200.00"))
    job = ready(shop, here(shop, instrument, "owner"))
    bill(shop, job, work("80.00"), bill_to="owner")
    refused(shop, Typed, "handed_to", "collect_job", job_id=job, handed_to="Orla Fenn")
    refused(shop, Typed, "amount", "collect_job", job_id=job, amount=eur("1.00"))
    assert prefilled(shop, "collect_job", job) == {"handed_to": ""}
    assert twice(shop, "collect_job", job_id=job).papers == ()
    assert state_of(shop, job) == "stays"
    with shop.ledger.read() as reading:
        now = last_stay(reading, instrument)
        assert now is not None
        assert now.place == "here"
    shop.sold(instrument)


def test_what_was_declined_goes_back_with_its_deposit(any_shop: TriedShop) -> None:
    shop = any_shop
    job = left(shop, deposit=eur("50.00"), cleared=True)
    refused(shop, Refused, None, "return_declined", job_id=job, handed_to="Ida Skerry")
    shop.act("decline_job", job_id=job, given_by="Ida Skerry")
    assert "return_declined" in next_on(shop, job)
    assert "declined" in refused(shop, Refused, None, "collect_job", job_id=job, handed_to="Ida Skerry")
    refused(shop, Typed, "handed_to", "return_declined", job_id=job)
    given: dict[str, object] = {"job_id": job, "handed_to": "Ida Skerry", "condition_out": "As it came"}
    found = []
    assert shop.booked(lambda: found.append(twice(shop, "return_declined", **given))) == [
        {"deposits Ida Skerry": 5000, "bank": -5000}
    ]
    assert [kind for kind, _number in papers_of(shop, found[0])] == ["collection", "refund_receipt"]
    assert "the work was declined" in read_back(shop, found[0].papers[0])
    assert state_of(shop, job) == "declined_returned"
    assert job_and_stay(shop, job)[1].ending == "returned"


def test_a_deposit_that_has_not_cleared_is_dealt_with_first(shop: TriedShop) -> None:
    job = left(shop, deposit=eur("50.00"))
    shop.act("decline_job", job_id=job, given_by="Ida Skerry")
    assert "cleared" in refused(shop, Refused, None, "return_declined", job_id=job, handed_to="Ida Skerry")


@pytest.mark.parametrize("reason", ["value", "keep"])
def test_what_is_here_for_another_reason_may_leave_or_stay(shop: TriedShop, reason: str) -> None:
    for handed_to, state in (("Orla Fenn", "collected"), ("", "stays")):
        job = ready(shop, here(shop, shop.taken_in(reason=reason), "client"), "100.00")
        bill(shop, job, work("80.00"))
        shop.act("collect_job", job_id=job, handed_to=handed_to, amount=eur("80.00"), cleared=True)
        assert state_of(shop, job) == state
