"""A line of the page of the day: what waits and why, its day and its amount; opening it shows the thing itself."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from shopledger.desk.chips import MARK, paint_shape
from shopledger.desk.fonts import SMALL, TEXT, sans
from shopledger.desk.labels import CELL, tip
from shopledger.desk.palette import colours
from shopledger.quantities.manners import Manners
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import _
from shopledger.queries.due_lines import DueLine
from shopledger.queries.shapes import Shape, Tone

HEIGHT = 48
DAY_PX, AMOUNT_PX = 96, 110


class DueRow(QAbstractButton):
    """One line; the words that find no room are cut with a sign and stand whole in the tooltip."""

    def __init__(self, line: DueLine, manners: Manners) -> None:
        """Show this line in these manners."""
        super().__init__()
        self.line = line
        self.setObjectName(f"due.{line.subject.value}.{line.key}")
        self._day = "" if line.on is None else show_day(line.on, manners)
        self._amount = "" if line.amount is None else show_amount(line.amount, manners, dash=False)
        late = _("late") if line.tone is Tone.LATE else ""
        told = [line.what, line.says, self._day, self._amount, late]
        self.setAccessibleName(", ".join(part for part in told if part))
        self.setToolTip(tip(f"{line.what}. {line.says}"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedHeight(HEIGHT)
        self.setMinimumWidth(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(480, HEIGHT)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the arrows to the page, which goes from line to line."""
        if event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            event.ignore()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the shape of its urgency, the words in two lines, the day and the amount in columns."""
        painter = QPainter(self)
        palette = colours()
        late = self.line.tone is Tone.LATE
        colour = palette.tone(self.line.tone)
        middle = self.height() // 2
        shape = Shape.TRIANGLE if late else Shape.HALF
        paint_shape(painter, shape, QRect(0, middle - MARK // 2 - 9, MARK, MARK).toRectF(), colour)
        right = self.width()
        amount = QRect(right - AMOUNT_PX, 4, AMOUNT_PX, middle - 4)
        day = QRect(amount.left() - CELL - DAY_PX, 4, DAY_PX, middle - 4)
        left = MARK + CELL
        what = QRect(left, 4, day.left() - CELL - left, middle - 4)
        says = QRect(left, middle, right - left, middle - 4)
        ink = QColor(palette.varnish if self.underMouse() else palette.ink)
        self._words(painter, what, self.line.what, ink, TEXT)
        self._words(painter, says, self.line.says, QColor(palette.quiet), SMALL)
        self._words(painter, day, self._day, colour if late else QColor(palette.quiet), SMALL, right=True)
        self._words(painter, amount, self._amount, ink, TEXT, right=True)
        if self.hasFocus():
            painter.setPen(QPen(QColor(palette.varnish), 2))
            painter.drawLine(left, self.height() - 2, right, self.height() - 2)
        painter.end()

    @staticmethod
    def _words(
        painter: QPainter, room: QRect, words: str, colour: QColor, size: int, *, right: bool = False
    ) -> None:
        painter.setFont(sans(size))
        painter.setPen(colour)
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        cut = QFontMetrics(painter.font()).elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, int(side | Qt.AlignmentFlag.AlignVCenter), cut)
