"""Files in a form: photographs and a scanned paper, chosen or dropped."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.flow import Flow
from shopledger.desk.input import Input, Wrong
from shopledger.desk.labels import STEP, button, label, retone
from shopledger.desk.picture import Photograph
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError, Trouble, Typed
from shopledger.quantities.fields import Field
from shopledger.quantities.words import N_, _

LARGEST = 60_000_000
"""The largest file taken, in bytes; what is larger is no photograph of a phone or camera and no scan."""


def read_file(path: Path, field: str) -> bytes:
    """Give the content of a file.

    Raises: Trouble: it can't be read; Typed: it is too large.
    """
    try:
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


class _FilesInput(Input):
    """What both have in common: a button to choose, a place to drop, a line for what can't be read."""

    wide = True
    offer = ""
    kinds = ""
    many = True

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start without a file."""
        super().__init__(path)
        self.shop, self.field = shop, field
        self.setAcceptDrops(True)
        self.choose_button = button(_(self.offer), f"choose.{path}")
        self.choose_button.clicked.connect(self.on_choose_clicked)
        self._hint = label(
            _("or drop them here") if self.many else _("or drop it here"), tone="quiet", wrap=False
        )
        self._shown = QWidget()
        self._flow = Flow(self._shown, across=8, down=8)
        line = QHBoxLayout()
        line.addWidget(self.choose_button)
        line.addWidget(self._hint, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, STEP, 0, 0)
        box.setSpacing(8)
        box.addLayout(line)
        box.addWidget(self._shown)
        self.watch(self.choose_button)

    def on_choose_clicked(self) -> None:
        """Let files be chosen in the system's own dialog."""
        if self.many:
            names, _kind = QFileDialog.getOpenFileNames(self, _(self.field.label), "", _(self.kinds))
        else:
            name, _kind = QFileDialog.getOpenFileName(self, _(self.field.label), "", _(self.kinds))
            names = [name] if name else []
        self.add_files(Path(name) for name in names)

    def add_files(self, paths: Iterable[Path]) -> None:
        """Take files in; one that can't be read is told of and the others are still taken."""
        hint = _("or drop them here") if self.many else _("or drop it here")
        tone = "quiet"
        for path in paths:
            try:
                self._take_in(path.name, read_file(path, self.path))
            except LedgerError as error:
                hint, tone = error.sentence(self.shop.ledger.manners), "madder"
        self._hint.setText(hint)
        retone(self._hint, tone)
        self.on_typed()

    def _take_in(self, name: str, content: bytes) -> None:
        raise NotImplementedError

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files only."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take in what is dropped."""
        self.add_files(Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile())
        event.acceptProposedAction()

    def _clear(self) -> None:
        while (item := self._flow.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()


class PicturesInput(_FilesInput):
    """Photographs, each shown small."""

    offer = N_("Choose photographs")
    kinds = N_("Photographs (*.jpg *.jpeg *.png *.webp)")

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start without photographs."""
        super().__init__(shop, field, path)
        self.contents: list[bytes] = []

    def take(self, wrong: list[Wrong]) -> object:
        """Give the files' contents."""
        return tuple(self.contents)

    def put(self, value: object) -> None:
        """Show these contents."""
        self.contents = (
            [each for each in value if isinstance(each, bytes)] if isinstance(value, (tuple, list)) else []
        )
        self._show()

    def empty(self) -> bool:
        """Whether there is no photograph."""
        return not self.contents

    def _take_in(self, name: str, content: bytes) -> None:
        if QImage.fromData(content).isNull():
            raise Typed(
                N_("{name} is no photograph that can be shown. Choose a JPEG, PNG or WebP."),
                field=self.path,
                name=name,
            )
        self.contents.append(content)
        self._show()

    def _show(self) -> None:
        self._clear()
        for n, content in enumerate(self.contents):
            frame = QWidget()
            box = QVBoxLayout(frame)
            box.setContentsMargins(0, 0, 0, 0)
            box.setSpacing(STEP)
            words = _("Photograph {n}").format(n=n + 1)
            box.addWidget(Photograph(QImage.fromData(content), 72, words), 0, Qt.AlignmentFlag.AlignHCenter)
            remove = button(_("Remove"), f"remove.{self.path}[{n}]", weight="quiet")
            remove.setAccessibleName(_("Remove photograph {n}").format(n=n + 1))
            remove.clicked.connect(lambda _checked=False, n=n: self.on_remove_clicked(n))
            box.addWidget(remove)
            self._flow.addWidget(frame)
        self._shown.updateGeometry()

    def on_remove_clicked(self, n: int) -> None:
        """Take a photograph out."""
        del self.contents[n]
        self._show()
        self.choose_button.setFocus(Qt.FocusReason.OtherFocusReason)
        self.on_typed()


class ScanInput(_FilesInput):
    """One file that is kept as it is."""

    offer = N_("Choose the scan")
    kinds = N_("Scans (*.pdf *.jpg *.jpeg *.png)")
    many = False

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start without a file."""
        super().__init__(shop, field, path)
        self.content: bytes | None = None

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

    def _take_in(self, name: str, content: bytes) -> None:
        self.content = content
        self._show(name)

    def _show(self, name: str) -> None:
        self._clear()
        self._flow.addWidget(label(name, wrap=False))
        remove = button(_("Remove"), f"remove.{self.path}", weight="quiet")
        remove.clicked.connect(self.on_remove_clicked)
        self._flow.addWidget(remove)
        self._shown.updateGeometry()

    def on_remove_clicked(self) -> None:
        """Take the file out."""
        self.put(None)
        self.choose_button.setFocus(Qt.FocusReason.OtherFocusReason)
        self.on_typed()
