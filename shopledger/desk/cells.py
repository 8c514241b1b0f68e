"""Inputs of a form set in a grid: each a cell with its words above, its unit behind and its error under it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.fold import Fold, open_around
from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.input import Wrong
from shopledger.desk.inputs import make_input
from shopledger.desk.labels import CELL, GROUP, label, tip
from shopledger.desk.nested import GroupInput
from shopledger.desk.picker import PickerInput
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import _
from shopledger.queries.shapes import Subject

_WIDE_ENOUGH, _WIDE_IN_ROW = 196, 108
"""The least width of a column, in pixels: of a form, and of the rows within one."""
_STEP_OF_PATH = re.compile(r"^\.?(?P<name>\w+)|^\[(?P<n>\d+)\]")


class Cell(QWidget):
    """One input with its words."""

    changed = Signal()
    wanted = Signal(object, str)

    def __init__(self, shop: Shop, name: str, field: Field, path: str, parent: QWidget | None = None) -> None:
        """Make the input for a field; `path` leads to it from the top of the form."""
        super().__init__(parent)
        self.shop, self.name, self.field, self.path = shop, name, field, path
        self.input = make_input(shop, field, path, CellGrid)
        self.input.setObjectName(f"input.{path}")
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        words = _("{label} *").format(label=_(field.label)) if field.required else _(field.label)
        if self.input.says_its_label:
            box.addSpacing(16)
        else:
            box.addLayout(self._head(words))
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(self.input, 1)
        unit = self.input.unit()
        if unit:
            line.addWidget(label(unit, tone="quiet", wrap=False), 0, Qt.AlignmentFlag.AlignVCenter)
        box.addLayout(line)
        self.help = label(_(field.help), font=sans(SMALL), tone="quiet")
        # In a row there is no room for it under the input: there it is told by pointing, and to readers of the screen.
        self._helps = bool(field.help) and "[" not in path
        if not self._helps:
            self.help.hide()
        self.input.setToolTip(tip(_(field.help)))
        self.error = label("", font=sans(SMALL), tone="madder")
        self.error.setObjectName(f"error.{path}")
        self.error.hide()
        if self.input.wide and self.input.headed:
            box.insertWidget(1, self.help)
        else:
            box.addWidget(self.help)
        box.addWidget(self.error)
        box.addStretch(1)
        # Columns are equally wide whatever stands in them; what is too wide is cut or wrapped, never the form widened.
        self.setMinimumWidth(1)
        self.input.name_for_readers(_(field.label), _(field.help))
        self.input.changed.connect(self.on_input_changed)
        self.input.left.connect(self.on_input_left)
        self.input.wanted.connect(self.wanted)

    def _head(self, words: str) -> QHBoxLayout:
        head = QHBoxLayout()
        wide, aside = self.input.wide and self.input.headed, self.input.aside()
        head.addWidget(label(words, font=sans(SMALL, wide), tone="" if wide else "quiet"), 1)
        if aside is not None:
            head.addWidget(aside)
        return head

    def take(self, wrong: list[Wrong]) -> object:
        """Give the value, or None with what is wrong appended.

        Shape:  what is wrong is a pair: the path of the input and the error.
        """
        before = len(wrong)
        try:
            value = self.input.take(wrong)
            if len(wrong) == before:
                self.field.check(self.name, value)
        except LedgerError as error:
            wrong.append((self.path, error))
            return None
        return value

    def complain(self, error: LedgerError) -> None:
        """Say at the input what is wrong with it, and unfold whatever it lies in."""
        open_around(self)
        words = sentence(error, self.shop.ledger.manners, self.field.label)
        self.error.setText(words)
        self.error.show()
        self.help.hide()
        self.input.mark_wrong(True)
        self.input.name_for_readers(_(self.field.label), words)

    def quieten(self) -> None:
        """Take back what was said."""
        if not self.error.isHidden():
            self.error.hide()
            self.help.setVisible(self._helps)
            self.input.mark_wrong(False)
            self.input.name_for_readers(_(self.field.label), _(self.field.help))

    def on_input_changed(self) -> None:
        """What is typed anew isn't wrong yet."""
        self.quieten()
        self.changed.emit()

    def on_input_left(self) -> None:
        """Read what was typed once the input is left; an empty one is not wrong before the act is tried."""
        if self.input.empty() or not self.input.touched:
            return
        wrong: list[Wrong] = []
        self.take(wrong)
        for path, error in wrong:
            if path == self.path:
                self.complain(error)


class CellGrid(QWidget):
    """The cells of a form, of a group in it, or of one of its rows, in as many columns as there is room for.

    What its declaration says stands under a heading is folded away there until it is wanted.
    """

    changed = Signal()
    wanted = Signal(object, str)

    def __init__(
        self,
        shop: Shop,
        fields: Mapping[str, Field],
        path: str = "",
        most: int = 2,
        usual: Mapping[str, object] | None = None,
    ) -> None:
        """Make a cell for each field; `path` leads here, `most` is the greatest number of columns.

        Shape:  `usual` are the values that are not worth telling in the heading of a fold, and that stand for what
                isn't asked with the choices made.
        """
        super().__init__()
        self._most, self._columns, self._usual = most, 0, usual or {}
        self._left_out: set[Cell] = set()
        """The cells that aren't asked with the choices as they are."""
        self._in_row = path.endswith("]")
        self._least, self._gap = (_WIDE_IN_ROW, CELL) if self._in_row else (_WIDE_ENOUGH, GROUP)
        self._grid = self._new_grid(self)
        self.folds: dict[str, Fold] = {}
        """The folds by their headings, in order."""
        self._folded: dict[str, tuple[QGridLayout, list[Cell]]] = {}
        self._under = QVBoxLayout()
        self._under.setSpacing(0)
        made: dict[str, Cell] = {}
        # Made in the order in which they stand, since the keyboard goes from one to the next in it.
        for name, field in sorted(fields.items(), key=lambda item: bool(item[1].under)):
            parent = self._inside(field.under, name) if field.under else self
            cell = Cell(shop, name, field, f"{path}.{name}" if path else name, parent)
            cell.changed.connect(self.on_cell_changed)
            cell.wanted.connect(self.on_new_wanted)
            if field.under:
                self._folded[field.under][1].append(cell)
            made[name] = cell
        self.cells = {name: made[name] for name in fields}
        for cell in self.cells.values():
            cell.input.stand_beside(self.cells)
        self._ask()
        self._lay(1)

    def _new_grid(self, of: QWidget) -> QGridLayout:
        made = QGridLayout(of)
        made.setContentsMargins(0, 0, 0, 0)
        made.setHorizontalSpacing(self._gap)
        made.setVerticalSpacing(16)
        return made

    def _inside(self, heading: str, name: str) -> QWidget:
        if heading not in self.folds:
            inside = QWidget(self)
            self._folded[heading] = (self._new_grid(inside), [])
            self.folds[heading] = Fold(_(heading), inside, name, self)
            self._under.addWidget(self.folds[heading])
        return self.folds[heading].inside

    def be_about(self, subject: Subject, subject_id: int) -> None:
        """Tell the inputs what the form is about."""
        for cell in self.cells.values():
            cell.input.be_about(subject, subject_id)

    def fill(self, values: Mapping[str, object]) -> None:
        """Put values into the inputs; names without an input are passed over."""
        for name, cell in self.cells.items():
            if name in values:
                cell.input.put(values[name])
        self._ask()
        self._tell()

    def begin(self, values: Mapping[str, object]) -> None:
        """Put the values that a new record begins with, which are not worth telling in the heading of a fold."""
        self._usual = values
        self.fill(values)

    def take(self, wrong: list[Wrong]) -> dict[str, object]:
        """Give the values by name, with what is wrong appended; what isn't asked has its usual value."""
        return {
            name: self._usual.get(name) if cell in self._left_out else cell.take(wrong)
            for name, cell in self.cells.items()
        }

    def _is_asked(self, cell: Cell) -> bool:
        choice, codes = cell.field.asked_with
        return not choice or self.cells[choice].input.take([]) in codes

    def _ask(self) -> None:
        """Show what is asked with the choices as they are, and only that; what was typed stays in the rest."""
        left_out = {cell for cell in self.cells.values() if not self._is_asked(cell)}
        if left_out == self._left_out:
            return
        for cell in left_out ^ self._left_out:
            cell.setVisible(cell not in left_out)
        self._left_out = left_out
        self._lay(self._columns, anew=True)

    def cell_at(self, path: str) -> Cell | None:
        """Give the innermost cell that a path such as `costs[1].amount` leads to."""
        step = _STEP_OF_PATH.match(path)
        if step is None or step["name"] is None:
            return None
        cell = self.cells.get(step["name"])
        if cell is None:
            return None
        inner = cell.input.cell_at(path[step.end() :])
        return inner if isinstance(inner, Cell) else cell

    def touched(self) -> bool:
        """Whether anything was typed or chosen."""
        return any(cell.input.touched for cell in self.cells.values())

    def empty(self) -> bool:
        """Whether nothing stands in any of the inputs."""
        return all(cell.input.empty() for cell in self.cells.values())

    def on_new_wanted(self, picker: PickerInput, words: str) -> None:
        """Take a new one up in the part of the form that is there for it; else have it put into the ledger first."""
        beside = self.cells.get(picker.field.new_in)
        if beside is not None and isinstance(beside.input, GroupInput):
            beside.input.begin(words)
        else:
            self.wanted.emit(picker, words)

    def on_cell_changed(self) -> None:
        """Ask what goes with the choices, and tell in the headings what stands under them now."""
        self._ask()
        self._tell()
        self.changed.emit()

    def _tell(self) -> None:
        for heading, (_grid, cells) in self._folded.items():
            self.folds[heading].tell(
                " \u00b7 ".join(cell.input.told() for cell in cells if self._worth_telling(cell))
            )

    def _worth_telling(self, cell: Cell) -> bool:
        if cell.input.empty():
            return False
        try:
            return cell.name not in self._usual or cell.input.take([]) != self._usual[cell.name]
        except LedgerError:
            return True

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the cells into more or fewer columns."""
        super().resizeEvent(event)
        self._lay(max(1, min(self._most, (self.width() + self._gap) // (self._least + self._gap))))

    def _lay(self, columns: int, *, anew: bool = False) -> None:
        if not columns or (columns == self._columns and not anew):
            return
        before, self._columns = self._columns, columns
        row = self._set_in(self._grid, [cell for cell in self.cells.values() if not cell.field.under], before)
        for grid, cells in self._folded.values():
            self._set_in(grid, cells, before)
        if self.folds:
            self._grid.removeItem(self._under)
            self._grid.addLayout(self._under, row, 0, 1, columns)

    def _set_in(self, grid: QGridLayout, cells: Sequence[Cell], before: int) -> int:
        """Set cells into a grid, row by row; give the first row that is free."""
        columns = self._columns
        for n in range(max(columns, before)):
            grid.setColumnStretch(n, 1 if n < columns else 0)
        row = column = 0
        for cell in cells:
            grid.removeWidget(cell)
        cells = [cell for cell in cells if cell not in self._left_out]
        for cell in cells:
            span = self._span(cell)
            if column + span > columns:
                row, column = row + 1, 0
            if self._in_row and cell is cells[-1] and cell.field.kind is Kind.TEXT:
                span = columns - column
            grid.addWidget(cell, row, column, 1, span)
            column += span
            if column >= columns:
                row, column = row + 1, 0
        return row + (1 if column else 0)

    def _span(self, cell: Cell) -> int:
        if cell.input.wide:
            return self._columns
        # The words of an instrument or a name don't fit into a narrow column of a row.
        if (
            self._in_row
            and self._columns > 2
            and cell.field.kind in {Kind.PERSON, Kind.INSTRUMENT, Kind.GOODS, Kind.WORK}
        ):
            return 2
        return 1
