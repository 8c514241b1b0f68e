"""A job's deposit: taken, cleared, come back, given back; the client's money until the bill."""

from __future__ import annotations

from shopledger.quantities.errors import Refused, Typed
from tests.acts.test_billing import bill, here, left, papers_of, read_back, ready, work
from tests.helpers.jobs import next_on, refused, twice
from tests.helpers.shops import TriedShop, eur


def test_a_deposit_is_taken_cleared_and_given_back(any_shop: TriedShop) -> None:
    shop = any_shop
    job = left(shop)
    taken = []
    assert shop.booked(
        lambda: taken.append(
            twice(shop, "take_job_deposit", job_id=job, amount=eur("60.00"), method="cheque")
        )
    ) == [{"in_transit": 6000, "deposits Ida Skerry": -6000}]
    assert [kind for kind, _number in papers_of(shop, taken[0])] == ["payment_receipt"]
    assert {"clear_job_deposit", "bounce_job_deposit"} <= next_on(shop, job)
    refused(shop, Refused, None, "give_job_deposit_back", job_id=job)
    assert shop.booked(lambda: twice(shop, "clear_job_deposit", job_id=job)) == [
        {"in_transit": -6000, "bank": 6000}
    ]
    refused(shop, Refused, None, "clear_job_deposit", job_id=job)
    back = []
    assert shop.booked(lambda: back.append(twice(shop, "give_job_deposit_back", job_id=job))) == [
        {"deposits Ida Skerry": 6000, "bank": -6000}
    ]
    assert "60.00" in read_back(shop, back[0].papers[0])
    refused(shop, Refused, None, "give_job_deposit_back", job_id=job)
    refused(shop, Refused, None, "bounce_job_deposit", job_id=job)
    assert shop.balances() == {}


def test_a_deposit_that_came_back_is_owed_to_nobody(any_shop: TriedShop) -> None:
    shop = any_shop
    job = left(shop, deposit=eur("60.00"), cleared=True)
    twice(shop, "bounce_job_deposit", job_id=job)
    assert shop.balances() == {}
    ready(shop, job, "100.00")
    bill(shop, job, work("80.00"))
    assert shop.balances() == {"buyers": 8000, "goods_sales": -8000}


def test_several_deposits_are_set_off_together(shop: TriedShop) -> None:
    job = left(shop, deposit=eur("30.00"), cleared=True)
    shop.act("take_job_deposit", job_id=job, amount=eur("20.00"), cleared=True)
    ready(shop, job, "100.00")
    bill(shop, job, work("80.00"))
    assert shop.balances() == {"bank": 5000, "buyers": 3000, "goods_sales": -8000}


def test_what_is_refused(shop: TriedShop) -> None:
    job = left(shop)
    refused(shop, Typed, "amount", "take_job_deposit", job_id=job, amount=eur("0.00"))
    refused(shop, Typed, "method", "take_job_deposit", job_id=job, amount=eur("1.00"), method="shells")
    refused(shop, Refused, None, "bounce_job_deposit", job_id=job)
    ready(shop, job, "100.00")
    bill(shop, job, work("80.00"))
    refused(shop, Refused, None, "take_job_deposit", job_id=job, amount=eur("1.00"))
    own = here(shop, shop.own(), "shop")
    assert "client" in refused(shop, Refused, None, "take_job_deposit", job_id=own, amount=eur("1.00"))
