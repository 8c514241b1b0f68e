"""A paper shown inside the window, page under page; to save and to print."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPalette, QShortcut
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import CELL, GROUP, Hairline, button, label, retone
from shopledger.desk.lying import Lying
from shopledger.desk.paper_pages import Pages, draw, opened
from shopledger.desk.unprintable import unprintable_words
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

PRINT_DPI = 300


class PaperView(Lying):
    """A paper with its number and what can be done with it."""

    said = Signal(str)
    """Something to tell in the line at the foot of the window."""

    def __init__(
        self,
        content: bytes,
        title: str,
        number: str,
        unprintable: Sequence[str] = (),
        csv: bytes = b"",
    ) -> None:
        """Open the paper's file; `unprintable` are lines on letters that its type lacks, `csv` the same as a list.

        Raises: Trouble: it is no PDF that can be read.
        """
        super().__init__()
        self.content, self.number, self.csv = content, number, csv
        self.setObjectName("paper")
        self.setAccessibleName(f"{title} {number}")
        self.document = opened(content, number)
        self.pages = Pages([self.document], self)
        self._lay(title, unprintable)
        for keys, slot in (
            ("Escape", self.on_back_clicked),
            ("Ctrl+S", self.on_save_clicked),
            ("Ctrl+P", self.on_print_clicked),
        ):
            made = QShortcut(keys, self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
            made.activated.connect(slot)

    def _lay(self, title: str, unprintable: Sequence[str]) -> None:
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
        self.csv_button = button(_("Save for a spreadsheet"), "save_csv")
        self.csv_button.clicked.connect(self.on_save_csv_clicked)
        self.csv_button.setVisible(bool(self.csv))
        self.print_button = button(_("Print"), "print")
        self.print_button.clicked.connect(self.on_print_clicked)
        words = label(title, wrap=False)
        words.setMinimumWidth(1)
        self._foot = label(self.number, font=sans(SMALL), tone="quiet", wrap=False)
        bar.addWidget(self.back_button)
        bar.addWidget(words, 1)
        bar.addWidget(self._foot)
        bar.addWidget(self.save_button)
        bar.addWidget(self.csv_button)
        bar.addWidget(self.print_button)
        page.addLayout(bar)
        lacks = unprintable_words(unprintable)
        if lacks is not None:
            page.addWidget(lacks)
        page.addWidget(Hairline())
        page.addWidget(self.pages, 1)

    def on_back_clicked(self) -> None:
        """Leave the paper."""
        self.left.emit()

    def take_keyboard(self) -> None:
        """Scroll by the keys."""
        self.pages.setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Let go of the file; called once, before the view goes."""
        self.pages.forget()

    def on_save_clicked(self) -> None:
        """Save a copy where the system's dialog says."""
        name, _kind = QFileDialog.getSaveFileName(
            self, _("Save a copy"), f"{self.number.replace('/', '-')}.pdf", _("Papers (*.pdf)")
        )
        if name:
            self.save_to(Path(name))

    def save_to(self, where: Path) -> None:
        """Write the paper's file, byte for byte, and tell how it went."""
        self._write(where, self.content)

    def on_save_csv_clicked(self) -> None:
        """Save the list as CSV where the system's dialog says."""
        name, _kind = QFileDialog.getSaveFileName(
            self, _("Save for a spreadsheet"), f"{self.number.replace('/', '-')}.csv", _("Lists (*.csv)")
        )
        if name:
            self.save_csv_to(Path(name))

    def save_csv_to(self, where: Path) -> None:
        """Write the list as CSV, and tell how it went."""
        self._write(where, self.csv)

    def _write(self, where: Path, content: bytes) -> None:
        try:
            where.write_bytes(content)
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
