"""Photographs side by side, each small with its name: in a form while they are added, on a sheet to be opened.

Hundreds of them are one widget, of which only what is in sight is painted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import STEP
from shopledger.desk.palette import colours
from shopledger.quantities.words import _

SIDE = 72
"""The square within which a photograph is shown, in pixels."""
CELL_PX = QSize(SIDE + 4 * STEP, SIDE + 24 + 2 * STEP)
Index = QModelIndex | QPersistentModelIndex


@dataclass(slots=True)
class Tile:
    """One photograph: its name, what readers of the screen are told, and itself once it is there.

    Shape:  `image` is None while it is awaited, and empty where it can't be shown.
    """

    key: int
    name: str
    words: str
    image: QImage | None = None


class Tiles(QAbstractListModel):
    """The photographs of a list, in order."""

    awaited = Signal(int)
    """The photograph of a row came into sight and isn't there yet."""

    def __init__(self, parent: QWidget) -> None:
        """Begin without any."""
        super().__init__(parent)
        self.tiles: list[Tile] = []
        self._asked: set[int] = set()

    def rowCount(self, parent: Index | None = None) -> int:
        """How many there are."""
        return 0 if parent is not None and parent.isValid() else len(self.tiles)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Give name, words or image."""
        tile = self.tiles[index.row()]
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole}:
            return tile.name
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return tile.words
        if role == Qt.ItemDataRole.DecorationRole:
            if tile.image is None and tile.key not in self._asked:
                self._asked.add(tile.key)
                self.awaited.emit(index.row())
            return tile.image
        return None

    def add(self, tiles: Sequence[Tile]) -> None:
        """Set more at the end."""
        if tiles:
            self.beginInsertRows(QModelIndex(), len(self.tiles), len(self.tiles) + len(tiles) - 1)
            self.tiles.extend(tiles)
            self.endInsertRows()

    def remove(self, keys: set[int]) -> None:
        """Take those out."""
        if len(keys) > 1:
            self.beginResetModel()
            self.tiles = [tile for tile in self.tiles if tile.key not in keys]
            self.endResetModel()
            return
        for row, tile in enumerate(self.tiles):
            if tile.key in keys:
                self.beginRemoveRows(QModelIndex(), row, row)
                del self.tiles[row]
                self.endRemoveRows()
                return

    def show(self, key: int, image: QImage, words: str = "") -> None:
        """Show a photograph that was awaited; `words` are what readers are told from now on."""
        for row, tile in enumerate(self.tiles):
            if tile.key == key:
                tile.image, tile.words = image, words or tile.words
                index = self.index(row)
                self.dataChanged.emit(index, index)
                return


class PhotographList(QListView):
    """Photographs side by side; the arrows go from one to the next."""

    removed = Signal(object)
    """Those with these keys are to be taken out, by Delete; a set."""
    opened = Signal(int)
    """The photograph of a row is to be seen large."""

    def __init__(self, words: str, *, rows: int, parent: QWidget | None = None) -> None:
        """Begin empty and as high as needed, up to `rows` rows; 0 for one row that goes on to the right."""
        super().__init__(parent)
        self._rows = rows
        self.tiles = Tiles(self)
        self.setModel(self.tiles)
        self.setItemDelegate(_Painter(self))
        self.setAccessibleName(words)
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setWrapping(rows > 0)
        self.setUniformItemSizes(True)
        self.setGridSize(CELL_PX)
        self.setFont(sans(SMALL))
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setMouseTracking(True)
        self.setAutoFillBackground(False)
        self.viewport().setAutoFillBackground(False)
        # What is dropped is for the form that it lies in.
        self.setDragEnabled(False)
        self.setAcceptDrops(False)
        self.setSelectionMode(
            QListView.SelectionMode.ExtendedSelection if rows else QListView.SelectionMode.SingleSelection
        )
        self.setHorizontalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        if rows:
            self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        else:
            self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.activated.connect(lambda index: self.opened.emit(index.row()))
        for changed in (self.tiles.rowsInserted, self.tiles.rowsRemoved, self.tiles.modelReset):
            changed.connect(self.fit)

    def chosen(self) -> set[int]:
        """Give the keys of those that are selected."""
        return {self.tiles.tiles[index.row()].key for index in self.selectedIndexes()}

    def fit(self) -> None:
        """Be as high as the photographs need, as far as that is allowed."""
        across = max(1, self.width() // CELL_PX.width())
        rows = -(-len(self.tiles.tiles) // across) if self._rows else 1
        high = CELL_PX.height() * max(1, min(rows, self._rows or 1))
        if not self._rows and len(self.tiles.tiles) > across:
            high += self.horizontalScrollBar().sizeHint().height()
        if self.height() != high or self.minimumHeight() != high:
            self.setFixedHeight(high)

    def resizeEvent(self, event: Any) -> None:
        """Find the height for the new width."""
        super().resizeEvent(event)
        self.fit()

    def focusInEvent(self, event: Any) -> None:
        """Begin at the first, so that it is seen where the keyboard is."""
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.tiles.tiles:
            self.setCurrentIndex(self.tiles.index(0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete takes out what is selected."""
        if event.key() in {Qt.Key.Key_Delete, Qt.Key.Key_Backspace} and self.chosen():
            self.removed.emit(self.chosen())
            return
        super().keyPressEvent(event)


class _Painter(QStyledItemDelegate):
    """Paints a photograph whole in its square, with its name under it."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """All are of one size."""
        return CELL_PX

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one; an outline, not colour alone, tells the one that the keyboard is at."""
        palette = colours()
        rect = option.rect.adjusted(STEP // 2, STEP // 2, -STEP // 2, -STEP // 2)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        here = bool(option.state & QStyle.StateFlag.State_HasFocus)
        painter.save()
        if chosen:
            painter.fillRect(rect, palette.selected)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(rect, palette.hovered)
        if chosen or here:
            painter.setPen(QPen(QColor(palette.varnish), 2 if here else 1))
            painter.drawRect(QRectF(rect).adjusted(1, 1, -1, -1))
        square = QRectF(rect.x() + (rect.width() - SIDE) / 2, rect.y() + STEP, SIDE, SIDE)
        image = index.data(Qt.ItemDataRole.DecorationRole)
        painter.setFont(sans(SMALL))
        if isinstance(image, QImage) and not image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            size = image.size().scaled(SIDE, SIDE, Qt.AspectRatioMode.KeepAspectRatio)
            painter.drawImage(
                QRectF(
                    square.x() + (SIDE - size.width()) / 2,
                    square.y() + (SIDE - size.height()) / 2,
                    size.width(),
                    size.height(),
                ),
                image,
            )
        else:
            painter.setPen(palette.edge)
            painter.drawRect(square.adjusted(0.5, 0.5, -0.5, -0.5))
            painter.setPen(QColor(palette.quiet))
            words = _("waits") if image is None else _("not to be shown")
            painter.drawText(square, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, words)
        painter.setPen(QColor(palette.ink if chosen else palette.quiet))
        under = QRectF(rect.x() + STEP, square.bottom() + STEP / 2, rect.width() - 2 * STEP, 20)
        name = painter.fontMetrics().elidedText(
            PurePath(str(index.data())).stem, Qt.TextElideMode.ElideMiddle, int(under.width())
        )
        painter.drawText(under, Qt.AlignmentFlag.AlignCenter, name)
        painter.restore()
