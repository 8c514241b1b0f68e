"""A user's hand on the window: it goes to places, clicks, types, chooses, and looks at what stands there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from shopledger.desk.finding import FindingInput
from shopledger.desk.fold import Fold
from shopledger.desk.form import ActForm
from shopledger.desk.input import Input
from shopledger.desk.inputs import ChoiceInput, LinesInput, YesNoInput
from shopledger.desk.line_input import LineInput
from shopledger.desk.nested import RowsInput
from shopledger.desk.palette import Scheme
from shopledger.desk.picker import PickerInput
from shopledger.desk.place import Place
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.desk.window import Frame
from shopledger.desk.work import Work

W = TypeVar("W", bound=QWidget)


class Hand:
    """A user's hand on the window: clicks and types, and looks at what stands there."""

    def __init__(self, qtbot: QtBot, frame: Frame, work: Work) -> None:
        self.qtbot, self.frame, self.work = qtbot, frame, work

    @property
    def place(self) -> Place:
        shown = self.frame.shown
        assert isinstance(shown, Place)
        return shown

    @property
    def form(self) -> ActForm:
        top = self.place.side.top
        assert isinstance(top, ActForm), self.frame.message.text()
        return top

    @property
    def sheet(self) -> SheetView:
        top = self.place.side.top
        assert isinstance(top, SheetView)
        return top

    def go(self, n: int) -> Place:
        self.qtbot.keyClick(self.frame, getattr(Qt.Key, f"Key_{n}"), Qt.KeyboardModifier.ControlModifier)
        self.frame.places.setCurrentRow(n - 1)
        return self.place

    def click(self, name: str, within: QWidget | None = None) -> None:
        found = [one for one in (within or self.place).findChildren(QPushButton, name) if one.isVisible()]
        assert found, f"no button {name}"
        self.qtbot.mouseClick(found[0], Qt.MouseButton.LeftButton)

    def act(self, name: str) -> None:
        self.click(f"act.{name}", self.sheet)

    def input(self, path: str, kind: type[W]) -> W:
        cell = self.form.grid.cell_at(path)
        assert cell is not None, path
        for fold in self.form.findChildren(Fold):
            if fold.isAncestorOf(cell) and not fold.is_open:
                self.qtbot.mouseClick(fold.head, Qt.MouseButton.LeftButton)
        assert cell.isVisible(), path
        assert isinstance(cell.input, kind)
        return cell.input

    def input_line(self, path: str) -> QLineEdit:
        found = self.input(path, Input)
        assert isinstance(found, LineInput | FindingInput)
        return found.line

    def write(self, path: str, text: str) -> None:
        line = self.input_line(path)
        line.setFocus()
        line.selectAll()
        self.qtbot.keyClicks(line, text)

    def say(self, path: str, text: str) -> None:
        """Type several lines."""
        lines = self.input(path, LinesInput).text
        lines.setFocus()
        lines.selectAll()
        self.qtbot.keyClicks(lines, text)

    def choose(self, path: str, code: str) -> None:
        box = self.input(path, ChoiceInput).box
        self.qtbot.keyClick(box, Qt.Key.Key_Home)
        for _step in range(box.count()):
            if box.currentData() == code:
                return
            self.qtbot.keyClick(box, Qt.Key.Key_Down)
        assert box.currentData() == code

    def tick(self, path: str) -> None:
        self.qtbot.keyClick(self.input(path, YesNoInput).box, Qt.Key.Key_Space)

    def add_row(self, path: str) -> None:
        self.qtbot.mouseClick(self.input(path, RowsInput).add_button, Qt.MouseButton.LeftButton)

    def pick(self, path: str, words: str) -> None:
        line = self.input(path, PickerInput).line
        line.setFocus()
        self.qtbot.keyClicks(line, words)
        self.qtbot.keyClick(line, Qt.Key.Key_Return)

    def do(self) -> None:
        form = self.form
        self.qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
        self.qtbot.waitUntil(lambda: not self.work.busy)
        assert self.place.side.top is not form, "\n".join(
            one.text()
            for one in form.findChildren(QLabel)
            if "error" in one.objectName() and not one.isHidden()
        )


@pytest.fixture
def hand(qtbot: QtBot, shop: Shop, work: Work) -> Iterator[Hand]:
    frame = Frame(shop, work, Scheme.LIGHT)
    qtbot.addWidget(frame)
    frame.resize(1280, 720)
    with qtbot.waitActive(frame):
        frame.show()
        frame.activateWindow()
    yield Hand(qtbot, frame, work)
    work.close()
