"""A page of a few words, with the acts they speak of as buttons."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QVBoxLayout, QWidget

from shopledger.desk.flow import Flow
from shopledger.desk.fonts import TITLE, serif
from shopledger.desk.labels import CELL, GROUP, button, label
from shopledger.desk.shop import AnyAct
from shopledger.quantities.words import _


class WordsPage(QWidget):
    """Some words where a sheet would be."""

    act_wanted = Signal(object)

    def __init__(self, title: str, words: str, acts: tuple[AnyAct, ...] = (), tone: str = "quiet") -> None:
        """Say these words; `acts` become buttons under them."""
        super().__init__()
        self.setObjectName("words")
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        box = QVBoxLayout(self)
        box.setContentsMargins(GROUP, GROUP, GROUP, GROUP)
        box.setSpacing(CELL)
        if title:
            box.addWidget(label(title, font=serif(TITLE)))
        said = label(words, tone=tone)
        said.setMaximumWidth(480)
        box.addWidget(said)
        row = QWidget()
        flow = Flow(row)
        for act in acts:
            made = button(_(act.text), f"act.{act.name}", weight="main")
            made.clicked.connect(lambda _checked=False, act=act: self.act_wanted.emit(act))
            flow.addWidget(made)
        box.addWidget(row)
        box.addStretch(1)
