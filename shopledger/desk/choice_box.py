"""The box of a choice: its word cut with a sign where it is too long, and a small triangle that tells what it is."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QComboBox, QStyle, QStyleOptionComboBox, QStylePainter

from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.labels import INPUT
from shopledger.desk.palette import colours

_ARROW = 7


class ChoiceBox(QComboBox):
    """A box that a turning wheel changes only while it has the keyboard, so that scrolling a form alters nothing."""

    def __init__(self) -> None:
        """Start without choices."""
        super().__init__()
        self.setFont(sans(TEXT))
        self.setFixedHeight(INPUT)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(8)
        self.currentTextChanged.connect(self.setToolTip)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn only with the keyboard here."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line, the word and the triangle."""
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        room = self.width() - _ARROW - 9
        option.currentText = self.fontMetrics().elidedText(
            self.currentText(), Qt.TextElideMode.ElideRight, room
        )
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
        right, middle = self.width() - 2, self.height() / 2 - 1
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colours().wash(colours().quiet, 1))
        corners = (right - _ARROW, middle - 2), (right, middle - 2), (right - _ARROW / 2, middle + 3)
        painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))
        painter.end()
