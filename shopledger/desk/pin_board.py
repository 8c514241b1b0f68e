"""A photograph on which numbered pins are set, by a click or with the arrow keys and Return."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.palette import colours
from shopledger.quantities.words import _

FULL = 10_000
"""The width and height of a photograph, in the units of a pin."""
HEIGHT = 340
RADIUS = 10.0
_STEP, _FINE = 250, 50
"""How far an arrow key goes, and with Shift, in the units of a pin."""
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a mark stands: on the photograph of this SHA-256, from its left and from above, in units of a pin."""

    sha256: str
    x: int
    y: int


class PinBoard(QWidget):
    """One photograph with its pins."""

    placed = Signal(int, int)
    """(x, y): a pin is to stand there."""
    removed = Signal()
    """A pin is to go."""
    turned = Signal(int)
    """The next photograph is wanted (1), or the one before (-1)."""

    def __init__(self) -> None:
        """Begin without a photograph."""
        super().__init__()
        self.sha256 = ""
        """Which photograph is shown."""
        self.image: QImage | None = None
        self.pins: Sequence[tuple[int, Pin]] = ()
        """Those that stand on this photograph, each with its number."""
        self.next = 1
        """The number of the pin that is set next."""
        self.at = (FULL // 2, FULL // 2)
        """Where the keyboard would set it."""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(HEIGHT)

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(HEIGHT, HEIGHT)

    def show_photograph(self, sha256: str, name: str) -> None:
        """Be about another photograph, whose image comes later."""
        self.sha256, self.image, self.pins = sha256, None, ()
        self.setAccessibleName(_("Pins on {name}").format(name=name))
        self.update()

    def show_image(self, image: QImage) -> None:
        """Show the photograph; an empty image where its file can't be shown."""
        self.image = image
        self.update()

    def show_pins(self, pins: Sequence[tuple[int, Pin]], number: int) -> None:
        """Show the pins of the photograph, and the number of the one that is set next."""
        self.pins, self.next = pins, number
        stand = ", ".join(str(n) for n, _pin in pins) or "\u2013"
        self.setAccessibleDescription(
            _("On it: {pins}. The arrow keys move, Return sets pin {n}, Page Down turns to the next photograph.")
            .format(pins=stand, n=number)
        )  # fmt: skip
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

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Set a pin where the photograph was clicked."""
        room, point = self.room(), event.position()
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if self.sha256 and room.contains(point) and event.button() is Qt.MouseButton.LeftButton:
            x = round((point.x() - room.x()) / room.width() * FULL)
            y = round((point.y() - room.y()) / room.height() * FULL)
            self.at = (x, y)
            self.placed.emit(x, y)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The arrows move, finely with Shift; Return sets the pin, Delete takes it away, the page keys turn."""
        key = Qt.Key(event.key())
        pressed = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if key in _ARROWS and pressed in {Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier}:
            step = _FINE if pressed else _STEP
            x, y = (max(0, min(FULL, at + step * way)) for at, way in zip(self.at, _ARROWS[key], strict=True))
            self.at = (x, y)
            self.update()
        elif pressed:
            super().keyPressEvent(event)
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self.placed.emit(*self.at)
        elif key in {Qt.Key.Key_Delete, Qt.Key.Key_Backspace}:
            self.removed.emit()
        elif key in {Qt.Key.Key_PageDown, Qt.Key.Key_PageUp}:
            self.turned.emit(1 if key == Qt.Key.Key_PageDown else -1)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keyboard is."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show it no longer."""
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the photograph, its pins, and where the keyboard would set one."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        palette = colours()
        if self.image is None or self.image.isNull():
            painter.setFont(sans(SMALL))
            painter.setPen(QColor(palette.quiet))
            words = (
                _("The photograph comes in a moment.")
                if self.image is None
                else _("This photograph's file is missing or damaged.")
            )
            painter.drawText(self.room(), Qt.AlignmentFlag.AlignCenter, words)
        else:
            painter.drawImage(self.room(), self.image)
        paint_pins(painter, [(str(n), self.point(pin.x, pin.y)) for n, pin in self.pins])
        if self.hasFocus():
            middle = self.point(*self.at)
            # Dark on light, so that it is seen on any photograph.
            for colour, width in ((palette.sheet, 3.0), (palette.varnish, 1.0)):
                painter.setPen(QPen(QColor(colour), width))
                painter.drawLine(middle - QPointF(14, 0), middle + QPointF(14, 0))
                painter.drawLine(middle - QPointF(0, 14), middle + QPointF(0, 14))
            painter.setPen(QPen(QColor(palette.varnish), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.room())
        painter.end()


def paint_pins(painter: QPainter, pins: Sequence[tuple[str, QPointF]]) -> None:
    """Draw numbered pins, each a disc on the place that it marks."""
    palette = colours()
    painter.setFont(sans(SMALL, strong=True))
    for number, middle in pins:
        painter.setPen(QPen(QColor(palette.sheet), 2))
        painter.setBrush(QColor(palette.varnish))
        painter.drawEllipse(middle, RADIUS, RADIUS)
        painter.setPen(QColor(palette.sheet))
        box = QRectF(middle.x() - 2 * RADIUS, middle.y() - RADIUS, 4 * RADIUS, 2 * RADIUS)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, number)
