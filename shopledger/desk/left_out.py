"""What was left out of a form and why: a sentence each, under each other, to be read at leisure."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import STEP, label
from shopledger.quantities.words import _

HIGHEST_PX = 112


class LeftOut(QScrollArea):
    """Sentences that stay until something else is added; many of them scroll, by the keys too."""

    def __init__(self, name: str) -> None:
        """Begin without any, hidden."""
        super().__init__()
        self.setObjectName(name)
        self.setAccessibleName(_("What was left out"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidgetResizable(True)
        self.sentences: list[str] = []
        self._page = QWidget()
        self._box = QVBoxLayout(self._page)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(STEP)
        self._box.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.setWidget(self._page)
        self.viewport().setAutoFillBackground(False)
        self._page.setAutoFillBackground(False)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()

    def add(self, words: str, *, wrong: bool = True) -> None:
        """Tell one more."""
        self.sentences.append(words)
        made = label(words, font=sans(SMALL), tone="madder" if wrong else "quiet", select=True)
        self._box.addWidget(made)
        self.setAccessibleDescription("\n".join(self.sentences))
        self.show()
        self._fit()

    def clear(self) -> None:
        """Take all back."""
        self.sentences.clear()
        while (item := self._box.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.hide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Find the height for the new width."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        needed = self._box.heightForWidth(max(1, self.viewport().width()))
        self.setFixedHeight(min(max(needed, 1), HIGHEST_PX))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if needed > HIGHEST_PX else Qt.FocusPolicy.NoFocus)
