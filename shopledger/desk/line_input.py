"""One line to type in: words, or a figure that is read in the reader's manners."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout

from shopledger.desk.input import Input, Wrong, mark
from shopledger.desk.labels import label, line_edit
from shopledger.desk.shop import Shop
from shopledger.desk.shown import typed_words
from shopledger.quantities import reading
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.lengths import Length, other_unit, read_length
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _


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
        if field.kind in {Kind.LENGTH, Kind.MEASURED, Kind.DAY}:
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
        self.tell_behind(words)

    def tell_behind(self, words: str) -> None:
        """Show words in quiet ink behind what is typed."""
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
