"""A photograph on which numbered pins are set, by a click or with the arrow keys and Return."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from shopledger.desk.palette import colours
from shopledger.desk.pinned import FULL, Pin, PinnedPhotograph
from shopledger.quantities.words import _

HEIGHT = 340
_STEP, _FINE = 250, 50
"""How far an arrow key goes, and with Shift, in the units of a pin."""
_ARM = 14
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class PinBoard(PinnedPhotograph):
    """One photograph that takes pins."""

    placed = Signal(int, int)
    """(x, y): a pin is to stand there."""
    removed = Signal()
    """A pin is to go."""
    turned = Signal(int)
    """The next photograph is wanted (1), or the one before (-1)."""

    def __init__(self) -> None:
        """Begin without a photograph."""
        super().__init__(HEIGHT)
        self.at = (FULL // 2, FULL // 2)
        """Where the keyboard would set a pin."""
        self.setCursor(Qt.CursorShape.CrossCursor)

    def show_pins(self, pins: Sequence[tuple[int, Pin]], number: int) -> None:
        """Show the pins of the photograph; `number` is that of the pin which is set next."""
        self.pins = pins
        stand = ", ".join(str(n) for n, _pin in pins) or "\u2013"
        self.setAccessibleDescription(
            _("On it: {pins}. The arrow keys move, Return sets pin {n}, Page Down turns to the next photograph.")
            .format(pins=stand, n=number)
        )  # fmt: skip
        self.update()

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

    def paint_keyboard(self, painter: QPainter) -> None:
        """Draw the cross where the keyboard would set a pin."""
        palette, middle = colours(), self.point(*self.at)
        for colour, width in ((palette.sheet, 3.0), (palette.varnish, 1.0)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawLine(middle - QPointF(_ARM, 0), middle + QPointF(_ARM, 0))
            painter.drawLine(middle - QPointF(0, _ARM), middle + QPointF(0, _ARM))
