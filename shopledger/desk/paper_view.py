"""A paper shown inside the window, page under page, as sharp as the screen allows; to save and to print."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPalette, QResizeEvent, QShortcut
from PySide6.QtWidgets import QFileDialog, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import CELL, GROUP, Hairline, button, label, retone
from shopledger.desk.lying import Lying
from shopledger.desk.palette import colours
from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument, PdfPage
    from PySide6.QtPrintSupport import QPrinter

PRINT_DPI = 300
_STEPS = (0.5, 0.67, 0.8, 1.0, 1.25, 1.5, 2.0, 3.0)
"""How large a page may be shown, against the width there is."""
_WIDEST_PX = 860


class Leaf(QWidget):
    """One page, drawn when it comes into sight."""

    def __init__(self, page: PdfPage, number: int, of: int) -> None:
        """Keep the page; `width_px` is set before it is shown."""
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


class PaperView(Lying):
    """A paper with its number and what can be done with it."""

    said = Signal(str)
    """Something to tell in the line at the foot of the window."""

    def __init__(self, content: bytes, title: str, number: str) -> None:
        """Open the paper's file.

        Raises: Trouble: it is no PDF that can be read.
        """
        super().__init__()
        self.content, self.number = content, number
        self.setObjectName("paper")
        self.setAccessibleName(f"{title} {number}")
        self.document = _opened(content, number)
        self._size = _STEPS.index(1.0)
        self.leaves = [Leaf(page, n, len(self.document)) for n, page in enumerate(self.document, start=1)]
        self._lay(title)
        for keys, slot in (
            ("Escape", self.on_back_clicked),
            ("Ctrl++", self.on_larger_wanted),
            ("Ctrl+=", self.on_larger_wanted),
            ("Ctrl+-", self.on_smaller_wanted),
            ("Ctrl+0", self.on_width_wanted),
            ("Ctrl+S", self.on_save_clicked),
            ("Ctrl+P", self.on_print_clicked),
        ):
            made = QShortcut(keys, self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
            made.activated.connect(slot)

    def _lay(self, title: str) -> None:
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        bar = QHBoxLayout()
        bar.setContentsMargins(GROUP, CELL, GROUP, CELL)
        bar.setSpacing(8)
        self.back_button = button(_("Back"), "back", weight="quiet")
        self.back_button.clicked.connect(self.on_back_clicked)
        self.save_button = button(_("Save a copy"), "save")
        self.save_button.clicked.connect(self.on_save_clicked)
        self.print_button = button(_("Print"), "print")
        self.print_button.clicked.connect(self.on_print_clicked)
        words = label(title, wrap=False)
        words.setMinimumWidth(1)
        self._foot = label(self.number, font=sans(SMALL), tone="quiet", wrap=False)
        bar.addWidget(self.back_button)
        bar.addWidget(words, 1)
        bar.addWidget(self._foot)
        bar.addWidget(self.save_button)
        bar.addWidget(self.print_button)
        page.addLayout(bar)
        page.addWidget(Hairline())
        stack = QWidget()
        stack.setAutoFillBackground(True)
        stack.setBackgroundRole(QPalette.ColorRole.Window)
        under = QVBoxLayout(stack)
        under.setContentsMargins(CELL, CELL, CELL, CELL)
        under.setSpacing(CELL)
        for leaf in self.leaves:
            under.addWidget(leaf, 0, Qt.AlignmentFlag.AlignHCenter)
        under.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        # Always there, so that the width of the pages doesn't depend on their height.
        self.area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setWidget(stack)
        self.area.setAccessibleName(_("Pages"))
        page.addWidget(self.area, 1)

    def fit(self) -> None:
        """Set the pages to the width there is, times the size that was chosen."""
        room = self.area.viewport().width() - 2 * CELL
        for leaf in self.leaves:
            leaf.set_width(max(200, int(min(room, _WIDEST_PX) * _STEPS[self._size])))

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

    def on_back_clicked(self) -> None:
        """Leave the paper."""
        self.left.emit()

    def take_keyboard(self) -> None:
        """Scroll by the keys."""
        self.area.setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Let go of the file; called once, before the view goes."""
        for leaf in self.leaves:
            leaf.forget()
        self.document.close()

    def on_save_clicked(self) -> None:
        """Save a copy where the system's dialog says."""
        name, _kind = QFileDialog.getSaveFileName(
            self, _("Save a copy"), f"{self.number.replace('/', '-')}.pdf", _("Papers (*.pdf)")
        )
        if name:
            self.save_to(Path(name))

    def save_to(self, where: Path) -> None:
        """Write the paper's file, byte for byte, and tell how it went."""
        try:
            where.write_bytes(self.content)
        except OSError as error:
            why = error.strerror or type(error).__name__
            retone(self._foot, "madder")
            self._foot.setText(_("Not saved: {why}. Choose another place.").format(why=why))
            return
        self.said.emit(_("{number} is saved as {name}.").format(number=self.number, name=where.name))

    def on_print_clicked(self) -> None:
        """Print by the system's dialog."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(self.number)
        dialog = QPrintDialog(printer, self)
        if dialog.exec() == QPrintDialog.DialogCode.Accepted:
            self.print_to(printer)
        dialog.deleteLater()

    def print_to(self, printer: QPrinter) -> None:
        """Print every page, each fitted to the printer's own."""
        from PySide6.QtPrintSupport import QPrinter

        printer.setResolution(PRINT_DPI)
        painter = QPainter()
        if not painter.begin(printer):
            retone(self._foot, "madder")
            self._foot.setText(
                _("The printer doesn't answer. See whether it is switched on, or save a copy.")
            )
            return
        for n, page in enumerate(self.document):
            if n:
                printer.newPage()
            room = QRectF(printer.pageRect(QPrinter.Unit.DevicePixel))
            image = draw(page, PRINT_DPI / 72)
            size = image.size().scaled(room.size().toSize(), Qt.AspectRatioMode.KeepAspectRatio)
            painter.drawImage(QRectF(0, 0, size.width(), size.height()), image)
        painter.end()
        self.said.emit(_("{number} went to the printer.").format(number=self.number))


def _opened(content: bytes, number: str) -> PdfDocument:
    from pypdfium2 import PdfDocument, PdfiumError

    try:
        return PdfDocument(content)
    except PdfiumError as error:
        raise Trouble(
            N_("The file of {number} can't be shown: it is damaged. Prove the ledger to see what else is."),
            number=number,
        ) from error
