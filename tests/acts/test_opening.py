"""Opening a job: at the counter with all of it in one form, on what is in the shop, and changed before it is billed."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, do, next_acts
from shopledger.acts.conditions import MarkRow
from shopledger.acts.owning import owners_now
from shopledger.model import ConditionReport, Custody, Instrument, Job, Paper, Payment, Person, Picture, Stay
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.queries.papers import paper_bytes
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import last_stay
from shopledger.rules.claims import read_claim
from tests.helpers import away, trials
from tests.helpers.jobs import prefilled, refused, state_of, twice
from tests.helpers.shops import TriedShop, eur, row
from tests.papers.reading_back import in_order, text_of
from tests.papers.sample_photographs import LYING, UPRIGHT

NEW: dict[str, Any] = {
    "client": {"name": "Wil Dray", "phone": "555-0114"},
    "instrument": {"kind": "viola_da_gamba", "maker": "Ansel Quill"},
    "hears": "it buzzes on the low string",
}
"""The least that is typed at the counter: who, what, and what is wanted."""


def opened(shop: TriedShop, **inputs: Any) -> int:
    return shop.act("open_job", **{**NEW, **inputs}).id


def job(shop: TriedShop, key: int) -> Job:
    with shop.ledger.read() as reading:
        return reading.session.get_one(Job, key)


def place_of(shop: TriedShop, instrument: int) -> str:
    with shop.ledger.read() as reading:
        now = last_stay(reading, instrument)
        return "" if now is None else now.place


def ended(shop: TriedShop, key: int, ending: str = "collected") -> None:
    """Let a job be over and its instrument gone, as its collection does."""
    one = job(shop, key)
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=f"ended {key}", act="collect_job", on=shop.today, by="")
        own = writing.session.get_one(Job, key)
        own.begun_on = own.ready_on = own.ended_on = shop.today
        own.ending = ending
        stay = writing.session.get_one(Stay, one.stay_id)
        if stay.reason == "repair":
            stay.ended_on, stay.ending = shop.today, "returned"
            writing.add(Custody(stay_id=stay.id, place="handed_over", since=shop.today, words=""))
        writing.finish_act("job", key, {"subject": "job", "id": key, "changed": [], "papers": []})
        writing.commit()


def test_all_of_an_intake_is_one_form_and_is_booked_once(any_shop: TriedShop) -> None:
    shop = any_shop
    form = shop.form(
        "open_job",
        **NEW,
        came_with="case\ntwo bows",
        sees="the bass bar is loose",
        promised_on=shop.today + timedelta(days=14),
        insured_value=eur("8500.00"),
        identity_seen="driving licence",
        deposit=eur("50.00"),
        cleared=True,
        pictures=(LYING, UPRIGHT),
        marks=(MarkRow(part="top", term="crack", severity="marked", picture=2, x=5000, y=2500),),
    )
    books: list[Any] = []
    entries = shop.booked(lambda: books.append(do(shop.ledger, act("open_job"), form)))
    assert entries == [
        {"in_transit": 5000, "deposits Wil Dray": -5000},
        {"in_transit": -5000, "bank": 5000},
    ]
    rows = shop.rows()
    assert do(shop.ledger, act("open_job"), form) == books[0]
    assert shop.rows() == rows
    (outcome,) = books
    one = job(shop, outcome.id)
    assert (one.number, read_claim(one.number)) == ("26-0001-7", one.number)
    assert (one.bill_to, one.opened_on, state_of(shop, one.id)) == ("client", shop.today, "to_estimate")
    with shop.ledger.read() as reading:
        find = reading.session.get_one
        client, stay = find(Person, one.client_id), find(Stay, one.stay_id)
        assert (client.name, client.phone) == ("Wil Dray", "555-0114")
        assert (stay.reason, stay.came_with, stay.insured_value) == ("repair", "case\ntwo bows", 850_000)
        assert (stay.brought_by_id, stay.identity_seen) == (client.id, "driving licence")
        assert [share.person_id for share in owners_now(reading, one.instrument_id)] == [client.id]
        pictures = reading.session.scalars(select(Picture)).all()
        assert [(picture.job_id, picture.stay_id) for picture in pictures] == [(one.id, stay.id)] * 2
        (report,) = reading.session.scalars(select(ConditionReport)).all()
        assert (report.job_id, report.occasion, report.made_by) == (one.id, "intake", "the maker")
        (paid,) = reading.session.scalars(select(Payment)).all()
        assert (paid.job_id, paid.sale_id, paid.minor, paid.cleared_on) == (one.id, None, 5000, shop.today)
        kinds = reading.session.execute(select(Paper.kind, Paper.job_id).order_by(Paper.id)).all()
        assert [kind for kind, _job in kinds] == ["condition_report", "payment_receipt", "claim_ticket"]
    assert place_of(shop, one.instrument_id) == "workshop"
    ticket = text_of(paper_bytes(shop.ledger, outcome.papers[0])).replace("\u00a0", " ")
    assert in_order(ticket, "26-0001-7", "Wil Dray", "two bows", "it buzzes on the low string")
    assert "50.00" in ticket


def test_the_least_that_is_typed_is_enough(any_shop: TriedShop) -> None:
    outcome = twice(any_shop, "open_job", **NEW)
    assert len(outcome.papers) == 1
    assert outcome.subject is Subject.JOB
    with any_shop.ledger.read() as reading:
        assert reading.session.scalars(select(Picture)).all() == []


def test_photographs_without_marks_are_kept_without_a_report(shop: TriedShop) -> None:
    key = opened(shop, pictures=(LYING,))
    with shop.ledger.read() as reading:
        assert [picture.job_id for picture in reading.session.scalars(select(Picture))] == [key]
        assert reading.session.scalars(select(ConditionReport)).all() == []


def test_one_that_was_here_comes_again_and_keeps_its_owner(any_shop: TriedShop) -> None:
    shop = any_shop
    first = opened(shop)
    instrument = job(shop, first).instrument_id
    owner = job(shop, first).client_id
    ended(shop, first)
    shop.pass_days(40)
    known = {"client": {}, "instrument": {}, "client_id": shop.player, "instrument_id": instrument}
    again = opened(shop, **known, hears="it buzzes still", bill_to="warranty", earlier_claim="26 0001 7")
    one = job(shop, again)
    assert (one.number, one.instrument_id, one.client_id) == ("26-0002-5", instrument, shop.player)
    assert (one.bill_to, one.earlier_job_id) == ("warranty", first)
    with shop.ledger.read() as reading:
        assert [share.person_id for share in owners_now(reading, instrument)] == [owner]
        stays = reading.session.scalars(select(Stay).where(Stay.instrument_id == instrument)).all()
        assert [stay.ended_on is None for stay in stays] == [False, True]
        assert reading.session.get_one(Stay, one.stay_id).brought_by_id == shop.player


def test_it_can_be_said_whose_it_is(shop: TriedShop) -> None:
    key = opened(shop, owners=(row(shop.owner, "1/2"), row(shop.other, "1/2")))
    with shop.ledger.read() as reading:
        shares = owners_now(reading, job(shop, key).instrument_id)
    assert [share.person_id for share in shares] == [shop.owner, shop.other]


def test_what_is_in_the_shop_is_not_taken_in_again(any_shop: TriedShop) -> None:
    shop = any_shop
    here = shop.consigned()
    known = {"instrument": {}, "instrument_id": here}
    words = refused(shop, Refused, "instrument_id", "open_job", **{**NEW, **known})
    assert "open the job there" in words
    first = opened(shop)
    busy = {"instrument": {}, "instrument_id": job(shop, first).instrument_id}
    assert "26-0001-7 open" in refused(shop, Refused, None, "open_job", **{**NEW, **busy})


def test_a_job_on_what_is_consigned_is_its_owner_s_and_the_stay_goes_on(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned()
    begun = prefilled(shop, "open_job_here", instrument)
    assert begun == {"bill_to": "owner", "client_id": shop.owner}
    outcome = twice(shop, "open_job_here", instrument_id=instrument, **begun, hears="a seam")
    one = job(shop, outcome.id)
    with shop.ledger.read() as reading:
        (stay,) = reading.session.scalars(select(Stay).where(Stay.instrument_id == instrument)).all()
    assert (one.stay_id, stay.reason, stay.ended_on) == (stay.id, "to_sell", None)
    assert (one.bill_to, place_of(shop, instrument)) == ("owner", "workshop")
    again = {"instrument_id": instrument, "client_id": shop.owner, "hears": "another"}
    assert one.number in refused(shop, Refused, None, "open_job_here", **again)


def test_who_usually_pays_is_filled_in(shop: TriedShop) -> None:
    assert prefilled(shop, "open_job_here", shop.own())["bill_to"] == "shop"
    assert prefilled(shop, "open_job_here", shop.taken_in(reason="value"))["bill_to"] == "client"
    assert prefilled(shop, "open_job_here", shop.consigned())["bill_to"] == "owner"


@pytest.mark.parametrize("out", ["on_trial", "away"])
def test_what_is_out_of_the_shop_is_not_put_on_the_bench(any_shop: TriedShop, out: str) -> None:
    shop = any_shop
    instrument = shop.consigned(trials_allowed=True, dealers_allowed=True)
    if out == "on_trial":
        trial = trials.lent(shop, trials.row(instrument))
    else:
        away.placing(shop, instrument)
    given = {"instrument_id": instrument, "client_id": shop.owner, "bill_to": "owner", "hears": "a seam"}
    assert "Have it back first" in refused(shop, Refused, None, "open_job_here", **given)
    with shop.ledger.read() as reading:
        offered = {one.name for one in next_acts(reading, Subject.INSTRUMENT, instrument)}
    assert "open_job_here" not in offered
    if out == "on_trial":
        shop.act("take_trial_back", trial_id=trial)
    else:
        shop.act("placing_back", instrument_id=instrument)
    shop.act("open_job_here", **given)


def test_what_was_handed_over_is_not_put_on_the_bench(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    shop.act("return_to_owner", instrument_id=instrument, handed_to="Orla Fenn")
    given = {"instrument_id": instrument, "client_id": shop.owner, "hears": "a seam"}
    assert "is not in the shop" in refused(shop, Refused, None, "open_job_here", **given)


@pytest.mark.parametrize(
    ("kind", "field", "inputs"),
    [
        (Typed, "client_id", {"client": {}}),
        (Typed, "client_id", {"client_id": 2}),
        (NotFound, "client_id", {"client": {}, "client_id": 99}),
        (Refused, "client.relation", {"client": {"name": "x", "relation": "shop"}}),
        (Typed, "instrument_id", {"instrument": {}}),
        (Typed, "instrument_id", {"instrument_id": 1}),
        (NotFound, None, {"instrument": {}, "instrument_id": 99}),
        (Typed, "instrument.kind", {"instrument": {"kind": "kazoo"}}),
        (Typed, "hears", {"hears": ""}),
        (Typed, "promised_on", {"promised_on": date(2026, 3, 1)}),
        (Typed, "insured_value", {"insured_value": eur("-1.00")}),
        (Typed, "deposit", {"deposit": eur("0.00")}),
        (Typed, "deposit", {"deposit": eur("-5.00")}),
        (Typed, "method", {"deposit": eur("5.00"), "method": "barter"}),
        (Typed, "pictures[0]", {"pictures": (b"no photograph",)}),
        (Typed, "marks[0].part", {"marks": (MarkRow(part="wing", term="crack"),)}),
        (Typed, "bill_to", {"bill_to": "owner"}),
        (Typed, "bill_to", {"bill_to": "nobody"}),
        (Typed, "bill_to", {"client": {}, "client_id": 1}),
        (Typed, "earlier_claim", {"bill_to": "warranty"}),
        (Typed, "earlier_claim", {"bill_to": "warranty", "earlier_claim": "26-0001-7"}),
        (Typed, "earlier_claim", {"earlier_claim": "26-0001-8"}),
    ],
)
def test_what_can_t_be_taken_in_is_refused_at_its_field(
    shop: TriedShop, kind: type[LedgerError], field: str | None, inputs: dict[str, Any]
) -> None:
    shop.taken_in()
    refused(shop, kind, field, "open_job", **{**NEW, **inputs})


@pytest.mark.parametrize(
    ("field", "inputs"),
    [
        ("client_id", {"client_id": 99}),
        ("hears", {"hears": ""}),
        ("bill_to", {"bill_to": "owner"}),
        ("promised_on", {"promised_on": date(2026, 3, 1)}),
        ("deposit", {"deposit": eur("5.00"), "bill_to": "shop"}),
        ("earlier_claim", {"bill_to": "warranty"}),
    ],
)
def test_what_can_t_be_opened_here_is_refused_at_its_field(
    shop: TriedShop, field: str, inputs: dict[str, Any]
) -> None:
    given = {"instrument_id": shop.taken_in(), "client_id": shop.owner, "hears": "a seam", **inputs}
    kind = NotFound if field == "client_id" else Typed
    refused(shop, kind, field, "open_job_here", **given)


def test_a_job_is_written_anew_while_no_bill_stands(any_shop: TriedShop) -> None:
    shop = any_shop
    key = opened(shop, sees="a loose bar")
    given = prefilled(shop, "change_job", key)
    assert given["earlier_claim"] == ""
    assert (given["job"]["hears"], given["job"]["client_id"]) == (NEW["hears"], job(shop, key).client_id)
    changed = {
        **given["job"],
        "promised_on": shop.today + timedelta(days=3),
        "sees": "",
        "client_id": shop.player,
    }
    twice(shop, "change_job", job_id=key, job=changed)
    one = job(shop, key)
    assert (one.promised_on, one.sees, one.client_id) == (shop.today + timedelta(days=3), "", shop.player)
    assert one.hears == NEW["hears"]
    ended(shop, key)
    assert "ended on" in refused(shop, Refused, None, "change_job", job_id=key, job=changed)


def test_a_deposit_keeps_its_client_until_it_is_given_back(shop: TriedShop) -> None:
    key = opened(shop, deposit=eur("50.00"), cleared=True)
    refused(shop, Refused, "job.client_id", "change_job", job_id=key, job={"client_id": shop.player})
    refused(shop, Refused, "job.bill_to", "change_job", job_id=key, job={"bill_to": "shop"})
    shop.act("change_job", job_id=key, job={"sees": "a crack", "bill_to": "client"})


def test_a_job_turns_out_to_be_under_warranty(any_shop: TriedShop) -> None:
    shop = any_shop
    first = opened(shop)
    instrument = job(shop, first).instrument_id
    ended(shop, first)
    known = {"client": {}, "instrument": {}, "client_id": shop.player, "instrument_id": instrument}
    again = opened(shop, **known)
    warranty = {"job_id": again, "job": {"bill_to": "warranty"}}
    refused(shop, Typed, "earlier_claim", "change_job", **warranty)
    refused(shop, Typed, "earlier_claim", "change_job", **warranty, earlier_claim=job(shop, again).number)
    shop.act("change_job", **warranty, earlier_claim="26-0001-7")
    assert (job(shop, again).bill_to, job(shop, again).earlier_job_id) == ("warranty", first)
    assert prefilled(shop, "change_job", again)["earlier_claim"] == "26-0001-7"
    shop.act("change_job", job_id=again, job={"hears": "once more"})
    assert job(shop, again).earlier_job_id == first


@pytest.mark.parametrize(
    ("kind", "field", "values"),
    [
        (Typed, "job.hears", {"hears": ""}),
        (Typed, "job.client_id", {"client_id": None}),
        (NotFound, "job.client_id", {"client_id": 99}),
        (Typed, "job.promised_on", {"promised_on": date(2026, 3, 1)}),
        (Typed, "job.bill_to", {"bill_to": "owner"}),
        (Typed, "job.number", {"number": "26-0099-0"}),
    ],
)
def test_what_can_t_be_changed_is_refused_at_its_field(
    shop: TriedShop, kind: type[LedgerError], field: str, values: dict[str, Any]
) -> None:
    refused(shop, kind, field, "change_job", job_id=opened(shop), job=values)


def test_no_other_job_is_changed(shop: TriedShop) -> None:
    refused(shop, NotFound, None, "change_job", job_id=99, job={"hears": "x"})
    with shop.ledger.read() as reading:
        assert reading.session.scalars(select(Instrument)).all() == []
