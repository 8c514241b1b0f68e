"""The photographs of one condition report, one at a time with their pins; the keys turn and open large."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import INPUT, button, label
from shopledger.desk.picture import pixels
from shopledger.desk.pinned import Pin, PinnedPhotograph
from shopledger.desk.shop import Shop
from shopledger.desk.thumbnails import want
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.queries.condition_pair import PinnedShot

LOWEST, HIGHEST = 300, 560
"""The least and the greatest height of the photograph, in pixels."""


class PinnedShots(QWidget):
    """Kept photographs with the pins of a report."""

    opened = Signal(int)
    """The photograph of this number, from 0, is to be seen large."""

    def __init__(self, shop: Shop, shots: Sequence[PinnedShot], about: str, name: str) -> None:
        """Be about these; `about` is the report, `name` makes the object names."""
        super().__init__()
        self._shop, self.shots, self._about = shop, tuple(shots), about
        self.at = 0
        """Which of the photographs is shown, from 0."""
        self.large = _Large()
        self.large.setObjectName(f"photograph.{name}")
        self.told = label("", font=sans(SMALL), tone="quiet")
        self.told.setMinimumHeight(INPUT)
        self.earlier_button = button(_("Previous"), f"earlier.{name}", weight="quiet")
        self.later_button = button(_("Next"), f"later.{name}", weight="quiet")
        self.earlier_button.setAccessibleName(_("Previous photograph of {about}").format(about=about))
        self.later_button.setAccessibleName(_("Next photograph of {about}").format(about=about))
        self.earlier_button.clicked.connect(lambda: self.turn(-1))
        self.later_button.clicked.connect(lambda: self.turn(1))
        foot = QHBoxLayout()
        foot.setSpacing(0)
        foot.addWidget(self.told, 1)
        foot.addWidget(self.earlier_button)
        foot.addWidget(self.later_button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(8)
        box.addWidget(self.large)
        box.addLayout(foot)
        self.large.turned.connect(self.turn)
        self.large.opened.connect(lambda: self.opened.emit(self.at))
        for made in (self.earlier_button, self.later_button):
            made.setVisible(len(self.shots) > 1)
        if self.shots:
            self.large.setCursor(Qt.CursorShape.PointingHandCursor)
        else:
            self.large.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            self.large.setAccessibleName(_("{about}: there is no photograph.").format(about=about))
            self.told.hide()

    def begin(self) -> None:
        """Show the first with a pin, else the first; called once it lies in the window."""
        if self.shots and not self.large.sha256:
            self._show(next((n for n, shot in enumerate(self.shots) if shot.pins), 0))

    def fit(self, height: int) -> None:
        """Draw the photograph so high, within bounds; those of two reports are equally high."""
        self.large.setFixedHeight(max(LOWEST, min(HIGHEST, height)))

    def turn(self, way: int) -> None:
        """Show the next photograph (1), or the one before (-1)."""
        to = self.at + way
        if 0 <= to < len(self.shots):
            self._show(to)

    def point_out(self, number: int) -> None:
        """Turn to the photograph with the pin of this number, and draw a ring around it; 0 takes the ring away."""
        self.large.pointed_out = number
        there = [n for n, shot in enumerate(self.shots) if any(pin[0] == number for pin in shot.pins)]
        if there and self.at not in there:
            self._show(there[0])
        self.large.update()

    def _show(self, at: int) -> None:
        self.at, shot = at, self.shots[at]
        day = show_day(shot.on, self._shop.ledger.manners)
        numbered = _("Photograph {n} of {of}").format(n=at + 1, of=len(self.shots))
        words = ", ".join(part for part in (numbered, shot.caption, day) if part)
        self.told.setText(words)
        self.large.show_photograph(shot.sha256, f"{self._about}. {words}")
        self.large.pins = [(n, Pin(shot.sha256, x, y)) for n, x, y in shot.pins]
        stand = ", ".join(str(pin[0]) for pin in shot.pins) or "\u2013"
        self.large.setAccessibleDescription(
            _("Pins on it: {pins}. The page keys turn, Return opens it large.").format(pins=stand)
        )
        # Pressed as often as one likes, a button that ends stays where it is, and only does nothing more.
        self.earlier_button.setEnabled(at > 0 or self.earlier_button.hasFocus())
        self.later_button.setEnabled(at + 1 < len(self.shots) or self.later_button.hasFocus())

        def made(image: QImage) -> None:
            if self.large.sha256 == shot.sha256:
                self.large.show_image(image)

        # As large as it is ever drawn, so that a window that grows asks for nothing.
        room = pixels(QSize(2 * HIGHEST, HIGHEST), self)
        found = want(self, self._shop, shot.sha256, room, made)
        if found is not None:
            made(found)


class _Large(PinnedPhotograph):
    """The photograph that is shown."""

    turned = Signal(int)
    opened = Signal()

    def __init__(self) -> None:
        super().__init__(LOWEST)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The arrows and the page keys turn, Return opens it large."""
        key = event.key()
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
        elif key in {Qt.Key.Key_Left, Qt.Key.Key_PageUp, Qt.Key.Key_Right, Qt.Key.Key_PageDown}:
            self.turned.emit(-1 if key in {Qt.Key.Key_Left, Qt.Key.Key_PageUp} else 1)
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self.opened.emit()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Open it large where it was clicked."""
        if (
            self.sha256
            and self.room().contains(event.position())
            and event.button() is Qt.MouseButton.LeftButton
        ):
            self.opened.emit()
