"""One line to go anywhere from: places, the acts that are possible now, and a job by its claim number."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QFrame, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.labels import CELL, line_edit
from shopledger.desk.palette import colours
from shopledger.desk.shop import AnyAct
from shopledger.quantities.words import _
from shopledger.queries.shapes import Subject

_WIDE, _ROWS = 420, 8


@dataclass(frozen=True, slots=True)
class Goal:
    """Somewhere to go: a place by its name, an act, or a thing; one that leads nowhere tells why."""

    text: str
    keys: str = ""
    place: str = ""
    act: AnyAct | None = None
    subject: tuple[Subject, int] | None = None
    strings: bool = False
    """Whether it is the page that reckons strings and bridge."""

    @property
    def leads(self) -> bool:
        """Whether there is anywhere to go."""
        return self.strings or bool(self.place) or self.act is not None or self.subject is not None


class GoTo(QFrame):
    """The line and what fits under it, over the middle of the window."""

    chosen = Signal(object)
    """A Goal."""

    def __init__(self, over: QWidget) -> None:
        """Stay hidden until `open` is called."""
        super().__init__(over)
        self.setObjectName("goto")
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        self._goals: Sequence[Goal] = ()
        self._found: Callable[[str], Sequence[Goal]] = lambda _words: ()
        self._came_from: QWidget | None = None
        self.line = line_edit()
        self.line.setPlaceholderText(_("go to a place or a claim number, or do an act"))
        self.line.setAccessibleName(_("Go to"))
        self.list = QListWidget()
        self.list.setFont(sans(TEXT))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setProperty("weight", "found")
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setAccessibleName(_("What fits"))
        box = QVBoxLayout(self)
        box.setContentsMargins(CELL, CELL, CELL, CELL)
        box.addWidget(self.line)
        box.addWidget(self.list)
        self.line.textEdited.connect(self.on_words_typed)
        self.line.installEventFilter(self)
        self.list.itemClicked.connect(self.on_item_chosen)
        self.hide()

    def place_over(self, over: QWidget) -> None:
        """Lie over the upper middle of a widget."""
        self.setGeometry((over.width() - _WIDE) // 2, 72, _WIDE, 40 + 2 * CELL + _ROWS * 29)

    def open(self, goals: Sequence[Goal], found: Callable[[str], Sequence[Goal]]) -> None:
        """Show these goals and take the keyboard; `found` gives the goals that are none of them, by what is typed."""
        self._goals, self._found = goals, found
        self._came_from = self.window().focusWidget()
        self.line.clear()
        self._offer("")
        self.show()
        self.raise_()
        self.line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _offer(self, words: str) -> None:
        self.list.clear()
        wanted = words.casefold().split()
        fit = [goal for goal in self._goals if all(word in goal.text.casefold() for word in wanted)]
        for goal in (*self._found(words), *fit):
            item = QListWidgetItem(f"{goal.text}    {goal.keys}" if goal.keys else goal.text)
            item.setData(Qt.ItemDataRole.UserRole, goal)
            self.list.addItem(item)
        self.list.setCurrentRow(0)

    def on_words_typed(self, words: str) -> None:
        """Offer what has all the words."""
        self._offer(words)

    def on_item_chosen(self, item: QListWidgetItem) -> None:
        """Go there."""
        goal = item.data(Qt.ItemDataRole.UserRole)
        if goal.leads:
            self._close()
            self.chosen.emit(goal)

    def _close(self) -> None:
        self.hide()
        if self._came_from is not None:
            self._came_from.setFocus(Qt.FocusReason.OtherFocusReason)
            self._came_from = None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The arrow keys go through the goals, Return goes there, Escape goes back."""
        if event.type() is QEvent.Type.FocusOut and self.isVisible():
            self.hide()
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            key, at = event.key(), self.list.currentRow()
            if key in {Qt.Key.Key_Down, Qt.Key.Key_Up}:
                step = 1 if key == Qt.Key.Key_Down else -1
                self.list.setCurrentRow(max(0, min(at + step, self.list.count() - 1)))
                return True
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and at >= 0:
                self.on_item_chosen(self.list.item(at))
                return True
            if key == Qt.Key.Key_Escape:
                self._close()
                return True
        return super().eventFilter(watched, event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A thin edge, since it lies over other things."""
        painter = QPainter(self)
        painter.setPen(colours().edge)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()
