"""Inputs of several lines of words, choices, yes or no; and which input a kind of field gets."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QPlainTextEdit

from shopledger.desk.choice_box import ChoiceBox
from shopledger.desk.files_input import ScanInput
from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.input import Input, Wrong, mark
from shopledger.desk.kind_rows import KindRows
from shopledger.desk.labels import STEP
from shopledger.desk.line_input import LineInput
from shopledger.desk.listed_input import ListedInput
from shopledger.desk.marks_input import MarksInput
from shopledger.desk.measured_input import MeasuredInput
from shopledger.desk.nested import GroupInput, MakeGrid, RowsInput
from shopledger.desk.picker import PickerInput
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.shop import Shop
from shopledger.quantities.fields import Field, Kind, inputs
from shopledger.quantities.words import _


def make_input(shop: Shop, field: Field, path: str, make_grid: MakeGrid) -> Input:
    """Give the input that fits the kind of a field."""
    if field.kind is Kind.GROUP:
        return GroupInput(shop, field, path, make_grid)
    if field.kind is Kind.ROWS:
        return _rows(field)(shop, field, path, make_grid)
    if field.listed is not None:
        return ListedInput(field, path)
    if field.kind in {Kind.PERSON, Kind.INSTRUMENT, Kind.GOODS, Kind.WORK}:
        return PickerInput(shop, field, path)
    if field.kind is Kind.PICTURES:
        return PicturesInput(shop, field, path)
    if field.kind is Kind.SCAN:
        return ScanInput(shop, field, path)
    if field.kind is Kind.LINES:
        return LinesInput(path)
    if field.kind is Kind.CHOICE:
        return ChoiceInput(field, path)
    if field.kind is Kind.YES_NO:
        return YesNoInput(field, path)
    if field.kind is Kind.MEASURED:
        return MeasuredInput(shop, field, path)
    return LineInput(shop, field, path)


def _rows(field: Field) -> type[RowsInput]:
    """Give the list of rows that fits: with pins, with words that fit the kind of instrument, or plain."""
    if field.pins:
        return MarksInput
    assert field.of is not None
    listed = any(one.listed for one in inputs(field.of).values())
    return KindRows if listed else RowsInput


class LinesInput(Input):
    """Several lines of words."""

    wide = True
    headed = False

    def __init__(self, path: str) -> None:
        """Make an empty field of two lines."""
        super().__init__(path)
        self.text = QPlainTextEdit()
        self.text.setFont(sans(TEXT))
        self.text.setTabChangesFocus(True)
        self.text.document().setDocumentMargin(0)
        self.text.setFixedHeight(48)
        box = QHBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.text)
        self._putting = False
        self.watch(self.text)
        self.text.textChanged.connect(self.on_text_changed)

    def take(self, wrong: list[Wrong]) -> object:
        """Give the lines, without blanks around them."""
        return self.text.toPlainText().strip() or None

    def put(self, value: object) -> None:
        """Show the lines."""
        self._putting = True
        self.text.setPlainText(str(value or ""))
        self._putting = False

    def empty(self) -> bool:
        """Whether only blanks stand in it."""
        return not self.text.toPlainText().strip()

    def mark_wrong(self, wrong: bool) -> None:
        """Thicken and tint the line under it."""
        mark(self.text, wrong)

    def on_text_changed(self) -> None:
        """Tell what was typed from what was put."""
        if not self._putting:
            self.on_typed()


class ChoiceInput(Input):
    """One of a few words."""

    def __init__(self, field: Field, path: str) -> None:
        """Offer the field's choices, and none of them where one isn't required."""
        super().__init__(path)
        self.box = ChoiceBox()
        self.box.addItem("\u2013", None)
        for code, words in field.choices:
            self.box.addItem(_(words), code)
        box = QHBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.box)
        self.watch(self.box)
        self.box.activated.connect(self.on_typed)

    def take(self, wrong: list[Wrong]) -> object:
        """Give the code that was chosen."""
        return self.box.currentData()

    def put(self, value: object) -> None:
        """Choose a code."""
        self.box.setCurrentIndex(max(self.box.findData(value), 0))

    def empty(self) -> bool:
        """Whether none is chosen."""
        return self.box.currentData() is None

    def told(self) -> str:
        """The word that is chosen."""
        return self.box.currentText()

    def mark_wrong(self, wrong: bool) -> None:
        """Thicken and tint the line under it."""
        mark(self.box, wrong)


class _Words(QLabel):
    """Words that are clicked like the box before them."""

    clicked = Signal()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Tell of the click."""
        self.clicked.emit()


class YesNoInput(Input):
    """A box to tick, with the field's words behind it, over several lines where they are long."""

    says_its_label = True

    def __init__(self, field: Field, path: str) -> None:
        """Make it unticked."""
        super().__init__(path)
        self.box = QCheckBox()
        self._words = _(field.label)
        words = _Words(self._words)
        words.setTextFormat(Qt.TextFormat.PlainText)
        words.setFont(sans(TEXT))
        words.setWordWrap(True)
        words.setMinimumWidth(1)
        words.clicked.connect(self.box.click)
        box = QHBoxLayout(self)
        box.setContentsMargins(0, STEP, 0, 0)
        box.setSpacing(8)
        box.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        box.addWidget(words, 1)
        self.watch(self.box)
        self.box.clicked.connect(self.on_typed)

    def take(self, wrong: list[Wrong]) -> object:
        """Give whether it is ticked."""
        return self.box.isChecked()

    def put(self, value: object) -> None:
        """Tick it or not."""
        self.box.setChecked(bool(value))

    def told(self) -> str:
        """What is ticked."""
        return self._words

    def empty(self) -> bool:
        """Whether it isn't ticked."""
        return not self.box.isChecked()
