"""A table that reads as one scrolls: an ordered list of ids and a small cache of pages, nothing else.

Sorting and narrowing are questions to the ledger; no row is read that isn't looked at.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtWidgets import QWidget

from shopledger.desk.labels import tip
from shopledger.desk.shop import Shop
from shopledger.desk.shown import cell_words, head_words
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Kind
from shopledger.queries.shapes import Row, Table

PAGE = 64
"""Rows that are read together."""
KEPT = 32
"""Pages that are kept; the one used longest ago goes first."""
ROW_ID = Qt.ItemDataRole.UserRole

Index = QModelIndex | QPersistentModelIndex


class Rows(QAbstractTableModel):
    """The rows of one table in the order asked for."""

    failed = Signal(object)
    """A read failed; the error is a LedgerError."""

    def __init__(self, shop: Shop, table: Table, parent: QWidget | None = None) -> None:
        """Show nothing until `ask` is called."""
        super().__init__(parent)
        self.shop, self.table = shop, table
        self.ids: Sequence[int] = ()
        self.column, self.descending = table.sort, table.descending
        self.view = table.views[0].name if table.views else ""
        self.words = ""
        self._pages: OrderedDict[int, Sequence[Row]] = OrderedDict()

    def ask(self, *, view: str | None = None, words: str | None = None) -> None:
        """Read the ids anew for a view and for what is typed over the table.

        Raises: LedgerError: the words can't be read, or the ledger can't; the rows stay as they were.
        """
        view = self.view if view is None else view
        words = self.words if words is None else words
        with self.shop.ledger.read() as reading:
            ids = self.table.ids(reading, view, words, self.column, self.descending)
        self.beginResetModel()
        self.ids, self.view, self.words = ids, view, words
        self._pages.clear()
        self.endResetModel()

    def row_of(self, subject_id: int) -> int:
        """Give the place of an id, or -1 where it isn't among the rows."""
        try:
            return self.ids.index(subject_id)
        except ValueError:
            return -1

    def row(self, n: int) -> Row | None:
        """Give a row, reading its page where it isn't kept; None where it can't be read or is gone."""
        number, place = divmod(n, PAGE)
        if number not in self._pages:
            wanted = self.ids[number * PAGE : (number + 1) * PAGE]
            try:
                with self.shop.ledger.read() as reading:
                    self._pages[number] = self.table.page(reading, wanted)
            except LedgerError as error:
                # Asked for while painting: an error can't leave from here, so the page is blank and the place tells.
                self._pages[number] = ()
                self.failed.emit(error)
            if len(self._pages) > KEPT:
                self._pages.popitem(last=False)
        self._pages.move_to_end(number)
        page = self._pages[number]
        return page[place] if place < len(page) else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own default
        """As many rows as ids."""
        return 0 if parent.isValid() else len(self.ids)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own default
        """As many columns as the table declares."""
        return 0 if parent.isValid() else len(self.table.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The words of a cell, its side, or the id of its row."""
        if not index.isValid():
            return None
        if role == ROW_ID:
            return self.ids[index.row()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return self.side(index.column()) | Qt.AlignmentFlag.AlignVCenter
        if role not in {
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
        }:
            return None
        words = self.words_of(self.value(index.row(), index.column()))
        return tip(words) if role == Qt.ItemDataRole.ToolTipRole else words

    def value(self, row: int, column: int) -> object:
        """Give the value of a cell; None where its row can't be read."""
        found = self.row(row)
        return found.cells[column] if found is not None else None

    def words_of(self, value: object) -> str:
        """Give a cell's value in words."""
        return cell_words(value, self.shop.ledger.manners)

    def side(self, column: int) -> Qt.AlignmentFlag:
        """Give the side on which a column's cells stand: figures to the right."""
        figures = self.table.columns[column].kind in {Kind.MONEY, Kind.COUNT, Kind.RATE}
        return Qt.AlignmentFlag.AlignRight if figures else Qt.AlignmentFlag.AlignLeft

    def headerData(
        self, section: int, across: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The words of a column's head."""
        if across is Qt.Orientation.Horizontal and role in {
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
        }:
            column = self.table.columns[section]
            return head_words(column.label, column.kind, self.shop.ledger.currency)
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Ask for the ids in another order."""
        declared = self.table.columns[column]
        if not declared.sortable:
            return
        self.column, self.descending = declared.name, order is Qt.SortOrder.DescendingOrder
        try:
            self.ask()
        except LedgerError as error:
            self.failed.emit(error)
