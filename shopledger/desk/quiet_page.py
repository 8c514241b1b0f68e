"""A page of words that scrolls where the window is too low for it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.fonts import TITLE, serif
from shopledger.desk.labels import CELL, GROUP, label
from shopledger.quantities.words import _

_LINE_PX = 560
"""How long a line of words may be."""


class QuietPage(QScrollArea):
    """A title and some sentences under it; more can be laid under those, into `box`."""

    def __init__(self, name: str, title: str, sentences: Sequence[str]) -> None:
        """Say these marked sentences."""
        super().__init__()
        self.setObjectName(f"place.{name}")
        self.setAccessibleName(title)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        page = QWidget()
        self.box = QVBoxLayout(page)
        self.box.setContentsMargins(GROUP, GROUP, GROUP, GROUP)
        self.box.setSpacing(CELL)
        self.box.addWidget(label(title, font=serif(TITLE)))
        for sentence in sentences:
            self.add_words(sentence)
        self.setWidget(page)

    def add_words(self, sentence: str) -> None:
        """Say one more marked sentence."""
        said = label(_(sentence), tone="quiet")
        said.setMaximumWidth(_LINE_PX)
        self.box.addWidget(said)
