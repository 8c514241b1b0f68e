"""Approvals: who, when, how, up to what; the newest alone counts, a decline takes it back, work that began stays."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts.estimating_forms import EstimateRow
from shopledger.model import Approval, Job
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.facts.jobs import approved_now
from tests.helpers.jobs import job_on, next_on, prefilled, preview_of, refused, state_of, twice, with_settings
from tests.helpers.shops import TriedShop, eur, row


def a_job(shop: TriedShop, **known: Any) -> int:
    return job_on(shop, shop.taken_in(reason="repair"), **known)


def estimated(shop: TriedShop, job: int, low: str = "300.00", high: str = "400.00", **inputs: Any) -> None:
    line = EstimateRow(what="Regluing", amount=eur(low), amount_high=eur(high))
    shop.act("estimate_job", job_id=job, lines=(line,), hourly_rate=eur("84.00"), **inputs)


def approved(shop: TriedShop, job: int) -> int | None:
    with shop.ledger.read() as reading:
        money = approved_now(reading, job)
    return None if money is None else money.minor


def days(shop: TriedShop, job: int) -> tuple[Any, Any]:
    with shop.ledger.read() as reading:
        one = reading.session.get_one(Job, job)
        return one.approved_on, one.declined_on


def test_an_approval_is_recorded_once_with_who_when_how_and_up_to_what(any_shop: TriedShop) -> None:
    shop = any_shop
    job = a_job(shop)
    estimated(shop, job, tax_rate=Fraction(1, 10))
    shop.pass_days(2)
    given = prefilled(shop, "approve_job", job)
    assert given == {"given_by": "Orla Fenn", "estimate": "ES 2026-001", "up_to": eur("440.00")}
    twice(shop, "approve_job", job_id=job, **given, how="telephone", note="rang back at noon")
    with shop.ledger.read() as reading:
        (one,) = reading.session.scalars(select(Approval)).all()
        assert (one.given_by, one.given_on, one.how, one.up_to, one.note, one.estimate_id) == (
            *("Orla Fenn", shop.today, "telephone", 44000, "rang back at noon", 1),
        )
    assert (state_of(shop, job), days(shop, job)) == ("agreed", (shop.today, None))


def test_the_newest_approval_alone_counts(any_shop: TriedShop) -> None:
    shop = any_shop
    job = a_job(shop)
    assert approved(shop, job) is None
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("400.00"))
    shop.act("record_time", job_id=job, minutes=30)
    shop.pass_days(4)
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("150.00"), how="email")
    assert approved(shop, job) == 15000
    assert (state_of(shop, job), days(shop, job)) == ("on_bench", (shop.today, None))
    # What is ready can still be approved further, so that it can be billed.
    shop.act("mark_ready", job_id=job)
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("180.00"))
    assert (approved(shop, job), state_of(shop, job)) == (18000, "ready")


def test_a_decline_takes_back_what_was_approved_and_an_approval_takes_back_the_decline(
    any_shop: TriedShop,
) -> None:
    shop = any_shop
    job = a_job(shop)
    estimated(shop, job)
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("400.00"))
    said = preview_of(shop, "decline_job", job_id=job, **prefilled(shop, "decline_job", job))
    assert [(line.label, line.amount) for line in said.lines] == [
        ("Approved until now, and no more", eur("400.00"))
    ]
    shop.pass_days(1)
    twice(shop, "decline_job", job_id=job, given_by="Una Quill", how="letter", note="too dear")
    assert (approved(shop, job), state_of(shop, job), days(shop, job)) == (0, "declined", (None, shop.today))
    with shop.ledger.read() as reading:
        last = reading.session.scalars(select(Approval).order_by(Approval.id.desc())).all()[0]
        assert (last.given_by, last.how, last.note, last.up_to) == ("Una Quill", "letter", "too dear", 0)
    assert "was declined on" in refused(shop, Refused, None, "decline_job", job_id=job, given_by="Orla Fenn")
    assert next_on(shop, job) & {"approve_job", "decline_job", "start_clock", "use_part"} == {"approve_job"}
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("350.00"))
    assert (approved(shop, job), state_of(shop, job), days(shop, job)) == (
        35000,
        "agreed",
        (shop.today, None),
    )


def test_a_deposit_to_give_back_is_said_with_the_decline(shop: TriedShop) -> None:
    given = {"instrument": {"kind": "bow"}, "hears": "a rehair", "deposit": eur("20.00"), "cleared": True}
    job = shop.act("open_job", client={"name": "Wil Dray"}, **given).id
    said = preview_of(shop, "decline_job", job_id=job, given_by="Wil Dray")
    assert [(line.label, line.amount) for line in said.lines] == [("Deposit to give back", eur("20.00"))]


def test_work_that_began_is_not_declined(shop: TriedShop) -> None:
    job = a_job(shop)
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("400.00"))
    shop.act("record_time", job_id=job, minutes=30)
    assert "bill what was done" in refused(shop, Refused, None, "decline_job", job_id=job, given_by="x")
    assert "decline_job" not in next_on(shop, job)


def test_the_preview_says_what_can_be_billed_and_what_is_odd(shop: TriedShop) -> None:
    job = a_job(shop)
    estimated(shop, job, valid_until=shop.today + timedelta(days=7))
    shop.act("approve_job", job_id=job, given_by="Orla Fenn", up_to=eur("50.00"))
    with_settings(shop, allowed_excess=Fraction(1, 10))
    shop.pass_days(8)
    given = {"job_id": job, "given_by": "Orla Fenn", "up_to": eur("299.99"), "estimate": "ES 2026-001"}
    said = preview_of(shop, "approve_job", **given)
    assert [(line.label, line.how, line.amount) for line in said.lines] == [
        ("ES 2026-001", "at least 300.00", eur("400.00")),
        ("Approved before, and replaced", "", eur("50.00")),
        # A tenth above 299.99 is 329.989: the part of a cent is not allowed. By hand.
        ("Can be billed, at most", "with the 10% that the settings allow above it", eur("329.98")),
    ]
    assert said.warnings == (
        "ES 2026-001 was valid until 9 Mar 2026.",
        "That is less than the work is estimated to come to.",
    )
    plain = preview_of(shop, "approve_job", **{**given, "estimate": "", "up_to": eur("400.00")})
    assert plain.warnings == ()


def test_the_owners_are_asked_where_they_pay(shop: TriedShop) -> None:
    instrument = shop.consigned("900.00", row(shop.owner, "1/2"), row(shop.other, "1/2"))
    job = shop.act(
        "open_job_here", instrument_id=instrument, client_id=shop.owner, bill_to="owner", hears="a crack"
    ).id
    assert prefilled(shop, "approve_job", job) == {"given_by": "Orla Fenn, Ivo Marsh"}


@pytest.mark.parametrize("bill_to", ["shop", "warranty"])
def test_nothing_has_to_be_approved_where_nobody_is_asked_to_pay(shop: TriedShop, bill_to: str) -> None:
    job = a_job(shop, bill_to=bill_to)
    refused(shop, Refused, None, "approve_job", job_id=job, given_by="x", up_to=eur("1.00"))
    assert "approve_job" not in next_on(shop, job)


@pytest.mark.parametrize(
    ("field", "inputs"),
    [
        ("given_by", {"given_by": ""}),
        ("how", {"how": "dream"}),
        ("up_to", {"up_to": eur("0.00")}),
        ("up_to", {"up_to": eur("-5.00")}),
        ("estimate", {"estimate": "ES 2026-002"}),
        ("on", {"on": -2}),
        ("on", {"on": -1, "estimate": "ES 2026-001"}),
    ],
)
def test_what_can_t_be_approved_is_refused_at_its_field(
    shop: TriedShop, field: str, inputs: dict[str, Any]
) -> None:
    job, other = a_job(shop), a_job(shop)
    shop.pass_days(1)
    estimated(shop, job)
    estimated(shop, other)
    given = {"given_by": "Orla Fenn", "up_to": eur("400.00"), **inputs}
    if "on" in given:
        given["on"] = shop.today + timedelta(days=given["on"])
    refused(shop, Typed, field, "approve_job", job_id=job, **given)


def test_what_is_over_is_neither_approved_nor_declined(shop: TriedShop) -> None:
    over = a_job(shop, ended_on=shop.today, ending="collected")
    for name, inputs in (("approve_job", {"up_to": eur("1.00")}), ("decline_job", {})):
        refused(shop, Refused, None, name, job_id=over, given_by="x", **inputs)
        refused(shop, NotFound, None, name, job_id=99, given_by="x", **inputs)
    refused(
        shop, Typed, "on", "decline_job", job_id=a_job(shop), given_by="x", on=shop.today - timedelta(days=1)
    )
