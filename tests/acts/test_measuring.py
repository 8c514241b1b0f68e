"""Measuring: figures read by the unit of their measure, asked about but never refused for being odd; their sheet."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, do
from shopledger.acts.describing import MeasureRow
from shopledger.model import Measurement, Paper
from shopledger.papers.facts import from_json
from shopledger.papers.registry import kind_named
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.lengths import read_length
from shopledger.quantities.masses import read_mass
from shopledger.queries.papers import paper_bytes
from shopledger.queries.readings import is_newest, newest_readings, readings_of
from shopledger.queries.sheet_shapes import Preview
from shopledger.queries.stock import TABLE
from tests.helpers.shops import TriedShop
from tests.papers.reading_back import in_order, text_of


def _taken(shop: TriedShop, kind: str, **known: Any) -> int:
    return shop.taken_in(instrument={"kind": kind, **known})


def _measure(shop: TriedShop, instrument: int, *rows: MeasureRow, **inputs: Any) -> None:
    shop.act("measure", instrument_id=instrument, measures=rows, **inputs)


def _row(measure: str, value: Any, side: str = "", method: str = "") -> MeasureRow:
    return MeasureRow(measure=measure, value=value, side=side, method=method)


def _preview(shop: TriedShop, instrument: int, *rows: MeasureRow) -> Preview:
    preview = act("measure").preview
    assert preview is not None
    with shop.ledger.read() as reading:
        return preview(reading, shop.form("measure", instrument_id=instrument, measures=rows))


def test_each_figure_is_kept_in_the_unit_of_its_measure(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, bow, case = _taken(shop, "cello"), _taken(shop, "bow"), _taken(shop, "case")
    _measure(
        shop,
        cello,
        _row("string_length", "695"),
        _row("string_angle", "157.5", method="from the geometry"),
        _row("weight", "2.81", method="with fittings"),
        _row("ribs at the lower block", "118", "bass"),
        _row("ribs at the lower block", "117 mm", "treble"),
    )
    _measure(shop, bow, _row("weight", "2 7/8 oz"))
    _measure(shop, case, _row("weight", "3.4 kg", method="empty"))
    with shop.ledger.read() as reading:
        kept = [
            tuple(row)
            for row in reading.session.execute(
                select(
                    *(Measurement.measure, Measurement.side, Measurement.nm, Measurement.mg),
                    *(Measurement.mdeg, Measurement.typed),
                ).order_by(Measurement.id)
            )
        ]
    assert kept == [
        ("string_length", "", 695_000_000, None, None, "695 mm"),
        ("string_angle", "", None, None, 157_500, "157.5°"),
        ("weight", "", None, 2_810_000, None, "2.81 kg"),
        ("ribs_lower", "bass", 118_000_000, None, None, "118 mm"),
        ("ribs_lower", "treble", 117_000_000, None, None, "117 mm"),
        ("bow_weight", "", None, 81_505, None, "2 7/8 oz"),
        ("case_weight", "", None, 3_400_000, None, "3.4 kg"),
    ]
    assert shop.wrong() == []


def test_a_viola_body_without_a_unit_is_in_inches(shop: TriedShop) -> None:
    viola = _taken(shop, "viola")
    _measure(shop, viola, _row("body", "16 1/2"), _row("stop", "225"))
    with shop.ledger.read() as reading:
        body = newest_readings(reading, viola)["body_length", ""]
    # 16 1/2 in is 419.1 mm: arithmetic on the inch of 25.4 mm.
    assert body.figure == read_length("16 1/2 in")


@pytest.mark.parametrize(
    ("row", "field", "says"),
    [
        (
            _row("string_length", "3 kg"),
            "value",
            "is a weight, but a length is measured here: write it in mm",
        ),
        (_row("weight", read_length("3 mm")), "value", "is a length, but a weight is measured here"),
        (_row("string_length", read_mass("3 kg")), "value", "is a weight, but a length is measured here"),
        (_row("string_angle", "steep"), "value", "is no angle"),
        (_row("ribs_lower", "118"), "side", "is measured on each side: write bass or treble"),
        (_row("string_length", "695", "bass"), "side", "has no sides: leave the side empty"),
        (
            _row("stop", "400", method="by eye"),
            "method",
            "is not taken “by eye”: write over the arch, straight",
        ),
        (_row("bridge_height", "90", method="straight"), "method", "leave the method empty"),
        (_row("scroll", "90"), "measure", "is no measure of this kind"),
    ],
)
def test_what_cant_be_read_is_refused_at_its_input(
    shop: TriedShop, row: MeasureRow, field: str, says: str
) -> None:
    cello = _taken(shop, "cello")
    before = shop.rows()
    with pytest.raises(Typed, match=says) as refused:
        _measure(shop, cello, _row("stop", "400"), row)
    assert refused.value.field == f"measures[1].{field}"
    assert shop.rows() == before


def test_a_day_to_come_is_refused(shop: TriedShop) -> None:
    cello = _taken(shop, "cello")
    with pytest.raises(Typed, match="is after the day") as refused:
        _measure(shop, cello, _row("stop", "400"), taken_on=shop.today + timedelta(days=1))
    assert refused.value.field == "taken_on"


def test_a_method_is_understood_in_any_order(shop: TriedShop) -> None:
    cello = _taken(shop, "cello")
    _measure(shop, cello, _row("body", "755", method="Button out, over the arch"))
    with shop.ledger.read() as reading:
        assert newest_readings(reading, cello)["body_length", ""].method == "over the arch, button out"
    with pytest.raises(Typed, match="is not taken"):
        _measure(shop, cello, _row("body", "755", method="straight, over the arch"))


def test_sent_twice_it_measures_once(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = _taken(shop, "cello")
    form = shop.form("measure", instrument_id=cello, measures=(_row("stop", "400"),))
    assert do(shop.ledger, act("measure"), form) == do(shop.ledger, act("measure"), form)
    with shop.ledger.read() as reading:
        assert len(readings_of(reading, cello)) == 1


def test_the_newest_is_the_one_taken_last_not_the_one_written_last(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = _taken(shop, "cello")
    _measure(shop, cello, _row("stop", "400"), taken_by="the maker")
    _measure(shop, cello, _row("stop", "403"), taken_on=date(2019, 9, 2), taken_by="an earlier hand")
    with shop.ledger.read() as reading:
        assert [one.figure.typed for one in readings_of(reading, cello)] == ["403 mm", "400 mm"]
        newest = newest_readings(reading, cello)["stop", ""]
        assert (newest.figure.typed, newest.by, newest.on) == ("400 mm", "the maker", shop.today)
        asked = select(Measurement.__table__.c.typed).where(is_newest())
        assert reading.session.scalars(asked).all() == ["400 mm"]
    _measure(shop, cello, _row("stop", "401"))
    with shop.ledger.read() as reading:
        assert reading.session.scalars(asked).all() == ["401 mm"]


def test_odd_readings_are_asked_about_beforehand_and_written_all_the_same(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = _taken(shop, "cello", size="4/4")
    _measure(shop, cello, _row("string_length", "695"))
    shop.pass_days(10)
    rows = (_row("string_length", "69.5"), _row("afterlength", "116"))
    found = _preview(shop, cello, *rows)
    assert [warning.split(":")[0] for warning in found.warnings] == ["vibrating string length"] * 2
    assert "outside 400 mm to 740 mm" in found.warnings[0]
    assert "−625.5 mm from 695 mm of 2 Mar 2026" in found.warnings[1]
    _measure(shop, cello, *rows)
    with shop.ledger.read() as reading:
        assert newest_readings(reading, cello)["string_length", ""].figure.typed == "69.5 mm"


def test_the_preview_sets_the_earlier_reading_and_the_handbook_beside_each(shop: TriedShop) -> None:
    cello = _taken(shop, "cello", size="4/4")
    _measure(shop, cello, _row("string_length", "695"))
    found = _preview(shop, cello, _row("string_length", "693"), _row("afterlength", "116"))
    assert not found.warnings
    # Journal of the American Viola Society 41/1: a cello's strings are about 690 to 695 mm.
    assert found.lines[0].how == (
        "693 mm (≈ 27 9/32 in); −2 mm from 695 mm of 2 Mar 2026; handbook 4/4: about 690 to 695 mm"
        " [Journal of the American Viola Society 41/1 (2025), Viola Fit]"
    )
    # A sixth of the string length as it is typed now: 693 / 6 = 115.5.
    assert "handbook 1/6 of vibrating string length: 115.5 mm" in found.lines[1].how


def test_the_measurement_sheet_reads_back(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = _taken(shop, "cello", maker="Ansel Quill", standing="made_by", size="4/4", string_count=4)
    with pytest.raises(Refused, match="was not measured yet"):
        shop.act("print_measures", instrument_id=cello)
    _measure(
        shop, cello, _row("body", "757", method="over the arch"), taken_on=date(2019, 9, 2), taken_by="E. M."
    )
    _measure(
        shop,
        cello,
        _row("body", "755", method="over the arch"),
        _row("string_length", "27 1/4 in"),
        _row("weight", "2.81"),
        taken_by="the maker",
    )
    form = shop.form("print_measures", instrument_id=cello, note="Measured by daylight.")
    outcome = do(shop.ledger, act("print_measures"), form)
    assert do(shop.ledger, act("print_measures"), form) == outcome
    with shop.ledger.read() as reading:
        paper = reading.session.get_one(Paper, outcome.papers[0])
        facts: Any = from_json(kind_named(paper.kind).facts, paper.facts)
    assert (paper.kind, paper.number) == ("measurement_sheet", "MS 2026-001")
    body, string, weight = facts.readings
    assert (body.typed, body.before, body.before_on, body.grown) == (
        "755 mm",
        "757 mm",
        date(2019, 9, 2),
        "−2 mm",
    )
    assert (string.typed, string.other, string.taken_by) == ("27 1/4 in", "≈ 692.2 mm", "the maker")
    assert (weight.typed, weight.handbook) == ("2.81 kg", ())
    assert facts.sources[0] == "aitchisoncellos.com, Cello measurement guide"
    assert in_order(
        text_of(paper_bytes(shop.ledger, outcome.papers[0])),
        *("Measurement sheet", "Ansel Quill", "Body length", "755 mm", "over the arch", "757 mm", "−2 mm"),
        *("27 1/4 in", "2.81 kg", "Which size it feels like", "Feels like 4/4.", "Not measured."),
        *("Measured by daylight.", "Sources", "aitchisoncellos.com", "no certificate"),
    )
    assert shop.wrong() == []


def test_stock_is_narrowed_by_weight_and_angle_and_by_the_newest_reading(any_shop: TriedShop) -> None:
    shop = any_shop
    light, heavy, bow = _taken(shop, "cello"), _taken(shop, "cello"), _taken(shop, "bow")
    _measure(shop, light, _row("weight", "2.4"), _row("string_angle", "155"), _row("stop", "400"))
    _measure(shop, light, _row("stop", "410"), taken_on=date(2019, 9, 2))
    _measure(shop, heavy, _row("weight", "3.1"), _row("string_angle", "157.5"))
    _measure(shop, bow, _row("weight", "81 g"))

    def found(words: str) -> list[int]:
        with shop.ledger.read() as reading:
            return list(TABLE.ids(reading, "all", words, "number", False))

    assert found("weight < 3 kg") == [light, bow]
    assert found("cello weight 3-3.2 kg") == [heavy]
    assert found("weight 81 g") == [bow]
    assert found("angle > 156") == [heavy]
    # The earlier reading was written down later, and doesn't count.
    assert found("stop 399-401") == [light]
    assert found("stop 409-411") == []
