"""The frame: seven places by key, everything reachable and named, nothing typed lost, no transaction left open."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from shopledger.acts.declare import new_op_id
from shopledger.acts.owning import OwnerRow
from shopledger.desk.form import ActForm
from shopledger.desk.line_input import LineInput
from shopledger.desk.palette import Scheme
from shopledger.desk.paper_view import PaperView
from shopledger.desk.place import Place
from shopledger.desk.remembered import Remembered
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.desk.start import SMALLEST, House
from shopledger.desk.window import PLACES, Frame
from shopledger.desk.wiring import wire
from shopledger.desk.work import Work
from shopledger.quantities.errors import NotFound
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Sheet
from shopledger.store.ledger import Ledger
from shopledger.store.unit import Reading
from tests.helpers.ledgers import opened
from tests.helpers.story import tell


@pytest.fixture(scope="module")
def story(tmp_path_factory: pytest.TempPathFactory, file_template: Path) -> Path:
    folder = tmp_path_factory.mktemp("story")
    shutil.copy(file_template, folder / "shop.ledger")
    with opened(folder / "shop.ledger") as ledger:
        tell(ledger)
    return folder


@pytest.fixture
def told(story: Path, tmp_path: Path) -> Iterator[Shop]:
    folder = shutil.copytree(story, tmp_path / "told")
    with opened(folder / "shop.ledger") as ledger:
        yield wire(ledger)


@pytest.fixture
def frame(qtbot: QtBot, told: Shop, work: Work) -> Iterator[Frame]:
    made = Frame(told, work, Scheme.LIGHT)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    yield made
    work.close()


def shown(frame: Frame) -> Place:
    place = frame.shown
    assert isinstance(place, Place)
    return place


def test_seven_places_by_their_keys(qtbot: QtBot, frame: Frame) -> None:
    names = []
    for n in range(7):
        qtbot.keyClick(frame, Qt.Key(Qt.Key.Key_1.value + n), Qt.KeyboardModifier.ControlModifier)
        assert frame.shown is not None
        names.append(frame.shown.objectName())
    assert names == [f"place.{name}" for name, _text in PLACES]
    assert [frame.places.item(n).text() for n in range(frame.places.count())] == [
        "Today", "Stock", "Workshop", "Sales", "People", "Accounts", "Settings",
    ]  # fmt: skip


@pytest.mark.parametrize("name", [name for name, _text in PLACES])
def test_every_control_can_be_reached_and_has_a_name(frame: Frame, name: str) -> None:
    place = frame.show_place(name)
    frame.grab()
    for widget in place.findChildren(QWidget):
        if not widget.isVisible() or not widget.isEnabled():
            continue
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            text = widget.text() if isinstance(widget, (QAbstractButton, QLineEdit)) else ""
            assert widget.accessibleName() or text, widget
        elif isinstance(widget, QAbstractButton):
            pytest.fail(f"{widget.objectName()} can't be reached by keyboard")


def test_the_keyboard_goes_through_the_window_in_the_order_one_sees(qtbot: QtBot, frame: Frame) -> None:
    place = frame.show_place("stock")
    assert isinstance(place, Place)
    frame.grab()
    place.pane.search.setFocus()
    seen: list[QWidget] = []
    for _step in range(40):
        here = frame.focusWidget()
        if here is None or here in seen:
            break
        seen.append(here)
        qtbot.keyClick(here, Qt.Key.Key_Tab)
    left = [widget for widget in seen if place.pane.isAncestorOf(widget)]
    right = [widget for widget in seen if place.side.isAncestorOf(widget)]
    assert left
    assert right
    assert max(seen.index(widget) for widget in left) < min(seen.index(widget) for widget in right)
    tops = [widget.mapTo(frame, widget.rect().topLeft()).y() for widget in right]
    assert tops == sorted(tops)


def test_the_sheet_offers_the_acts_that_are_allowed_and_no_others(frame: Frame, told: Shop) -> None:
    for name in ("stock", "sales", "people"):
        place = frame.show_place(name)
        assert isinstance(place, Place)
        for subject_id in place.pane.rows.ids:
            place.pane.view.choose(subject_id)
            sheet = place.side.top
            assert isinstance(sheet, SheetView)
            with told.ledger.read() as reading:
                allowed = [one.name for one in told.next_acts(reading, place.pane.table.subject, subject_id)]
            buttons = [made.objectName() for made in sheet.findChildren(QPushButton)]
            assert [made for made in buttons if made.startswith("act.")] == [f"act.{one}" for one in allowed]


def test_no_connection_is_in_a_transaction_while_nothing_happens(frame: Frame, told: Shop) -> None:
    for name, _text in PLACES:
        frame.show_place(name)
        frame.grab()
        assert told.ledger.engine.pool.checkedout() == 0  # type: ignore[attr-defined]
    place = frame.show_place("stock")
    assert isinstance(place, Place)
    for act in ("take_in", "agree_terms", "sell"):
        found = told.act(act)
        assert found is not None
        place.side.open_act(found)
        assert told.ledger.engine.pool.checkedout() == 0  # type: ignore[attr-defined]


def test_the_go_to_line_leads_to_a_place_and_to_an_act(qtbot: QtBot, frame: Frame) -> None:
    frame.show_place("stock")
    frame.on_goto_wanted()
    middle = frame.goto.geometry().center().x()
    assert abs(middle - frame.rect().center().x()) <= 1
    assert frame.goto.line.width() > 300
    assert frame.goto.list.visualItemRect(frame.goto.list.item(4)).bottom() <= frame.goto.list.height()
    qtbot.keyClicks(frame.goto.line, "peop")
    qtbot.keyClick(frame.goto.line, Qt.Key.Key_Return)
    assert shown(frame).name == "people"
    frame.on_goto_wanted()
    qtbot.keyClicks(frame.goto.line, "sell goods")
    qtbot.keyClick(frame.goto.line, Qt.Key.Key_Return)
    assert shown(frame).name == "sales"
    assert isinstance(shown(frame).side.top, ActForm)
    frame.on_goto_wanted()
    qtbot.keyClick(frame.goto.line, Qt.Key.Key_Escape)
    assert frame.goto.isHidden()


def test_control_f_goes_to_the_line_over_the_table(qtbot: QtBot, frame: Frame) -> None:
    place = frame.show_place("sales")
    assert isinstance(place, Place)
    place.pane.view.setFocus()
    qtbot.keyClick(place.pane.view, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    assert frame.focusWidget() is place.pane.search


def test_a_form_stays_while_one_looks_at_other_things(qtbot: QtBot, frame: Frame, told: Shop) -> None:
    place = frame.show_place("stock")
    assert isinstance(place, Place)
    act = told.act("take_in")
    assert act is not None
    form = place.side.open_act(act)
    assert form is not None
    maker = form.grid.cell_at("instrument.maker")
    assert maker is not None
    assert isinstance(maker.input, LineInput)
    qtbot.keyClicks(maker.input.line, "Hedda Storrs")
    for subject_id in place.pane.rows.ids:
        place.pane.view.choose(subject_id)
    frame.show_place("people")
    frame.show_place("stock")
    assert place.side.top is form
    assert maker.input.line.text() == "Hedda Storrs"
    qtbot.mouseClick(form.bar.leave, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(form.bar.drop, Qt.MouseButton.LeftButton)
    assert place.side.subject == (Subject.INSTRUMENT, place.pane.view.current_id())


def test_what_cannot_be_read_is_said_on_the_page(qtbot: QtBot, told: Shop, work: Work) -> None:
    def gone(_reading: Reading, _id: int) -> Sheet:
        raise NotFound("There is no such instrument in the ledger.")

    frame = Frame(replace(told, sheets={**told.sheets, Subject.INSTRUMENT: gone}), work, Scheme.LIGHT)
    qtbot.addWidget(frame)
    frame.show()
    place = frame.show_place("stock")
    texts = [label.text() for label in place.findChildren(QLabel)]
    assert "There is no such instrument in the ledger." in texts


def do_at_once(qtbot: QtBot, frame: Frame, told: Shop, work: Work, name: str) -> None:
    """Open the form of an act about nothing in particular, and do it as it stands."""
    act = told.act(name)
    assert act is not None
    frame.open_act(act)
    form = shown(frame).side.top
    assert isinstance(form, ActForm)
    qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not work.busy)


def test_a_list_that_is_made_is_opened_at_once(qtbot: QtBot, frame: Frame, told: Shop, work: Work) -> None:
    do_at_once(qtbot, frame, told, work, "list_others")
    assert shown(frame).side.top.objectName() == "paper"
    assert frame.message.text() == "Booked. 1 paper was issued."


def test_a_schedule_of_custody_is_saved_for_a_spreadsheet(
    qtbot: QtBot, frame: Frame, told: Shop, work: Work, tmp_path: Path
) -> None:
    do_at_once(qtbot, frame, told, work, "print_custody_list")
    view = shown(frame).side.top
    assert isinstance(view, PaperView)
    assert view.csv_button.isVisible()
    view.save_csv_to(tmp_path / "custody.csv")
    made = (tmp_path / "custody.csv").read_bytes()
    assert made == view.csv
    assert "Schedule of goods in custody" in made.decode("utf-8-sig")
    assert frame.message.text() == f"{view.number} is saved as custody.csv."
    view.save_csv_to(tmp_path / "nowhere" / "custody.csv")
    assert view.findChildren(QLabel)
    assert any("Not saved" in label.text() for label in view.findChildren(QLabel))


def test_a_paper_with_letters_that_cannot_be_printed_is_named(
    qtbot: QtBot, frame: Frame, told: Shop, work: Work
) -> None:
    add, take = told.act("add_person"), told.act("take_in")
    assert add is not None
    assert take is not None
    day = told.ledger.today()
    person = add.form(op_id=new_op_id(), on=day, by="", person={"name": "שרה 古楽"})
    owner = told.do(told.ledger, add, person).id
    frame.open_act(take)
    form = shown(frame).side.top
    assert isinstance(form, ActForm)
    form.grid.fill(
        {
            "instrument": {"kind": "cello"},
            "stay": {"reason": "to_sell"},
            "owners": (OwnerRow(person_id=owner),),
        }
    )
    qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not work.busy)
    assert "1 paper was issued. Some letters on " in frame.message.text()
    assert "can't be printed" in frame.message.text()


def test_the_window_fits_a_small_screen(frame: Frame) -> None:
    for name, _text in PLACES:
        frame.show_place(name)
        frame.grab()
        least = frame.minimumSizeHint()
        assert (least.width() <= SMALLEST[0], least.height() <= SMALLEST[1]) == (True, True), name


def test_closing_asks_first_where_something_was_typed(
    qtbot: QtBot, file_ledger: Ledger, tmp_path: Path
) -> None:
    house = House(Remembered(tmp_path / "window.json"), wire, tmp_path)
    qtbot.addWidget(house)
    house.open(str(file_ledger.where))
    house.show()
    frame = house.page
    assert isinstance(frame, Frame)
    act = frame.shop.act("add_person")
    assert act is not None
    frame.open_act(act)
    form = shown(frame).side.top
    assert isinstance(form, ActForm)
    name = form.grid.cell_at("person.name")
    assert name is not None
    assert isinstance(name.input, LineInput)
    qtbot.keyClicks(name.input.line, "Tilda Marram")
    frame.show_place("stock")
    assert not house.close()
    assert shown(frame).name == "people"
    assert form.bar.drop.isVisible()
    qtbot.mouseClick(form.bar.drop, Qt.MouseButton.LeftButton)
    assert house.close()
