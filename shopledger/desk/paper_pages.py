"""Pages of papers under each other, as sharp as the screen allows, drawn when they come into sight."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPalette, QResizeEvent, QShortcut
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from shopledger.desk.labels import CELL
from shopledger.desk.palette import colours
from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument, PdfPage

_STEPS = (0.5, 0.67, 0.8, 1.0, 1.25, 1.5, 2.0, 3.0)
"""How large a page may be shown, against the width there is."""
_WIDEST_PX = 860


class Leaf(QWidget):
    """One page, drawn when it comes into sight."""

    def __init__(self, page: PdfPage, number: int, of: int) -> None:
        """Keep the page; `set_width` is called before it is shown."""
        super().__init__()
        self._page = page
        self._drawn: QImage | None = None
        self._drawn_for: tuple[int, float] = (0, 0.0)
        self._ratio = page.get_height() / page.get_width()
        self.setAccessibleName(_("Page {n} of {m}").format(n=number, m=of))
        words = page.get_textpage()
        self.setAccessibleDescription(words.get_text_bounded())
        words.close()

    def set_width(self, width_px: int) -> None:
        """Be this wide, and as high as the page is then."""
        self.setFixedSize(QSize(width_px, round(width_px * self._ratio)))

    def forget(self) -> None:
        """Let go of the page; nothing is drawn from now on."""
        self._drawn = None
        self._page.close()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the page at the screen's own resolution."""
        wanted = (self.width(), self.devicePixelRatioF())
        if self._drawn is None or self._drawn_for != wanted:
            self._drawn = draw(self._page, self.width() * self.devicePixelRatioF() / self._page.get_width())
            self._drawn_for = wanted
        painter = QPainter(self)
        painter.drawImage(QRectF(self.rect()), self._drawn)
        painter.setPen(colours().hairline)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()


def draw(page: PdfPage, scale: float) -> QImage:
    """Give a page as an image with `scale` pixels for each point."""
    bitmap = page.render(scale=scale, prefer_bgrx=True)
    image = QImage(
        bytes(bitmap.buffer), bitmap.width, bitmap.height, bitmap.stride, QImage.Format.Format_RGB32
    ).copy()
    bitmap.close()
    return image


def opened(content: bytes, number: str) -> PdfDocument:
    """Open the file of a paper.

    Raises: Trouble: it is no PDF that can be read.
    """
    from pypdfium2 import PdfDocument, PdfiumError

    try:
        return PdfDocument(content)
    except PdfiumError as error:
        raise Trouble(
            N_("The file of {number} can't be shown: it is damaged. Prove the ledger to see what else is."),
            number=number,
        ) from error


class Pages(QScrollArea):
    """The pages of one or several papers, to scroll through and to see larger or smaller by keys."""

    def __init__(self, documents: Sequence[PdfDocument], listener: QWidget) -> None:
        """Show the documents' pages; the keys are heard wherever the keyboard is within `listener`."""
        super().__init__()
        self._documents = documents
        self._size = _STEPS.index(1.0)
        self.firsts: list[Leaf] = []
        """The first page of each document."""
        self.leaves: list[Leaf] = []
        for document in documents:
            made = [Leaf(page, n, len(document)) for n, page in enumerate(document, start=1)]
            self.firsts += made[:1]
            self.leaves += made
        self._stack = stack = QWidget()
        stack.setAutoFillBackground(True)
        stack.setBackgroundRole(QPalette.ColorRole.Window)
        for leaf in self.leaves:
            leaf.setParent(stack)
        # Always there, so that the width of the pages doesn't depend on their height.
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidget(stack)
        self.setAccessibleName(_("Pages"))
        for keys, slot in (
            ("Ctrl++", self.on_larger_wanted),
            ("Ctrl+=", self.on_larger_wanted),
            ("Ctrl+-", self.on_smaller_wanted),
            ("Ctrl+0", self.on_width_wanted),
        ):
            made_key = QShortcut(keys, listener, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
            made_key.activated.connect(slot)

    def fit(self) -> None:
        """Set the pages to the width there is, times the size that was chosen."""
        viewport = self.viewport().size()
        room = min(viewport.width() - 2 * CELL, _WIDEST_PX)
        wide = max(200, int(room * _STEPS[self._size]))
        # Set by hand: a layout would squeeze the pages into the height there is before it knows theirs.
        across, down = max(viewport.width(), wide + 2 * CELL), CELL
        for leaf in self.leaves:
            leaf.set_width(wide)
            leaf.move((across - wide) // 2, down)
            down += leaf.height() + CELL
        self._stack.resize(across, max(viewport.height(), down))

    def go_to(self, n: int) -> None:
        """Bring the first page of a document to the top."""
        self.verticalScrollBar().setValue(self.firsts[n].y() - CELL)

    def forget(self) -> None:
        """Let go of the files; called once, before the pages go."""
        for leaf in self.leaves:
            leaf.forget()
        for document in self._documents:
            document.close()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the pages to the new width."""
        super().resizeEvent(event)
        self.fit()

    def on_larger_wanted(self) -> None:
        """One step larger."""
        self._size = min(self._size + 1, len(_STEPS) - 1)
        self.fit()

    def on_smaller_wanted(self) -> None:
        """One step smaller."""
        self._size = max(self._size - 1, 0)
        self.fit()

    def on_width_wanted(self) -> None:
        """As wide as there is room."""
        self._size = _STEPS.index(1.0)
        self.fit()
