"""Photographs in a form: chosen, or dropped anywhere on it, and made ready on the worker while one goes on typing.

What can't be kept is told of, a sentence each that names its file; everything else stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QMimeData, QObject, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPlainTextEdit, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.files_input import FilesInput
from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.input import Wrong
from shopledger.desk.labels import button, label
from shopledger.desk.left_out import LeftOut
from shopledger.desk.lying import Lying
from shopledger.desk.photographs import SIDE, PhotographList, Tile
from shopledger.desk.preparing import Preparing, Waiting
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field
from shopledger.quantities.words import N_, _, count_words

if TYPE_CHECKING:
    from shopledger.store.prepared import PreparedPicture

ROWS = 3
"""So many rows of photographs are shown before they scroll."""


class StillPreparing(Typed):
    """Photographs are not ready yet; it is a matter of waiting, not of typing."""


class PicturesInput(FilesInput):
    """Photographs, each shown small with its name."""

    offer = N_("Choose photographs")
    kinds = N_("Photographs (*.jpg *.jpeg *.png *.webp)")
    drop_here = N_("or drop them anywhere on this form")

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start without photographs."""
        super().__init__(shop, field, path)
        self._keys = count()
        self._ready: dict[int, PreparedPicture] = {}
        self._latest: set[int] = set()
        self._page: QWidget | None = None
        self.preparing = Preparing(shop, path, 2 * SIDE, self)
        self.preparing.ready.connect(self.on_ready)
        self.preparing.refused.connect(self.on_refused)
        self.preparing.rested.connect(self.on_rested)
        self.preparing.stopped.connect(self.on_stopped)
        self.list = PhotographList(_(field.label), rows=ROWS)
        self.list.setObjectName(f"photographs.{path}")
        self.list.removed.connect(self.remove)
        self.list.selectionModel().selectionChanged.connect(self.on_selected)
        self.left_out = LeftOut(f"left_out.{path}")
        self.count = label("", font=sans(SMALL), tone="quiet", wrap=False)
        self.count.setObjectName(f"count.{path}")
        self.cancel_button = button(_("Cancel"), f"cancel.{path}", weight="quiet")
        self.cancel_button.setAccessibleName(_("Cancel preparing photographs"))
        self.cancel_button.clicked.connect(self.preparing.stop)
        self.remove_button = button(_("Remove"), f"remove.{path}", weight="quiet")
        self.remove_button.clicked.connect(self.on_remove_clicked)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        for widget in (self.count, self.cancel_button, self.remove_button):
            foot.addWidget(widget)
        foot.addStretch(1)
        self._box.addWidget(self.list)
        self._box.addLayout(foot)
        self._box.addWidget(self.left_out)
        self._tell()

    @property
    def names(self) -> list[str]:
        """The names of all photographs that stand here, ready or not."""
        return [tile.name for tile in self.list.tiles.tiles]

    @property
    def ready(self) -> tuple[PreparedPicture, ...]:
        """The photographs that are ready, in order."""
        keys = (tile.key for tile in self.list.tiles.tiles)
        return tuple(self._ready[key] for key in keys if key in self._ready)

    def take(self, wrong: list[Wrong]) -> object:
        """Give the photographs, all of them ready.

        Raises: StillPreparing: some are not.
        """
        waits = len(self.list.tiles.tiles) - len(self._ready)
        if waits:
            raise StillPreparing(
                N_("Photographs are still being prepared, {n} of {of}: they will be ready in a moment."),
                field=self.path,
                n=waits,
                of=len(self.list.tiles.tiles),
            )
        return self.ready

    def put(self, value: object) -> None:
        """Begin with these files' contents; whatever stood here is gone."""
        self.remove({tile.key for tile in self.list.tiles.tiles}, typed=False)
        contents = (
            [each for each in value if isinstance(each, bytes)] if isinstance(value, (tuple, list)) else []
        )
        self._add([(content, _("Photograph {n}").format(n=n)) for n, content in enumerate(contents, start=1)])

    def empty(self) -> bool:
        """Whether there is no photograph, not even one that is being prepared."""
        return not self.list.tiles.tiles

    def told(self) -> str:
        """How many there are."""
        return self.count.text()

    def add_files(self, paths: Iterable[Path]) -> None:
        """Have files made ready; those that can't be kept will be told of."""
        files = [(path, path.name or str(path)) for path in paths]
        if files:
            self.left_out.clear()
            self._add(files)
            self.on_typed()

    def add_dropped(self, dropped: QMimeData) -> None:
        """Take in what was dropped; what lies elsewhere, as on a page of the web, is told of."""
        super().add_dropped(dropped)
        for url in dropped.urls():
            if not url.isLocalFile():
                self.left_out.add(
                    _("{name} isn't on this computer: save it first, then drop it.").format(
                        name=url.fileName() or url.toString()[:80]
                    )
                )

    def _add(self, sources: Sequence[tuple[Path | bytes, str]]) -> None:
        waiting = [Waiting(next(self._keys), source, name) for source, name in sources]
        self._latest |= {one.key for one in waiting}
        self.list.tiles.add(
            [
                Tile(one.key, one.name, _("{name}, waits to be prepared").format(name=one.name))
                for one in waiting
            ]
        )
        self.preparing.add(waiting)
        self._tell()

    def remove(self, keys: set[int], *, typed: bool = True) -> None:
        """Take photographs out."""
        by_button, in_list = self.remove_button.hasFocus(), self.list.hasFocus()
        rows = [row for row, tile in enumerate(self.list.tiles.tiles) if tile.key in keys]
        self.preparing.leave_out(keys)
        for key in keys:
            self._ready.pop(key, None)
        self.list.tiles.remove(keys)
        left = self.list.tiles.tiles
        if left and rows:
            self.list.setCurrentIndex(self.list.tiles.index(min(rows[0], len(left) - 1)))
        self._tell()
        # A button that can't be pressed for a moment loses the keyboard: it is given back.
        if by_button or in_list:
            keeper = (self.remove_button if by_button else self.list) if left else self.choose_button
            keeper.setFocus(Qt.FocusReason.OtherFocusReason)
        if typed:
            self.on_typed()

    def on_ready(self, key: int, prepared: PreparedPicture, image: QImage) -> None:
        """Show one that is ready; the same photograph under another name is here already."""
        tile = next((tile for tile in self.list.tiles.tiles if tile.key == key), None)
        if tile is None:
            return
        same = next((one for one in self._ready.values() if one.sha256 == prepared.sha256), None)
        if same is not None:
            words = (
                _("{name} is here already: it is added once.")
                if same.name == prepared.name
                else _("{name} is the same photograph as {other}: it is added once.")
            )
            self.left_out.add(words.format(name=prepared.name, other=same.name), wrong=False)
            self._drop(key)
            return
        self._ready[key] = prepared
        self.list.tiles.show(key, image, prepared.name)
        self._tell()

    def on_refused(self, key: int, error: Exception) -> None:
        """Tell why one is left out."""
        if all(tile.key != key for tile in self.list.tiles.tiles):
            return
        self.left_out.add(sentence(error, self.shop.ledger.manners))
        # Told before it is gone: an act that waits for the photographs doesn't go on over the head of its reader.
        self.changed.emit()
        self._drop(key)

    def _drop(self, key: int) -> None:
        self.list.tiles.remove({key})
        self._tell()

    def on_rested(self) -> None:
        """All are ready, or told of."""
        self._latest.clear()
        self._tell()
        self.changed.emit()

    def on_stopped(self) -> None:
        """Put everything back to what it was before the latest were added."""
        keys, self._latest = self._latest, set()
        self.left_out.add(_("Cancelled: the photographs you added last are left out."), wrong=False)
        self.remove(keys)

    def _tell(self) -> None:
        here, busy = len(self.list.tiles.tiles), self.preparing.busy
        if busy:
            words = _("{done} of {of} are prepared").format(done=self.preparing.done, of=self.preparing.all)
        else:
            words = count_words("{n} photograph", "{n} photographs", here)
        self.count.setText(words)
        for widget, shown in (
            (self.list, here > 0),
            (self.count, here > 0),
            (self.cancel_button, busy),
            (self.remove_button, here > 0),
        ):
            widget.setVisible(shown)
        self.on_selected()

    def on_selected(self, *_what: object) -> None:
        """Offer to take out what is selected."""
        chosen = self.list.chosen()
        names = [tile.name for tile in self.list.tiles.tiles if tile.key in chosen]
        self.remove_button.setEnabled(bool(chosen))
        self.remove_button.setAccessibleName(
            _("Remove {name}").format(name=names[0])
            if len(names) == 1
            else count_words("Remove {n} photograph", "Remove {n} photographs", len(names))
        )

    def on_remove_clicked(self) -> None:
        """Take out what is selected."""
        self.remove(self.list.chosen())

    def put_away(self) -> None:
        """Let go of what was made ready; called once, before the form goes."""
        self.preparing.put_away()

    def showEvent(self, event: QShowEvent) -> None:
        """Take in what is dropped anywhere on the form."""
        super().showEvent(event)
        parent = self.parentWidget()
        while parent is not None and not isinstance(parent, Lying):
            parent = parent.parentWidget()
        if parent is not None and self._page is None:
            self._page = parent
            parent.setAcceptDrops(True)
            parent.installEventFilter(self)
            self._leave_drops_to(parent)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take in what is dropped on the form."""
        if watched is self._page and isinstance(event, QDropEvent) and event.mimeData().hasUrls():
            if isinstance(event, QDragEnterEvent):
                self._leave_drops_to(self._page)
            elif event.type() == QEvent.Type.Drop:
                self.add_dropped(event.mimeData())
            event.acceptProposedAction()
            return True
        if event.type() is QEvent.Type.FocusOut and self.preparing.busy:
            # What isn't ready isn't wrong.
            return False
        return super().eventFilter(watched, event)

    def _leave_drops_to(self, page: QWidget) -> None:
        # A line to type in would take a file for words, and write its address into itself.
        for kind in (QLineEdit, QPlainTextEdit):
            for line in page.findChildren(kind):
                line.setAcceptDrops(False)
                if isinstance(line, QPlainTextEdit):
                    line.viewport().setAcceptDrops(False)
