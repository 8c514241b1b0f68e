"""Side by side in the window: reached from Stock by keys, found by typing, days chosen, the weight to carry."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from shopledger.acts import act, do, new_op_id
from shopledger.acts.declare import Outcome
from shopledger.acts.describing import MeasureRow
from shopledger.desk.comparison_view import ComparisonView
from shopledger.desk.picker import PickerInput
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.queries.shapes import Subject
from tests.desk.conftest import settle
from tests.helpers.hand import Hand, hand

__all__ = ["hand"]


def acted(shop: Shop, name: str, **inputs: object) -> Outcome:
    made = act(name)
    form = made.form(op_id=new_op_id(), on=shop.ledger.today(), by="the maker", **inputs)
    return do(shop.ledger, made, form)


def thing(shop: Shop, kind: str, title: str, on: date | None = None, **figures: str) -> int:
    instrument = acted(shop, "take_in", instrument={"kind": kind, "title": title}, stay={"reason": "own"}).id
    measure(shop, instrument, on, **figures)
    return instrument


def measure(shop: Shop, instrument: int, on: date | None = None, **figures: str) -> None:
    rows = tuple(MeasureRow(measure=name, value=value) for name, value in figures.items())
    if rows:
        acted(shop, "measure", instrument_id=instrument, measures=rows, taken_on=on)


@pytest.fixture
def red(shop: Shop) -> int:
    found = thing(shop, "cello", "red cello", date(2019, 9, 2), string_length="690", weight="2.8")
    measure(shop, found, string_length="695", body_length="755")
    thing(shop, "cello", "brown cello", string_length="27 1/8 in")
    thing(shop, "case", "canvas case", case_weight="3.4")
    thing(shop, "bow", "snakewood bow")
    return found


@pytest.fixture
def view(hand: Hand, red: int) -> ComparisonView:
    """Go to Stock and open the view by the keys that its button tells."""
    hand.frame.open_subject(Subject.INSTRUMENT, red)
    settle()
    keys = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    hand.qtbot.keyClick(hand.place.pane.view, Qt.Key.Key_B, keys)
    # A button that is pressed by its keys is seen to be pressed before it acts.
    hand.qtbot.waitUntil(lambda: isinstance(hand.place.side.top, ComparisonView))
    top = hand.place.side.top
    assert isinstance(top, ComparisonView)
    return top


def cells(view: ComparisonView, label: str) -> list[str]:
    found = []
    for n in range(len(view.wanted)):
        (one,) = [each for each in view.findChildren(QLabel, f"cell.{label}.{n}") if not each.isHidden()]
        found.append(one.text())
    return found


def pick(qtbot: QtBot, picker: PickerInput, words: str) -> None:
    picker.line.setFocus()
    qtbot.keyClicks(picker.line, words)
    qtbot.keyClick(picker.line, Qt.Key.Key_Return)
    settle()


def test_another_is_set_beside_by_keys_and_what_differs_is_shown(view: ComparisonView, qtbot: QtBot) -> None:
    assert view.beside.line.hasFocus()
    assert cells(view, "Vibrating string length") == ["695 mm"]
    pick(qtbot, view.beside, "brown")
    assert cells(view, "Vibrating string length") == ["695 mm", "27 1/8 in"]
    (differs,) = view.findChildren(QLabel, "differs.Vibrating string length.1")
    # 27 1/8 in is 688.975 mm: arithmetic on the inch of 25.4 mm.
    assert differs.text() == "−6.025 mm"
    assert cells(view, "Body length") == ["755 mm", "–"]
    assert cells(view, "Body") == ["755 mm: Feels like 4/4.", "Not measured."]
    assert view.beside.empty()
    assert view.beside.line.hasFocus()


def test_the_same_again_is_shown_as_it_was_measured_before(view: ComparisonView, qtbot: QtBot) -> None:
    pick(qtbot, view.beside, "red")
    assert cells(view, "Vibrating string length") == ["695 mm", "690 mm"]
    assert [box.currentText() for box in view.boxes] == ["newest readings", "up to 2 Sept 2019"]
    box = view.boxes[1]
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Home)
    box.activated.emit(box.currentIndex())
    settle()
    assert cells(view, "Vibrating string length") == ["695 mm", "695 mm"]


def test_four_stand_side_by_side_and_a_fifth_is_told_why_not(view: ComparisonView, qtbot: QtBot) -> None:
    for words in ("brown", "canvas", "snakewood"):
        pick(qtbot, view.beside, words)
    assert len(view.wanted) == 4
    pick(qtbot, view.beside, "brown")
    assert len(view.wanted) == 4
    (said,) = view.findChildren(QLabel, "said")
    assert said.isVisible()
    assert said.text() == "4 stand side by side at most: take one away first."
    view.on_away_clicked(2)
    settle()
    assert len(view.wanted) == 3
    assert said.isHidden()


def test_what_is_carried_is_added_and_the_unknown_named(view: ComparisonView, qtbot: QtBot) -> None:
    assert cells(view, "By itself") == ["2.8 kg"]
    pick(qtbot, view.carried, "canvas")
    assert cells(view, "With what is named below") == ["6.2 kg"]
    pick(qtbot, view.carried, "snakewood")
    assert cells(view, "With what is named below") == ["at least 6.2 kg; not known: No. 004"]
    pick(qtbot, view.carried, "snakewood")
    assert len(view.with_it) == 2
    view.on_leave_clicked(view.with_it[1])
    settle()
    assert cells(view, "With what is named below") == ["6.2 kg"]


def test_escape_goes_back_to_the_page(view: ComparisonView, hand: Hand) -> None:
    hand.qtbot.keyClick(view.beside.line, Qt.Key.Key_Escape)
    settle()
    assert isinstance(hand.place.side.top, SheetView)


def test_every_cell_has_a_name_for_readers_of_the_screen(view: ComparisonView, qtbot: QtBot) -> None:
    pick(qtbot, view.beside, "brown")
    (cell,) = view.findChildren(QLabel, "cell.Vibrating string length.1")
    assert cell.accessibleName().startswith(
        "Vibrating string length, Cello “brown cello”: 27 1/8 in −6.025 mm"
    )
    assert view.beside.line.accessibleName() == "Set another beside"
