"""Counting the stock: by number, serial, entry and claim; unknown, unexpected, twice; what is missing stands first."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, do, next_acts
from shopledger.acts.counting import BEGIN_COUNT, END_COUNT, TICK
from shopledger.acts.trial_forms import LendRow
from shopledger.model import Instrument, Job, Paper, Stay
from shopledger.papers.marks import mark_text
from shopledger.papers.stock_take import StockTakeFacts
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.queries import counts
from shopledger.queries.by_code import instrument_by_code
from shopledger.queries.counting import Count, count_of
from shopledger.queries.papers import paper_bytes
from shopledger.queries.shapes import Subject
from shopledger.queries.states import ALL_SEEN, COUNTING, SOME_MISSING
from tests.acts.test_papers_left import stated
from tests.helpers.shops import TriedShop, eur
from tests.papers.reading_back import in_order, text_of


def counted(shop: TriedShop, count_id: int) -> Count:
    with shop.ledger.read() as reading:
        return count_of(reading, count_id)


def numbers(lines: Any) -> list[str]:
    return [line.number for line in lines]


def stocked(shop: TriedShop) -> dict[str, int]:
    """Give a shop with two things here, one of them with a serial, one at the bench, one on trial, one gone."""
    found = {
        "here": shop.own(),
        "serial": shop.taken_in(instrument={"kind": "bow", "serial": "EM b 17"}),
        "lent": shop.consigned(trials_allowed=True),
        "gone": shop.taken_in(),
    }
    shop.act(
        "lend_on_trial",
        trial={"person_id": shop.player, "due_on": shop.today + timedelta(days=14)},
        lines=(LendRow(instrument_id=found["lent"], value=eur("8200.00")),),
    )
    shop.act("return_to_owner", instrument_id=found["gone"], handed_to="Orla Fenn")
    job = shop.act(
        "open_job", client_id=shop.other, instrument={"kind": "cello", "standing": "unknown"}, hears="A buzz."
    ).id
    with shop.ledger.read() as reading:
        found["bench"] = reading.session.get_one(Job, job).instrument_id
    return found


def claim_of(shop: TriedShop) -> str:
    with shop.ledger.read() as reading:
        return reading.session.scalars(select(Job.number)).one()


def entry_of(shop: TriedShop, instrument: int) -> str:
    with shop.ledger.read() as reading:
        return reading.session.scalars(select(Stay.number).where(Stay.instrument_id == instrument)).one()


def refused(shop: TriedShop, kind: type[LedgerError], words: str, name: str, /, **inputs: Any) -> LedgerError:
    """Make sure that an act is refused in these words, and that nothing was written."""
    before = shop.rows()
    with pytest.raises(kind) as caught:
        shop.act(name, **inputs)
    assert words in caught.value.sentence(), caught.value.sentence()
    assert shop.rows() == before
    return caught.value


def test_what_should_be_here_is_ticked_and_the_rest_is_missing(any_shop: TriedShop) -> None:
    shop = any_shop
    stocked(shop)
    count = shop.act("begin_count", counted_by="Una Quill", note="Spring.").id
    assert numbers(counted(shop, count).missing) == ["No. 001", "No. 002", "No. 005"]
    shop.act("tick", stock_take_id=count, code="No. 001")
    shop.act("tick", stock_take_id=count, code=claim_of(shop).replace("-", ""), note="no case")
    shop.act("tick", stock_take_id=count, code="3")
    shop.act("note_unlisted", stock_take_id=count, what="a bow  without a frog")
    now = counted(shop, count)
    assert (numbers(now.seen), numbers(now.missing)) == (["No. 001", "No. 005"], ["No. 002"])
    assert [(line.number, line.note) for line in now.unexpected] == [("No. 003", "on trial: with Ida Skerry")]
    assert now.note == "Spring.\nMet, in no book: a bow without a frog"

    shop.pass_days(1)
    outcome = shop.with_papers("end_count", stock_take_id=count)
    facts = stated(shop, outcome.papers[0])
    assert isinstance(facts, StockTakeFacts)
    assert (facts.number, facts.expected, facts.counted_by) == ("ST 2026-001", 3, "Una Quill")
    assert (facts.began_on, facts.ended_on) == (shop.today - timedelta(days=1), shop.today)
    assert (numbers(facts.missing), numbers(facts.unexpected), numbers(facts.seen)) == (
        ["No. 002"],
        ["No. 003"],
        ["No. 001", "No. 005"],
    )
    text = text_of(paper_bytes(shop.ledger, outcome.papers[0]))
    assert in_order(text, "missing: 1 thing", "No. 002", "No. 003", "in no book", "No. 001", "No. 005")


@pytest.mark.parametrize(
    "code",
    ["No. 002", "no.2", "No 002", "2", "002", " 2 ", "EM b 17", "em B 17 ", "\uff12", "NO. 2\t", "2\n"],
)
def test_a_thing_is_known_by_number_and_serial_however_it_is_scanned(shop: TriedShop, code: str) -> None:
    stocked(shop)
    count = shop.act("begin_count").id
    shop.act("tick", stock_take_id=count, code=code)
    assert numbers(counted(shop, count).seen) == ["No. 002"]


def test_what_a_scanner_puts_around_a_code_is_left_out(shop: TriedShop) -> None:
    found = stocked(shop)
    with shop.ledger.read() as reading:
        for code in ("\x02No. 002\x03", "002\r\n", "\ufeff2", "EM\u00a0b 17\x1d"):
            assert instrument_by_code(reading, code) == found["serial"]


def test_it_is_known_by_its_entry_and_by_the_code_of_its_paper(any_shop: TriedShop) -> None:
    shop = any_shop
    found = stocked(shop)
    count = shop.act("begin_count").id
    shop.act("tick", stock_take_id=count, code=entry_of(shop, found["here"]))
    shop.act("untick", stock_take_id=count, code="1")
    with shop.ledger.read() as reading:
        paper = reading.session.scalars(
            select(Paper).where(Paper.instrument_id == found["serial"], Paper.kind == "intake")
        ).one()
    shop.act("tick", stock_take_id=count, code=mark_text(paper.number, paper.facts_sha256))
    shop.act("tick", stock_take_id=count, code=claim_of(shop))
    now = counted(shop, count)
    assert (numbers(now.seen), numbers(now.missing)) == (["No. 002", "No. 005"], ["No. 001"])


@pytest.mark.parametrize(
    ("code", "kind", "words"),
    [
        ("", Typed, "Number"),
        (" \n\t", Typed, "Scan a number, or type one"),
        ("\x00\x1b", Typed, "holds a control character"),
        ("9" * 400, Typed, "Scan a number, or type one"),
        ("9" * 9999, Typed, "characters long"),
        ("99", NotFound, "Nothing in this ledger has the number or serial “99”."),
        ("0", NotFound, "“0”"),
        ("-2", NotFound, "“-2”"),
        ("2.5", NotFound, "“2.5”"),
        ("No. 2; DROP TABLE stay", NotFound, "Nothing in this ledger"),
        ("%", NotFound, "“%”"),
        ("TI 1999-001", NotFound, "“TI 1999-001”"),
        ("26-0001-0", Typed, "has a slip"),
        ("SI 1999-001 " + "0" * 64, NotFound, "Nothing in this ledger"),
    ],
)
def test_what_is_unknown_is_said_and_nothing_is_ticked(
    shop: TriedShop, code: str, kind: type[LedgerError], words: str
) -> None:
    stocked(shop)
    count = shop.act("begin_count").id
    for name in ("tick", "untick"):
        error = refused(shop, kind, words, name, stock_take_id=count, code=code)
        assert error.field == "code"


def test_a_code_that_may_be_two_things_is_asked_about(shop: TriedShop) -> None:
    shop.own()
    shop.taken_in(instrument={"kind": "bow", "serial": "1"})
    count = shop.act("begin_count").id
    refused(shop, Typed, "“1” may be No. 001 violin / No. 002 bow", "tick", stock_take_id=count, code="1")
    shop.act("tick", stock_take_id=count, code="No. 1")
    assert numbers(counted(shop, count).seen) == ["No. 001"]


def test_ticked_twice_is_said_and_sent_twice_is_one_tick(any_shop: TriedShop) -> None:
    shop = any_shop
    stocked(shop)
    begin = shop.form("begin_count")
    count = do(shop.ledger, act("begin_count"), begin).id
    assert do(shop.ledger, act("begin_count"), begin).id == count
    for code in ("1", "3"):
        form = shop.form("tick", stock_take_id=count, code=code)
        first = do(shop.ledger, act("tick"), form)
        rows = shop.rows()
        assert do(shop.ledger, act("tick"), form) == first
        assert shop.rows() == rows
        refused(shop, Refused, "is ticked already", "tick", stock_take_id=count, code=code)
        shop.act("untick", stock_take_id=count, code=code)
        refused(shop, Refused, "is not ticked", "untick", stock_take_id=count, code=code)
    now = counted(shop, count)
    assert (now.seen, now.unexpected) == ((), ())
    end = shop.form("end_count", stock_take_id=count)
    first = do(shop.ledger, act("end_count"), end)
    rows = shop.rows()
    assert do(shop.ledger, act("end_count"), end) == first
    assert shop.rows() == rows


def test_one_count_goes_on_at_a_time_and_an_ended_one_stays_as_it_is(any_shop: TriedShop) -> None:
    shop = any_shop
    stocked(shop)
    count = shop.act("begin_count").id
    refused(shop, Refused, "The count ST 2026-001 goes on", "begin_count")
    shop.pass_days(1)
    yesterday = shop.today - timedelta(days=2)
    refused(shop, Typed, "nothing of it happens before", "tick", stock_take_id=count, code="1", on=yesterday)
    refused(shop, Typed, "nothing of it happens before", "end_count", stock_take_id=count, on=yesterday)
    refused(shop, Typed, "in a few words", "note_unlisted", stock_take_id=count, what="x" * 300)
    shop.act("end_count", stock_take_id=count)
    for name, inputs in (
        ("tick", {"code": "1"}),
        ("untick", {"code": "1"}),
        ("note_unlisted", {"what": "a bow"}),
        ("end_count", {}),
    ):
        refused(shop, Refused, "ended on", name, stock_take_id=count, **inputs)
    refused(shop, NotFound, "There is no count", "tick", stock_take_id=77, code="1")
    assert shop.act("begin_count").id != count


def test_what_leaves_while_it_is_counted_is_said_so(any_shop: TriedShop) -> None:
    shop = any_shop
    found = stocked(shop)
    count = shop.act("begin_count").id
    shop.act("return_to_owner", instrument_id=found["serial"], handed_to="Orla Fenn")
    shop.act("end_count", stock_take_id=count)
    notes = {line.number: line.note for line in counted(shop, count).missing}
    assert notes == {
        "No. 001": "",
        "No. 002": "Left while it was counted; by the books: handed over",
        "No. 005": "",
    }


def test_what_comes_while_it_is_counted_is_met_and_what_comes_back_is_the_same_thing(shop: TriedShop) -> None:
    found = stocked(shop)
    count = shop.act("begin_count").id
    shop.own()
    shop.act("return_to_owner", instrument_id=found["serial"], handed_to="Orla Fenn")
    shop.act("take_in_again", instrument_id=found["serial"], stay={"reason": "keep"})
    shop.act("tick", stock_take_id=count, code="2")
    shop.act("tick", stock_take_id=count, code="6")
    now = counted(shop, count)
    assert (numbers(now.seen), numbers(now.unexpected)) == (["No. 002"], ["No. 006"])
    assert now.unexpected[0].note == "here"


def test_the_previews_say_what_comes(shop: TriedShop) -> None:
    stocked(shop)
    begin, tick, end = BEGIN_COUNT.preview, TICK.preview, END_COUNT.preview
    assert begin is not None
    assert tick is not None
    assert end is not None
    with shop.ledger.read() as reading:
        assert begin(reading, shop.form("begin_count")).lines[0].how == "3 things"
    count = shop.act("begin_count").id
    with shop.ledger.read() as reading:
        told = tick(reading, shop.form("tick", stock_take_id=count, code="3"))
        assert told.warnings == (
            "Not expected here; by the books it is: on trial: with Ida Skerry. It is noted as met.",
        )
        told = tick(reading, shop.form("tick", stock_take_id=count, code="1"))
        assert (told.lines[0].label, told.warnings) == ("No. 001 violin", ())
    shop.act("tick", stock_take_id=count, code="1")
    with shop.ledger.read() as reading:
        with pytest.raises(Refused, match="ticked already"):
            tick(reading, shop.form("tick", stock_take_id=count, code="1"))
        told = end(reading, shop.form("end_count", stock_take_id=count))
    assert [line.how for line in told.lines] == ["3 things", "1 thing", "0 things", "2 things"]
    assert told.warnings == ("Missing: No. 002 bow", "Missing: No. 005 cello")


def test_table_and_page_say_what_is_missing_first(any_shop: TriedShop) -> None:
    shop = any_shop
    stocked(shop)
    first = shop.act("begin_count", counted_by="Una Quill").id
    for code in ("1", "2", "5"):
        shop.act("tick", stock_take_id=first, code=code)
    shop.act("end_count", stock_take_id=first)
    second = shop.act("begin_count").id
    shop.act("tick", stock_take_id=second, code="1")
    shop.act("tick", stock_take_id=second, code="3")
    with shop.ledger.read() as reading:
        page = counts.sheet(reading, second)
        assert page.counting
        assert page.standing == "Going on since 2 Mar 2026: 1 of 3 seen, 2 to go."
        assert [group.title for group in page.groups][:2] == ["Not seen yet", "Met without being expected"]
        assert [fact.label for fact in page.groups[0].facts] == ["No. 002", "No. 005"]
        names = [one.name for one in next_acts(reading, Subject.STOCK_TAKE, second)]
        assert names == ["tick", "untick", "note_unlisted", "end_count"]
        assert next_acts(reading, Subject.STOCK_TAKE, first) == ()
        assert "begin_count" not in [one.name for one in next_acts(reading, Subject.SHOP, 0)]
    shop.act("end_count", stock_take_id=second)
    with shop.ledger.read() as reading:
        page = counts.sheet(reading, second)
        assert (page.groups[0].title, page.state, page.counting) == ("Missing", SOME_MISSING, False)
        assert [paper.number for paper in page.papers] == ["ST 2026-002"]
        assert page.standing == "Ended 2 Mar 2026: 1 of 3 seen; 2 things are missing."
        for view, words, sort, descending, wanted in (
            ("all", "", "began_on", True, [second, first]),
            ("all", "", "missing", False, [first, second]),
            ("all", "", "number", False, [first, second]),
            ("all", "una", "began_on", True, [first]),
            ("all", "st 2026-002", "began_on", True, [second]),
            ("all", "zither", "began_on", True, []),
            ("missing", "", "began_on", True, [second]),
            ("going_on", "", "began_on", True, []),
        ):
            assert list(counts.ids(reading, view, words, sort, descending)) == wanted, (view, words, sort)
        names = [column.name for column in counts.COLUMNS]
        rows = [dict(zip(names, row.cells, strict=True)) for row in counts.page(reading, [second, 99, first])]
    assert [
        (row["number"], row["seen"], row["missing"], row["unexpected"], row["state"]) for row in rows
    ] == [
        ("ST 2026-002", "1 of 3", 2, 1, SOME_MISSING),
        ("ST 2026-001", "3 of 3", None, None, ALL_SEEN),
    ]
    assert COUNTING.word == "going on"


def test_an_empty_shop_is_counted_too(shop: TriedShop) -> None:
    count = shop.act("begin_count").id
    shop.act("end_count", stock_take_id=count)
    assert counted(shop, count).lines == ()
    with shop.ledger.read() as reading:
        assert reading.session.scalars(select(Instrument.id)).all() == []
