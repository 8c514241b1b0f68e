"""The chip of a state: a short word in a thin outline with a small drawn shape before it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.palette import colours
from shopledger.quantities.words import _
from shopledger.queries.shapes import Shape, State

HEIGHT = 20
MARK = 9
"""Width and height of the drawn shape."""
_SIDE = 8
_GAP = 6


def chip_width(state: State) -> float:
    """Give how wide the chip of a state is."""
    mark = 0 if state.shape is Shape.NONE else MARK + _GAP
    return 2 * _SIDE + mark + QFontMetricsF(sans(SMALL)).horizontalAdvance(_(state.word))


def paint_shape(painter: QPainter, shape: Shape, box: QRectF, colour: QColor) -> None:
    """Draw the shape of a state into a box."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, 1.5))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inner = box.adjusted(0.75, 0.75, -0.75, -0.75)
    if shape is Shape.DISC:
        painter.setBrush(colour)
        painter.drawEllipse(inner)
    elif shape is Shape.RING:
        painter.drawEllipse(inner)
    elif shape is Shape.HALF:
        painter.drawEllipse(inner)
        half = QPainterPath()
        half.moveTo(inner.center())
        half.arcTo(inner, 90, 180)
        half.closeSubpath()
        painter.fillPath(half, colour)
    elif shape is Shape.LOZENGE:
        middle = inner.center()
        painter.setBrush(colour)
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(middle.x(), inner.top()),
                    QPointF(inner.right(), middle.y()),
                    QPointF(middle.x(), inner.bottom()),
                    QPointF(inner.left(), middle.y()),
                ]
            )
        )
    elif shape is Shape.TRIANGLE:
        painter.setBrush(colour)
        painter.drawPolygon(
            QPolygonF([QPointF(inner.center().x(), inner.top()), inner.bottomRight(), inner.bottomLeft()])
        )
    painter.restore()


def paint_chip(painter: QPainter, state: State, room: QRectF) -> None:
    """Draw the chip at the left of the room, in its middle; a word too long for the room is cut with a sign."""
    colour = colours().tone(state.tone)
    width = min(chip_width(state), room.width())
    outline = QRectF(room.left(), room.center().y() - HEIGHT / 2, width, HEIGHT)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colours().wash(colour, 0.55), 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(outline.adjusted(0.5, 0.5, -0.5, -0.5), HEIGHT / 2, HEIGHT / 2)
    left = outline.left() + _SIDE
    if state.shape is not Shape.NONE:
        paint_shape(painter, state.shape, QRectF(left, outline.center().y() - MARK / 2, MARK, MARK), colour)
        left += MARK + _GAP
    painter.setPen(colour)
    painter.setFont(sans(SMALL))
    words = QRectF(left, outline.top(), outline.right() - left - 4, HEIGHT)
    shown = painter.fontMetrics().elidedText(
        _(state.word), Qt.TextElideMode.ElideRight, int(words.width()) + 1
    )
    painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), shown)
    painter.restore()


class Chip(QWidget):
    """A chip as a widget of its own, for a sheet."""

    def __init__(self, state: State, parent: QWidget | None = None) -> None:
        """Show this state."""
        super().__init__(parent)
        self.state = state
        self.setObjectName("chip")
        self.setAccessibleName(_(state.word))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As wide as its word."""
        return QSize(int(chip_width(self.state)) + 2, HEIGHT + 2)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the chip."""
        painter = QPainter(self)
        paint_chip(painter, self.state, QRectF(self.rect()))
        painter.end()
