"""A part of a form that is folded away: its heading tells what stands in it, and opens it by a click or a key."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QPolygonF
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout, QWidget

from shopledger.desk.fonts import SMALL, TEXT, sans
from shopledger.desk.labels import CELL, GROUP, Hairline
from shopledger.desk.palette import colours
from shopledger.quantities.words import _

_ARROW = 16
"""The room of the drawn arrow before the words, in pixels."""


class _Head(QPushButton):
    """The heading: an arrow that lies or hangs, the words, and in quiet ink behind them what stands inside."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self.told = ""
        self.setCheckable(True)
        self.setAutoDefault(False)
        self.setFont(sans(TEXT, True))
        self.setProperty("weight", "row")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(32)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the arrow, for which the fonts have no glyph, and cut what is told where the room ends."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        role = QPalette.ColorRole
        ink = colours().varnish if self.hasFocus() or self.underMouse() else self.palette().color(role.Text)
        painter.setPen(ink)
        painter.setBrush(ink)
        middle = self.height() / 2
        lies = ((2, -4), (7, 0), (2, 4))
        hangs = ((0, -2), (8, -2), (4, 3))
        points = hangs if self.isChecked() else lies
        painter.drawPolygon(QPolygonF([QPointF(x, middle + y) for x, y in points]))
        painter.setFont(self.font())
        metrics = painter.fontMetrics()
        room = self.rect().adjusted(_ARROW, 0, 0, 0)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(
            room, flags, metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, room.width())
        )
        used = metrics.horizontalAdvance(self.text()) + CELL
        if self.told and not self.isChecked() and room.width() > used:
            painter.setFont(sans(SMALL))
            painter.setPen(colours().quiet)
            behind = room.adjusted(used, 0, 0, 0)
            told = painter.fontMetrics().elidedText(self.told, Qt.TextElideMode.ElideRight, behind.width())
            painter.drawText(behind, flags, told)
        if self.hasFocus():
            painter.fillRect(0, self.height() - 2, self.width(), 2, colours().varnish)
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return opens and closes it as the space bar does."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and not event.modifiers():
            self.click()
        else:
            super().keyPressEvent(event)


class Fold(QWidget):
    """One part of a form under its heading."""

    toggled = Signal(bool)

    def __init__(self, words: str, inside: QWidget, name: str, parent: QWidget | None = None) -> None:
        """Fold `inside` away under its words; `name` makes the object name of its heading."""
        super().__init__(parent)
        self.setObjectName(f"fold.{name}")
        self.head = _Head(words)
        self.head.setObjectName(f"open.{name}")
        self.head.setAccessibleName(words)
        self.inside = inside
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.head)
        box.addWidget(Hairline())
        box.addWidget(inside)
        inside.setContentsMargins(0, CELL, 0, GROUP)
        inside.hide()
        self.head.toggled.connect(self.on_toggled)
        self.tell("")

    @property
    def is_open(self) -> bool:
        """Whether what is inside can be seen."""
        return self.head.isChecked()

    def open(self) -> None:
        """Show what is inside."""
        self.head.setChecked(True)

    def tell(self, told: str) -> None:
        """Say in the heading what stands inside."""
        self.head.told = told
        state = _("open") if self.is_open else _("folded")
        self.head.setAccessibleDescription(f"{state}. {told}" if told else state)
        self.head.update()

    def on_toggled(self, is_open: bool) -> None:
        """Show what is inside, or fold it away."""
        self.inside.setVisible(is_open)
        self.tell(self.head.told)
        self.toggled.emit(is_open)


def open_around(widget: QWidget) -> None:
    """Open every fold that a widget lies in, so that it can be seen."""
    parent = widget.parentWidget()
    while parent is not None:
        if isinstance(parent, Fold):
            parent.open()
        parent = parent.parentWidget()
