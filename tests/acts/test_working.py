"""Work on a job: time and clocks, steps on the bench, services, notes, photographs; and what each state offers."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from sqlalchemy import select

from shopledger.acts import (
    act,
    approving,
    bench,
    do,
    estimating,
    next_acts,
    noting,
    opening,
    services,
    setting_up,
    using,
    working,
)
from shopledger.acts.billing_ready import WorkRow
from shopledger.acts.conditions import MarkRow
from shopledger.acts.working import MOST_MINUTES
from shopledger.model import Job, JobNote, Paper, Picture, WorkTime
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.queries import jobs
from shopledger.queries.job_costs import job_cost, services_bought
from shopledger.queries.shapes import Subject
from shopledger.queries.states import JOB_STATES
from tests.helpers.jobs import job_on
from tests.helpers.shops import TriedShop, eur


def agreed(shop: TriedShop, **known: Any) -> int:
    """Give a job that its client has agreed to."""
    days = {"estimated_on": shop.today, "approved_on": shop.today}
    return job_on(shop, shop.taken_in(reason="repair"), **{**days, **known})


def job(shop: TriedShop, key: int) -> Job:
    with shop.ledger.read() as reading:
        return reading.session.get_one(Job, key)


def times(shop: TriedShop, key: int) -> list[tuple[int | None, str, str]]:
    with shop.ledger.read() as reading:
        rows = reading.session.scalars(select(WorkTime).where(WorkTime.job_id == key).order_by(WorkTime.id))
        return [(one.minutes, one.what, one.worked_by) for one in rows]


def state(shop: TriedShop, key: int) -> str:
    with shop.ledger.read() as reading:
        found = jobs.sheet(reading, key).state
    assert found is not None
    return found.code


def refused(shop: TriedShop, kind: type[LedgerError], field: str | None, name: str, /, **inputs: Any) -> str:
    """Make sure that an act is refused about this field and writes nothing; give its sentence."""
    before = shop.rows()
    with pytest.raises(kind) as caught:
        shop.act(name, **inputs)
    assert (type(caught.value), caught.value.field) == (kind, field), caught.value.sentence()
    assert shop.rows() == before
    sentence = caught.value.sentence(shop.ledger.manners)
    assert "{" not in sentence
    assert sentence.endswith((".", "?"))
    return sentence


def twice(shop: TriedShop, name: str, /, **inputs: Any) -> None:
    """Send one filled form twice, as a double click does; the second time writes nothing."""
    form = shop.form(name, **inputs)
    first = do(shop.ledger, act(name), form)
    rows = shop.rows()
    assert do(shop.ledger, act(name), form) == first
    assert shop.rows() == rows


def said(
    shop: TriedShop, name: str, /, **inputs: Any
) -> tuple[list[tuple[str, str, object]], tuple[str, ...]]:
    """Give the lines and warnings of an act's preview."""
    preview = act(name).preview
    assert preview is not None
    with shop.ledger.read() as reading:
        told = preview(reading, shop.form(name, **inputs))
    return [(line.label, line.how, line.amount) for line in told.lines], told.warnings


def test_time_is_written_down_and_taken_off_again(any_shop: TriedShop) -> None:
    shop = any_shop
    key = agreed(shop)
    shop.pass_days(1)
    twice(shop, "record_time", job_id=key, minutes=45, what="seam")
    assert (job(shop, key).begun_on, state(shop, key)) == (shop.today, "on_bench")
    shop.act("record_time", job_id=key, minutes=30)
    assert times(shop, key) == [(45, "seam", "the maker"), (30, "", "the maker")]
    twice(shop, "take_time_off", job_id=key, minutes=40)
    assert [one[0] for one in times(shop, key)] == [35, 0]
    with shop.ledger.read() as reading:
        assert job_cost(reading, key).minutes == 35
    sentence = refused(shop, Refused, "minutes", "take_time_off", job_id=key, minutes=36)
    assert "35\u00a0min" in sentence
    refused(shop, Typed, "minutes", "take_time_off", job_id=key, minutes=0)
    shop.act("take_time_off", job_id=key, minutes=35)
    refused(shop, Refused, "minutes", "take_time_off", job_id=key, minutes=1)


@pytest.mark.parametrize("minutes", [0, -5, MOST_MINUTES + 1])
def test_time_that_can_t_be_is_refused(shop: TriedShop, minutes: int) -> None:
    refused(shop, Typed, "minutes", "record_time", job_id=agreed(shop), minutes=minutes)


def test_a_look_before_the_estimate_begins_no_work(shop: TriedShop) -> None:
    for bill_to, begins in (("client", False), ("owner", False), ("shop", True), ("warranty", True)):
        key = job_on(shop, shop.taken_in(reason="repair"), bill_to=bill_to)
        shop.act("record_time", job_id=key, minutes=10)
        assert (job(shop, key).begun_on is not None) is begins, bill_to


@pytest.mark.parametrize(
    ("seconds", "minutes"),
    [(0, 1), (29, 1), (89, 1), (90, 2), (3600, 60), (5429, 90), (MOST_MINUTES * 60, MOST_MINUTES)],
)
def test_a_clock_counts_whole_minutes(shop: TriedShop, seconds: int, minutes: int) -> None:
    key = agreed(shop)
    shop.act("start_clock", job_id=key, what="bridge")
    shop.clock.seconds += seconds
    assert said(shop, "stop_clock", job_id=key)[0][0][0] == "Worked"
    shop.act("stop_clock", job_id=key)
    assert times(shop, key) == [(minutes, "bridge", "the maker")]


def test_a_clock_runs_once_on_a_job_and_says_where_others_run(any_shop: TriedShop) -> None:
    shop = any_shop
    first, other = agreed(shop), agreed(shop)
    twice(shop, "start_clock", job_id=first)
    assert job(shop, first).begun_on == shop.today
    assert "runs already" in refused(shop, Refused, None, "start_clock", job_id=first)
    assert said(shop, "start_clock", job_id=other)[1] == (
        f"The clock of {job(shop, first).number} runs too.",
    )
    shop.act("start_clock", job_id=other)
    shop.clock.seconds += 600
    twice(shop, "stop_clock", job_id=first, what="nut")
    twice(shop, "stop_clock", job_id=other, minutes=7)
    assert times(shop, first) == [(10, "nut", "the maker")]
    assert times(shop, other) == [(7, "", "the maker")]
    assert "No clock runs" in refused(shop, Refused, None, "stop_clock", job_id=first)
    assert "starts now" in refused(
        shop, Typed, "on", "start_clock", job_id=first, on=shop.today - timedelta(days=1)
    )


def test_a_clock_that_was_forgotten_asks_what_was_worked(shop: TriedShop) -> None:
    key = agreed(shop)
    shop.act("start_clock", job_id=key)
    shop.pass_days(2)
    assert "has run since" in refused(shop, Refused, "minutes", "stop_clock", job_id=key)
    assert "has run since" in refused(shop, Refused, None, "mark_ready", job_id=key)
    shop.act("stop_clock", job_id=key, minutes=50)
    shop.act("mark_ready", job_id=key)


def test_steps_on_the_bench_and_back(any_shop: TriedShop) -> None:
    shop = any_shop
    key = job_on(shop, shop.taken_in(reason="repair"))
    assert said(shop, "put_on_bench", job_id=key)[1] == ("Nothing is approved for it yet.",)
    for name in ("wait_for_part", "mark_ready"):
        given = {"words": "a peg"} if name == "wait_for_part" else {}
        assert "Nothing is agreed" in refused(shop, Refused, None, name, job_id=key, **given)
    twice(shop, "put_on_bench", job_id=key)
    assert state(shop, key) == "on_bench"
    assert "on the bench since" in refused(shop, Refused, None, "put_on_bench", job_id=key)
    twice(shop, "wait_for_part", job_id=key, words="  a boxwood\npeg ")
    assert (job(shop, key).waits_for, state(shop, key)) == ("a boxwood peg", "waits_for_part")
    refused(shop, Typed, "words", "wait_for_part", job_id=key, words="  ")
    twice(shop, "part_came", job_id=key)
    assert "waits for nothing" in refused(shop, Refused, None, "part_came", job_id=key)
    twice(shop, "take_off_bench", job_id=key)
    assert state(shop, key) == "to_estimate"
    assert "not on the bench" in refused(shop, Refused, None, "take_off_bench", job_id=key)
    shop.act("put_on_bench", job_id=key)
    shop.act("record_time", job_id=key, minutes=5)
    assert "Work was done" in refused(shop, Refused, None, "take_off_bench", job_id=key)
    shop.act("wait_for_part", job_id=key, words="a tail cord")
    shop.act("start_clock", job_id=key)
    shop.clock.seconds += 60 * 25
    lines, warnings = said(shop, "mark_ready", job_id=key)
    assert lines[0] == ("Time", "5\u00a0min", None)
    assert warnings == ("The clock is stopped and counts 25\u00a0min.", "It still waits for a tail cord.")
    twice(shop, "mark_ready", job_id=key)
    assert (job(shop, key).waits_for, job(shop, key).ready_on, state(shop, key)) == ("", shop.today, "ready")
    assert [one[0] for one in times(shop, key)] == [5, 25]
    assert "is ready" in refused(shop, Refused, None, "start_clock", job_id=key)
    assert "is ready since" in refused(shop, Refused, None, "mark_ready", job_id=key)
    twice(shop, "back_to_bench", job_id=key)
    assert state(shop, key) == "on_bench"
    assert "not ready yet" in refused(shop, Refused, None, "back_to_bench", job_id=key)


def test_agreed_work_can_be_ready_without_a_step_between(shop: TriedShop) -> None:
    key = agreed(shop)
    shop.pass_days(1)
    shop.act("mark_ready", job_id=key)
    assert (job(shop, key).begun_on, job(shop, key).ready_on) == (shop.today, shop.today)


def test_nothing_is_done_before_the_job_was_opened(shop: TriedShop) -> None:
    shop.pass_days(5)
    key = agreed(shop)
    early = shop.today - timedelta(days=1)
    for name, given in (
        ("record_time", {"minutes": 5}),
        ("put_on_bench", {}),
        ("mark_ready", {}),
        ("note_job", {"words": "rang"}),
        ("buy_service", {"what": "plating", "cost": eur("5.00")}),
    ):
        assert "nothing was done on it before" in refused(
            shop, Typed, "on", name, job_id=key, on=early, **given
        )
    shop.pass_days(3)
    shop.act("put_on_bench", job_id=key)
    before = refused(shop, Typed, "on", "mark_ready", job_id=key, on=shop.today - timedelta(days=1))
    assert "wasn't ready before" in before


def test_a_service_is_bought_in_and_given_back(any_shop: TriedShop) -> None:
    shop = any_shop
    key = agreed(shop)
    number = job(shop, key).number
    assert said(shop, "buy_service", job_id=key, what="plating", cost=eur("40.00"), price=eur("30.00")) == (
        [("It costs the shop", "", eur("40.00")), ("Charged to the job", "", eur("30.00"))],
        ("It is charged below what it cost.",),
    )
    given = {"what": "plating", "supplier": "Hull and Keel", "cost": eur("40.00"), "price": eur("55.00")}
    assert shop.booked(lambda: twice(shop, "buy_service", job_id=key, **given)) == [
        {"services": 4000, "bank": -4000}
    ]
    assert job(shop, key).begun_on == shop.today
    shop.act("buy_service", job_id=key, what="turning", cost=eur("12.00"))
    with shop.ledger.read() as reading:
        assert [(one.what, one.cost, one.price) for one in services_bought(reading, key)] == [
            ("plating", 4000, 5500),
            ("turning", 1200, 1200),
        ]
        assert job_cost(reading, key).services == eur("52.00")
        prefill = act("give_service_back").prefill
        assert prefill is not None
        assert prefill(reading, key) == {"service": 2}
    assert said(shop, "give_service_back", job_id=key, service=1)[0] == [
        ("Comes back to the shop", "", eur("40.00"))
    ]
    refused(shop, Typed, "service", "give_service_back", job_id=key, service=3)
    assert shop.booked(lambda: twice(shop, "give_service_back", job_id=key, service=1)) == [
        {"services": -4000, "bank": 4000}
    ]
    with shop.ledger.read() as reading:
        assert [one.what for one in services_bought(reading, key)] == ["turning"]
        assert job_cost(reading, key).services == eur("12.00")
        told = [(fact.label, fact.value) for group in jobs.sheet(reading, key).groups for fact in group.facts]
        assert ("turning", eur("12.00")) in told
        assert "plating" not in [label for label, _value in told]
    shop.act("give_service_back", job_id=key)
    assert number in refused(shop, Refused, None, "give_service_back", job_id=key)
    for field, wrong in (
        ("cost", {"cost": eur("0.00")}),
        ("cost", {"cost": eur("-1.00")}),
        ("price", {"price": eur("-1.00")}),
        ("what", {"what": " "}),
    ):
        refused(shop, Typed, field, "buy_service", job_id=key, **{**given, **wrong})


def photograph() -> bytes:
    """Give a small photograph."""
    kept = BytesIO()
    Image.new("RGB", (40, 30), (120, 80, 40)).save(kept, "JPEG")
    return kept.getvalue()


def test_notes_and_photographs_are_kept_with_the_job(any_shop: TriedShop) -> None:
    shop = any_shop
    key = agreed(shop)
    twice(shop, "note_job", job_id=key, words="rang: no answer\n")
    refused(shop, Typed, "words", "note_job", job_id=key, words=" \n ")
    twice(shop, "add_job_pictures", job_id=key, caption="the seam", pictures=(photograph(),))
    refused(shop, Typed, "pictures", "add_job_pictures", job_id=key, pictures=())
    refused(shop, Typed, "pictures[0]", "add_job_pictures", job_id=key, pictures=(b"no photograph",))
    with shop.ledger.read() as reading:
        assert reading.session.scalars(select(JobNote.words)).all() == ["rang: no answer"]
        (picture,) = reading.session.scalars(select(Picture)).all()
        one = job(shop, key)
        assert (picture.job_id, picture.stay_id, picture.instrument_id) == (
            key,
            one.stay_id,
            one.instrument_id,
        )
        assert jobs.sheet(reading, key).picture == picture.sha256


def test_the_condition_at_hand_over_is_set_beside_that_at_intake(any_shop: TriedShop) -> None:
    shop = any_shop
    key = agreed(shop)
    was = MarkRow(part="top", term="crack", severity="slight")
    shop.act("report_job_condition", job_id=key, occasion="intake", marks=(was,))
    prefill = act("report_job_condition").prefill
    assert prefill is not None
    with shop.ledger.read() as reading:
        assert prefill(reading, key) == {"marks": (was,)}
    refused(shop, Typed, "overall", "report_job_condition", job_id=key)
    form = shop.form(
        "report_job_condition", job_id=key, marks=(MarkRow(part="top", term="crack", severity="grave"),)
    )
    outcome = do(shop.ledger, act("report_job_condition"), form)
    assert do(shop.ledger, act("report_job_condition"), form) == outcome
    with shop.ledger.read() as reading:
        sheet = jobs.sheet(reading, key)
        paper = reading.session.get_one(Paper, outcome.papers[0])
    assert (paper.kind, paper.job_id) == ("condition_report", key)
    assert outcome.papers[0] in [one.id for one in sheet.papers]
    (beside,) = [one for one in sheet.groups if one.title.startswith("Condition,")]
    assert [(fact.label, fact.value, fact.quiet) for fact in beside.facts] == [
        ("Top: crack", "slight \u2192 grave", "graver")
    ]


BESIDE = {"note_job", "add_job_pictures", "report_job_condition", "record_setup"}
WORK = {"change_job", "approve_job", "record_time", "use_part", "buy_service", *BESIDE}
GOING = {"estimate_job", "start_clock", *WORK}
BEFORE = {"decline_job", "put_on_bench", *GOING}
OFFERED: Mapping[str, tuple[Mapping[str, str], set[str]]] = {
    "to_estimate": ({}, BEFORE),
    "waits_for_client": ({"estimated_on": "day"}, BEFORE),
    "agreed": ({"approved_on": "day"}, BEFORE | {"wait_for_part", "mark_ready"}),
    "on_bench": (
        {"approved_on": "day", "begun_on": "day"},
        GOING | {"wait_for_part", "mark_ready", "take_off_bench"},
    ),
    "waits_for_part": (
        {"approved_on": "day", "begun_on": "day", "waits_for": "a peg"},
        GOING | {"wait_for_part", "part_came", "mark_ready", "take_off_bench"},
    ),
    "ready": ({"approved_on": "day", "begun_on": "day", "ready_on": "day"}, WORK | {"back_to_bench"}),
    "declined": (
        {"estimated_on": "day", "declined_on": "day"},
        {"change_job", "estimate_job", "approve_job", *BESIDE},
    ),
    "collected": ({"ready_on": "day", "ended_on": "day", "ending": "collected"}, set()),
    "declined_returned": ({"declined_on": "day", "ended_on": "day", "ending": "declined"}, set()),
    "stays": ({"ready_on": "day", "ended_on": "day", "ending": "stays"}, set()),
}
"""By state: the days it follows from, and the acts of this module's subject that are on offer then, and no others."""
OWN = {
    one.name
    for room in (opening, estimating, approving, bench, working, using, services, noting, setting_up)
    for one in room.ACTS
    if one.subject is Subject.JOB
}
"""The acts on a job that belong to its work; those of its money are tried where they are."""


def test_the_table_has_every_state() -> None:
    # What was sold for what was owed, or was lost, is tried in test_reminding and test_losing.
    assert set(OFFERED) == set(JOB_STATES) - {"lien", "job_lost"}


@pytest.mark.parametrize("code", list(OFFERED))
def test_each_state_has_its_next_acts(any_shop: TriedShop, code: str) -> None:
    shop = any_shop
    days, expected = OFFERED[code]
    known = {name: shop.today if value == "day" else value for name, value in days.items()}
    key = job_on(shop, shop.taken_in(reason="repair"), **known)
    assert state(shop, key) == code
    with shop.ledger.read() as reading:
        assert {one.name for one in next_acts(reading, Subject.JOB, key)} & OWN == expected


def test_what_was_done_can_be_taken_back_and_a_clock_stopped(shop: TriedShop) -> None:
    goods = shop.act("add_goods", goods={"what": "Peg", "sort": "part"}).id
    shop.act("receive_goods", goods_id=goods, quantity=1, cost=eur("0.00"))
    for name, given, offers in (
        ("record_time", {"minutes": 5}, "take_time_off"),
        ("use_part", {"goods_id": goods}, "put_part_back"),
        ("buy_service", {"what": "plating", "cost": eur("1.00")}, "give_service_back"),
        ("start_clock", {}, "stop_clock"),
    ):
        key = agreed(shop)
        shop.act("put_on_bench", job_id=key)
        with shop.ledger.read() as reading:
            before = {one.name for one in next_acts(reading, Subject.JOB, key)}
        assert "take_off_bench" in before
        assert offers not in before
        shop.act(name, job_id=key, **given)
        with shop.ledger.read() as reading:
            now = {one.name for one in next_acts(reading, Subject.JOB, key)}
        assert offers in now
        assert "take_off_bench" not in now
    assert "start_clock" not in now


def test_billed_work_stays_as_it_is_but_notes_go_on(shop: TriedShop) -> None:
    key = job_on(shop, shop.taken_in(reason="repair"))
    shop.act("approve_job", job_id=key, given_by="Orla Fenn", up_to=eur("80.00"))
    shop.act("mark_ready", job_id=key)
    shop.act("bill_job", job_id=key, lines=(WorkRow(what="Seam glued", amount=eur("80.00")),))
    with shop.ledger.read() as reading:
        assert {one.name for one in next_acts(reading, Subject.JOB, key)} & OWN == BESIDE
    assert "was billed on" in refused(shop, Refused, None, "record_time", job_id=key, minutes=5)


def test_declined_work_is_not_gone_on_with(shop: TriedShop) -> None:
    key = job_on(shop, shop.taken_in(reason="repair"), estimated_on=shop.today, declined_on=shop.today)
    for name, given in (("record_time", {"minutes": 5}), ("start_clock", {}), ("put_on_bench", {}),
                        ("buy_service", {"what": "plating", "cost": eur("5.00")})):  # fmt: skip
        assert "was declined" in refused(shop, Refused, None, name, job_id=key, **given)


def test_there_is_no_such_job(shop: TriedShop) -> None:
    for name, given in (("record_time", {"minutes": 5}), ("note_job", {"words": "x"}), ("mark_ready", {})):
        refused(shop, NotFound, None, name, job_id=99, **given)
