"""A repair that an owner bears: once in the job, the journal, the account sales as printed, and the proof."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from sqlalchemy import select

from shopledger.acts.billing_ready import WorkRow
from shopledger.acts.papers import issue_paper
from shopledger.model import Account, Charge, Entry, Job, Paper, Posting, Settlement
from shopledger.papers.account_sales import AccountSalesFacts
from shopledger.papers.facts import from_json
from shopledger.queries import jobs, sales
from shopledger.queries.facts.account_sales import account_sales_facts
from shopledger.queries.papers import paper_bytes
from shopledger.queries.shapes import Subject
from tests.helpers.shops import TriedShop, eur, row
from tests.papers.reading_back import in_order, text_of


def repaired(shop: TriedShop, instrument: int, amount: str = "150.00") -> int:
    """Give a job on a consigned instrument, billed to its owner's account."""
    job = shop.act(
        "open_job_here",
        instrument_id=instrument,
        client_id=shop.owner,
        bill_to="owner",
        hears="dull on the A",
    ).id
    shop.act("put_on_bench", job_id=job)
    shop.act("mark_ready", job_id=job)
    shop.act("bill_job", job_id=job, bill_to="owner", lines=(soundpost(amount),))
    return job


def soundpost(amount: str) -> WorkRow:
    return WorkRow(kind="labour", what="Soundpost, cut and set", amount=eur(amount))


def claim(shop: TriedShop, job: int) -> str:
    with shop.ledger.read() as reading:
        return reading.session.get_one(Job, job).number


def repairable(shop: TriedShop, *owners: Any, **terms: Any) -> int:
    given = {"repairs_allowed": True, "repairs_up_to": eur("500.00"), "set_off": True, **terms}
    return shop.consigned("10000.00", *owners, **given)


def account(shop: TriedShop, paper_id: int) -> tuple[AccountSalesFacts, str]:
    """Give what an account sales states, and its words as they stand in its file."""
    issue_paper(shop.ledger, paper_id)
    with shop.ledger.read() as reading:
        facts = from_json(AccountSalesFacts, reading.session.get_one(Paper, paper_id).facts)
    return facts, text_of(paper_bytes(shop.ledger, paper_id))


def set_off(facts: AccountSalesFacts) -> list[tuple[str, str, int]]:
    return [(line.what, line.reference, line.amount.minor) for line in facts.set_offs]


def stated_anew(shop: TriedShop, facts: AccountSalesFacts) -> AccountSalesFacts:
    """Give what the account of the first settlement states if it is asked now, but for the journal's end."""
    with shop.ledger.read() as reading:
        settlement = reading.session.scalars(select(Settlement).order_by(Settlement.id).limit(1)).one()
        now = account_sales_facts(reading, settlement.id, shop.owner, facts.number, facts.issued_on)
    return replace(now, anchor_entry=facts.anchor_entry, anchor_hash=facts.anchor_hash)


def test_a_repair_appears_once_with_its_bearer_wherever_it_is_told(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = repairable(shop)
    job = repaired(shop, instrument)
    number = claim(shop, job)
    with shop.ledger.read() as reading:
        charge = reading.session.scalars(select(Charge)).one()
        page = jobs.sheet(reading, job)
    assert (charge.job_id, charge.person_id, charge.minor) == (job, shop.owner, 15000)
    borne = [(line.label, line.how, line.amount) for line in page.money if "Charged" in line.label]
    assert borne == [("Charged to Orla Fenn", "CH 2026-001, 2 Mar 2026", eur("150.00"))]
    sale = shop.sold(instrument)
    shop.pay(sale)
    outcome = shop.act("settle", sale_id=sale)
    facts, words = account(shop, outcome.papers[0])
    assert set_off(facts) == [(f"Repair, job {number}", "CH 2026-001", 15000)]
    # 10,000.00 less a fifth of it, less the repair.
    assert (facts.owner_net, facts.balance) == (eur("8000.00"), eur("7850.00"))
    assert words.count(number) == 1
    assert in_order(
        words, "8,000.00", f"Repair, job {number}", "set off", "CH 2026-001", "150.00", "7,850.00"
    )
    with shop.ledger.read() as reading:
        postings = reading.session.execute(
            select(Entry.act, Posting.amount)
            .join(Posting, Posting.entry_id == Entry.id)
            .join(Account, Account.id == Posting.account_id)
            .where(Account.code == "owners_owe")
            .order_by(Entry.id)
        ).all()
    assert [tuple(posting) for posting in postings] == [("bill_job", 15000), ("settle", -15000)]
    assert shop.owed(shop.owner) == (0, 785000, 0)
    assert stated_anew(shop, facts) == facts
    assert shop.wrong() == []


def test_without_leave_to_set_off_the_account_says_what_is_owed_beside_it(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = repairable(shop, set_off=False)
    number = claim(shop, repaired(shop, instrument))
    sale = shop.sold(instrument)
    shop.pay(sale)
    facts, words = account(shop, shop.act("settle", sale_id=sale).papers[0])
    assert (facts.set_offs, facts.balance) == ((), eur("8000.00"))
    said = f"Repair, job {number} (CH 2026-001): €150.00 is owed to the shop and is no part of this account."
    assert facts.notes == (said,)
    assert said in words
    assert shop.owed(shop.owner) == (0, 800000, 15000)


def test_the_oldest_charge_is_set_off_first_and_what_was_paid_is_not(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = repairable(shop, storage_charge=eur("40.00"), pay_owner="as_money_clears")
    shop.act("charge_owner", instrument_id=instrument, kind="storage")
    job = repaired(shop, instrument)
    shop.act("collect_job", job_id=job)
    first, second = claim(shop, job), claim(shop, repaired(shop, instrument, "99.00"))
    shop.act("take_owners_payment", person_id=shop.owner, amount=eur("60.00"))
    sale = shop.sold(instrument)
    # The first instalment brings less than what is owed: 250.00 less a fifth is 200.00.
    shop.pay(sale, "250.00")
    facts, _words = account(shop, shop.act("settle", sale_id=sale).papers[0])
    assert set_off(facts) == [
        (f"Repair, job {first}", "CH 2026-002", 13000),
        (f"Repair, job {second}", "CH 2026-003", 7000),
    ]
    assert [note for note in facts.notes if second in note] == [
        f"Repair, job {second} (CH 2026-003): €29.00 is owed to the shop and is no part of this account."
    ]
    shop.pay(sale)
    later, words = account(shop, shop.act("settle", sale_id=sale).papers[0])
    assert set_off(later) == [*set_off(facts), (f"Repair, job {second}", "CH 2026-003", 2900)]
    assert later.balance == eur("7771.00")
    assert in_order(words, "130.00", "70.00", "29.00", "7,771.00")
    assert stated_anew(shop, facts) == facts
    assert shop.owed(shop.owner) == (0, 777100, 0)


def test_each_owner_s_account_tells_their_own_part_alone(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = repairable(shop, row(shop.owner, "2/3"), row(shop.other, "1/3"), repairs_borne_by="both")
    number = claim(shop, repaired(shop, instrument, "150.01"))
    sale = shop.sold(instrument)
    shop.pay(sale)
    found = [account(shop, paper)[0] for paper in shop.act("settle", sale_id=sale).papers]
    # Half of 150.01 is 75.00, the odd unit the shop's; two thirds of it and one third.
    assert [set_off(facts) for facts in found] == [
        [(f"Repair, job {number}", "CH 2026-001", 5000)],
        [(f"Repair, job {number}", "CH 2026-002", 2500)],
    ]


def test_a_bill_taken_back_is_on_no_account(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = repairable(shop)
    job = repaired(shop, instrument)
    shop.act("take_back_bill", job_id=job, why="another cello")
    shop.act("bill_job", job_id=job, bill_to="shop", lines=(soundpost("150.00"),))
    shop.act("collect_job", job_id=job)
    again = repaired(shop, instrument, "20.00")
    sale = shop.sold(instrument)
    shop.pay(sale)
    facts, words = account(shop, shop.act("settle", sale_id=sale).papers[0])
    assert set_off(facts) == [(f"Repair, job {claim(shop, again)}", "CH 2026-002", 2000)]
    assert claim(shop, job) not in words
    shop.act("take_back_bill", job_id=again, why="done under the warranty")
    assert shop.owed(shop.owner) == (0, 798000, -2000)
    assert stated_anew(shop, facts) == facts


def test_the_page_of_an_invoice_says_which_job_it_bills_and_leads_to_it(any_shop: TriedShop) -> None:
    shop = any_shop
    job = shop.act(
        "open_job", client_id=shop.player, instrument={"kind": "cello", "maker": "Ansel Quill"},
        hears="an open seam", deposit=eur("30.00"), cleared=True,
    ).id  # fmt: skip
    shop.act("approve_job", job_id=job, given_by="Ida Skerry", up_to=eur("100.00"))
    shop.act("mark_ready", job_id=job)
    lines = (WorkRow(kind="labour", what="Seam glued", amount=eur("80.00")),)
    shop.act("bill_job", job_id=job, lines=lines, tax_rate=Fraction(1, 10))
    with shop.ledger.read() as reading:
        (sale,) = sales.TABLE.ids(reading, "open", "", "number", True)
        page = sales.sheet(reading, sale)
    about = next(group for group in page.groups if group.title == "The sale")
    assert next(fact for fact in about.facts if fact.label == "Job").value == claim(shop, job)
    assert (Subject.JOB, job) in [mark.subject for mark in page.history.marks]
    shop.act("take_back_bill", job_id=job, why="for another")
    with shop.ledger.read() as reading:
        page = sales.sheet(reading, sale)
        row_ = dict(
            zip(
                [column.name for column in sales.TABLE.columns],
                sales.TABLE.page(reading, [sale])[0].cells,
                strict=True,
            )
        )
    assert page.standing == "Returned, and nothing is left to give back."
    assert (row_["state"].code, row_["paid"]) == ("returned", eur("0.00"))
    money = next(group for group in page.groups if group.title == "Payments")
    assert money.facts[0].quiet.endswith("held again since 2 Mar 2026")
    assert "PR 2026-002 held again" in [mark.words for mark in page.history.marks]
