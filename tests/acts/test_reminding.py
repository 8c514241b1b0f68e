"""What nobody collects: a letter after 30, 60 and 90 days, and a sale for what is owed, its surplus the owner's."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.model import LienSale, Payment, Person, Reminder, Settlement
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.standing import last_stay, owners_of
from tests.acts.test_billing import bill, here, left, papers_of, read_back, ready, sale_of, stated, work
from tests.acts.test_collecting import billed, job_and_stay
from tests.helpers.jobs import next_on, preview_of, refused, state_of, twice
from tests.helpers.shops import TriedShop, eur, row
from tests.papers.reading_back import in_order

SOLD: Mapping[str, Any] = {
    "price": eur("900.00"),
    "costs": eur("40.00"),
    "sold_to": "Hull and Keel",
    "by_what_right": "Three letters; notice of sale on 2 July.\nGone through with a solicitor.",
}


def letters(shop: TriedShop, job: int) -> list[int]:
    with shop.ledger.read() as reading:
        return list(
            reading.session.scalars(
                select(Reminder.after_days).where(Reminder.job_id == job).order_by(Reminder.id)
            )
        )


def test_three_letters_go_out_each_once(any_shop: TriedShop) -> None:
    shop = any_shop
    job = billed(shop)
    assert "remind" not in next_on(shop, job)
    assert "1 Apr 2026" in refused(shop, Refused, "on", "remind", job_id=job)
    for days, after in ((30, 30), (31, 60), (40, 90)):
        shop.pass_days(days)
        assert "remind" in next_on(shop, job)
        done = twice(shop, "remind", job_id=job)
        assert stated(shop, done.papers[0]).after_days == after
        refused(shop, Refused, None if after == 90 else "on", "remind", job_id=job)
    assert letters(shop, job) == [30, 60, 90]
    assert papers_of(shop, done) == [("reminder", "RC 2026-003")]
    assert in_order(
        read_back(shop, done.papers[0]), "90 days after it was ready", "80.00 is to be paid", "Earlier letters",
        "differs by place",
    )  # fmt: skip
    assert "All three" in refused(shop, Refused, None, "remind", job_id=job)
    shop.act("collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("80.00"), cleared=True)
    assert "remind" not in next_on(shop, job)


def test_a_letter_is_told_before_it_is_written(shop: TriedShop) -> None:
    job = billed(shop)
    shop.pass_days(62)
    # Whoever forgot the first letter writes the one that is due now, not both.
    shown = preview_of(shop, "remind", job_id=job)
    assert [line.label for line in shown.lines] == ["62 days", "Letter", "To pay"]
    assert shown.lines[1].how == "after 60 days"
    assert shown.lines[2].amount == eur("80.00")
    assert "differs by place" in shown.warnings[0]
    shop.act("remind", job_id=job)
    assert letters(shop, job) == [60]
    shop.pass_days(30)
    assert [line.label for line in preview_of(shop, "remind", job_id=job).lines][2] == "Written before"


def test_what_was_declined_is_reminded_of_too(any_shop: TriedShop) -> None:
    shop = any_shop
    job = left(shop)
    shop.act("decline_job", job_id=job, given_by="Ida Skerry")
    shop.pass_days(30)
    done = twice(shop, "remind", job_id=job)
    assert in_order(
        read_back(shop, done.papers[0]), "30 days after the work was declined", "Nothing is to be paid"
    )
    assert "Nothing is owed" in refused(shop, Refused, None, "sell_for_lien", job_id=job, **SOLD)


def test_only_what_waits_is_reminded_of(any_shop: TriedShop) -> None:
    shop = any_shop
    refused(shop, NotFound, None, "remind", job_id=999)
    job = left(shop)
    shop.pass_days(40)
    assert "not ready" in refused(shop, Refused, None, "remind", job_id=job)
    ready(shop, job, "100.00")
    shop.pass_days(40)
    assert "not billed" in refused(shop, Refused, None, "remind", job_id=job)
    stays = ready(shop, here(shop, shop.consigned(), "client"), "100.00")
    shop.pass_days(40)
    assert "collect" in refused(shop, Refused, None, "remind", job_id=stays)


def test_a_sale_for_what_is_owed_gives_the_surplus_to_the_owner(any_shop: TriedShop) -> None:
    """900.00 sold, 310.00 due, 40.00 costs: 550.00 is the owner's.

    Source:  California Civil Code 3051 and 3052, as in the references: read. The figures are an example of it.
    """
    shop = any_shop
    job = billed(shop, "310.00")
    sale = sale_of(shop, job)
    for _letter in range(3):
        shop.pass_days(30)
        shop.act("remind", job_id=job)
    shop.pass_days(30)
    shown = preview_of(shop, "sell_for_lien", job_id=job, **SOLD)
    assert [(line.label, line.amount) for line in shown.lines] == [
        ("Price", eur("900.00")),
        ("Costs of the sale", eur("-40.00")),
        ("Owed for the work", eur("-310.00")),
        ("Left for the owner", eur("550.00")),
        ("Buyer", None),
    ]
    assert len(shown.warnings) == 1
    done: list[Any] = []
    entries = shop.booked(lambda: done.append(twice(shop, "sell_for_lien", job_id=job, **SOLD)))
    assert entries == [
        {"bank": 31000, "bank_owners": 55000, "buyers Ida Skerry": -31000, "owners_held Ida Skerry": -55000}
    ]
    assert shop.owed(shop.player) == (0, 55000, 0)
    assert shop.owes(sale) == 0
    found, stay = job_and_stay(shop, job)
    assert (found.ended_on, found.ending, state_of(shop, job)) == (shop.today, "lien", "lien")
    assert (stay.ended_on, stay.ending, stay.handed_to) == (shop.today, "sold", "Hull and Keel")
    with shop.ledger.read() as reading:
        (sold,) = reading.session.scalars(select(LienSale)).all()
        assert (sold.price, sold.due, sold.costs, sold.surplus) == (90000, 31000, 4000, 55000)
        assert [owner.person_id for owner in owners_of(reading, found.instrument_id)] == [shop.dealer]
        now = last_stay(reading, found.instrument_id)
        assert now is not None
        assert now.place == "handed_over"
        (payment,) = reading.session.scalars(select(Payment)).all()
        assert (payment.method, payment.minor, payment.cleared_on) == ("lien", 31000, shop.today)
    assert papers_of(shop, done[0]) == [("lien_sale", "LS 2026-001")]
    assert in_order(
        read_back(shop, done[0].papers[0]), "Account of a sale for what was owed", "Ida Skerry", "Hull and Keel",
        "Gone through with a solicitor", "Letters went out on", "900.00", "40.00", "310.00", "550.00",
        "is held for Ida Skerry", "differs by place",
    )  # fmt: skip
    # What is held is paid out like what a sale brought.
    paid = shop.act("pay_owner", person_id=shop.player, amount=eur("550.00"))
    assert "job 26-0001-7" in read_back(shop, paid.papers[0])
    refused(shop, Refused, None, "sell_for_lien", job_id=job, **SOLD)
    refused(shop, Refused, None, "take_back_bill", job_id=job, why="wrong")
    refused(shop, Refused, "number", "bounce_payment", sale_id=sale, number="PR 2026-001")


@pytest.mark.parametrize(
    ("price", "costs", "covered", "booked"),
    [
        # Less than is owed: the rest is still owed, nothing is left.
        ("200.00", "40.00", 16000, [{"bank": 16000, "buyers Ida Skerry": -16000}]),
        ("350.00", "40.00", 31000, [{"bank": 31000, "buyers Ida Skerry": -31000}]),
        ("40.00", "40.00", 0, []),
        ("30.00", "40.00", 0, [{"bank": -1000, "selling_costs": 1000}]),
    ],
)
def test_what_the_price_does_not_reach_is_still_owed(
    any_shop: TriedShop, price: str, costs: str, covered: int, booked: list[dict[str, int]]
) -> None:
    shop = any_shop
    job = billed(shop, "310.00")
    sale = sale_of(shop, job)
    given = {**SOLD, "price": eur(price), "costs": eur(costs)}
    assert "Not all letters" in preview_of(shop, "sell_for_lien", job_id=job, **given).warnings[0]
    assert shop.booked(lambda: twice(shop, "sell_for_lien", job_id=job, **given)) == booked
    assert shop.owes(sale) == 31000 - covered
    with shop.ledger.read() as reading:
        assert reading.session.scalars(select(Settlement)).all() == []
    if covered < 31000:
        shop.pay(sale)


def test_several_owners_share_what_is_left(any_shop: TriedShop) -> None:
    shop = any_shop
    shares = (row(shop.owner, "1/3"), row(shop.other, "2/3"))
    job = ready(shop, left(shop, client_id=shop.owner, owners=shares), "500.00")
    bill(shop, job, work("310.00"))
    twice(shop, "sell_for_lien", job_id=job, **{**SOLD, "price": eur("900.01")})
    assert (shop.owed(shop.owner)[1], shop.owed(shop.other)[1]) == (18334, 36667)


def test_a_new_buyer_is_added_once(shop: TriedShop) -> None:
    job = billed(shop, "310.00")
    given = {**SOLD, "sold_to": "Wil Dray"}
    assert "added" in preview_of(shop, "sell_for_lien", job_id=job, **given).lines[-1].how
    twice(shop, "sell_for_lien", job_id=job, **given)
    with shop.ledger.read() as reading:
        assert len(reading.session.scalars(select(Person).where(Person.name == "Wil Dray")).all()) == 1


def test_what_is_refused(any_shop: TriedShop) -> None:
    shop = any_shop
    job = billed(shop, "310.00")
    refused(shop, NotFound, None, "sell_for_lien", **{**SOLD, "job_id": 999})
    refused(shop, Typed, "price", "sell_for_lien", job_id=job, **{**SOLD, "price": eur("0.00")})
    refused(shop, Typed, "costs", "sell_for_lien", job_id=job, **{**SOLD, "costs": eur("-1.00")})
    refused(shop, Typed, "by_what_right", "sell_for_lien", job_id=job, **{**SOLD, "by_what_right": " "})
    refused(shop, Typed, "sold_to", "sell_for_lien", job_id=job, **{**SOLD, "sold_to": " "})
    refused(shop, NotFound, "buyer_id", "sell_for_lien", job_id=job, **SOLD, buyer_id=999)
    shop.person("Hull and Keel")
    refused(shop, Typed, "buyer_id", "sell_for_lien", job_id=job, **SOLD)
    shop.pay(sale_of(shop, job), "10.00", cleared=False)
    assert "cleared" in refused(shop, Refused, None, "sell_for_lien", job_id=job, **SOLD)
    shop.act("clear_payments", sale_id=sale_of(shop, job))
    shop.pay(sale_of(shop, job))
    assert "Nothing is owed" in refused(shop, Refused, None, "sell_for_lien", job_id=job, **SOLD)


def test_nothing_that_the_shop_owns_part_of_is_sold_so(any_shop: TriedShop) -> None:
    shop = any_shop
    shares = (row(shop.player, "1/2"), row(shop.shop_person, "1/2"))
    job = ready(shop, left(shop, owners=shares), "500.00")
    bill(shop, job, work("310.00"))
    assert "owns part" in refused(shop, Refused, None, "sell_for_lien", job_id=job, **SOLD)


def test_before_it_was_ready_nothing_was_sold(shop: TriedShop) -> None:
    job = left(shop)
    shop.pass_days(5)
    ready(shop, job, "500.00")
    bill(shop, job, work("310.00"))
    yesterday = shop.today.replace(day=shop.today.day - 1)
    refused(shop, Typed, "on", "sell_for_lien", job_id=job, on=yesterday, **SOLD)
