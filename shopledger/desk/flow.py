"""A layout that sets widgets in a line and goes on in the next line where the room ends, as words do."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class Flow(QLayout):
    """Widgets in reading order, line after line."""

    def __init__(self, parent: QWidget | None = None, *, across: int = 8, down: int = 8) -> None:
        """Keep `across` and `down` pixels between the widgets."""
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._across, self._down = across, down
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Append an item."""
        self._items.append(item)

    def count(self) -> int:
        """How many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """The item at an index, or None past the end."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take the item at an index out, or give None past the end."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It needs no more room than its widgets."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Fewer widgets in a line need more lines."""
        return True

    def heightForWidth(self, width: int) -> int:
        """The height of all lines at a width."""
        return self._lay(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Set the widgets into the room."""
        super().setGeometry(rect)
        self._lay(rect, move=True)

    def sizeHint(self) -> QSize:
        """All in one line."""
        hints = [item.sizeHint() for item in self._items]
        around = self.contentsMargins()
        width = sum(hint.width() for hint in hints) + self._across * max(len(hints) - 1, 0)
        height = max((hint.height() for hint in hints), default=0)
        return QSize(width, height).grownBy(around)

    def minimumSize(self) -> QSize:
        """The widest widget alone."""
        sizes = [item.minimumSize() for item in self._items]
        widest = max((size.width() for size in sizes), default=0)
        highest = max((size.height() for size in sizes), default=0)
        return QSize(widest, highest).grownBy(self.contentsMargins())

    def _lay(self, whole: QRect, *, move: bool) -> int:
        around = self.contentsMargins()
        room = whole.marginsRemoved(around)
        x, y, line = room.x(), room.y(), 0
        for item in self._items:
            widget = item.widget()
            if widget is not None and widget.isHidden():
                continue
            hint = item.sizeHint()
            if x > room.x() and x + hint.width() > room.right() + 1:
                x, y, line = room.x(), y + line + self._down, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), QSize(min(hint.width(), room.width()), hint.height())))
            x += hint.width() + self._across
            line = max(line, hint.height())
        return y + line - whole.y() + around.bottom()
