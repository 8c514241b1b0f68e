"""Set-ups: before and after a job in millimetres or inches, the difference exact, strings from the highest down."""

from __future__ import annotations

from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, new_op_id
from shopledger.acts.describing import MeasureRow
from shopledger.acts.doing import commit_act
from shopledger.acts.owning import OwnerRow
from shopledger.acts.setting_up import StringRow
from shopledger.model import SetupString
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.lengths import read_length
from shopledger.queries.instrument_sheet import sheet
from shopledger.queries.papers import paper_bytes
from shopledger.queries.setup import StringOn, setup_of
from shopledger.queries.strings import known_of_strings
from shopledger.rules.measures import measures_for, setup_measures_for
from tests.helpers.jobs import job_on, refused
from tests.helpers.shops import TriedShop


def taken(measure: str, value: str, side: str = "") -> MeasureRow:
    """Give a row of a measure as it is typed."""
    return MeasureRow(measure=measure, value=read_length(value), side=side)


# 1/16 in = 1.5875 mm exactly, since 1 in = 25.4 mm exactly (international inch of 1959).
def test_before_after_and_the_exact_difference(any_shop: TriedShop) -> None:
    instrument = any_shop.taken_in()
    job = job_on(any_shop, instrument)
    strings = (StringRow(pitch="A3", what="gut"), StringRow(pitch="D3", what="gut"))
    any_shop.act(
        "record_setup",
        job_id=job,
        measures=(taken("bridge height", "3 1/2 in"), taken("string_height", "6.5 mm", "bass")),
        strings=strings,
    )
    record = act("record_setup")
    form = record.form(
        op_id=new_op_id(),
        on=any_shop.today,
        by="the maker",
        job_id=job,
        stage="after",
        measures=(
            taken("bridge height", "3 9/16 in"),
            taken("string_height", "6 mm", "bass"),
            taken("projection", "81 mm"),
        ),
        strings=(StringRow(pitch="A3", what="steel", gauge="medium"),),
    )
    first = commit_act(any_shop.ledger, record, form)
    assert commit_act(any_shop.ledger, record, form) == first
    assert len(first.papers) == 1
    with any_shop.ledger.read() as reading:
        found = setup_of(reading, job)
        page = sheet(reading, instrument)
    by_place = {(one.measure, one.side): one for one in found.measures}
    assert by_place["bridge_height", ""].difference_kept == 1_587_500
    assert by_place["string_height", "bass"].difference_kept == -500_000
    assert by_place["projection", ""].difference_kept is None
    assert by_place["projection", ""].difference() == ""
    assert found.strings[0].after == StringOn("A3", "steel", "medium")
    assert found.strings[1].after is None
    [group] = [group for group in page.groups if group.title == "Set-up, job 26-0001-7"]
    assert ("Bridge height", "3 1/2 in \u2192 3 9/16 in", "+1/16 in") in [
        (fact.label, fact.value, fact.quiet) for fact in group.facts
    ]
    words = [mark.words for mark in page.history.marks if "job" in mark.words]
    assert words == ["Set-up taken before job 26-0001-7", "Set up, job 26-0001-7"]


def test_a_later_reading_of_the_same_stage_counts(shop: TriedShop) -> None:
    job = job_on(shop, shop.taken_in())
    for value in ("90 mm", "91 mm"):
        shop.act("record_setup", job_id=job, measures=(taken("bridge_height", value),))
    with shop.ledger.read() as reading:
        [one] = setup_of(reading, job).measures
    assert one.before == read_length("91 mm")


def test_the_sheet_is_issued(shop: TriedShop) -> None:
    job = job_on(shop, shop.taken_in())
    done = shop.with_papers(
        "record_setup", job_id=job, stage="after", measures=(taken("afterlength", "116 mm"),)
    )
    assert paper_bytes(shop.ledger, done.papers[0]).startswith(b"%PDF")


@pytest.mark.parametrize(
    ("inputs", "field", "says"),
    [
        ({}, "measures", "Nothing is measured"),
        ({"measures": (taken("body_length", "750"),)}, "measures[0].measure", "no measure of a set-up"),
        ({"measures": (taken("string_height", "6"),)}, "measures[0].side", "on each side"),
        ({"measures": (taken("projection", "81", "bass"),)}, "measures[0].side", "has no sides"),
        ({"strings": (StringRow(pitch="H4"),)}, "strings[0].pitch", "no pitch"),
        ({"strings": (StringRow(pitch="D3"), StringRow(pitch="A3"))}, "strings[1].pitch", "highest down"),
    ],
)
def test_what_can_not_be_so_is_refused_and_nothing_is_kept(
    shop: TriedShop, inputs: dict[str, Any], field: str, says: str
) -> None:
    job = job_on(shop, shop.taken_in())
    before = shop.rows()
    with pytest.raises(Typed, match=says) as refused:
        shop.act("record_setup", job_id=job, **inputs)
    assert refused.value.field == field
    assert shop.rows() == before


def test_an_ended_job_an_unknown_one_and_a_bow_are_refused(shop: TriedShop) -> None:
    allowed = act("record_setup").allowed
    ended = job_on(shop, shop.taken_in(), ended_on=shop.today, ending="collected")
    bow = shop.act(
        "take_in",
        instrument={"kind": "bow"},
        owners=(OwnerRow(person_id=shop.owner),),
        stay={"reason": "repair"},
    ).id
    on_bow = job_on(shop, bow)
    with shop.ledger.read() as reading:
        with pytest.raises(Refused, match="no strings to set up"):
            allowed(reading, on_bow)
        with pytest.raises(Refused, match="ended on"):
            allowed(reading, ended)
        with pytest.raises(NotFound, match="no such job"):
            allowed(reading, 10**9)


# What a set-up takes: string heights on both sides, nut, bridge, afterlength, spacings, soundpost: common practice,
# no source.
def test_the_set_of_a_set_up() -> None:
    cello = {measure.key for measure in setup_measures_for("cello")}
    assert {
        "string_height",
        "nut_height",
        "bridge_height",
        "bridge_feet",
        "projection",
        "afterlength",
    } <= cello
    assert {"spacing_nut", "spacing_bridge", "soundpost_behind", "soundpost_inside"} <= cello
    assert not setup_measures_for("bow")
    assert {measure.key for measure in measures_for("cello")} > cello


def test_what_a_string_weighs_or_pulls_is_kept(any_shop: TriedShop) -> None:
    instrument = any_shop.taken_in()
    job = job_on(any_shop, instrument)
    strings = (
        StringRow(pitch="A3", what="steel", tension="36 lbf", at_length=read_length("690")),
        StringRow(pitch="D3", gauge="medium", density="6.3 g/m"),
        StringRow(pitch="G2"),
    )
    any_shop.act("record_setup", job_id=job, strings=strings)
    with any_shop.ledger.read() as reading:
        kept = reading.session.scalars(select(SetupString).order_by(SetupString.n)).all()
        known = known_of_strings(reading, instrument)
        found = setup_of(reading, job)
    # 36 lbf are 160.136 N: a pound-force is 4.4482216152605 N exactly (NIST SP 811, appendix B.8).
    assert [(one.ug_per_m, one.tension_mn, one.tension_at_nm) for one in kept] == [
        (None, 160_136, 690_000_000),
        (6_300_000, None, None),
        (None, None, None),
    ]
    assert [(one.known, one.at_length) for one in known["strings"]] == [
        ("160.136 N", read_length("690 mm")),
        ("6.3 g/m", None),
        ("", None),
    ]
    assert [pair.before.gauge for pair in found.strings if pair.before] == [
        "160.136 N at 690 mm",
        "medium, 6.3 g/m",
        "",
    ]


def test_the_set_that_was_put_on_last_is_the_one_that_is_known(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    job = job_on(shop, instrument)
    four = tuple(StringRow(pitch=pitch, density="1 g/m") for pitch in ("A3", "D3", "G2", "C2"))
    shop.act("record_setup", job_id=job, strings=four)
    shop.act("record_setup", job_id=job, stage="after", strings=(StringRow(pitch="A3", density="2 g/m"),))
    with shop.ledger.read() as reading:
        assert [one.known for one in known_of_strings(reading, instrument)["strings"]] == ["2 g/m"]


def test_the_strings_page_begins_with_measures_and_usual_pitches(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    with shop.ledger.read() as reading:
        assert [one.pitch for one in known_of_strings(reading, instrument)["strings"]] == [
            "A3",
            "D3",
            "G2",
            "C2",
        ]
    shop.act(
        "measure",
        instrument_id=instrument,
        measures=(
            taken("string_length", "27 1/8 in"),
            taken("afterlength", "115"),
            taken("bridge_height", "90.5"),
        ),
    )
    with shop.ledger.read() as reading:
        known = known_of_strings(reading, instrument)
    assert (known["length"].typed, known["afterlength"].typed) == ("27 1/8 in", "115 mm")
    assert (known["over"], known["top_height"]) == ("side", "90.5")


@pytest.mark.parametrize(
    ("field", "row"),
    [
        ("strings[0].tension", {"density": "1 g/m", "tension": "60 N", "at_length": read_length("690")}),
        ("strings[0].at_length", {"tension": "60 N"}),
        ("strings[0].tension", {"at_length": read_length("690")}),
        ("strings[0].density", {"density": "heavy"}),
        ("strings[0].tension", {"tension": "tight", "at_length": read_length("690")}),
    ],
)
def test_a_string_that_can_t_be_so_is_refused(shop: TriedShop, field: str, row: dict[str, Any]) -> None:
    job = job_on(shop, shop.taken_in())
    refused(shop, Typed, field, "record_setup", job_id=job, strings=(StringRow(pitch="A3", **row),))
