"""Inputs that are typed in one place: words, figures, days, choices, yes or no; and which input a kind gets."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QPlainTextEdit

from shopledger.desk.choice_box import ChoiceBox
from shopledger.desk.files_input import ScanInput
from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.input import Input, Wrong, mark
from shopledger.desk.labels import STEP, label, line_edit
from shopledger.desk.listed_input import ListedInput
from shopledger.desk.marks_input import MarksInput
from shopledger.desk.nested import GroupInput, MakeGrid, RowsInput
from shopledger.desk.picker import PickerInput
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.shop import Shop
from shopledger.desk.shown import typed_words
from shopledger.quantities import reading
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.lengths import Length, other_unit, read_length
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _


def make_input(shop: Shop, field: Field, path: str, make_grid: MakeGrid) -> Input:
    """Give the input that fits the kind of a field."""
    if field.kind is Kind.GROUP:
        return GroupInput(shop, field, path, make_grid)
    if field.kind is Kind.ROWS:
        return (MarksInput if field.pins else RowsInput)(shop, field, path, make_grid)
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
    return LineInput(shop, field, path)


class LineInput(Input):
    """One line to type in: words, or a figure that is read in the reader's manners."""

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Make an empty line for a field."""
        super().__init__(path)
        self.shop, self.field = shop, field
        self.line = line_edit()
        if field.kind in {Kind.MONEY, Kind.RATE, Kind.COUNT}:
            self.line.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._behind = label("", tone="quiet", wrap=False)
        self._behind.hide()
        box = QHBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.line, 1)
        box.addWidget(self._behind)
        self.watch(self.line)
        self.line.textEdited.connect(self.on_typed)
        if field.kind in {Kind.LENGTH, Kind.DAY}:
            self.line.textChanged.connect(self.on_text_changed)

    def take(self, wrong: list[Wrong]) -> object:
        """Read what stands in the line."""
        text = self.line.text()
        return self._read(text) if text.strip() else None

    def _read(self, text: str) -> object:
        kind, manners, name = self.field.kind, self.shop.ledger.manners, self.path
        if kind is Kind.MONEY:
            return reading.read_amount(text, self.shop.ledger.currency, manners, field=name)
        if kind is Kind.RATE:
            return reading.read_rate(text, manners, field=name)
        if kind is Kind.DAY:
            return reading.read_day(text, manners, field=name)
        if kind is Kind.COUNT:
            return reading.read_count(text, manners, field=name)
        if kind is Kind.LENGTH:
            return read_length(text, manners=manners, field=name)
        return text.strip()

    def put(self, value: object) -> None:
        """Show the value as it would be typed."""
        self.line.setText(typed_words(self.field, value, self.shop.ledger.manners))
        self.line.setCursorPosition(0)

    def empty(self) -> bool:
        """Whether only blanks stand in it."""
        return not self.line.text().strip()

    def told(self) -> str:
        """What is typed, with its unit."""
        return f"{self.line.text().strip()} {self.unit()}".strip()

    def unit(self) -> str:
        """The currency behind an amount, else the field's own unit."""
        if self.field.kind is Kind.MONEY:
            return self.shop.ledger.currency
        return _(self.field.unit)

    def mark_wrong(self, wrong: bool) -> None:
        """Thicken and tint the line."""
        mark(self.line, wrong)

    def on_text_changed(self, text: str) -> None:
        """Show how a length reads in the other unit, and a day in full."""
        words = ""
        try:
            value = self._read(text) if text.strip() else None
        except Typed:
            value = None
        if isinstance(value, Length):
            words = other_unit(value, self.shop.ledger.manners)
        elif isinstance(value, date):
            shown = show_day(value, self.shop.ledger.manners)
            words = "" if shown == text.strip() else shown
        self._behind.setText(words)
        self._behind.setVisible(bool(words))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The arrow keys go a day up or down."""
        if (
            self.field.kind is Kind.DAY
            and isinstance(event, QKeyEvent)
            and event.type() is QEvent.Type.KeyPress
            and event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}
        ):
            self._step(1 if event.key() == Qt.Key.Key_Up else -1)
            return True
        return super().eventFilter(watched, event)

    def _step(self, days: int) -> None:
        try:
            value = self._read(self.line.text()) if not self.empty() else None
        except Typed:
            return
        start = value if isinstance(value, date) else self.shop.ledger.today() - timedelta(days=days)
        self.put(start + timedelta(days=days))
        self.on_typed()


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
