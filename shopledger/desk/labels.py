"""Small makers of labels, buttons and lines, so that all words are plain text and all spaces are steps of four."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QFrame, QLabel, QLineEdit, QPushButton, QSizePolicy, QWidget

from shopledger.desk.fonts import TEXT, sans

STEP = 4
CELL = 12
GROUP = 24
ROW = 32
INPUT = 28
"""Heights of a row and of an input of one line, in pixels."""


def label(
    text: str, *, font: QFont | None = None, tone: str = "", wrap: bool = True, select: bool = False
) -> QLabel:
    """Give a label of plain text; `tone` is a colour's name in the palette, `select` lets the words be copied."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setFont(font or sans(TEXT))
    if tone:
        made.setProperty("tone", tone)
    if wrap:
        made.setWordWrap(True)
        # A long word may not widen the page: it is cut rather than the window made to scroll sideways.
        made.setMinimumWidth(1)
        made.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    if select:
        made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        made.setCursor(Qt.CursorShape.IBeamCursor)
    return made


def retone(made: QLabel, tone: str) -> None:
    """Change the tone of a label that is already shown."""
    if made.property("tone") != tone:
        made.setProperty("tone", tone)
        made.style().unpolish(made)
        made.style().polish(made)


def button(text: str, name: str, *, weight: str = "") -> QPushButton:
    """Give a button with an object name; weight is "main", "quiet", "view", "row" or that of an ordinary act."""
    made = QPushButton(text.replace("&", "&&"))
    made.setObjectName(name)
    made.setAccessibleName(text)
    made.setFont(sans(TEXT))
    made.setAutoDefault(False)
    if weight:
        made.setProperty("weight", weight)
    return made


def line_edit(name: str = "", parent: QWidget | None = None) -> QLineEdit:
    """Give a line to type in whose words start where its underline does."""
    made = QLineEdit(parent)
    made.setFont(sans(TEXT))
    made.setObjectName(name)
    # Qt keeps two pixels on either side of the text that no style sheet can take away.
    made.setTextMargins(-2, 0, -2, 0)
    made.setFixedHeight(INPUT)
    return made


class Hairline(QFrame):
    """A thin line across, in the palette's hairline."""

    def __init__(self, parent: QWidget | None = None, *, upright: bool = False) -> None:
        """Lay the line across, or upright."""
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAutoFillBackground(True)
        self.setBackgroundRole(self.palette().ColorRole.Mid)
        if upright:
            self.setFixedWidth(1)
        else:
            self.setFixedHeight(1)

    def sizeHint(self) -> QSize:
        """One pixel, as long as there is room."""
        return QSize(1, 1)


def tip(text: str) -> str:
    """Give words for a tooltip: Qt reads tooltips as rich text where they look like it, so they are escaped."""
    # Loaded with the first tip: its list of named letters is as slow to load as a screen is to draw.
    from html import escape

    return f"<qt>{escape(text)}</qt>" if text else ""
