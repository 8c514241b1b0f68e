"""What the views over the sheet have in common: a line with Back and a title at their head, which Escape leaves too."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from shopledger.desk.labels import CELL, GROUP, Hairline, button, label
from shopledger.desk.lying import Lying
from shopledger.quantities.words import _


class View(Lying):
    """A page over the sheet that is looked at rather than filled in."""

    def headed(self, title: QLabel, about: str = "", end: QPushButton | None = None) -> QVBoxLayout:
        """Lay the line at the head and give the layout of the page, for what comes under it.

        Shape:  `about` says quietly what the page is about; `end` stands at the far end of the line.
        """
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        line = QHBoxLayout()
        line.setContentsMargins(GROUP, CELL, GROUP, CELL)
        self.back_button = button(_("Back"), "back", weight="quiet")
        self.back_button.clicked.connect(self.left)
        line.addWidget(self.back_button)
        line.addSpacing(CELL)
        line.addWidget(title, 0 if about else 1)
        if about:
            line.addSpacing(CELL)
            line.addWidget(label(about, tone="quiet"), 1)
        if end is not None:
            line.addWidget(end)
        page.addLayout(line)
        page.addWidget(Hairline())
        escape = QShortcut("Escape", self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
        escape.activated.connect(self.left)
        return page
