"""Strings and bridge in the window: from an instrument's page or from nowhere, live, wrong figures told in place."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton

from shopledger.acts.setting_up import StringRow
from shopledger.desk.bridge_picture import BridgePicture
from shopledger.desk.nested import RowsInput
from shopledger.desk.palette import Scheme, choose, wanted
from shopledger.desk.shop import Shop
from shopledger.desk.strings_view import StringsView
from shopledger.quantities.lengths import read_length
from shopledger.queries.shapes import Subject
from tests.desk.conftest import settle
from tests.desk.test_comparison_view import acted, thing
from tests.helpers.hand import Hand, hand

__all__ = ["hand"]
KEYS = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def opened(hand: Hand) -> StringsView:
    settle()
    view = hand.place.side.top
    assert isinstance(view, StringsView)
    return view


@pytest.fixture
def violin(shop: Shop) -> int:
    found = thing(shop, "violin", "red violin", string_length="328", string_angle="158")
    client = acted(shop, "add_person", person={"name": "Orla Fenn"}).id
    job = acted(shop, "open_job_here", instrument_id=found, client_id=client, hears="a buzz").id
    acted(
        shop,
        "record_setup",
        job_id=job,
        strings=(
            StringRow(pitch="E5", density="0.45 g/m"),
            StringRow(pitch="A4", tension="58.8 N", at_length=read_length("330")),
        ),
    )
    return found


@pytest.fixture
def view(hand: Hand, violin: int) -> StringsView:
    """Go to the instrument and press the button on its page."""
    hand.frame.open_subject(Subject.INSTRUMENT, violin)
    settle()
    hand.click("strings")
    return opened(hand)


def typed(hand: Hand, view: StringsView, path: str, words: str) -> None:
    """Type over what stands in an input."""
    cell = view.grid.cell_at(path)
    assert cell is not None
    line = cell.input.findChild(QLineEdit)
    assert line is not None
    line.setFocus()
    line.selectAll()
    hand.qtbot.keyClicks(line, words) if words else hand.qtbot.keyClick(line, Qt.Key.Key_Delete)
    view.flush()
    settle()


def figure(view: StringsView, name: str) -> str:
    found = [one for one in view.findChildren(QLabel, name) if one.isVisible()]
    assert len(found) == 1, name
    return found[0].text()


def said(view: StringsView) -> str:
    return "\n".join(one.text() for one in view.findChildren(QLabel) if one.isVisible())


def test_it_begins_with_what_is_known(view: StringsView) -> None:
    # The example of issue 4: 84.16 and 58.09 N, together 142.25 N and a load of 54.29 N.
    assert figure(view, "pull.0.2") == "84.16 N"
    assert figure(view, "pull.1.2") == "58.09 N"
    assert (figure(view, "pull.2.2"), figure(view, "pull.2.3")) == ("142.25 N", "54.29 N")
    assert "A load is a guide, not a limit; damage is possible; the maker decides." in said(view)
    picture = view.findChild(BridgePicture)
    assert picture is not None
    assert picture.isVisible()
    assert "158.00°" in picture.accessibleDescription()
    assert "54.29 N" in picture.accessibleDescription()


def test_figures_follow_the_typing(hand: Hand, view: StringsView) -> None:
    typed(hand, view, "a4", "442")
    # 84.1642 × (442/440)² + 58.0894: a tension that is known is known at the A that is set.
    assert figure(view, "pull.2.2") == "143.02 N"
    typed(hand, view, "a4", "440")
    view.grid.cells["unit"].input.put("lbf")
    view.flush()
    settle()
    assert figure(view, "pull.2.3") == "12.20 lbf"


def test_a_figure_that_is_wrong_is_told_at_its_place_and_nothing_is_lost(
    hand: Hand, view: StringsView
) -> None:
    typed(hand, view, "angle", "wide")
    cell = view.grid.cell_at("angle")
    assert cell is not None
    assert "can't be read here" in cell.error.text()
    assert cell.error.isVisible()
    assert "once these are filled in and right: Angle over the bridge." in said(view)
    assert not view.picture.isVisible()
    typed(hand, view, "strings[0].known", "0.45")
    typed(hand, view, "angle", "158")
    cell = view.grid.cell_at("strings[0].known")
    assert cell is not None
    assert "two things" in cell.error.text()
    typed(hand, view, "strings[0].known", "0.45 g/m")
    assert figure(view, "pull.2.3") == "54.29 N"
    typed(hand, view, "length", "")
    assert "String length" in said(view)
    typed(hand, view, "length", "13 in")
    assert "330.20 mm" in said(view)


def test_what_is_wanted_and_what_a_change_does(hand: Hand, view: StringsView) -> None:
    view.grid.cells["wants"].input.put("load")
    view.grid.on_cell_changed()
    typed(hand, view, "wanted", "84 N")
    assert "A load of 84.00 N has an angle of 145.66°" in said(view)
    typed(hand, view, "wanted", "5000")
    cell = view.grid.cell_at("wanted")
    assert cell is not None
    assert "can't be reached" in cell.error.text()
    assert figure(view, "pull.2.3") == "54.29 N"
    typed(hand, view, "a4_then", "442")
    assert "+0.91%" in figure(view, "change.2.1")


def test_heights_over_one_line(hand: Hand, view: StringsView) -> None:
    view.grid.cells["over"].input.put("side")
    view.grid.on_cell_changed()
    view.flush()
    for name, words in (
        ("length", "328.19659"),
        ("afterlength", "57.56735"),
        ("nut_height", "5"),
        ("top_height", "33"),
        ("tail_height", "16"),
    ):
        typed(hand, view, name, words)
    assert "angle over the bridge 157.93°" in said(view)
    assert "To scale, height and length alike." in said(view)


def test_a_string_is_added_and_taken_away(hand: Hand, view: StringsView) -> None:
    rows = view.grid.cells["strings"].input
    assert isinstance(rows, RowsInput)
    hand.qtbot.mouseClick(rows.add_button, Qt.MouseButton.LeftButton)
    view.flush()
    typed(hand, view, "strings[2].pitch", "D4")
    typed(hand, view, "strings[2].known", "40 N")
    assert figure(view, "pull.2.2") == "40.00 N"
    remove = [one for one in rows.findChildren(QPushButton, "remove.strings[0]") if one.isVisible()]
    hand.qtbot.mouseClick(remove[0], Qt.MouseButton.LeftButton)
    view.flush()
    settle()
    assert figure(view, "pull.2.2") == "98.09 N"


def test_by_keys_with_an_instrument_and_without(hand: Hand, violin: int) -> None:
    hand.frame.open_subject(Subject.INSTRUMENT, violin)
    settle()
    hand.qtbot.keyClick(hand.place.pane.view, Qt.Key.Key_G, KEYS)
    view = opened(hand)
    assert figure(view, "pull.2.3") == "54.29 N"
    hand.qtbot.keyClick(view, Qt.Key.Key_Escape)
    settle()
    hand.go(5)
    hand.qtbot.keyClick(hand.frame, Qt.Key.Key_G, KEYS)
    view = opened(hand)
    assert "once these are filled in and right: Pitch, String length" in said(view)
    for path, words in (("length", "330"), ("angle", "154.32"), ("strings[0].pitch", "A4")):
        typed(hand, view, path, words)
    typed(hand, view, "strings[0].known", "18 lb")
    # 18 lb at 154.32° press with 8 lb, 35.59 N (Hart, The Violin; read).
    assert figure(view, "pull.1.3") == "35.59 N"


def test_the_picture_is_drawn_in_both_palettes(view: StringsView, qapp: object) -> None:
    picture = view.picture
    drawn = []
    for scheme in (Scheme.LIGHT, Scheme.DARK):
        choose(wanted(scheme, qapp))  # type: ignore[arg-type]
        picture.resize(460, picture.height())
        image = picture.grab().toImage()
        colours = {
            image.pixelColor(x, y).name() for x in range(0, 460, 2) for y in range(0, image.height(), 2)
        }
        drawn.append(colours)
        assert len(colours) > 10
    choose(wanted(Scheme.LIGHT, qapp))  # type: ignore[arg-type]
    assert drawn[0] != drawn[1]
