"""A line to type in with what fits under it: the keys go through it, Return or a click chooses."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QVBoxLayout

from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.input import Input, mark
from shopledger.desk.labels import line_edit
from shopledger.quantities.words import _

OFFERED = 6
"""How many that fit are offered at once."""
ROW_PX = 28
_KEY = Qt.ItemDataRole.UserRole


class FindingInput(Input):
    """What all inputs have in common that offer what fits the words typed."""

    def __init__(self, path: str, hint: str) -> None:
        """Start empty; `hint` stands in the line as long as it is."""
        super().__init__(path)
        self.line = line_edit()
        self.line.setPlaceholderText(hint)
        self.found = QListWidget()
        self.found.setProperty("weight", "found")
        self.found.setFont(sans(TEXT))
        self.found.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.found.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.found.setAccessibleName(_("Those that fit"))
        self.found.hide()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.line)
        box.addWidget(self.found)
        self.watch(self.line)
        self.line.textEdited.connect(self.on_text_edited)
        self.found.itemClicked.connect(self.on_item_chosen)

    def offered(self, words: str) -> Sequence[tuple[int, str]]:
        """Give what fits the words, each by its number."""
        raise NotImplementedError

    def choose_offered(self, number: int, words: str) -> None:
        """Take what was chosen of what is offered."""
        raise NotImplementedError

    def show_text(self, text: str) -> None:
        """Show words in the line from their beginning, and nothing under it."""
        self.found.hide()
        self.line.setText(text)
        self.line.setCursorPosition(0)

    def empty(self) -> bool:
        """Whether nothing is typed."""
        return not self.line.text().strip()

    def told(self) -> str:
        """What stands in the line."""
        return self.line.text().strip()

    def mark_wrong(self, wrong: bool) -> None:
        """Thicken and tint the line."""
        mark(self.line, wrong)

    def on_text_edited(self, text: str) -> None:
        """Offer what fits what is typed."""
        words = text.strip()
        self.offer(self.offered(words) if words else ())
        self.on_typed()

    def offer(self, offered: Sequence[tuple[int, str]]) -> None:
        """Show under the line what may be chosen; nothing puts the list away."""
        self.found.clear()
        for number, words in offered:
            item = QListWidgetItem(words)
            item.setData(_KEY, number)
            item.setToolTip(words)
            self.found.addItem(item)
        self.found.setCurrentRow(0)
        self.found.setFixedHeight(min(self.found.count(), OFFERED + 1) * ROW_PX + 2)
        self.found.setVisible(self.found.count() > 0)

    def on_item_chosen(self, item: QListWidgetItem) -> None:
        """Take what was clicked."""
        self.choose_offered(item.data(_KEY), item.text())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The arrow keys go through what is offered, Return chooses, Escape puts it away."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() is QEvent.Type.KeyPress
            and self.found.isVisible()
            and event.modifiers() in {Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier}
        ):
            key, at = event.key(), self.found.currentRow()
            if key in {Qt.Key.Key_Down, Qt.Key.Key_Up}:
                step = 1 if key == Qt.Key.Key_Down else -1
                self.found.setCurrentRow(max(0, min(at + step, self.found.count() - 1)))
                return True
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self.on_item_chosen(self.found.item(max(at, 0)))
                return True
            if key == Qt.Key.Key_Escape:
                self.found.hide()
                return True
        return super().eventFilter(watched, event)
