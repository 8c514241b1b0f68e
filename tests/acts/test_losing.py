"""A loss in custody: what the owners are owed, who bears the excess, and whose money comes in."""

from __future__ import annotations

from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts.billing_ready import WorkRow
from shopledger.model import Job, WorkTime
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from tests.helpers.jobs import next_on, refused, state_of
from tests.helpers.shops import StillShop, TriedShop, eur, row


@pytest.mark.parametrize(
    ("terms", "booked", "net"),
    [
        ({}, {"claims": 850000, "losses": 50000, "owners_pending Orla Fenn": -900000}, 900000),
        ({"excess_borne_by": "owner"}, {"claims": 850000, "owners_pending Orla Fenn": -850000}, 850000),
        (
            {"loss_commission": True},
            {"claims": 850000, "losses": 50000, "commission": -180000, "owners_pending Orla Fenn": -720000},
            720000,
        ),
    ],
)
def test_a_loss_from_report_to_payout(
    shop: TriedShop, terms: dict[str, Any], booked: dict[str, int], net: int
) -> None:
    instrument = shop.consigned(**terms)
    insurer = shop.person("Harbour Mutual", kind="firm")
    assert shop.booked(
        lambda: shop.with_papers(
            "report_loss",
            instrument_id=instrument,
            what_happened="fire",
            agreed_value=eur("9000.00"),
            excess=eur("500.00"),
        )
    ) == [booked]
    with pytest.raises(Refused, match=r"still owes EUR 8,500\.00"):
        shop.act("settle_loss", instrument_id=instrument)
    shop.with_papers("claim_paid", instrument_id=instrument, person_id=insurer, amount=eur("8500.00"))
    shop.with_papers("settle_loss", instrument_id=instrument)
    assert shop.owed(shop.owner) == (0, net, 0)
    assert shop.balances()["bank_owners"] == net
    shop.with_papers("pay_owner", person_id=shop.owner, amount=Money(net, "EUR"))
    assert "bank_owners" not in shop.balances()


def test_the_shop_pays_first_and_the_claim_is_its_own(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned(
        "900.00", row(shop.owner, "1/2"), row(shop.other, "1/4"), row(shop.shop_person, "1/4")
    )
    shop.act(
        "report_loss", instrument_id=instrument, what_happened="lost in a train", agreed_value=eur("0.03")
    )
    shop.act("settle_loss", instrument_id=instrument, from_own=True)
    # Three units by 1/2, 1/4, 1/4: one whole unit to the first, the two left to the larger fractions.
    assert (shop.owed(shop.owner)[1], shop.owed(shop.other)[1]) == (1, 1)
    shop.act("take_in_again", instrument_id=instrument, stay={"reason": "keep"})
    shop.act("claim_paid", instrument_id=instrument, person_id=shop.dealer, amount=eur("0.03"))
    assert shop.balances() == {"bank": 1, "bank_owners": 2, "owners_held": -2, "losses": -1}


def test_the_shops_own_is_lost_at_cost(shop: TriedShop) -> None:
    instrument = shop.own()
    shop.act(
        "report_loss",
        instrument_id=instrument,
        what_happened="fire",
        agreed_value=eur("1500.00"),
        excess=eur("200.00"),
    )
    assert shop.balances() == {"bank": -150000, "claims": 130000, "losses": 20000}
    with pytest.raises(Refused, match="Nothing is held for owners"):
        shop.act("settle_loss", instrument_id=instrument)


def test_what_is_refused(still: StillShop) -> None:
    given: dict[str, Any] = {
        "instrument_id": still.agreed,
        "what_happened": "fire",
        "agreed_value": eur("10.00"),
    }
    still.refuses("report_loss", Typed, "what_happened", "missing", **{**given, "what_happened": ""})
    still.refuses(
        "report_loss", Typed, "what_happened", "at most", **{**given, "what_happened": "a" * 21_000}
    )
    still.refuses(
        "report_loss", Typed, "agreed_value", "above zero", **{**given, "agreed_value": eur("0.00")}
    )
    still.refuses(
        "report_loss", Typed, "agreed_value", "in USD", **{**given, "agreed_value": Money(1, "USD")}
    )
    still.refuses("report_loss", Typed, "excess", "up to the agreed value", **given, excess=eur("10.01"))
    still.refuses("report_loss", Typed, "excess", "up to the agreed value", **given, excess=eur("-1.00"))
    still.refuses("report_loss", Typed, "excess", "in USD", **given, excess=Money(1, "USD"))
    still.refuses("report_loss", Refused, None, "It is sold", **{**given, "instrument_id": still.sold_one})
    still.refuses("report_loss", Refused, None, "not in the shop", **{**given, "instrument_id": still.gone})
    still.refuses("report_loss", NotFound, None, "no such instrument", **{**given, "instrument_id": 999_999})
    paid: dict[str, Any] = {"instrument_id": still.lost, "person_id": still.dealer}
    still.refuses("claim_paid", Refused, "amount", "8,500.00 is claimed", **paid, amount=eur("8500.01"))
    still.refuses("claim_paid", Typed, "amount", "above zero", **paid, amount=eur("0.00"))
    still.refuses(
        "claim_paid", NotFound, "person_id", "", **{**paid, "person_id": 999_999}, amount=eur("1.00")
    )
    still.refuses(
        "claim_paid",
        Refused,
        None,
        "not lost",
        instrument_id=still.agreed,
        person_id=still.dealer,
        amount=eur("1.00"),
    )
    still.refuses("settle_loss", Refused, "from_own", "still owes", instrument_id=still.lost)
    still.refuses("settle_loss", Refused, None, "not lost", instrument_id=still.agreed)


def test_a_job_ends_with_what_it_was_about(any_shop: TriedShop) -> None:
    shop = any_shop
    job = shop.act(
        "open_job", client_id=shop.player, instrument={"kind": "cello", "maker": "Ansel Quill"},
        hears="an open seam", deposit=eur("50.00"), cleared=True,
    ).id  # fmt: skip
    shop.act("put_on_bench", job_id=job)
    shop.act("start_clock", job_id=job)
    with shop.ledger.read() as reading:
        instrument = reading.session.get_one(Job, job).instrument_id
    shop.pass_days(3)
    shop.act("report_loss", instrument_id=instrument, what_happened="fire", agreed_value=eur("900.00"))
    assert state_of(shop, job) == "job_lost"
    assert next_on(shop, job) == {"give_job_deposit_back", "bounce_job_deposit"}
    with shop.ledger.read() as reading:
        assert reading.session.scalars(select(WorkTime.minutes)).all() == [24 * 60]
    lines = (WorkRow(kind="labour", what="Seam glued", amount=eur("10.00")),)
    assert "was lost on" in refused(shop, Refused, None, "bill_job", job_id=job, lines=lines)
    shop.act("give_job_deposit_back", job_id=job)
    assert shop.balances().get("deposits", 0) == 0
    assert next_on(shop, job) == set()
