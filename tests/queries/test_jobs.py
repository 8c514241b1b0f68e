"""The table of jobs and the page of one, on both databases: states as the rule has them, words, order, page."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import new_op_id
from shopledger.acts.conditions import MarkRow
from shopledger.acts.estimating_forms import EstimateRow
from shopledger.acts.owning import OwnerRow
from shopledger.model import (
    Job,
    Stay,
    fields_of,
)
from shopledger.model.jobs import JOB_ENDINGS
from shopledger.quantities.errors import NotFound
from shopledger.queries import jobs, people, stock
from shopledger.queries.declared import instrument_words
from shopledger.queries.job_lines import SHORT, in_short
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Sheet
from shopledger.queries.states import JOB_STATES
from shopledger.rules.job_state import JobDays, job_state
from shopledger.store.unit import Reading
from tests.helpers.shops import TriedShop, eur


@pytest.fixture
def any_shop(place: str | Path) -> Iterator[TriedShop]:
    shop = TriedShop(place)
    yield shop
    shop.ledger.close()


def left(shop: TriedShop, **known: Any) -> int:
    """Give a job that a new client left a cello for."""
    inputs = {
        "client": {"name": "Nell Tarn", "phone": "555-0142"},
        "instrument": {"kind": "cello", "maker": "Ansel Quill", "standing": "made_by"},
        "hears": "an open seam",
        **known,
    }
    return shop.act("open_job", **inputs).id


def ids(
    reading: Reading, view: str = "all", words: str = "", sort: str = "promised_on", down: bool = False
) -> list[int]:
    return list(jobs.ids(reading, view, words, sort, down))


def cells(reading: Reading, key: int) -> dict[str, Any]:
    (row,) = jobs.page(reading, [key])
    return dict(zip([column.name for column in jobs.COLUMNS], row.cells, strict=True))


def number_of(reading: Reading, key: int) -> str:
    return reading.session.scalars(select(Job.number).where(Job.id == key)).one()


def sheet_of(shop: TriedShop, key: int) -> Sheet:
    with shop.ledger.read() as reading:
        return jobs.sheet(reading, key)


def group(sheet: Sheet, title: str) -> list[tuple[str, object, str]]:
    """Give the facts of one group by its title; it is there at most once."""
    return [
        (fact.label, fact.value, fact.quiet)
        for one in sheet.groups
        if one.title == title
        for fact in one.facts
    ]


def test_every_declared_field_of_tables_has_a_column() -> None:
    declared = [name for name, field in fields_of(Job).items() if field.in_table]
    names = [column.name for column in jobs.COLUMNS]
    assert [name for name in names if name in declared] == declared
    assert names == ["number", "client", "instrument", "wanted", "promised_on", "state", "owes"]


def test_the_state_in_the_database_is_the_rule_s_for_every_combination(any_shop: TriedShop) -> None:
    shop = any_shop
    day = shop.today
    yes_or_no = (None, day)
    endings = [(None, None), *((day, ending) for ending, _words in JOB_ENDINGS)]
    expected: dict[int, str] = {}
    instrument = shop.taken_in()
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=new_op_id(), act="open_job_here", on=day, by="the maker")
        stay = writing.session.scalars(select(Stay.id).where(Stay.instrument_id == instrument)).one()
        for n, (estimated, approved, begun, waits, ready, declined, (ended, ending)) in enumerate(
            itertools.product(yes_or_no, yes_or_no, yes_or_no, ("", "a peg"), yes_or_no, yes_or_no, endings)
        ):
            days = JobDays(estimated, approved, begun, waits, ready, declined, ended, ending)
            job = Job(
                number=f"26-{n:04d}-x", stay_id=stay, instrument_id=instrument, client_id=shop.owner, opened_on=day,
                hears="a wolf", estimated_on=estimated, approved_on=approved, begun_on=begun, waits_for=waits,
                ready_on=ready, declined_on=declined, ended_on=ended, ending=ending,
            )  # fmt: skip
            writing.add(job)
            expected[job.id] = job_state(days)
        writing.finish_act("job", 1, {"subject": "job", "id": 1, "changed": [], "papers": []})
        writing.commit()
    assert len(expected) == 2**6 * 6
    assert set(expected.values()) == set(JOB_STATES)
    with shop.ledger.read() as reading:
        said = {key: code for key, code in reading.session.execute(select(Job.id, jobs.state_code()))}  # noqa: C416
        shown = {row.id: row.cells[-2].code for row in jobs.page(reading, list(expected))}  # type: ignore[attr-defined]
        assert said == expected == shown
        for view, codes in jobs.STATES_OF_VIEW.items():
            assert set(ids(reading, view)) == {key for key, code in expected.items() if code in codes}
        over = {"collected", "declined_returned", "lien", "stays", "job_lost"}
        assert set(ids(reading, "open")) == {key for key, code in expected.items() if code not in over}
        assert set(ids(reading)) == set(expected)
        by_state = [list(JOB_STATES).index(expected[key]) for key in ids(reading, sort="state")]
        assert by_state == sorted(by_state)
    assert {view.name for view in jobs.VIEWS} == {*jobs.STATES_OF_VIEW, "open", "all"}


def test_the_order_is_by_promised_day_with_none_last(any_shop: TriedShop) -> None:
    shop = any_shop
    late = left(shop, promised_on=shop.today + timedelta(days=9), client={"name": "ann Berg"})
    never = left(shop, hears="Buzz on the low C", client={"name": "Zoe Quay"})
    soon = left(shop, promised_on=shop.today + timedelta(days=2), hears="a crack", client={"name": "Bo Reed"})
    with shop.ledger.read() as reading:
        assert ids(reading, "open") == [soon, late, never]
        assert ids(reading, "open", down=True) == [late, soon, never]
        assert ids(reading, sort="number") == [late, never, soon]
        assert ids(reading, sort="wanted") == [soon, late, never]
        assert ids(reading, sort="instrument") == [late, never, soon]
        assert ids(reading, sort="client") == [late, soon, never]
        assert ids(reading, sort="nothing of the kind") == [late, never, soon]
        row = cells(reading, never)
        assert (row["client"], row["wanted"], row["promised_on"], row["owes"]) == (
            "Zoe Quay", "Buzz on the low C", None, None,
        )  # fmt: skip
        assert row["state"].code == "to_estimate"
        assert "cello Ansel Quill" in row["instrument"]
        assert [row.id for row in jobs.page(reading, [soon, 999, late])] == [soon, late]


def test_what_is_wanted_is_told_in_short() -> None:
    assert in_short("a\n  b") == "a b"
    assert len(in_short("wide " * 40)) <= SHORT
    assert in_short("wide " * 40).endswith("wide…") or in_short("wide " * 40).endswith("…")


def test_a_job_is_found_by_its_number_however_it_is_typed(any_shop: TriedShop) -> None:
    shop = any_shop
    first, other = (
        left(shop),
        left(shop, client={"name": "Åsa Berg"}, hears="strings of set 26, 0001, 7 of them"),
    )
    with shop.ledger.read() as reading:
        number = number_of(reading, first)
        bare = number.replace("-", "")
        for typed in (
            number,
            bare,
            number.replace("-", " "),
            number.replace("-", "–"),
            number.replace("-", "."),
        ):
            assert ids(reading, words=typed) == [first], typed
        wide = number.translate({ord(digit): 0xFF10 + int(digit) for digit in "0123456789"})
        assert ids(reading, words=wide) == [first]
        slip = bare[:-1] + str((int(bare[-1]) + 1) % 10)
        assert ids(reading, words=slip) == []
        assert ids(reading, words=bare[:6]) == [first]
        for typed, found in (
            ("tarn", [first]), ("asa", [other]), ("seam", [first]), ("quill", [first, other]),
            ("cello strings", [other]), ("nothing", []), ("", [first, other]), (")('\"*", [first, other]),
        ):  # fmt: skip
            assert ids(reading, words=typed) == found, typed
        client = reading.session.scalars(select(Job.client_id).where(Job.id == first)).one()
    shop.act("change_person", person_id=client, person={"name": "Nell Fell"})
    shop.act("change_job", job_id=other, job={"client_id": client, "hears": "a wolf", "bill_to": "client"})
    with shop.ledger.read() as reading:
        assert ids(reading, words="tarn") == []
        assert ids(reading, words="fell") == [first, other]
        assert ids(reading, words="wolf") == [other]


def test_the_page_of_a_job(any_shop: TriedShop) -> None:
    shop = any_shop
    key = left(
        shop,
        promised_on=shop.today + timedelta(days=3),
        sees="the lower bout is open",
        came_with="case\nbow",
        insured_value=eur("4000.00"),
        deposit=eur("50.00"),
    )
    sheet = sheet_of(shop, key)
    assert sheet.state is not None
    assert sheet.state.code == "to_estimate"
    assert sheet.standing == "Left on 2 Mar 2026, to be estimated. Promised for 5 Mar 2026, 3 days left."
    assert "555-0142" in sheet.line
    assert "Nell Tarn" in sheet.line
    with shop.ledger.read() as reading:
        number = number_of(reading, key)
    assert sheet.title == f"{number} Cello by Ansel Quill"
    wanted = {label: value for label, value, _quiet in group(sheet, "What is wanted")}
    assert wanted["Client"] == "Nell Tarn"
    assert wanted["What the client hears and wants"] == "an open seam"
    assert wanted["What the maker sees"] == "the lower bout is open"
    assert [value for _label, value, _quiet in group(sheet, "What came with it")][-2:] == [
        "case\nbow",
        eur("4000.00"),
    ]
    assert [(line.label, line.amount) for line in sheet.money] == [("Paid beforehand", eur("50.00"))]
    assert [paper.number for paper in sheet.papers] == [number, "PR 2026-001"]
    assert [mark.words for mark in sheet.history.marks] == [f"Left, {number}", "50.00 received (PR 2026-001)"]
    assert all(mark.paper_id is not None for mark in sheet.history.marks)
    assert [span.state.code for span in sheet.history.spans] == ["workshop"]


def estimated(shop: TriedShop, key: int, minutes: int, most: int) -> None:
    lines = (EstimateRow(what="close the seam", minutes=minutes, minutes_high=most),)
    shop.act("estimate_job", job_id=key, lines=lines, hourly_rate=eur("60.00"))


def approved(shop: TriedShop, key: int, up_to: str, **known: Any) -> None:
    shop.act("approve_job", job_id=key, given_by="Nell Tarn", up_to=eur(up_to), **known)


def test_the_page_tells_estimate_approval_and_work(any_shop: TriedShop) -> None:
    shop = any_shop
    key = left(shop)
    string = shop.act("add_goods", goods={"what": "Gut string, A", "sort": "part"}).id
    shop.act("receive_goods", goods_id=string, quantity=4, cost=eur("20.00"))
    shop.pass_days(1)
    estimated(shop, key, 90, 120)
    assert sheet_of(shop, key).standing == "Estimated on 3 Mar 2026; the client's answer is awaited."
    approved(shop, key, "120.00", how="telephone", note="no gut")
    assert sheet_of(shop, key).standing == "Agreed on 3 Mar 2026, up to 120.00; the work has not begun."
    shop.act("use_part", job_id=key, goods_id=string, quantity=2)
    for minutes in (45, 30, 10):
        shop.act("record_time", job_id=key, minutes=minutes, what="seam")
    shop.act("take_time_off", job_id=key, minutes=10)
    shop.act("start_clock", job_id=key)
    shop.act("note_job", job_id=key, words="the seam was glued before")
    sheet = sheet_of(shop, key)
    assert sheet.state is not None
    assert sheet.state.code == "on_bench"
    assert sheet.standing == "On the bench since 3 Mar 2026. The clock runs."
    assert group(sheet, "Estimates") == [
        ("ES 2026-001", "90.00 \u2013 120.00", "made on 3 Mar 2026, valid until 2 Apr 2026"),
        ("close the seam", "90.00 \u2013 120.00", "work, 1\u00a0h\u00a030\u00a0min \u2013 2\u00a0h"),
    ]
    assert group(sheet, "Approvals") == [
        ("Up to", eur("120.00"), "Nell Tarn, 3 Mar 2026, by telephone, no gut")
    ]
    assert [(value, quiet) for _label, value, quiet in group(sheet, "Time")] == [
        ("45\u00a0min", "seam, the maker"),
        ("30\u00a0min", "seam, the maker"),
        ("the clock runs", "the maker"),
        ("1\u00a0h\u00a015\u00a0min", ""),
    ]
    assert group(sheet, "Parts") == [("Gut string, A, G 001", "2", "at 10.00 in all")]
    assert group(sheet, "Notes") == [("3 Mar 2026", "the seam was glued before", "")]
    assert [(line.label, line.how, line.amount) for line in sheet.money] == [
        ("Estimated", "ES 2026-001, at least 90.00", eur("120.00")),
        ("Approved up to", "", eur("120.00")),
        ("Parts, at cost", "", eur("10.00")),
        ("It cost the shop", "with 1\u00a0h\u00a015\u00a0min of work", eur("10.00")),
    ]
    assert [mark.words for mark in sheet.history.marks][1:] == [
        "Estimate ES 2026-001, up to 120.00",
        "Approved by Nell Tarn, up to 120.00",
        "Work begun",
        "Worked 1\u00a0h\u00a015\u00a0min",
        "2 \u00d7 Gut string, A",
    ]
    with shop.ledger.read() as reading:
        assert ids(reading, words="glued") == [key]
        assert ids(reading, words="ES 2026-001") == [key]
    shop.act("wait_for_part", job_id=key, words="a boxwood peg")
    assert sheet_of(shop, key).standing.startswith("Waiting for a boxwood peg.")
    shop.act("mark_ready", job_id=key)
    assert sheet_of(shop, key).standing == "Ready since 3 Mar 2026, to be collected."
    assert sheet_of(shop, key).history.marks[-1].words == "Ready"
    assert shop.wrong() == []


def test_a_further_estimate_waits_for_its_answer_while_the_work_goes_on(any_shop: TriedShop) -> None:
    shop = any_shop
    key = left(shop)
    estimated(shop, key, 60, 60)
    approved(shop, key, "60.00", estimate="ES 2026-001")
    shop.act("put_on_bench", job_id=key)
    assert sheet_of(shop, key).standing == "On the bench since 2 Mar 2026."
    estimated(shop, key, 90, 90)
    assert sheet_of(shop, key).standing.endswith(
        "The estimate ES 2026-002 of 2 Mar 2026 is not answered yet."
    )
    approved(shop, key, "90.00", estimate="ES 2026-002")
    assert sheet_of(shop, key).standing == "On the bench since 2 Mar 2026."
    shop.pass_days(1)
    approved(shop, key, "80.00")
    assert sheet_of(shop, key).standing == "On the bench since 2 Mar 2026."
    assert shop.wrong() == []


def test_what_is_declined_says_so(any_shop: TriedShop) -> None:
    shop = any_shop
    key = left(shop)
    estimated(shop, key, 60, 60)
    shop.act("decline_job", job_id=key, given_by="Nell Tarn", how="letter")
    sheet = sheet_of(shop, key)
    assert sheet.standing == "Declined on 2 Mar 2026, to be handed back as it is."
    assert group(sheet, "Approvals") == [("Declined", "Nell Tarn, 2 Mar 2026, by letter, ES 2026-001", "")]
    assert [line.label for line in sheet.money] == ["Estimated"]
    assert sheet.history.marks[-1].words == "Declined by Nell Tarn"
    assert shop.wrong() == []


def test_two_reports_of_one_job_stand_side_by_side(any_shop: TriedShop) -> None:
    shop = any_shop
    marks = (MarkRow(part="top", term="crack", severity="slight"), MarkRow(part="head", term="wear"))
    key = left(shop, marks=marks)
    with shop.ledger.read() as reading:
        instrument = reading.session.get_one(Job, key).instrument_id
    assert [one.title for one in sheet_of(shop, key).groups if one.title.startswith("Condition")] == [
        "Condition"
    ]
    grave = MarkRow(part="top", term="crack", severity="grave")
    shop.act("make_report", instrument_id=instrument, occasion="handover", marks=(grave,))
    (title,) = [one.title for one in sheet_of(shop, key).groups if one.title.startswith("Condition,")]
    assert title == "Condition, CR 2026-001 beside CR 2026-002"
    assert group(sheet_of(shop, key), title) == [
        ("Top: crack", "slight \u2192 grave", "graver"),
        ("Head: wear", "noted \u2192 \u2013", "gone"),
    ]


def ended(shop: TriedShop, key: int, **known: Any) -> None:
    """End a job as its collection would."""
    with shop.ledger.write() as writing:
        writing.begin_act(op_id=new_op_id(), act="collect_job", on=shop.today, by="the maker")
        job = writing.session.get_one(Job, key)
        for name, value in {"ended_on": shop.today, **known}.items():
            setattr(job, name, value)
        writing.finish_act("job", key, {"subject": "job", "id": key, "changed": [], "papers": []})
        writing.commit()


def test_a_job_that_ended_says_how_and_its_band_ends_there(any_shop: TriedShop) -> None:
    shop = any_shop
    key = left(shop, promised_on=shop.today)
    shop.act("put_on_bench", job_id=key)
    shop.act("mark_ready", job_id=key)
    shop.pass_days(3)
    ended(shop, key, ending="collected", handed_to="Ivo Marsh")
    sheet = sheet_of(shop, key)
    assert sheet.standing == "Collected on 5 Mar 2026 by Ivo Marsh."
    assert sheet.history.marks[-1].words == "Collected: Ivo Marsh"
    assert [(span.since, span.until) for span in sheet.history.spans] == [
        (shop.today - timedelta(days=3), shop.today)
    ]


def test_an_instrument_shows_its_jobs_over_all_owners_and_a_person_theirs(any_shop: TriedShop) -> None:
    shop = any_shop
    first = left(shop, hears="a wolf\non F")
    with shop.ledger.read() as reading:
        was = reading.session.get_one(Job, first)
    shop.pass_days(1)
    ended(shop, first, ending="collected")
    shop.act("return_to_owner", instrument_id=was.instrument_id, handed_to="Nell Tarn")
    shop.pass_days(30)
    second = left(
        shop, client={}, client_id=shop.other, instrument={}, instrument_id=was.instrument_id,
        owners=(OwnerRow(person_id=shop.other),), hears="new strings",
    )  # fmt: skip
    with shop.ledger.read() as reading:
        one, two = number_of(reading, first), number_of(reading, second)
        page = stock.sheet(reading, was.instrument_id)
        assert group(page, "Jobs") == [
            (two, "new strings", "2 Apr 2026, Ivo Marsh, to be estimated"),
            (one, "a wolf on F", "3 Mar 2026, Nell Tarn, collected"),
        ]
        marks = [(mark.words, mark.subject) for mark in page.history.marks if mark.subject]
        assert marks == [
            (f"Job {one} for Nell Tarn: a wolf on F", (Subject.JOB, first)),
            (f"Job {one}: collected", (Subject.JOB, first)),
            (f"Job {two} for Ivo Marsh: new strings", (Subject.JOB, second)),
        ]
        theirs = people.sheet(reading, was.client_id)
        words = instrument_words(reading, [was.instrument_id])[was.instrument_id]
        assert group(theirs, "Jobs") == [(one, words, "a wolf on F, 3 Mar 2026, collected")]
        assert [mark.words for mark in theirs.history.marks if mark.subject == (Subject.JOB, first)] == [
            f"Left for work, {one}",
            f"Work ended, {one}",
        ]
        assert group(people.sheet(reading, shop.buyer), "Jobs") == []
        assert list(stock.ids(reading, "all", one, "number", False)) == [was.instrument_id]


def test_there_is_no_such_job(any_shop: TriedShop) -> None:
    with any_shop.ledger.read() as reading, pytest.raises(NotFound):
        jobs.sheet(reading, 99)
