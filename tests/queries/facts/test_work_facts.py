"""What the workshop's papers state equals the records, on both databases: tickets, estimates, bills, letters."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from shopledger.acts import act, new_op_id
from shopledger.acts.conditions import MarkRow
from shopledger.acts.doing import would_leave
from shopledger.acts.papers import draw_draft
from shopledger.acts.selling_forms import SellLine
from shopledger.model import (
    Approval,
    Charge,
    ConditionReport,
    Estimate,
    EstimateLine,
    Job,
    JobBill,
    JobBillLine,
    Payment,
    Reminder,
    Stay,
)
from shopledger.papers.facts import from_json, to_json
from shopledger.papers.parts import PaperFacts
from shopledger.papers.registry import KINDS
from shopledger.papers.rendering import render
from shopledger.quantities.errors import NotFound
from shopledger.queries.facts.claim_ticket import claim_ticket_facts
from shopledger.queries.facts.collection import collection_facts
from shopledger.queries.facts.condition_report import condition_facts
from shopledger.queries.facts.estimate import estimate_facts
from shopledger.queries.facts.reminder import reminder_facts
from shopledger.queries.facts.setup_sheet import setup_facts
from shopledger.queries.facts.work_invoice import work_invoice_facts
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing
from tests.helpers.jobs import job_on
from tests.helpers.shops import TriedShop, eur
from tests.papers.reading_back import in_order, text_of
from tests.papers.sample_photographs import LYING, UPRIGHT

CLAIM = "26-0001-7"


@pytest.fixture
def any_shop(place: str | Path) -> Iterator[TriedShop]:
    """Give a shop, on each of the two databases."""
    tried = TriedShop(place)
    yield tried
    tried.ledger.close()


def written(shop: TriedShop, fill: Callable[[Writing], Any]) -> Any:
    """Write records in one unit, as an act would; give what `fill` gives."""
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=new_op_id(), act="change_job", on=shop.today, by="the maker")
        given = fill(writing)
        writing.finish_act("shop", 1, {"subject": "shop", "id": 1, "changed": [], "papers": []})
        writing.commit()
    return given


def add(shop: TriedShop, record: Any) -> int:
    """Write one record; give its key."""
    return int(written(shop, lambda writing: writing.add(record)).id)


def stated(shop: TriedShop, gather: Callable[..., PaperFacts], *about: Any) -> Any:
    """Gather what a paper states, and see that it can be kept and read again."""
    with shop.ledger.read() as reading:
        facts = gather(reading, *about)
    assert from_json(type(facts), to_json(facts)) == facts
    return facts


def printed(shop: TriedShop, kind: str, facts: PaperFacts) -> str:
    """Give the text of a paper."""
    return text_of(render(kind, facts, photograph=shop.ledger.files.get)).replace("\u00a0", " ")


def opened(shop: TriedShop, **known: Any) -> int:
    """Give a job on a cello that came with its case."""
    instrument = shop.taken_in(reason="repair")
    job = job_on(shop, instrument, **known)

    def fill(writing: Writing) -> None:
        stay = writing.session.get_one(Stay, writing.session.get_one(Job, job).stay_id)
        stay.came_with, stay.insured_value = "case\nbow", 500_000

    written(shop, fill)
    return job


def deposit(shop: TriedShop, job: int, minor: int, **known: Any) -> int:
    """Take money for a job beforehand."""

    def fill(writing: Writing) -> Payment:
        entry = writing.book([Amount("in_transit", minor), Amount("deposits", -minor, shop.owner)], "PR")
        return Payment(
            **{
                **{"number": writing.number("payment"), "person_id": shop.owner, "job_id": job},
                **{"method": "cash", "minor": minor, "received_on": shop.today, "reference": ""},
                **{"entry_id": entry, **known},
            }
        )

    return int(written(shop, lambda writing: writing.add(fill(writing))).id)


def test_a_ticket_states_what_was_left_and_the_deposit(any_shop: TriedShop) -> None:
    promised = any_shop.today + timedelta(days=10)
    job = opened(any_shop, promised_on=promised)
    bare = stated(any_shop, claim_ticket_facts, job, CLAIM, any_shop.today)
    assert (bare.deposit, bare.value, bare.promised_on) == (None, eur("5000.00"), promised)
    deposit(any_shop, job, 3_000)
    deposit(any_shop, job, 2_000)
    deposit(any_shop, job, 9_000, bounced_on=any_shop.today)
    facts = stated(any_shop, claim_ticket_facts, job, CLAIM, any_shop.today)
    assert facts.deposit == eur("50.00")
    assert (facts.number, facts.claim_number, facts.client.name) == (CLAIM, CLAIM, "Orla Fenn")
    assert (facts.came_with, facts.wants) == (("case", "bow"), "a wolf on F")
    assert (facts.thing.name, facts.thing.maker) == ("Cello", "1987")
    assert in_order(printed(any_shop, "claim_ticket", facts), CLAIM, "case, bow", "€50.00", "cut here", CLAIM)


def estimated(shop: TriedShop, job: int, n: int = 1, **known: Any) -> int:
    """Write an estimate of two lines."""

    def fill(writing: Writing) -> int:
        made = Estimate(
            **{
                **{"number": writing.number("estimate"), "job_id": job, "n": n, "made_on": shop.today},
                **{"valid_until": shop.today + timedelta(days=30), "hourly_rate": 6_000, "discount": 500},
                **{"tax_rate": Fraction("0.0825"), "tax_basis": "invoice", "note": "By hand."},
                # 8.25% of 115.00 is 9.4875, of 145.00 is 11.9625: to the nearest unit, half a unit up.
                **{"net_low": 11_500, "net_high": 14_500, "tax_low": 949, "tax_high": 1_196, **known},
            }
        )
        writing.add(made)
        lines = (("labour", 60, 90, 6_000, 9_000), ("part", None, None, 6_000, 6_000))
        for place, (kind, minutes, most, low, high) in enumerate(lines, start=1):
            writing.add(
                EstimateLine(
                    estimate_id=made.id, n=place, kind=kind, what=f"line {place}", minutes=minutes, minutes_high=most,
                    quantity=1, low=low, high=high, is_taxed=True,
                )
            )  # fmt: skip
        return int(made.id)

    return int(written(shop, fill))


def test_an_estimate_states_low_and_high_and_what_it_replaces(any_shop: TriedShop) -> None:
    job = opened(any_shop, sees="open seam")
    first = estimated(any_shop, job)
    facts = stated(any_shop, estimate_facts, first, "ES 2026-001", any_shop.today)
    assert (facts.total_low, facts.total_high) == (eur("124.49"), eur("156.96"))
    assert (facts.replaces, facts.approved, facts.sees) == ("", None, "open seam")
    assert [(line.minutes, line.minutes_high, line.high) for line in facts.lines] == [
        (60, 90, eur("90.00")),
        (None, None, eur("60.00")),
    ]
    for up_to in (9_000, 13_000):
        add(
            any_shop,
            Approval(
                job_id=job, given_by="Orla Fenn", given_on=any_shop.today, how="letter", up_to=up_to, note=""
            ),
        )
    second = stated(any_shop, estimate_facts, estimated(any_shop, job, 2), "ES 2026-002", any_shop.today)
    assert (second.replaces, second.approved) == ("ES 2026-001", eur("130.00"))
    text = printed(any_shop, "estimate", second)
    assert in_order(text, "ES 2026-001", "€130.00", "60.00 90.00", "−5.00 −5.00", "124.49 156.96", "By hand.")


def billed(shop: TriedShop, job: int, bill_to: str, **known: Any) -> int:
    """Write a bill of an hour at a rate, a part, and what is not billed."""

    def fill(writing: Writing) -> int:
        bill = JobBill(
            **{
                **{"job_id": job, "billed_on": shop.today, "bill_to": bill_to, "net": 7_000, "tax": 0},
                **{"cost": 1_234, "minutes": 75, **known},
            }
        )
        writing.add(bill)
        lines = (("labour", 75, 7_500), ("part", None, 1_500), ("labour", None, -2_000))
        for n, (kind, minutes, minor) in enumerate(lines, start=1):
            writing.add(
                JobBillLine(
                    bill_id=bill.id, n=n, kind=kind, what=f"line {n}", minutes=minutes, quantity=1,
                    minor=minor, is_taxed=False,
                )
            )  # fmt: skip
        return int(bill.id)

    return int(written(shop, fill))


def test_a_bill_to_the_client_states_the_rate_only_where_time_at_it_is_the_amount(
    any_shop: TriedShop,
) -> None:
    job = opened(any_shop)
    bill = billed(any_shop, job, "client")
    facts = stated(any_shop, work_invoice_facts, bill, "SI 2026-001", any_shop.today)
    assert [line.hourly for line in facts.lines] == [None, None, None]
    estimated(any_shop, job)  # at 60.00 an hour: 75 minutes of it are exactly 75.00
    facts = stated(any_shop, work_invoice_facts, bill, "SI 2026-001", any_shop.today)
    assert [line.hourly for line in facts.lines] == [eur("60.00"), None, None]
    assert (facts.net, facts.total, facts.balance) == (eur("70.00"), eur("70.00"), eur("70.00"))
    assert (facts.cost, facts.minutes, facts.shop_bears) == (None, None, None)
    text = printed(any_shop, "work_invoice", facts)
    assert in_order(text, "1 h 15 min at 60.00 an hour 75.00", "−20.00", "Total 70.00", "Balance due 70.00")


def test_a_bill_to_the_shop_states_its_cost_and_one_under_warranty_the_earlier_job(
    any_shop: TriedShop,
) -> None:
    earlier = opened(any_shop)
    own = stated(any_shop, work_invoice_facts, billed(any_shop, earlier, "shop"), "JS 1", any_shop.today)
    assert (own.cost, own.minutes, own.balance) == (eur("12.34"), 75, None)
    instrument = any_shop.taken_in(reason="repair")
    again = job_on(any_shop, instrument, earlier_job_id=earlier, bill_to="warranty")
    free = stated(any_shop, work_invoice_facts, billed(any_shop, again, "warranty"), "JS 2", any_shop.today)
    assert (free.earlier_claim, free.cost) == (CLAIM, None)
    assert f"warranty of job {CLAIM}" in printed(any_shop, "work_invoice", free)


def test_a_bill_to_the_owner_that_nobody_is_charged_with_is_the_shops(any_shop: TriedShop) -> None:
    job = opened(any_shop)
    facts = stated(any_shop, work_invoice_facts, billed(any_shop, job, "owner"), "JS 1", any_shop.today)
    assert (facts.charged, facts.shop_bears) == ((), eur("70.00"))
    assert in_order(printed(any_shop, "work_invoice", facts), "Who bears it", "Borne by the shop 70.00")


def test_what_is_paid_on_the_invoice_comes_off_it_and_the_rest_is_left_owing(any_shop: TriedShop) -> None:
    job = opened(any_shop, ready_on=any_shop.today, handed_to="Orla Fenn", owing_agreed="by letter")
    work = SellLine(kind="work", what="Glue a seam", price=eur("70.00"))
    sale = any_shop.act("sell", buyer_id=any_shop.owner, lines=(work,)).id
    any_shop.pay(sale, "30.00")
    bill = billed(any_shop, job, "client", sale_id=sale)
    facts = stated(any_shop, work_invoice_facts, bill, "SI 2026-001", any_shop.today)
    assert ([line.amount for line in facts.payments], facts.balance) == ([eur("30.00")], eur("40.00"))
    slip = stated(any_shop, collection_facts, job, "CL 1", any_shop.today)
    assert (slip.invoice_number, slip.billed, slip.paid) == ("SI 2026-001", eur("70.00"), eur("30.00"))
    assert in_order(printed(any_shop, "collection", slip), "Left owing 40.00", "€40.00 is still", "by letter")
    assert stated(any_shop, reminder_facts, job, 30, "RC 1", any_shop.today).due == eur("40.00")


def test_owners_are_charged_as_the_ledger_has_it_and_not_with_what_was_reversed(any_shop: TriedShop) -> None:
    job = opened(any_shop)

    def charge(minor: int, person: int) -> int:
        def fill(writing: Writing) -> int:
            entry = writing.book([Amount("owners_owe", minor, person), Amount("goods_sales", -minor)], "CH")
            number = writing.number("charge")
            writing.add(
                Charge(
                    number=number, person_id=person, job_id=job, kind="repair", what="Work", minor=minor,
                    charged_on=any_shop.today, entry_id=entry,
                )
            )  # fmt: skip
            return entry

        return int(written(any_shop, fill))

    taken_back = charge(7_000, any_shop.owner)
    written(any_shop, lambda writing: writing.reverse(taken_back, "taken back"))
    charge(2_000, any_shop.owner)
    charge(1_500, any_shop.other)
    facts = stated(any_shop, work_invoice_facts, billed(any_shop, job, "owner"), "JS 1", any_shop.today)
    assert [(line.what, line.amount) for line in facts.charged] == [
        ("Orla Fenn", eur("20.00")),
        ("Ivo Marsh", eur("15.00")),
    ]
    assert facts.shop_bears == eur("35.00")
    assert "Borne by the shop 35.00" in printed(any_shop, "work_invoice", facts)


def test_a_collection_states_to_whom_and_in_which_condition(any_shop: TriedShop) -> None:
    job = opened(
        any_shop,
        handed_to="Ivo Marsh",
        identity_seen="passport",
        condition_out="Top: as it came",
        ended_on=any_shop.today,
        ending="collected",
    )
    billed(any_shop, job, "client", taken_back_on=any_shop.today)
    facts = stated(any_shop, collection_facts, job, "CL 2026-001", any_shop.today)
    assert (facts.work_done, facts.billed, facts.declined) == ((), None, False)
    billed(any_shop, job, "warranty")
    facts = stated(any_shop, collection_facts, job, "CL 2026-001", any_shop.today)
    assert facts.work_done == ("line 1", "line 2")
    assert [(one.label, one.words) for one in facts.condition] == [("Top", "as it came")]
    text = printed(any_shop, "collection", facts)
    assert in_order(
        text, "Ivo Marsh", "passport", "line 1; line 2", "as it came", "Nothing is billed", "Ivo Marsh"
    )


def test_a_declined_job_goes_back_as_such(any_shop: TriedShop) -> None:
    job = opened(any_shop, handed_to="Orla Fenn", declined_on=any_shop.today)
    assert stated(any_shop, collection_facts, job, "CL 1", any_shop.today).declined
    letter = stated(any_shop, reminder_facts, job, 30, "RC 1", any_shop.today)
    assert (letter.declined, letter.due) == (True, None)


def test_a_reminder_states_what_was_written_before(any_shop: TriedShop) -> None:
    job = opened(any_shop, ready_on=any_shop.today)
    days = [any_shop.today + timedelta(days=n) for n in (30, 60)]
    for after, sent in zip((30, 60), days, strict=True):
        add(any_shop, Reminder(job_id=job, after_days=after, sent_on=sent))
    last = any_shop.today + timedelta(days=90)
    facts = stated(any_shop, reminder_facts, job, 90, "RC 2026-003", last)
    assert (facts.earlier, facts.ready_on, facts.sent_on) == (tuple(days), any_shop.today, last)
    assert stated(any_shop, reminder_facts, job, 60, "RC 2026-002", days[1]).earlier == (days[0],)
    assert in_order(printed(any_shop, "reminder", facts), "90 days after it was ready", "case; bow")


def test_what_is_not_there_is_not_found(any_shop: TriedShop) -> None:
    gatherers: tuple[Callable[[Reading], object], ...] = (
        lambda reading: claim_ticket_facts(reading, 404, "1", date(2026, 3, 2)),
        lambda reading: estimate_facts(reading, 404, "1", date(2026, 3, 2)),
        lambda reading: work_invoice_facts(reading, 404, "1", date(2026, 3, 2)),
        lambda reading: collection_facts(reading, 404, "1", date(2026, 3, 2)),
        lambda reading: setup_facts(reading, 404, "1", date(2026, 3, 2)),
        lambda reading: condition_facts(reading, 404, "1", date(2026, 3, 2)),
        lambda reading: reminder_facts(reading, 404, 30, "1", date(2026, 3, 2)),
    )
    with any_shop.ledger.read() as reading:
        for gather in gatherers:
            with pytest.raises(NotFound):
                gather(reading)


def test_every_kind_of_the_workshop_is_known() -> None:
    assert {"claim_ticket", "estimate", "work_invoice", "collection"} <= set(KINDS)
    assert {"setup_sheet", "condition_report", "reminder"} <= set(KINDS)


def test_two_reports_state_pins_photographs_and_what_changed(any_shop: TriedShop) -> None:
    instrument = any_shop.taken_in()
    seen = MarkRow(part="top", term="crack", severity="slight", picture=1, x=2_500, y=5_000)
    any_shop.with_papers(
        "make_report", instrument_id=instrument, occasion="trial_out", marks=(seen,), pictures=(LYING,)
    )
    any_shop.pass_days(7)
    graver = MarkRow(part="top", term="crack", severity="marked", note="42 mm", picture=2, x=100, y=200)
    any_shop.with_papers(
        "make_report",
        instrument_id=instrument,
        occasion="trial_back",
        marks=(graver, MarkRow(part="back", term="scratch")),
        pictures=(UPRIGHT, LYING),
    )
    with any_shop.ledger.read() as reading:
        first, second = (
            row.id for row in reading.session.query(ConditionReport).order_by(ConditionReport.id)
        )
    facts = stated(any_shop, condition_facts, second, "CR 2026-002", any_shop.today, first)
    assert [(mark.part, mark.severity, mark.photograph) for mark in facts.marks] == [
        ("top", "marked", 2),
        ("back", "noted", 0),
    ]
    assert [[(pin.n, pin.x, pin.y) for pin in one.pins] for one in facts.photographs] == [[], [(1, 100, 200)]]
    assert [(row.part, row.before, row.after, row.change) for row in facts.compared] == [
        ("top", "slight", "marked: 42 mm", "graver"),
        ("back", "", "noted", "new"),
    ]
    text = printed(any_shop, "condition_report", facts)
    assert in_order(
        text, "back from a trial", "What changed since CR 2026-001", "Photograph 1", "Photograph 2"
    )
    alone = stated(any_shop, condition_facts, first, "CR 2026-001", any_shop.today)
    assert (alone.compared, alone.earlier_number, len(alone.photographs)) == ((), "", 1)


def test_a_report_is_shown_with_its_photographs_before_it_is_made(any_shop: TriedShop) -> None:
    instrument = any_shop.taken_in()
    form = any_shop.form("make_report", instrument_id=instrument, occasion="intake", pictures=(UPRIGHT,))
    before = set(any_shop.ledger.files.names())
    (draft,) = would_leave(any_shop.ledger, act("make_report"), form)
    assert len(draft.photographs) == 1
    pdf = draw_draft(draft)
    assert sum(len(page.images) for page in PdfReader(BytesIO(pdf)).pages) == 1
    assert set(any_shop.ledger.files.names()) == before
