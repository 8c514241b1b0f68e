"""What is changed of jobs, their bills and their ends past the acts is noticed, on both databases."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from sqlalchemy import select

from shopledger.acts.billing_ready import GoodsRow, WorkRow
from shopledger.acts.estimating_forms import EstimateRow
from shopledger.model import Job, JobBill, JobService, LienSale
from shopledger.store.proof.finding import Wrong
from shopledger.store.prove import prove
from tests.acts.test_billing import here, left, ready
from tests.helpers.noticing import notice, wrong_with
from tests.helpers.shops import TriedShop, eur, row
from tests.helpers.tampering import tamper

PLANTED = {
    "a bill's net": ("job_bill SET net = net + 1 WHERE id = 1", "net = net - 1"),
    "a bill's tax": ("job_bill SET tax = tax + 1 WHERE id = 1", "tax = tax - 1"),
    "a bill's cost": ("job_bill SET cost = cost + 1 WHERE id = 3", "cost = cost - 1"),
    "a bill's time": ("job_bill SET minutes = minutes + 1 WHERE id = 3", "minutes = minutes - 1"),
    "a line of a bill": ("job_bill_line SET minor = minor - 1 WHERE id = 1", "minor = minor + 1"),
    "who pays": ("job_bill SET bill_to = 'warranty' WHERE id = 2", "bill_to = 'owner'"),
    "an invoice without its bill": ("job_bill SET sale_id = NULL WHERE id = 1", "sale_id = 1"),
    "an invoice of another job": ("sale SET job_id = 2 WHERE id = 1", "job_id = 1"),
    "taken back, its invoice not": (
        "job_bill SET taken_back_on = billed_on WHERE id = 1",
        "taken_back_on = NULL",
    ),
    "taken back, its charges not": (
        "job_bill SET taken_back_on = billed_on WHERE id = 2",
        "taken_back_on = NULL",
    ),
    "taken back, its cost not": (
        "job_bill SET taken_back_on = billed_on WHERE id = 3",
        "taken_back_on = NULL",
    ),
    "standing, its invoice not": (
        "job_bill SET taken_back_on = NULL WHERE id = 5",
        "taken_back_on = billed_on",
    ),
    "a charge": ("charge SET minor = minor + 1 WHERE id = 1", "minor = minor - 1"),
    "another owner charged": ("charge SET person_id = {kin} WHERE id = 1", "person_id = {owner}"),
    "a charge for nothing": ("charge SET job_id = NULL WHERE id = 1", "job_id = 2"),
    "a charge for another job": ("charge SET job_id = 3 WHERE id = 2", "job_id = 2"),
    "who bears repairs": ("terms SET repairs_borne_by = 'shop' WHERE id = 1", "repairs_borne_by = 'both'"),
    "never made part of the cost": ("job_bill SET entry_id = NULL WHERE id = 3", "entry_id = {into_cost}"),
    "booked by another entry": ("job_bill SET entry_id = 1 WHERE id = 3", "entry_id = {into_cost}"),
    "a part in another job": ("goods_out SET job_id = 1 WHERE id = 1", "job_id = 3"),
    "what a service cost": ("job_service SET cost = cost + 1 WHERE id = 1", "cost = cost - 1"),
    "a service booked by another entry": (
        "job_service SET entry_id = 1 WHERE id = 1",
        "entry_id = {service}",
    ),
    "a service given back that stands": ("job_service SET cost = 500 WHERE id = 2", "cost = 0"),
    "warranty of nothing": ("job SET earlier_job_id = NULL WHERE id = 4", "earlier_job_id = 1"),
    "warranty of itself": ("job SET earlier_job_id = 4 WHERE id = 4", "earlier_job_id = 1"),
    "how a job ended": ("job SET ending = 'collected' WHERE id = 6", "ending = 'lien'"),
    "that a job ended": ("job SET ended_on = NULL WHERE id = 1", "ended_on = '{ended}'"),
    "that a job ended as the stay goes on": ("job SET ending = 'stays' WHERE id = 1", "ending = 'collected'"),
    "that it was lost": ("job SET ending = 'lost' WHERE id = 1", "ending = 'collected'"),
    "when it left": ("stay SET ended_on = '2026-03-09' WHERE id = 1", "ended_on = '{ended}'"),
    "how it left": ("stay SET ending = 'sold' WHERE id = 1", "ending = 'returned'"),
    "that it is gone": (
        "stay SET ended_on = '{ended}', ending = 'lost' WHERE id = 5",
        "ended_on = NULL, ending = NULL",
    ),
    "another's stay": ("job SET stay_id = 6 WHERE id = 4", "stay_id = 4"),
    "that it was handed over": ("job SET handed_to = 'x' WHERE id = 3", "handed_to = ''"),
    "how what was declined left": (
        "stay SET ending = 'sold' WHERE id = (SELECT stay_id FROM job WHERE id = 7)",
        "ending = 'returned'",
    ),
    "when it was estimated": ("job SET estimated_on = '2026-03-01' WHERE id = 7", "estimated_on = '{ended}'"),
    "that it was estimated": ("job SET estimated_on = NULL WHERE id = 7", "estimated_on = '{ended}'"),
    "estimated by no estimate": ("job SET estimated_on = '{ended}' WHERE id = 1", "estimated_on = NULL"),
    "the day of an estimate": ("estimate SET made_on = '2026-03-01' WHERE id = 1", "made_on = '{ended}'"),
    "when it was approved": ("job SET approved_on = '2026-03-01' WHERE id = 1", "approved_on = '{ended}'"),
    "that it was approved": ("job SET approved_on = NULL WHERE id = 1", "approved_on = '{ended}'"),
    "approved by nobody": ("job SET approved_on = '{ended}' WHERE id = 3", "approved_on = NULL"),
    "the day of an approval": ("approval SET given_on = '2026-03-01' WHERE id = 1", "given_on = '{ended}'"),
    "an approval of nothing": ("approval SET up_to = 0 WHERE id = 1", "up_to = 50000"),
    "when it was declined": ("job SET declined_on = '2026-03-01' WHERE id = 7", "declined_on = '{ended}'"),
    "that it was declined": ("job SET declined_on = NULL WHERE id = 7", "declined_on = '{ended}'"),
    "declined though estimated anew": ("job SET declined_on = '{ended}' WHERE id = 8", "declined_on = NULL"),
    "begun though declined": ("job SET begun_on = '{ended}' WHERE id = 7", "begun_on = NULL"),
    "ready and never begun": ("job SET begun_on = NULL WHERE id = 2", "begun_on = '{ended}'"),
    "begun after it was ready": ("job SET begun_on = '2026-03-09' WHERE id = 2", "begun_on = '{ended}'"),
    "billed and not ready": ("job SET ready_on = NULL WHERE id = 2", "ready_on = '{ended}'"),
    "billed before it was ready": ("job SET ready_on = '2026-03-09' WHERE id = 2", "ready_on = '{ended}'"),
    "collected and not ready": ("job SET ready_on = NULL WHERE id = 9", "ready_on = '{ended}'"),
    "ready with a clock that runs": ("work_time SET minutes = NULL WHERE id = 1", "minutes = 40"),
    "a lien sale's price": ("lien_sale SET price = price + 1 WHERE id = 1", "price = price - 1"),
    "a lien sale's costs": ("lien_sale SET costs = costs + 1 WHERE id = 1", "costs = costs - 1"),
    "what was due": ("lien_sale SET due = due + 1 WHERE id = 1", "due = due - 1"),
    "what is the owner's": ("lien_sale SET surplus = surplus - 1 WHERE id = 1", "surplus = surplus + 1"),
    "a lien sale's entry": ("lien_sale SET entry_id = 1 WHERE id = 1", "entry_id = {lien}"),
    "set aside for another": (
        "settlement_share SET person_id = {kin} WHERE id = 1",
        "person_id = {player}",
    ),
    "what was set aside": ("settlement_share SET minor = minor - 1 WHERE id = 1", "minor = minor + 1"),
}


@pytest.fixture
def shop(place: str | Path) -> Iterator[TriedShop]:
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()


def jobs_wrong(shop: TriedShop) -> list[Wrong]:
    return wrong_with(shop.ledger.where, "job")


def work(amount: str) -> WorkRow:
    return WorkRow(kind="labour", what="Seam glued", amount=eur(amount))


def estimated(amount: str) -> EstimateRow:
    return EstimateRow(what="Seam glued", amount=eur(amount))


def full(shop: TriedShop) -> dict[str, object]:
    """Have jobs for a client, two owners, the shop, under warranty; one bill taken back, one sold for what was owed."""
    string = shop.act("add_goods", goods={"what": "String", "sort": "part", "price": eur("9.00")}).id
    shop.act("receive_goods", goods_id=string, quantity=5, cost=eur("3.33"))
    client = ready(shop, left(shop), "500.00")
    goods = (GoodsRow(what="Rosin", price=eur("5.00")),)
    shop.act("bill_job", job_id=client, lines=(work("310.00"),), goods=goods, tax_rate=Fraction(33, 400))
    shop.act("collect_job", job_id=client, handed_to="Ida Skerry", owing_agreed="by May, signed")
    consigned = shop.consigned(
        "900.00", row(shop.owner, "2/3"), row(shop.other, "1/3"),
        repairs_allowed=True, repairs_up_to=eur("200.00"), repairs_borne_by="both",
    )  # fmt: skip
    owners = ready(shop, here(shop, consigned, "owner"))
    shop.act("bill_job", job_id=owners, bill_to="owner", lines=(work("100.01"),), tax_rate=Fraction(1, 10))
    own = here(shop, shop.own(), "shop")
    shop.act("use_part", job_id=own, goods_id=string, quantity=2)
    shop.act("buy_service", job_id=own, what="Foot turned", cost=eur("31.50"))
    shop.act("buy_service", job_id=own, what="Foot plated", cost=eur("5.00"))
    shop.act("give_service_back", job_id=own, service=2)
    shop.act("record_time", job_id=own, minutes=40)
    shop.act("mark_ready", job_id=own)
    shop.act("bill_job", job_id=own, bill_to="shop", lines=(work("40.00"),))
    with shop.ledger.read() as reading:
        first = reading.session.get_one(Job, client)
    warranty = shop.act(
        "open_job", client_id=shop.player, instrument_id=first.instrument_id, hears="again", bill_to="warranty",
        earlier_claim=first.number,
    ).id  # fmt: skip
    ready(shop, warranty)
    shop.act("bill_job", job_id=warranty, bill_to="warranty", lines=(work("40.00"),))
    wrong = ready(shop, left(shop), "500.00")
    shop.act("bill_job", job_id=wrong, lines=(work("50.00"),))
    shop.act("take_back_bill", job_id=wrong, why="mistyped")
    uncollected = ready(shop, left(shop), "500.00")
    shop.act("bill_job", job_id=uncollected, lines=(work("310.00"),))
    shop.act("sell_for_lien", job_id=uncollected, price=eur("900.00"), costs=eur("40.00"), sold_to="Hull and Keel",
             by_what_right="three letters, notice of sale")  # fmt: skip
    declined, anew = left(shop), left(shop)
    for one in (declined, anew):
        shop.act("estimate_job", job_id=one, lines=(estimated("80.00"),), hourly_rate=eur("60.00"))
        shop.act("decline_job", job_id=one, given_by="Ida Skerry")
    shop.act("return_declined", job_id=declined, handed_to="Ida Skerry")
    shop.act("estimate_job", job_id=anew, lines=(estimated("60.00"),), hourly_rate=eur("60.00"))
    unbilled = ready(shop, left(shop), "500.00")
    shop.act("bill_job", job_id=unbilled, lines=(work("20.00"),))
    shop.act("collect_job", job_id=unbilled, handed_to="Ida Skerry", owing_agreed="by May, signed")
    shop.act("take_back_bill", job_id=unbilled, why="mistyped")
    jobs = [client, owners, own, warranty, wrong, uncollected, declined, anew, unbilled]
    assert jobs == [1, 2, 3, 4, 5, 6, 7, 8, 9]
    with shop.ledger.read() as reading:
        ask = reading.session.get_one
        return {
            "into_cost": ask(JobBill, 3).entry_id,
            "service": ask(JobService, 1).entry_id,
            "lien": ask(LienSale, 1).entry_id,
            "ended": shop.today,
            "owner": shop.owner,
            "player": shop.player,
            "kin": shop.kin,
        }


def test_each_is_noticed(shop: TriedShop) -> None:
    known = full(shop)
    assert prove(shop.ledger.where) == []
    for name, (planted, undone) in PLANTED.items():
        table, _set, where = planted.partition(" SET ")
        plant = f"UPDATE {planted.format(**known)}"
        undo = f"UPDATE {table} SET {undone.format(**known)} WHERE {where.partition(' WHERE ')[2]}"
        notice(shop.ledger.where, name, plant, undo, "job")
    # Each was put right again: what is left of one would be taken for the next.
    assert prove(shop.ledger.where) == []


def test_amounts_of_the_journal_are_noticed_beside_the_chain(shop: TriedShop) -> None:
    full(shop)
    with shop.ledger.read() as reading:
        entries = {
            "1": reading.session.scalars(select(JobBill.entry_id).where(JobBill.id == 3)).one(),
            "2": reading.session.scalars(select(JobService.entry_id).where(JobService.id == 1)).one(),
            "3": reading.session.scalars(select(LienSale.entry_id)).one(),
        }
    for entry in entries.values():
        tamper(shop.ledger.where, f"UPDATE posting SET amount = amount * 2 WHERE entry_id = {entry}")
        assert jobs_wrong(shop)
        tamper(shop.ledger.where, f"UPDATE posting SET amount = amount / 2 WHERE entry_id = {entry}")
    assert prove(shop.ledger.where) == []
