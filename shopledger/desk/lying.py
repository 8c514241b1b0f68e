"""What lies on the right side of a place, over the sheet: forms and papers have this in common."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget


class Lying(QWidget):
    """A page that was laid over the sheet and goes when it is left."""

    left = Signal()
    """The page is to go."""

    def touched(self) -> bool:
        """Whether leaving would lose something that was typed."""
        return False

    def take_keyboard(self) -> None:
        """Go to where one begins."""
        self.setFocus()

    def ask_to_leave(self) -> None:
        """Leave, or ask first where something would be lost."""
        self.left.emit()

    def put_away(self) -> None:
        """Let go of whatever is held; called once, before the page goes."""
