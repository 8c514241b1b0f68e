"""Condition part by part in a form: words that fit the kind, numbered pins by mouse and by keys, and what is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLabel, QPushButton, QWidget
from sqlalchemy import select

from shopledger.acts import act, do, new_op_id
from shopledger.acts.conditions import MarkRow
from shopledger.desk.listed_input import ListedInput
from shopledger.desk.marks_input import MarksInput
from shopledger.desk.paper_view import PaperView
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.pin_board import PinBoard
from shopledger.desk.pinned import FULL
from shopledger.desk.shop import Shop
from shopledger.model import ConditionReport
from shopledger.queries.condition import ReportSeen, report_of
from shopledger.queries.shapes import Subject
from shopledger.store.prove import prove
from tests.desk.conftest import settle
from tests.helpers.hand import Hand, hand
from tests.helpers.photographs import photograph
from tests.papers.reading_back import in_order, text_of

__all__ = ["hand"]

W = TypeVar("W", bound=QWidget)


def taken_in(shop: Shop, kind: str) -> int:
    form = act("take_in").form(
        op_id=new_op_id(),
        on=shop.ledger.today(),
        by="the maker",
        instrument={"kind": kind, "maker": "Ansel Quill"},
        stay={"reason": "own"},
    )
    return do(shop.ledger, act("take_in"), form).id


@pytest.fixture
def cello(shop: Shop) -> int:
    return taken_in(shop, "cello")


class Marking:
    """The form of a condition report, looked at through its marks and its photographs."""

    def __init__(self, hand: Hand, folder: Path) -> None:
        self.hand, self.folder = hand, folder

    def open(self, instrument: int) -> None:
        self.hand.frame.open_subject(Subject.INSTRUMENT, instrument)
        settle()
        self.hand.act("make_report")

    @property
    def marks(self) -> MarksInput:
        return self.hand.input("marks", MarksInput)

    @property
    def pictures(self) -> PicturesInput:
        return self.hand.input("pictures", PicturesInput)

    @property
    def board(self) -> PinBoard:
        return self.marks.pinning.board

    def photograph(self, *names: str) -> None:
        """Add photographs, which are wide, and wait until they can be seen."""
        for name in names:
            content = photograph(
                width=160, height=120, shade=len(name) + 7 * self.pictures.list.tiles.rowCount()
            )
            (self.folder / name).write_bytes(content)
            self.pictures.add_files([self.folder / name])
        self.hand.qtbot.waitUntil(lambda: not self.pictures.preparing.busy)
        self.seen()

    def seen(self) -> None:
        self.hand.qtbot.waitUntil(lambda: self.board.image is not None)
        settle()

    def click(self, across: float, down: float) -> None:
        """Click on the photograph, so far across and down it."""
        room = self.board.room()
        at = QPoint(round(room.x() + room.width() * across), round(room.y() + room.height() * down))
        self.hand.qtbot.mouseClick(self.board, Qt.MouseButton.LeftButton, pos=at)

    def key(self, *keys: Qt.Key, shift: bool = False) -> None:
        held = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
        for key in keys:
            self.hand.qtbot.keyClick(self.board, key, held)

    def pins(self) -> list[int]:
        """Give the numbers of the pins on the photograph that is shown."""
        return [n for n, _pin in self.board.pins]

    def write(self, path: str, words: str) -> None:
        line = self.hand.input(path, ListedInput).line
        line.setFocus()
        line.selectAll()
        self.hand.qtbot.keyClicks(line, words)

    def pin_button(self, n: int) -> QPushButton:
        return self.in_row(n, QPushButton, "pin")

    def in_row(self, n: int, kind: type[W], name: str) -> W:
        found = self.marks.rows[n].frame.findChild(kind, name)
        assert found is not None
        return found


@pytest.fixture
def marking(hand: Hand, cello: int, tmp_path: Path) -> Marking:
    made = Marking(hand, tmp_path)
    made.open(cello)
    return made


def reports(shop: Shop) -> list[ReportSeen]:
    """Give every report of the ledger."""
    with shop.ledger.read() as reading:
        ids = reading.session.scalars(select(ConditionReport.id).order_by(ConditionReport.id)).all()
        return [report_of(reading, key) for key in ids]


def test_a_click_sets_a_numbered_pin_and_its_report_and_paper_say_where(marking: Marking, shop: Shop) -> None:
    assert not marking.board.isVisible()
    marking.photograph("front.jpg", "back.jpg")
    assert marking.board.isVisible()
    assert marking.pins() == []
    marking.click(0.25, 0.5)
    assert [n for n, _pin in marking.board.pins] == [1]
    # The keyboard is where the mark is told, and Return chooses what is offered.
    part = marking.hand.input("marks[0].part", ListedInput)
    assert part.line.hasFocus()
    marking.hand.qtbot.keyClicks(part.line, "ribs tr")
    assert [part.found.item(n).text() for n in range(part.found.count())] == ["ribs on the treble side"]
    marking.hand.qtbot.keyClick(part.line, Qt.Key.Key_Return)
    assert part.line.text() == "ribs on the treble side"
    marking.write("marks[0].term", "crack")
    marking.marks.pinning.later_button.click()
    marking.seen()
    assert marking.pins() == []
    marking.click(1.0, 0.0)
    assert marking.pins() == [2]
    marking.write("marks[1].part", "back")
    marking.write("marks[1].term", "Wear")
    marking.hand.write("marks[1].note", "beside the button")
    marking.hand.do()
    [report] = reports(shop)
    assert [(mark.n, mark.part, mark.term) for mark in report.marks] == [
        (1, "ribs_treble", "crack"),
        (2, "back", "wear"),
    ]
    one, two = report.marks
    assert one.picture != two.picture
    assert (one.x, one.y) == (pytest.approx(2500, abs=30), pytest.approx(5000, abs=30))
    assert (two.x, two.y) == (pytest.approx(FULL, abs=30), pytest.approx(0, abs=30))
    [paper] = [one for one in marking.hand.sheet.sheet.papers if one.title == "Condition report"]
    marking.hand.click(f"paper.{paper.id}", marking.hand.sheet)
    view = marking.hand.place.side.top
    assert isinstance(view, PaperView)
    said = text_of(view.content)
    assert in_order(said, "ribs on the treble side", "crack")
    assert in_order(said, "back", "wear", "beside the button")
    marking.hand.qtbot.keyClick(view.pages, Qt.Key.Key_Escape)
    assert prove(shop.ledger.where) == []


def test_everything_about_pins_goes_by_keys(marking: Marking, shop: Shop) -> None:
    marking.photograph("front.jpg", "back.jpg")
    marking.board.setFocus()
    marking.key(Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Up)
    marking.key(Qt.Key.Key_Left, Qt.Key.Key_Down, shift=True)
    assert marking.board.at == (5450, 4800)
    marking.key(Qt.Key.Key_Return)
    assert marking.pins() == [1]
    assert "On it: 1." in marking.board.accessibleDescription()
    marking.board.setFocus()
    marking.key(Qt.Key.Key_PageDown)
    assert marking.board.accessibleName() == "Pins on back.jpg"
    assert marking.pins() == []
    marking.key(Qt.Key.Key_PageDown)
    assert marking.board.accessibleName() == "Pins on back.jpg"
    marking.key(*[Qt.Key.Key_Left] * 50, Qt.Key.Key_Space)
    assert [(n, pin.x) for n, pin in marking.board.pins] == [(2, 0)]
    marking.board.setFocus()
    marking.key(Qt.Key.Key_Delete)
    assert marking.pins() == []
    assert len(marking.marks.rows) == 2
    marking.key(Qt.Key.Key_Delete)
    marking.key(Qt.Key.Key_PageUp)
    assert marking.board.accessibleName() == "Pins on front.jpg"
    assert marking.pins() == [1]
    # The next to be set is the one that lost its pin, not a third.
    assert "Click where mark 2 is" in marking.marks.pinning.told.text()
    for n in range(2):
        marking.write(f"marks[{n}].part", "top")
        marking.write(f"marks[{n}].term", "dent")
    marking.hand.do()
    [report] = reports(shop)
    assert [(mark.x, mark.y) for mark in report.marks] == [(5450, 4800), (None, None)]
    assert [bool(mark.picture) for mark in report.marks] == [True, False]


def test_a_pin_is_moved_from_its_row_and_taken_away(marking: Marking) -> None:
    marking.photograph("front.jpg", "back.jpg")
    marking.click(0.2, 0.2)
    marking.click(0.4, 0.4)
    button = marking.pin_button(0)
    assert button.text() == "Pin on 1"
    assert button.accessibleName() == "Pin of mark 1, on photograph 1"
    marking.marks.pinning.later_button.click()
    button.click()
    assert marking.board.hasFocus()
    assert marking.board.accessibleName() == "Pins on front.jpg"
    assert marking.board.at == (pytest.approx(2000, abs=30), pytest.approx(2000, abs=30))
    assert "Click where pin 1 is to go, or press Delete" in marking.marks.pinning.told.text()
    marking.seen()
    # It may go to another photograph too.
    marking.key(Qt.Key.Key_PageDown)
    marking.seen()
    marking.click(0.9, 0.9)
    assert [(n, round(pin.x, -2)) for n, pin in marking.board.pins] == [(1, 9000)]
    assert marking.pin_button(0).text() == "Pin on 2"
    button.click()
    marking.key(Qt.Key.Key_Delete)
    assert marking.pins() == []
    assert marking.pin_button(0).text() == "Set its pin"
    assert len(marking.marks.rows) == 2


def test_the_numbers_follow_the_rows_and_a_pin_goes_with_its_row(marking: Marking) -> None:
    marking.photograph("front.jpg")
    for at in (0.2, 0.5, 0.8):
        marking.click(at, 0.5)
    assert marking.pins() == [1, 2, 3]
    marking.in_row(1, QPushButton, "remove.marks[1]").click()
    assert [(n, round(pin.x, -3)) for n, pin in marking.board.pins] == [(1, 2000), (2, 8000)]
    assert [marking.pin_button(n).accessibleName() for n in range(2)] == [
        "Pin of mark 1, on photograph 1",
        "Pin of mark 2, on photograph 1",
    ]


def test_a_pin_goes_with_its_photograph_and_the_mark_stays(marking: Marking, shop: Shop) -> None:
    marking.photograph("front.jpg", "back.jpg", "head.jpg")
    for n in range(3):
        marking.click(0.5, 0.5)
        marking.write(f"marks[{n}].part", "top")
        marking.write(f"marks[{n}].term", "dent")
        marking.marks.pinning.later_button.click()
        marking.seen()
    assert [marking.pin_button(n).text() for n in range(3)] == ["Pin on 1", "Pin on 2", "Pin on 3"]
    middle = marking.pictures.list.tiles.tiles[1]
    marking.pictures.remove({middle.key})
    assert [marking.pin_button(n).text() for n in range(3)] == ["Pin on 1", "Set its pin", "Pin on 2"]
    marking.hand.do()
    [report] = reports(shop)
    assert [bool(mark.picture) for mark in report.marks] == [True, False, True]
    with shop.ledger.read() as reading:
        kept = [
            shot.sha256 for shot in shop.sheets[Subject.INSTRUMENT](reading, report.instrument_id).photographs
        ]
    assert [mark.picture for mark in report.marks if mark.picture] == kept


def test_without_photographs_there_are_marks_without_pins(marking: Marking, shop: Shop) -> None:
    marking.hand.add_row("marks")
    assert not marking.pin_button(0).isVisible()
    marking.write("marks[0].part", "neck joint")
    marking.write("marks[0].term", "loose")
    marking.photograph("front.jpg")
    assert marking.pin_button(0).isVisible()
    last = {tile.key for tile in marking.pictures.list.tiles.tiles}
    marking.click(0.5, 0.5)
    marking.pictures.remove(last)
    assert not marking.board.isVisible()
    assert not marking.pin_button(0).isVisible()
    marking.hand.do()
    [report] = reports(shop)
    assert [(mark.part, mark.picture) for mark in report.marks] == [("neck_joint", "")]


def test_the_words_offered_are_those_of_the_kind(hand: Hand, shop: Shop, tmp_path: Path) -> None:
    marking = Marking(hand, tmp_path)
    marking.open(taken_in(shop, "bow"))
    hand.add_row("marks")
    part = hand.input("marks[0].part", ListedInput)
    hand.qtbot.keyClick(part.line, Qt.Key.Key_Down)
    offered = [part.found.item(n).text() for n in range(part.found.count())]
    assert "frog" in offered
    assert "ribs on the bass side" not in offered
    hand.qtbot.keyClick(part.line, Qt.Key.Key_Escape)
    assert not part.found.isVisible()
    hand.qtbot.keyClicks(part.line, "xyz")
    assert not part.found.isVisible()


def test_other_words_are_refused_at_their_field_and_nothing_is_lost(marking: Marking, shop: Shop) -> None:
    marking.photograph("front.jpg")
    marking.click(0.5, 0.5)
    marking.write("marks[0].part", "frog")
    marking.write("marks[0].term", "crack")
    form = marking.hand.form
    marking.hand.qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    marking.hand.qtbot.waitUntil(lambda: not marking.hand.work.busy)
    assert marking.hand.form is form
    error = form.findChild(QLabel, "error.marks[0].part")
    assert error is not None
    assert error.isVisible()
    assert "“frog” is no part of this kind of instrument" in error.text()
    assert marking.hand.input("marks[0].part", ListedInput).line.text() == "frog"
    assert marking.hand.input("marks[0].term", ListedInput).line.text() == "crack"
    assert marking.pins() == [1]
    assert reports(shop) == []
    marking.write("marks[0].part", "top")
    assert not error.isVisible()
    marking.hand.do()
    assert [mark.part for report in reports(shop) for mark in report.marks] == ["top"]


def test_the_next_report_begins_with_the_marks_in_words_and_pins_them_in_turn(
    marking: Marking, shop: Shop, cello: int
) -> None:
    make = act("make_report")
    was = (MarkRow(part="ribs_bass", term="open_seam"), MarkRow(part="top", term="crack", severity="grave"))
    do(
        shop.ledger,
        make,
        make.form(op_id=new_op_id(), on=shop.ledger.today(), by="", instrument_id=cello, marks=was),
    )
    marking.hand.click("leave")
    marking.open(cello)
    assert marking.hand.input("marks[0].part", ListedInput).line.text() == "ribs on the bass side"
    marking.photograph("front.jpg")
    marking.click(0.1, 0.5)
    marking.click(0.2, 0.5)
    assert marking.pins() == [1, 2]
    assert len(marking.marks.rows) == 2
    marking.hand.do()
    assert [(mark.part, mark.severity, bool(mark.picture)) for mark in reports(shop)[1].marks] == [
        ("ribs_bass", "noted", True),
        ("top", "grave", True),
    ]


def test_at_the_counter_the_words_follow_the_instrument_that_is_described_or_chosen(
    hand: Hand, shop: Shop, cello: int
) -> None:
    hand.go(3)
    hand.click("first")
    hand.choose("instrument.kind", "bow")
    hand.add_row("marks")
    marks = hand.input("marks", MarksInput)
    assert marks.kind == "bow"
    part = hand.input("marks[0].part", ListedInput)
    assert "frog" in part.words().values()
    assert "top" not in part.words().values()
    hand.qtbot.keyClicks(part.line, "frog")
    hand.pick("instrument_id", "Quill")
    assert marks.kind == "cello"
    assert "frog" not in part.words().values()
    # What was typed stays until the act says what would be right.
    assert part.line.text() == "frog"
