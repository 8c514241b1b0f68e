"""Condition reports as they are asked for: of which kind the instrument is, and two of them side by side."""

from __future__ import annotations

from shopledger.acts.conditions import MarkRow
from shopledger.queries.condition import kind_of
from shopledger.queries.condition_pair import pair_of
from shopledger.queries.instrument_sheet import sheet
from shopledger.queries.shapes import Subject
from shopledger.rules.condition import Change
from tests.helpers.jobs import job_on
from tests.helpers.photographs import photograph
from tests.helpers.shops import TriedShop


def test_the_kind_is_that_of_the_instrument_or_of_the_job_s(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, bow = shop.taken_in(), shop.taken_in(instrument={"kind": "bow", "maker": "Ansel Quill"})
    job = job_on(shop, bow)
    with shop.ledger.read() as reading:
        assert kind_of(reading, Subject.INSTRUMENT, cello) == "cello"
        assert kind_of(reading, Subject.INSTRUMENT, bow) == "bow"
        assert kind_of(reading, Subject.JOB, job) == "bow"
        assert kind_of(reading, Subject.JOB, job + 1) == ""
        assert kind_of(reading, Subject.PERSON, cello) == ""


def test_two_reports_stand_side_by_side_with_their_photographs_and_pins(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.taken_in()
    crack = MarkRow(part="top", term="crack", severity="slight", picture=2, x=2500, y=5000)
    shop.act(
        "make_report",
        instrument_id=cello,
        occasion="trial_out",
        light="daylight",
        marks=(crack,),
        pictures=(photograph(shade=1), photograph(shade=2)),
    )
    shop.pass_days(7)
    worse = MarkRow(part="top", term="crack", severity="grave", note="9 cm", picture=1, x=0, y=10_000)
    shop.act(
        "make_report",
        instrument_id=cello,
        occasion="trial_back",
        marks=(worse,),
        pictures=(photograph(shade=3),),
    )
    shop.pass_days(1)
    shop.act("make_report", instrument_id=cello, occasion="other", marks=(MarkRow(part="neck", term="dent"),))
    with shop.ledger.read() as reading:
        [group] = [one for one in sheet(reading, cello).groups if one.reports]
        _first, newest = group.reports
        pair = pair_of(reading, newest - 2, newest - 1)
        assert group.reports == (newest - 1, newest)
    assert [key for key, _words in pair.reports] == [newest - 2, newest - 1, newest]
    assert (pair.before.number, pair.before.light) == ("CR 2026-001", "daylight")
    assert [shot.pins for shot in pair.before.shots] == [(), ((1, 2500, 5000),)]
    assert [shot.pins for shot in pair.after.shots] == [((1, 0, 10_000),)]
    assert [(row.before, row.before_n, row.after, row.after_n, row.change) for row in pair.changed] == [
        ("slight", 1, "grave: 9 cm", 1, Change.GRAVER)
    ]
    assert pair.unchanged == ()
