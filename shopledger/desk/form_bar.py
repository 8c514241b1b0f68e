"""The foot of a form: what stands against the act as a whole, its buttons, and the question before typing is lost."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.labels import CELL, GROUP, button, label, retone
from shopledger.desk.shop import AnyAct
from shopledger.quantities.words import _


class FormBar(QWidget):
    """The buttons of an act's form."""

    def __init__(self, act: AnyAct) -> None:
        """Offer to do the act, to see its papers where it leaves any, and to leave."""
        super().__init__()
        box = QVBoxLayout(self)
        box.setContentsMargins(GROUP, CELL, GROUP, CELL)
        box.setSpacing(8)
        self.error = label("", tone="madder")
        self.error.setObjectName("error")
        self.error.hide()
        box.addWidget(self.error)
        self.do = button(_(act.text), "do", weight="main")
        self.do.setToolTip(_("Ctrl+Return"))
        self.paper = button(_("Show the paper"), "show_paper")
        self.paper.setToolTip(_("Ctrl+D: see it before it is issued"))
        self.leave = button(_("Leave the form"), "leave", weight="quiet")
        self._asking = label(_("What you typed here will be gone."), wrap=False)
        self.stay = button(_("Go on typing"), "stay")
        self.drop = button(_("Leave all the same"), "drop", weight="quiet")
        self._has_paper = bool(act.papers)
        line = QHBoxLayout()
        line.setSpacing(8)
        for widget in (self.do, self.paper, self.leave, self._asking, self.stay, self.drop):
            line.addWidget(widget)
        line.addStretch(1)
        box.addLayout(line)
        self.paper.setHidden(not self._has_paper)
        for widget in (self._asking, self.stay, self.drop):
            widget.hide()

    @property
    def asks(self) -> bool:
        """Whether the question stands there."""
        return not self._asking.isHidden()

    def ask(self, asking: bool) -> None:
        """Ask whether what was typed may go, in place of the other buttons, or take the question back."""
        for widget in (self._asking, self.stay, self.drop):
            widget.setVisible(asking)
        for widget in (self.do, self.leave):
            widget.setVisible(not asking)
        self.paper.setVisible(self._has_paper and not asking)

    def say(self, words: str, tone: str = "madder") -> None:
        """Say over the buttons what is about the whole form."""
        self.error.setText(words)
        retone(self.error, tone)
        self.error.show()

    def set_busy(self, busy: bool) -> None:
        """Let nothing be pressed while the act is under way."""
        for widget in (self.do, self.paper, self.leave):
            widget.setEnabled(not busy)
