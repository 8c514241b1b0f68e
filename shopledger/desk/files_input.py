"""Files in a form, chosen or dropped: what all such inputs have in common, and the one for a scanned paper."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.flow import Flow
from shopledger.desk.input import Input, Wrong
from shopledger.desk.labels import STEP, button, label, retone
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError, Trouble, Typed
from shopledger.quantities.fields import Field
from shopledger.quantities.words import N_, _

LARGEST = 60_000_000
"""The largest file taken, in bytes; what is larger is no scan."""


def read_file(path: Path, field: str) -> bytes:
    """Give the content of a file.

    Raises: Trouble: it can't be read; Typed: it is no file, or too large.
    """
    try:
        # Opening what is no file, such as a pipe, may wait for ever.
        if path.exists() and not path.is_file():
            raise Typed(N_("{name} is no file. Choose another one."), field=field, name=path.name)
        if path.stat().st_size > LARGEST:
            raise Typed(
                N_("{name} is larger than {limit} megabytes. Choose a smaller one."),
                field=field,
                name=path.name,
                limit=LARGEST // 1_000_000,
            )
        return path.read_bytes()
    except OSError as error:
        raise Trouble(
            N_("{name} can't be read: {why}. Choose another file."),
            field=field,
            name=path.name,
            why=error.strerror or type(error).__name__,
        ) from error


class FilesInput(Input):
    """A button to choose, and a place to drop."""

    wide = True
    offer = ""
    kinds = ""
    many = True
    drop_here = ""

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start without a file."""
        super().__init__(path)
        self.shop, self.field = shop, field
        self.setAcceptDrops(True)
        self.choose_button = button(_(self.offer), f"choose.{path}")
        self.choose_button.clicked.connect(self.on_choose_clicked)
        self._hint = label(_(self.drop_here), tone="quiet", wrap=False)
        self._hint.setMinimumWidth(1)
        self._line = QHBoxLayout()
        self._line.addWidget(self.choose_button)
        self._line.addWidget(self._hint, 1)
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, STEP, 0, 0)
        self._box.setSpacing(8)
        self._box.addLayout(self._line)
        self.watch(self.choose_button)

    def on_choose_clicked(self) -> None:
        """Let files be chosen in the system's own dialog."""
        if self.many:
            names, _kind = QFileDialog.getOpenFileNames(self, _(self.field.label), "", _(self.kinds))
        else:
            name, _kind = QFileDialog.getOpenFileName(self, _(self.field.label), "", _(self.kinds))
            names = [name] if name else []
        self.add_files([Path(name) for name in names])

    def add_files(self, paths: Iterable[Path]) -> None:
        """Take files in; one that can't be read is told of and the others are still taken."""
        raise NotImplementedError

    def add_dropped(self, dropped: QMimeData) -> None:
        """Take in what was dropped."""
        self.add_files([Path(url.toLocalFile()) for url in dropped.urls() if url.isLocalFile()])

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files only."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take in what is dropped."""
        self.add_dropped(event.mimeData())
        event.acceptProposedAction()


class ScanInput(FilesInput):
    """One file that is kept as it is."""

    offer = N_("Choose the scan")
    kinds = N_("Scans (*.pdf *.jpg *.jpeg *.png)")
    many = False
    drop_here = N_("or drop it here")

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start without a file."""
        super().__init__(shop, field, path)
        self.content: bytes | None = None
        self._shown = QWidget()
        self._flow = Flow(self._shown, across=8, down=8)
        self._box.addWidget(self._shown)

    def take(self, wrong: list[Wrong]) -> object:
        """Give the file's content."""
        return self.content

    def put(self, value: object) -> None:
        """Show that there is a file."""
        self._clear()
        self.content = value if isinstance(value, bytes) else None
        if self.content is not None:
            self._show(_("one file"))

    def empty(self) -> bool:
        """Whether there is no file."""
        return self.content is None

    def add_files(self, paths: Iterable[Path]) -> None:
        """Take a file in, the last of several, or say why it can't be read."""
        said, tone = _(self.drop_here), "quiet"
        for path in paths:
            try:
                self.content = read_file(path, self.path)
            except LedgerError as error:
                said, tone = error.sentence(self.shop.ledger.manners), "madder"
            else:
                self._show(path.name)
        self._hint.setText(said)
        retone(self._hint, tone)
        self.on_typed()

    def _show(self, name: str) -> None:
        self._clear()
        self._flow.addWidget(label(name, wrap=False))
        remove = button(_("Remove"), f"remove.{self.path}", weight="quiet")
        remove.clicked.connect(self.on_remove_clicked)
        self._flow.addWidget(remove)
        self._shown.updateGeometry()

    def _clear(self) -> None:
        while (item := self._flow.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def on_remove_clicked(self) -> None:
        """Take the file out."""
        self.put(None)
        self.choose_button.setFocus(Qt.FocusReason.OtherFocusReason)
        self.on_typed()
