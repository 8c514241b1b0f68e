"""Measuring in the window: measures chosen from the kind's own, figures read in their unit, doubts told beforehand."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from sqlalchemy import select

from shopledger.acts import act, do, new_op_id
from shopledger.desk.listed_input import ListedInput
from shopledger.desk.measured_input import MeasuredInput
from shopledger.desk.paper_view import PaperView
from shopledger.desk.shop import Shop
from shopledger.model import Measurement
from shopledger.queries.shapes import Subject
from shopledger.store.prove import prove
from tests.desk.conftest import settle
from tests.helpers.hand import Hand, hand

__all__ = ["hand"]


def taken_in(shop: Shop, kind: str, **known: object) -> int:
    form = act("take_in").form(
        op_id=new_op_id(),
        on=shop.ledger.today(),
        by="the maker",
        instrument={"kind": kind, "maker": "Ansel Quill", **known},
        stay={"reason": "own"},
    )
    return do(shop.ledger, act("take_in"), form).id


def _behind(hand: Hand, path: str) -> str:
    return " ".join(
        one.text() for one in hand.input(path, MeasuredInput).findChildren(QLabel) if not one.isHidden()
    )


@pytest.mark.parametrize(
    ("kind", "measure", "unit", "typed", "other"),
    [
        ("viola", "body length", "in", "16 1/2", "419.1 mm"),
        ("cello", "body length", "mm", "755", "≈ 29 23/32 in"),
        ("cello", "weight", "kg", "2.8", "≈ 6.17 lb"),
        ("bow", "weight", "g", "61.5", "≈ 2.17 oz"),
        ("violin", "angle of the strings over the bridge", "°", "157.5", "°"),
    ],
)
def test_a_figure_is_read_in_the_unit_of_its_measure(
    hand: Hand, shop: Shop, kind: str, measure: str, unit: str, typed: str, other: str
) -> None:
    instrument = taken_in(shop, kind)
    hand.frame.open_subject(Subject.INSTRUMENT, instrument)
    settle()
    hand.act("measure")
    hand.add_row("measures")
    hand.write("measures[0].measure", measure)
    assert _behind(hand, "measures[0].value") == unit
    hand.write("measures[0].value", typed)
    assert _behind(hand, "measures[0].value") == other
    hand.do()
    with shop.ledger.read() as reading:
        kept = reading.session.execute(
            select(Measurement.typed, Measurement.nm, Measurement.mg, Measurement.mdeg)
        ).one()
    assert kept.typed.startswith(typed)
    assert sum(figure is not None for figure in (kept.nm, kept.mg, kept.mdeg)) == 1


def test_measures_of_the_kind_are_chosen_by_keys(hand: Hand, shop: Shop) -> None:
    hand.frame.open_subject(Subject.INSTRUMENT, taken_in(shop, "bow"))
    settle()
    hand.act("measure")
    hand.add_row("measures")
    measure = hand.input("measures[0].measure", ListedInput)
    hand.qtbot.keyClick(measure.line, Qt.Key.Key_Down)
    offered = [measure.found.item(n).text() for n in range(measure.found.count())]
    assert offered == [
        "length",
        "hair length",
        "balance point",
        "stick at the frog",
        "stick at the head",
        "weight",
    ]
    for _step in range(5):
        hand.qtbot.keyClick(measure.line, Qt.Key.Key_Down)
    hand.qtbot.keyClick(measure.line, Qt.Key.Key_Return)
    assert measure.told() == "weight"
    assert _behind(hand, "measures[0].value") == "g"


def test_the_kind_is_followed_while_an_instrument_is_taken_in(hand: Hand) -> None:
    hand.go(2)
    hand.click("first")
    hand.choose("instrument.kind", "bow")
    hand.add_row("measures")
    hand.write("measures[0].measure", "weight")
    assert _behind(hand, "measures[0].value") == "g"
    hand.write("measures[0].value", "61.5")
    assert _behind(hand, "measures[0].value") == "≈ 2.17 oz"
    hand.choose("instrument.kind", "cello")
    assert _behind(hand, "measures[0].value") == "≈ 135.58 lb"


def test_another_sort_of_figure_is_refused_at_its_line(hand: Hand, shop: Shop) -> None:
    hand.frame.open_subject(Subject.INSTRUMENT, taken_in(shop, "cello"))
    settle()
    hand.act("measure")
    hand.add_row("measures")
    hand.write("measures[0].measure", "stop")
    hand.write("measures[0].value", "3 kg")
    hand.qtbot.mouseClick(hand.form.bar.do, Qt.MouseButton.LeftButton)
    errors = [
        one.text() for one in hand.form.findChildren(QLabel, "error.measures[0].value") if not one.isHidden()
    ]
    assert errors == ["“3 kg” is a weight, but a length is measured here: write it in mm."]


def test_a_doubt_is_told_before_and_the_reading_kept_all_the_same(hand: Hand, shop: Shop) -> None:
    cello = taken_in(shop, "cello", size="4/4")
    hand.frame.open_subject(Subject.INSTRUMENT, cello)
    settle()
    hand.act("measure")
    hand.add_row("measures")
    hand.write("measures[0].measure", "ribs at the lower block")
    hand.choose("measures[0].side", "bass")
    hand.write("measures[0].value", "11.8")
    hand.form.flush_preview()
    said = [one.text() for one in hand.form.preview.findChildren(QLabel)]
    assert any("is outside 70 mm to 140 mm" in words for words in said)
    hand.do()
    words = [one.text() for one in hand.sheet.findChildren(QLabel)]
    assert "11.8 mm" in words
    assert "Ribs at the lower block, bass side" in words
    hand.act("print_measures")
    hand.do()
    hand.click("paper.1")
    assert isinstance(hand.place.side.top, PaperView)
    assert prove(shop.ledger.where) == []
