"""Inputs made of inputs: a record of its own inside a form, and a list of rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, is_dataclass, replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from shopledger.desk.input import Input, Wrong, build, defaults_of, rebuild, without_nothing
from shopledger.desk.labels import CELL, STEP, Hairline, button
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import Bug
from shopledger.quantities.fields import Field, Kind, inputs
from shopledger.quantities.words import N_, _

MakeGrid = Callable[..., Any]
"""(shop, fields, path, most columns, usual values): a grid of cells, which is a widget too."""


def fields_within(shop: Shop, field: Field) -> Mapping[str, Field]:
    """Give the fields of the form or record inside a field.

    Raises: Bug: the field doesn't say of what it is made.
    """
    if field.of is None:
        raise Bug(N_("{label} doesn't say of what it is made."), label=field.label)
    found = inputs(field.of) if is_dataclass(field.of) else shop.group_fields(field.of)
    if not field.first:
        return found
    return {
        name: one if name in field.first else replace(one, under=N_("More about it"))
        for name, one in found.items()
    }


class GroupInput(Input):
    """A record of its own in the form: its fields in a grid under one heading."""

    wide = True

    def __init__(self, shop: Shop, field: Field, path: str, make_grid: MakeGrid) -> None:
        """Make an input for each field of the record."""
        super().__init__(path)
        self._fields = fields_within(shop, field)
        self._required = field.required
        self.grid = make_grid(shop, self._fields, path, 3)
        if field.of is not None and not is_dataclass(field.of):
            self.grid.begin(shop.group_beginning(field.of))
        self._shown: set[str] = set()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, STEP, 0, 0)
        box.setSpacing(CELL)
        box.addWidget(Hairline())
        box.addWidget(self.grid)
        self.grid.changed.connect(self.on_typed)
        self.grid.wanted.connect(self.wanted)
        for cell in list(self.grid.cells.values())[:1]:
            self.setFocusProxy(cell.input)

    def name_for_readers(self, words: str, description: str) -> None:
        """Name the group itself; its inputs have names of their own."""
        self.setAccessibleName(words)
        self.setAccessibleDescription(description)

    def take(self, wrong: list[Wrong]) -> object:
        """Give the values by the names of their fields; none where it isn't required and nothing is typed."""
        if not self._required and self.empty():
            return {}
        taken = self.grid.take(wrong)
        return {
            name: without_nothing(self._fields[name].kind, value)
            for name, value in taken.items()
            # What was never there and wasn't typed is left out, so that the record's own default stands.
            if value is not None or name in self._shown or self.grid.cells[name].input.touched
        }

    def begin(self, words: str) -> None:
        """Take up what was typed elsewhere: words of a choice are chosen, the rest is the first line."""
        left = words.split()
        cells = [cell for cell in self.grid.cells.values() if not cell.field.under]
        for cell in cells:
            said = [(code, _(word)) for code, word in cell.field.choices]
            code = next(
                (code for code, word in said if word.casefold() in (one.casefold() for one in left)), None
            )
            if code is not None:
                left = [one for one in left if one.casefold() != dict(said)[code].casefold()]
                cell.input.put(code)
        line = next((cell for cell in cells if cell.field.kind is Kind.TEXT), None)
        if line is not None and left:
            line.input.put(" ".join(left))
            line.input.on_typed()
        self.on_typed()
        empty = next((cell for cell in cells if cell.input.empty()), cells[0])
        empty.input.setFocus(Qt.FocusReason.OtherFocusReason)

    def put(self, value: object) -> None:
        """Show a mapping of values."""
        if isinstance(value, Mapping):
            self.grid.fill(value)
            self._shown.update(value)

    def empty(self) -> bool:
        """Whether nothing stands in any of its inputs."""
        return bool(self.grid.empty()) or not (self._shown or self.grid.touched())

    def cell_at(self, path: str) -> QWidget | None:
        """Give the cell that the rest of a path leads to."""
        found: QWidget | None = self.grid.cell_at(path)
        return found


@dataclass(eq=False)
class FormRow:
    """One row of a list in a form."""

    frame: QWidget
    line: QHBoxLayout
    """The grid, and what stands beside it."""
    beside: QVBoxLayout
    """The buttons of the row."""
    grid: Any
    original: object | None
    """The instance it was made from, for what isn't typed; None for a new row."""
    path: str
    """The path that its inputs were made with."""


class RowsInput(Input):
    """A list of rows, each with its inputs in a line where there is room."""

    wide = True

    def __init__(self, shop: Shop, field: Field, path: str, make_grid: MakeGrid) -> None:
        """Make an empty list."""
        super().__init__(path)
        self._shop, self._field, self._make_grid = shop, field, make_grid
        self._fields = fields_within(shop, field)
        self.rows: list[FormRow] = []
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, STEP, 0, 0)
        self._box.setSpacing(CELL)
        self._box.addWidget(Hairline())
        self.add_button: QPushButton = button(_("Add a line"), f"add.{path}", weight="quiet")
        self.add_button.setAccessibleName(_("Add a line to {label}").format(label=_(field.label)))
        self.add_button.clicked.connect(self.on_add_clicked)
        self.setFocusProxy(self.add_button)

    def aside(self) -> QWidget:
        """The button that adds a row, beside the words."""
        return self.add_button

    def add(self, original: object | None = None) -> FormRow:
        """Append a row, filled from an instance where one is given."""
        n = len(self.rows)
        frame = QWidget()
        line = QHBoxLayout(frame)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(CELL)
        grid = self._make_grid(self._shop, self._fields, f"{self.path}[{n}]", 3, defaults_of(self._made_of()))
        if original is None:
            grid.fill(defaults_of(self._made_of()))
        else:
            grid.fill({name: getattr(original, name) for name in self._fields})
        grid.changed.connect(self.on_typed)
        grid.wanted.connect(self.wanted)
        line.addWidget(grid, 1)
        beside = QVBoxLayout()
        row = FormRow(frame, line, beside, grid, original, f"{self.path}[{n}]")
        remove = button(_("Remove"), f"remove.{self.path}[{n}]", weight="quiet")
        remove.setAccessibleName(_("Remove line {n} of {label}").format(n=n + 1, label=_(self._field.label)))
        remove.clicked.connect(lambda: self.on_remove_clicked(row))
        # Level with the inputs of the first line, which stand under their words.
        beside.addSpacing(16)
        beside.addWidget(remove)
        beside.addStretch(1)
        line.addLayout(beside)
        self.rows.append(row)
        self._box.addWidget(frame)
        frame.show()
        return row

    def take_keyboard(self) -> None:
        """Take the keyboard to the first input of the first row, to the button that adds one where there is none."""
        cells = list(self.rows[0].grid.cells.values()) if self.rows else []
        (cells[0].input if cells else self.add_button).setFocus(Qt.FocusReason.OtherFocusReason)

    def _made_of(self) -> type:
        assert self._field.of is not None
        return self._field.of

    def take(self, wrong: list[Wrong]) -> object:
        """Give the rows as a tuple of instances."""
        made = []
        for n, row in enumerate(self.rows):
            before = len(wrong)
            found: list[Wrong] = []
            values = row.grid.take(found)
            prefix = f"{self.path}[{n}]"
            # A row's inputs keep the path they were made with; after a removal the rows have moved up.
            wrong.extend((prefix + path[len(row.path) :], error) for path, error in found)
            if len(wrong) > before:
                continue
            if row.original is not None:
                made.append(rebuild(row.original, values))
            else:
                made.append(build(self._made_of(), values))
        return tuple(made)

    def put(self, value: object) -> None:
        """Show these rows in place of any that stand there."""
        for row in list(self.rows):
            self._drop(row)
        for original in value if isinstance(value, (tuple, list)) else ():
            self.add(original)

    def told(self) -> str:
        """What the rows are, and how many."""
        return f"{_(self._field.label)} ({len(self.rows)})"

    def empty(self) -> bool:
        """Whether there is no row."""
        return not self.rows

    def cell_at(self, path: str) -> QWidget | None:
        """Give the cell that the rest of a path, as `[1].amount`, leads to."""
        if not path.startswith("[") or "]" not in path:
            return None
        number, rest = path[1:].split("]", 1)
        if not number.isdigit() or int(number) >= len(self.rows):
            return None
        found: QWidget | None = self.rows[int(number)].grid.cell_at(rest)
        return found

    def on_add_clicked(self) -> None:
        """Append an empty row and go to its first input."""
        row = self.add()
        self.on_typed()
        first = next(iter(row.grid.cells.values()), None)
        if first is not None:
            first.input.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_remove_clicked(self, row: FormRow) -> None:
        """Take a row out."""
        self._drop(row)
        self.add_button.setFocus(Qt.FocusReason.OtherFocusReason)
        self.on_typed()

    def _drop(self, row: FormRow) -> None:
        self.rows.remove(row)
        self._box.removeWidget(row.frame)
        row.frame.hide()
        row.frame.deleteLater()
