"""A photograph with numbered pins on it, as large as there is room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFocusEvent, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.palette import colours
from shopledger.quantities.words import _

FULL = 10_000
"""The width and height of a photograph, in the units of a pin."""
RADIUS = 10.0


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a mark stands: on the photograph of this SHA-256, from its left and from above, in units of a pin."""

    sha256: str
    x: int
    y: int


class PinnedPhotograph(QWidget):
    """One photograph with its pins; empty until its image comes."""

    def __init__(self, height: int) -> None:
        """Begin without a photograph, at this height in pixels."""
        super().__init__()
        self.sha256 = ""
        """Which photograph is shown."""
        self.image: QImage | None = None
        self.pins: Sequence[tuple[int, Pin]] = ()
        """Those that stand on this photograph, each with its number."""
        self.pointed_out = 0
        """The number of the pin that is drawn with a ring around it."""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(height)

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(self.height(), self.height())

    def show_photograph(self, sha256: str, name: str) -> None:
        """Be about another photograph, whose image comes later."""
        self.sha256, self.image, self.pins = sha256, None, ()
        self.setAccessibleName(name)
        self.update()

    def show_image(self, image: QImage) -> None:
        """Show the photograph; an empty image where its file can't be shown."""
        self.image = image
        self.update()

    def room(self) -> QRectF:
        """Give where the photograph lies, at the left of the widget."""
        room = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        if self.image is None or self.image.isNull():
            return room
        size = self.image.size().scaled(room.size().toSize(), Qt.AspectRatioMode.KeepAspectRatio)
        return QRectF(room.x(), room.y() + (room.height() - size.height()) / 2, size.width(), size.height())

    def point(self, x: int, y: int) -> QPointF:
        """Give where a place of the photograph is drawn."""
        room = self.room()
        return QPointF(room.x() + room.width() * x / FULL, room.y() + room.height() * y / FULL)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keyboard is."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show it no longer."""
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the photograph, its pins, and whether the keyboard is here."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        palette = colours()
        if self.image is None or self.image.isNull():
            painter.setFont(sans(SMALL))
            painter.setPen(QColor(palette.quiet))
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(self.room(), flags, self._words())
        else:
            painter.drawImage(self.room(), self.image)
        for number, pin in self.pins:
            self._paint_pin(painter, number, self.point(pin.x, pin.y))
        if self.hasFocus():
            self.paint_keyboard(painter)
            painter.setPen(QPen(QColor(palette.varnish), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.room())
        painter.end()

    def _words(self) -> str:
        if not self.sha256:
            return _("There is no photograph.")
        if self.image is None:
            return _("The photograph comes in a moment.")
        return _("This photograph's file is missing or damaged.")

    def paint_keyboard(self, painter: QPainter) -> None:
        """Draw what the keyboard does here, beside the frame."""

    def _paint_pin(self, painter: QPainter, number: int, middle: QPointF) -> None:
        palette = colours()
        if number == self.pointed_out:
            # Light around dark, so that it is seen on any photograph.
            for colour, width in ((palette.sheet, 5.0), (palette.varnish, 2.5)):
                painter.setPen(QPen(QColor(colour), width))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(middle, RADIUS + 5, RADIUS + 5)
        painter.setFont(sans(SMALL, strong=True))
        painter.setPen(QPen(QColor(palette.sheet), 2))
        painter.setBrush(QColor(palette.varnish))
        painter.drawEllipse(middle, RADIUS, RADIUS)
        painter.setPen(QColor(palette.sheet))
        box = QRectF(middle.x() - 2 * RADIUS, middle.y() - RADIUS, 4 * RADIUS, 2 * RADIUS)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(number))
