"""The photographs of a form one at a time, large enough to set pins on, with what turns from one to the next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import button, label
from shopledger.desk.picture import pixels
from shopledger.desk.pin_board import HEIGHT, PinBoard
from shopledger.desk.pinned import Pin
from shopledger.desk.shop import Shop
from shopledger.desk.thumbnails import want
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.store.prepared import PreparedPicture


class Pinning(QWidget):
    """One photograph with its pins, and which of how many it is."""

    placed = Signal(object)
    """A pin is to stand there; a Pin."""
    removed = Signal(str)
    """A pin is to go from the photograph of this SHA-256."""
    turned = Signal()
    """Another photograph is shown."""

    def __init__(self, shop: Shop, path: str) -> None:
        """Begin without photographs, and unseen; `path` leads to the input that it belongs to."""
        super().__init__()
        self._shop = shop
        self.photographs: tuple[PreparedPicture, ...] = ()
        self.at = 0
        """Which of the photographs is shown, from 0."""
        self.board = PinBoard()
        self.board.setObjectName(f"pins.{path}")
        self.told = label("", font=sans(SMALL), tone="quiet")
        self.earlier_button = button(_("Previous photograph"), f"earlier.{path}", weight="quiet")
        self.later_button = button(_("Next photograph"), f"later.{path}", weight="quiet")
        self.earlier_button.clicked.connect(self.on_earlier_clicked)
        self.later_button.clicked.connect(self.on_later_clicked)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self.told, 1)
        foot.addWidget(self.earlier_button, 0, Qt.AlignmentFlag.AlignTop)
        foot.addWidget(self.later_button, 0, Qt.AlignmentFlag.AlignTop)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(8)
        box.addWidget(self.board)
        box.addLayout(foot)
        self.board.placed.connect(self.on_placed)
        self.board.removed.connect(self.on_removed)
        self.board.turned.connect(self.turn)
        self.hide()

    @property
    def here(self) -> PreparedPicture | None:
        """The photograph that is shown; None where there is none."""
        return self.photographs[self.at] if self.photographs else None

    def number_of(self, pin: Pin) -> int:
        """Give which photograph a pin stands on, from 1; 0 where it is gone."""
        return next((n for n, one in enumerate(self.photographs, 1) if one.sha256 == pin.sha256), 0)

    def show_photographs(self, photographs: Sequence[PreparedPicture]) -> None:
        """Have these to set pins on; the one that is shown stays as long as it is among them."""
        here, at = self.here, self.at
        self.photographs = tuple(photographs)
        kept = [n for n, one in enumerate(self.photographs) if here is not None and one.sha256 == here.sha256]
        self._show(kept[0] if kept else at)
        self.setVisible(bool(self.photographs))

    def show_pins(self, pins: Sequence[tuple[int, Pin]], said: str, number: int) -> None:
        """Show those of the pins that stand on this photograph; `said` is what a click does, `number` its pin."""
        here = self.here
        if here is None:
            return
        self.board.show_pins([(n, pin) for n, pin in pins if pin.sha256 == here.sha256], number)
        self.told.setText(
            _("Photograph {n} of {of}, {name}. {said}").format(
                n=self.at + 1, of=len(self.photographs), name=here.name, said=said
            )
        )

    def _show(self, at: int) -> None:
        self.at = max(0, min(at, len(self.photographs) - 1))
        here = self.here
        if here is None:
            self.board.show_photograph("", _("Pins"))
            return
        for made, can in (
            (self.earlier_button, self.at > 0),
            (self.later_button, self.at + 1 < len(self.photographs)),
        ):
            made.setVisible(len(self.photographs) > 1)
            made.setEnabled(can)
        if here.sha256 == self.board.sha256:
            return
        self.board.show_photograph(here.sha256, _("Pins on {name}").format(name=here.name))

        def made_small(image: QImage) -> None:
            # One that comes when another was turned to is of no use any more.
            if self.board.sha256 == here.sha256:
                self.board.show_image(image)

        # The same size whatever room there is, so that a window that grows asks for nothing.
        room = pixels(QSize(2 * HEIGHT, HEIGHT), self)
        found = want(self, self._shop, here.sha256, room, made_small, here.path.read_bytes)
        if found is not None:
            made_small(found)

    def go_to(self, pin: Pin) -> None:
        """Show the photograph of a pin, the keyboard's cross on it."""
        self.board.at = (pin.x, pin.y)
        self._show(self.number_of(pin) - 1)
        self.turned.emit()

    def turn(self, way: int) -> None:
        """Show the next photograph (1), or the one before (-1)."""
        focused = self.earlier_button.hasFocus() or self.later_button.hasFocus()
        self._show(self.at + way)
        # A button that can't be pressed any more loses the keyboard.
        if focused and not (self.earlier_button if way < 0 else self.later_button).isEnabled():
            self.board.setFocus(Qt.FocusReason.OtherFocusReason)
        self.turned.emit()

    def on_earlier_clicked(self) -> None:
        """Show the one before."""
        self.turn(-1)

    def on_later_clicked(self) -> None:
        """Show the next."""
        self.turn(1)

    def on_placed(self, x: int, y: int) -> None:
        """Hand on where a pin is to stand."""
        if self.here is not None:
            self.placed.emit(Pin(self.here.sha256, x, y))

    def on_removed(self) -> None:
        """Hand on where a pin is to go."""
        if self.here is not None:
            self.removed.emit(self.here.sha256)
