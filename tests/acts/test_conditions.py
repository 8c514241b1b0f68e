"""Condition reports: kept under their number with pins on photographs, refused in words, set side by side."""

from __future__ import annotations

import io

import pytest
from PIL import Image
from sqlalchemy import select

from shopledger.acts import act, new_op_id
from shopledger.acts.conditions import MarkRow
from shopledger.acts.doing import commit_act
from shopledger.model import ConditionReport, Picture
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.condition import report_of, side_by_side
from shopledger.queries.instrument_sheet import sheet
from shopledger.queries.papers import paper_bytes
from shopledger.rules.condition import Change
from tests.helpers.shops import TriedShop


def photograph() -> bytes:
    """Give a small photograph."""
    kept = io.BytesIO()
    Image.new("RGB", (40, 60), (120, 80, 40)).save(kept, "PNG")
    return kept.getvalue()


def reports(shop: TriedShop, instrument: int) -> list[int]:
    """Give the keys of an instrument's reports."""
    with shop.ledger.read() as reading:
        return list(
            reading.session.scalars(
                select(ConditionReport.id)
                .where(ConditionReport.instrument_id == instrument)
                .order_by(ConditionReport.id)
            )
        )


def test_a_report_keeps_marks_and_pins_and_is_done_once(any_shop: TriedShop) -> None:
    instrument = any_shop.taken_in()
    make = act("make_report")
    form = make.form(
        op_id=new_op_id(),
        on=any_shop.today,
        by="the maker",
        instrument_id=instrument,
        occasion="intake",
        overall="sound",
        marks=(
            MarkRow(part="Top", term="Crack", severity="marked", note="at the f", picture=1, x=2500, y=10000),
            MarkRow(part="ribs on the bass side", term="open seam"),
        ),
        pictures=(photograph(),),
    )
    first = commit_act(any_shop.ledger, make, form)
    assert commit_act(any_shop.ledger, make, form) == first
    [key] = reports(any_shop, instrument)
    with any_shop.ledger.read() as reading:
        report = report_of(reading, key)
        [picture] = reading.session.scalars(select(Picture.sha256).where(Picture.instrument_id == instrument))
    assert (report.number, report.occasion, report.made_by) == ("CR 2026-001", "intake", "the maker")
    assert [(mark.part, mark.term, mark.severity) for mark in report.marks] == [
        ("top", "crack", "marked"),
        ("ribs_bass", "open_seam", "noted"),
    ]
    assert (report.marks[0].picture, report.marks[0].x, report.marks[0].y) == (picture, 2500, 10000)
    assert report.marks[1].picture == ""


def test_two_reports_stand_side_by_side_and_on_the_page(any_shop: TriedShop) -> None:
    instrument = any_shop.taken_in()
    was = (MarkRow(part="top", term="crack", severity="slight"), MarkRow(part="back", term="wear"))
    now = (MarkRow(part="top", term="crack", severity="grave"), MarkRow(part="neck", term="dent"))
    any_shop.act("make_report", instrument_id=instrument, occasion="trial_out", marks=was)
    any_shop.pass_days(3)
    any_shop.act("make_report", instrument_id=instrument, occasion="trial_back", marks=now)
    one, two = reports(any_shop, instrument)
    with any_shop.ledger.read() as reading:
        assert [(row.part, row.change) for row in side_by_side(reading, one, two)] == [
            ("top", Change.GRAVER),
            ("back", Change.GONE),
            ("neck", Change.NEW),
        ]
        page = sheet(reading, instrument)
    [group] = [group for group in page.groups if group.title == "Condition"]
    assert group.facts[0].label == "CR 2026-002, back from a trial"
    assert group.facts[0].quiet == "1 new, 1 graver, 1 gone"
    assert group.facts[2].value == "top: crack (grave)"
    marked = [mark for mark in page.history.marks if mark.words.startswith("Condition report")]
    assert [mark.words for mark in marked] == [
        "Condition report CR 2026-001, going out on trial",
        "Condition report CR 2026-002, back from a trial",
    ]
    assert all(mark.paper_id is not None for mark in marked)


def test_the_paper_is_issued(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    done = shop.with_papers(
        "make_report",
        instrument_id=instrument,
        marks=(MarkRow(part="top", term="crack", picture=1, x=5000, y=5000),),
        pictures=(photograph(),),
    )
    assert paper_bytes(shop.ledger, done.papers[0]).startswith(b"%PDF")


def test_the_next_report_begins_with_what_was_seen(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    shop.act("make_report", instrument_id=instrument, marks=(MarkRow(part="top", term="crack", note="6 cm"),))
    prefill = act("make_report").prefill
    assert prefill is not None
    with shop.ledger.read() as reading:
        given = prefill(reading, instrument)
    assert given["marks"] == (MarkRow(part="top", term="crack", note="6 cm"),)


@pytest.mark.parametrize(
    ("mark", "field", "says"),
    [
        (MarkRow(part="topp", term="crack"), "part", "nearest is “top”"),
        (MarkRow(part="top", term="crak"), "term", "nearest is “crack”"),
        (MarkRow(part="frog", term="crack"), "part", "no part of this kind"),
        (MarkRow(part="top", term="crack", picture=2, x=1, y=1), "picture", "no photograph 2"),
        (MarkRow(part="top", term="crack", picture=0, x=1, y=1), "picture", "no photograph 0"),
        (MarkRow(part="top", term="crack", x=1, y=1), "picture", "needs its photograph"),
        (MarkRow(part="top", term="crack", picture=1, x=1), "y", "both its places"),
        (MarkRow(part="top", term="crack", picture=1, x=1, y=10001), "y", "beyond the photograph"),
        (MarkRow(part="top", term="crack", picture_id=10**9, x=1, y=1), "picture", "not of this instrument"),
        (MarkRow(part="top", term="crack", severity="awful"), "severity", "choose one of"),
    ],
)
def test_a_mark_that_can_not_be_so_is_refused_and_nothing_is_kept(
    shop: TriedShop, mark: MarkRow, field: str, says: str
) -> None:
    instrument = shop.taken_in()
    before = shop.rows()
    with pytest.raises(Typed, match=says) as refused:
        shop.act("make_report", instrument_id=instrument, marks=(mark,), pictures=(photograph(),))
    assert refused.value.field == f"marks[0].{field}"
    assert shop.rows() == before


def test_reports_of_nothing_and_of_two_instruments_are_refused(shop: TriedShop) -> None:
    one, two = shop.taken_in(), shop.taken_in()
    with pytest.raises(Typed, match="says nothing"):
        shop.act("make_report", instrument_id=one, overall="  ")
    with pytest.raises(NotFound, match="no such instrument"):
        shop.act("make_report", instrument_id=10**9, overall="sound")
    for instrument in (one, two):
        shop.act("make_report", instrument_id=instrument, overall="sound")
    with shop.ledger.read() as reading:
        with pytest.raises(Refused, match="two instruments"):
            side_by_side(reading, reports(shop, one)[0], reports(shop, two)[0])
        with pytest.raises(NotFound, match="no such condition report"):
            report_of(reading, 10**9)
