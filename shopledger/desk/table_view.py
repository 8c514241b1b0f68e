"""How a table looks: rows of 32 pixels on hairlines, a quiet head that sorts, states as chips, figures to the right."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from shopledger.desk.chips import paint_chip
from shopledger.desk.columns import Natural, fitted, natural_widths
from shopledger.desk.fonts import SMALL, TEXT, sans
from shopledger.desk.labels import CELL, ROW
from shopledger.desk.palette import colours
from shopledger.desk.table import ROW_ID, Index, Rows
from shopledger.quantities.fields import Kind
from shopledger.queries.shapes import State

_MIDDLE = Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight
_CUT = Qt.TextElideMode.ElideRight


class Head(QHeaderView):
    """The head of a table: quiet words over a hairline, with a small triangle where the rows are sorted by it."""

    def __init__(self, parent: QWidget) -> None:
        """Lie across; a click sorts."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setMinimumSectionSize(40)
        self.setFixedHeight(ROW)

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        """Draw one section of the head."""
        model = self.model()
        if not isinstance(model, Rows):
            return
        palette = colours()
        sorted_by = model.table.columns[section].name == model.column
        side = model.side(section)
        room = rect.adjusted(CELL, 0, -CELL, 0)
        if sorted_by and side is _RIGHT:
            room.adjust(12, 0, 0, 0)
        elif sorted_by:
            room.adjust(0, 0, -12, 0)
        painter.save()
        painter.setFont(sans(SMALL, strong=sorted_by))
        painter.setPen(palette.ink if sorted_by else palette.quiet)
        words = str(model.headerData(section, Qt.Orientation.Horizontal))
        shown = painter.fontMetrics().elidedText(words, _CUT, room.width() + 1)
        painter.drawText(room, int(side | _MIDDLE), shown)
        if sorted_by:
            wide = painter.fontMetrics().horizontalAdvance(shown)
            left = room.right() - wide - 12 if side is _RIGHT else room.left() + wide + 5
            _paint_triangle(painter, left, rect.center().y(), model.descending)
        painter.setPen(palette.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()


def _paint_triangle(painter: QPainter, left: float, middle: float, descending: bool) -> None:
    tip = 2.5 if descending else -2.5
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(painter.pen().color())
    painter.setPen(Qt.PenStyle.NoPen)
    corners = (left, middle - tip), (left + 7, middle - tip), (left + 3.5, middle + tip)
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))
    painter.restore()


class Cells(QStyledItemDelegate):
    """How a cell is painted: on a hairline, with room at its sides, a state as its chip."""

    def __init__(self, table: TableView) -> None:
        """Paint for this table."""
        super().__init__(table)
        self._table = table

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        palette, table = colours(), self._table
        box = QRect(option.rect)
        painter.save()
        if table.currentIndex().row() == index.row():
            painter.fillRect(box, palette.selected)
            if index.column() == 0:
                wide, colour = (3, palette.varnish) if table.hasFocus() else (2, palette.quiet)
                painter.fillRect(QRect(box.left(), box.top(), wide, box.height()), colour)
        elif table.hovered_row == index.row():
            painter.fillRect(box, palette.hovered)
        painter.setPen(palette.hairline)
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        room = box.adjusted(CELL, 0, -CELL, -1)
        # Asked of the rows themselves: by way of Qt each answer is wrapped and unwrapped once more.
        value = table.rows.value(index.row(), index.column())
        if isinstance(value, State):
            paint_chip(painter, value, QRectF(room))
        else:
            painter.setFont(sans(TEXT))
            painter.setPen(palette.ink)
            words = table.rows.words_of(value).replace("\n", " ")
            shown = painter.fontMetrics().elidedText(words, _CUT, room.width() + 1)
            painter.drawText(room, int(table.rows.side(index.column()) | _MIDDLE), shown)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """A row's height; widths follow from the columns' declarations."""
        return QSize(80, ROW)


class TableView(QTableView):
    """A table on paper: one row is chosen at a time, by click or arrow keys; Return opens it."""

    chosen = Signal(int)
    """The id of the row that is now the current one."""
    opened = Signal(int)
    """The id of a row on which Return or a double click fell."""
    painted = Signal()
    """The table was painted for the first time."""

    def __init__(self, rows: Rows, parent: QWidget | None = None) -> None:
        """Show these rows."""
        super().__init__(parent)
        # Qt's own viewport is known by its base class alone: handed over, all kinds of widgets would be gone through
        # to tell which it is, and that takes as long as the first painting.
        self.setViewport(QWidget())
        self.rows = rows
        rows.modelReset.connect(self.on_rows_read)
        self.hovered_row = -1
        self._widths_set_by_hand = False
        self._was_painted = False
        self._natural: Natural | None = None
        self.setHorizontalHeader(Head(self))
        self.setModel(rows)
        self.setItemDelegate(Cells(self))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW)
        self.verticalHeader().setMinimumSectionSize(ROW)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setMouseTracking(True)
        self.viewport().setAutoFillBackground(False)
        self.setSortingEnabled(False)
        self.horizontalHeader().sectionClicked.connect(self.on_head_clicked)
        self.horizontalHeader().sectionResized.connect(self.on_width_changed)
        self.selectionModel().currentRowChanged.connect(self.on_row_changed)
        self.doubleClicked.connect(self.on_row_opened)

    def choose(self, subject_id: int) -> bool:
        """Make the row of an id the current one; False where it isn't among the rows."""
        place = self.rows.row_of(subject_id)
        if place < 0:
            return False
        self.setCurrentIndex(self.rows.index(place, 0))
        self.scrollTo(self.rows.index(place, 0))
        return True

    def current_id(self) -> int | None:
        """Give the id of the current row, or None."""
        index = self.currentIndex()
        return self.rows.ids[index.row()] if index.isValid() else None

    def on_head_clicked(self, section: int) -> None:
        """Sort by the column, the other way round where it is sorted by it already."""
        column = self.rows.table.columns[section]
        again = column.name == self.rows.column
        down = not self.rows.descending if again else column.kind in {Kind.DAY, Kind.MONEY}
        kept = self.current_id()
        self.rows.sort(section, Qt.SortOrder.DescendingOrder if down else Qt.SortOrder.AscendingOrder)
        self.horizontalHeader().viewport().update()
        if kept is not None:
            self.choose(kept)

    def on_width_changed(self, section: int, before: int, now: int) -> None:
        """Keep the widths that the user has chosen."""
        self._widths_set_by_hand = self._widths_set_by_hand or self.underMouse()

    def on_row_changed(self, now: Index, before: Index) -> None:
        """Tell which row is the current one."""
        self.viewport().update()
        if now.isValid():
            self.chosen.emit(self.rows.ids[now.row()])

    def on_rows_read(self) -> None:
        """Other rows may need other widths."""
        self._natural = None

    def on_row_opened(self, index: Index) -> None:
        """Tell that a row is to be opened."""
        self.opened.emit(int(index.data(ROW_ID)))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint, and tell of the first time."""
        super().paintEvent(event)
        if not self._was_painted:
            self._was_painted = True
            self.painted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return opens the current row; all else is Qt's."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.currentIndex().isValid():
            self.on_row_opened(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Tint the row under the pointer."""
        super().mouseMoveEvent(event)
        self._hover(self.indexAt(event.position().toPoint()).row())

    def leaveEvent(self, event: QEvent) -> None:
        """Tint no row."""
        super().leaveEvent(event)
        self._hover(-1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns into the new width."""
        super().resizeEvent(event)
        self.fit_columns()

    def fit_columns(self) -> None:
        """Fit the columns into the width there is; the least important are left out where it is too narrow."""
        # An empty table is not shown, and one that isn't read yet is fitted once it is.
        if self._widths_set_by_hand or not self.rows.table.columns or not len(self.rows.ids):
            return
        if self._natural is None:
            self._natural = natural_widths(self.rows)
        for n, width in enumerate(fitted(self._natural, self.viewport().width())):
            self.setColumnHidden(n, width == 0)
            if width:
                self.setColumnWidth(n, width)

    def _hover(self, row: int) -> None:
        if row != self.hovered_row:
            self.hovered_row = row
            self.viewport().update()
