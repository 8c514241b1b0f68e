"""Figures with their words and their working, adding up visibly; the money of a sheet and the preview of an act."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from shopledger.desk.fonts import LARGE, SMALL, TEXT, sans, serif
from shopledger.desk.labels import CELL, STEP, Hairline, label
from shopledger.quantities.manners import Manners
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import _
from shopledger.queries.sheet_shapes import Line, Preview


class Lines(QWidget):
    """Lines of figures: the words and their working on the left, the amount on the right, totals under a hairline."""

    def __init__(self, lines: Sequence[Line], manners: Manners, parent: QWidget | None = None) -> None:
        """Show these lines; the currency stands in the heading, not here."""
        super().__init__(parent)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(CELL)
        grid.setVerticalSpacing(STEP)
        grid.setColumnStretch(0, 1)
        n = 0
        for line in lines:
            if line.strong and n:
                grid.addWidget(Hairline(), n, 0, 1, 2)
                n += 1
            words = QVBoxLayout()
            words.setSpacing(0)
            words.addWidget(label(line.label, font=sans(TEXT, line.strong)))
            for behind in (line.how, line.note):
                if behind:
                    words.addWidget(label(behind, font=sans(SMALL), tone="quiet"))
            grid.addLayout(words, n, 0)
            if line.amount is not None:
                figure = label(
                    show_amount(line.amount, manners), font=sans(TEXT, line.strong), wrap=False, select=True
                )
                figure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
                figure.setAccessibleName(f"{line.label} {figure.text()}")
                grid.addWidget(figure, n, 1)
            n += 1


def currency_of(lines: Sequence[Line]) -> str:
    """Give the currency of the lines' amounts, or nothing where there is none."""
    return next((line.amount.currency for line in lines if line.amount is not None), "")


class PreviewPane(QWidget):
    """What an act would do, said while its form is filled in."""

    def __init__(self, manners: Manners, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self.setObjectName("preview")
        self.setAccessibleName(_("What it would do"))
        self._manners = manners
        self._body: QWidget | None = None
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self.words = ""
        """Everything that the pane says now, for whoever can't see it."""

    def show_preview(self, preview: Preview) -> None:
        """Say what the act would do."""
        body, box = self._fresh()
        box.addWidget(label(_(preview.title), font=serif(LARGE)))
        currency = currency_of(preview.lines)
        if currency:
            box.addWidget(label(_("in {currency}").format(currency=currency), font=sans(SMALL), tone="quiet"))
        for warning in preview.warnings:
            box.addWidget(self._warning(warning))
        if preview.lines:
            box.addSpacing(STEP)
            box.addWidget(Lines(preview.lines, self._manners))
        self._put(body, box)

    def show_words(self, words: str, tone: str = "quiet") -> None:
        """Say in one sentence why there is nothing to reckon, or what stands against the act."""
        body, box = self._fresh()
        box.addWidget(label(words, tone=tone))
        self._put(body, box)

    @staticmethod
    def _warning(words: str) -> QLabel:
        # The word before the sentence keeps a warning from being told by colour alone.
        return label(_("Note: {words}").format(words=words), tone="ochre")

    def _fresh(self) -> tuple[QWidget, QVBoxLayout]:
        body = QWidget()
        box = QVBoxLayout(body)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(STEP)
        return body, box

    def _put(self, body: QWidget, box: QVBoxLayout) -> None:
        box.addStretch(1)
        if self._body is not None:
            self._box.removeWidget(self._body)
            self._body.hide()
            self._body.deleteLater()
        self._body = body
        self._box.addWidget(body)
        self.words = "\n".join(part.text() for part in body.findChildren(QLabel))
        self.setAccessibleDescription(self.words)
