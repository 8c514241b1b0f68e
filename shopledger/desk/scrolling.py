"""A page of a form that scrolls."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QScrollArea, QWidget


class Page(QWidget):
    """What lies in a scrolling area, as high as its words are at the width they have."""

    def minimumSizeHint(self) -> QSize:
        """Nothing: the least height of wrapped words is that of a narrow column, and would have it scroll in vain."""
        return QSize(1, 1)


def scrolling(page: QWidget) -> QScrollArea:
    """Give an area in which a page scrolls up and down."""
    page.setAutoFillBackground(True)
    page.setBackgroundRole(QPalette.ColorRole.Base)
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(page)
    return area
