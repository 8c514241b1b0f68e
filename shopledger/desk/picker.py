"""Whoever or whatever is chosen by typing a part of its name: those that fit stand under the line, with a new one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QVBoxLayout

from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.input import Input, Wrong, mark
from shopledger.desk.labels import line_edit
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.fields import Field
from shopledger.quantities.words import N_, _

OFFERED = 6
"""How many that fit are offered at once."""
_ID = Qt.ItemDataRole.UserRole
_NEW = -1


class PickerInput(Input):
    """A line to type in with those that fit under it; the id is what is kept."""

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start with nobody chosen."""
        super().__init__(path)
        self.shop, self.field = shop, field
        self.picking = shop.picking[field.kind]
        self.id: int | None = None
        self.new_in: str | None = None
        """The words of the part of the form into which a new one goes, where there is such a part."""
        self.line = line_edit()
        self.line.setPlaceholderText(_("type a part of the name"))
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

    def stand_beside(self, cells: Mapping[str, Any]) -> None:
        """Send a new one into the part of the form that is there for it."""
        beside = cells.get(self.field.new_in)
        self.new_in = _(beside.field.label) if beside is not None else None

    def take(self, wrong: list[Wrong]) -> object:
        """Give the id that was chosen.

        Raises: Typed: something was typed and nothing chosen.
        """
        if self.id is None and not self.empty():
            raise Typed(
                N_("“{text}” isn't chosen yet: choose one of those under the line."),
                field=self.path,
                text=self.line.text().strip()[:60],
            )
        return self.id

    def put(self, value: object) -> None:
        """Choose an id."""
        self.found.hide()
        self.id = value if isinstance(value, int) else None
        words = ""
        if self.id is not None:
            with self.shop.ledger.read() as reading:
                words = self.picking.named(reading, self.id)
        self.line.setText(words)
        self.line.setCursorPosition(0)

    def choose(self, subject_id: int) -> None:
        """Choose an id as a person does."""
        self.put(subject_id)
        self.on_typed()

    def empty(self) -> bool:
        """Whether nothing is typed."""
        return not self.line.text().strip()

    def told(self) -> str:
        """Whoever is chosen."""
        return self.line.text().strip()

    def mark_wrong(self, wrong: bool) -> None:
        """Thicken and tint the line."""
        mark(self.line, wrong)

    def on_text_edited(self, text: str) -> None:
        """Offer those that fit what is typed."""
        self.id = None
        self._offer(text.strip())
        self.on_typed()

    def _offer(self, words: str) -> None:
        self.found.clear()
        if words:
            try:
                with self.shop.ledger.read() as reading:
                    found = self.picking.find(reading, words, OFFERED)
            except LedgerError:
                found = ()
            for subject_id, named in found:
                self._add(named, subject_id)
            new = self._new_words()
            if new:
                self._add(_("{act}: “{words}”").format(act=new, words=words), _NEW)
        self.found.setCurrentRow(0)
        self.found.setFixedHeight(min(self.found.count(), OFFERED + 1) * 28 + 2)
        self.found.setVisible(self.found.count() > 0)

    def _new_words(self) -> str:
        """Give the words under which one goes who isn't in the ledger yet, or nothing."""
        if self.new_in is not None:
            return self.new_in
        act = self.shop.act(self.picking.new)
        return _(act.text) if act is not None else ""

    def _add(self, words: str, subject_id: int) -> None:
        item = QListWidgetItem(words)
        item.setData(_ID, subject_id)
        self.found.addItem(item)

    def on_item_chosen(self, item: QListWidgetItem) -> None:
        """Choose what was clicked."""
        subject_id = item.data(_ID)
        if subject_id == _NEW:
            words = self.line.text().strip()
            self.found.hide()
            if self.new_in is not None:
                self.put(None)
                self.on_typed()
            self.wanted.emit(self, words)
        else:
            self.choose(subject_id)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The arrow keys go through those that fit, Return chooses, Escape puts them away."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() is QEvent.Type.KeyPress
            and self.found.isVisible()
            and event.modifiers() == Qt.KeyboardModifier.NoModifier
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
