"""What is seen of an instrument, part by part: rows with the words that fit its kind, and a numbered pin each on one of
the photographs that are added in the same form.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QLabel, QPushButton, QScrollArea

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.input import Wrong
from shopledger.desk.kind_rows import KindRows
from shopledger.desk.labels import CELL, button, label
from shopledger.desk.nested import FormRow, MakeGrid
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.pinned import Pin
from shopledger.desk.pinning import Pinning
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import Bug
from shopledger.quantities.fields import Field
from shopledger.quantities.words import N_, _

PIN = ("picture", "x", "y")
"""The inputs of a row that its pin fills."""


@dataclass(eq=False)
class _Mark:
    """What a row has beside its inputs: its number, the button that sets its pin, and the pin."""

    number: QLabel
    button: QPushButton
    pin: Pin | None = None


class MarksInput(KindRows):
    """Rows with pins."""

    def __init__(self, shop: Shop, field: Field, path: str, make_grid: MakeGrid) -> None:
        """Make an empty list."""
        super().__init__(shop, field, path, make_grid)
        self._fields = {name: one for name, one in self._fields.items() if name not in PIN}
        self._pictures: PicturesInput | None = None
        self._marks: dict[FormRow, _Mark] = {}
        self._placing: FormRow | None = None
        self.pinning = Pinning(shop, path)
        self._box.addWidget(self.pinning)
        self.pinning.placed.connect(self.place_pin)
        self.pinning.removed.connect(self.remove_pin)
        self.pinning.turned.connect(self._tell)

    def stand_beside(self, cells: Mapping[str, Any]) -> None:
        """Find the photographs for the pins too."""
        pictures = cells[self._field.pins].input
        if not isinstance(pictures, PicturesInput):
            raise Bug(N_("{label} has no photographs beside it for its pins."), label=self._field.label)
        self._pictures = pictures
        pictures.changed.connect(self.on_photographs_changed)
        super().stand_beside(cells)

    def add(self, original: object | None = None) -> FormRow:
        """Append a row with its number and what sets its pin."""
        row = super().add(original)
        mark = _Mark(label("", font=sans(SMALL, strong=True), wrap=False), button("", "pin", weight="quiet"))
        mark.number.setFixedWidth(20)
        mark.number.setContentsMargins(0, 20, 0, 0)
        mark.button.clicked.connect(lambda: self.on_pin_clicked(row))
        row.line.insertWidget(0, mark.number, 0, Qt.AlignmentFlag.AlignTop)
        row.beside.insertWidget(row.beside.count() - 1, mark.button)
        self._marks[row] = mark
        self._tell()
        return row

    def _drop(self, row: FormRow) -> None:
        del self._marks[row]
        if self._placing is row:
            self._placing = None
        super()._drop(row)
        self._tell()

    def take(self, wrong: list[Wrong]) -> object:
        """Give the rows, each with its pin."""
        rows = super().take(wrong)
        assert isinstance(rows, tuple)
        # Where one is wrong the rows are not all there, and nothing comes of any.
        if len(rows) < len(self.rows):
            return rows
        return tuple(replace(made, **self._where(row)) for made, row in zip(rows, self.rows, strict=True))

    def _where(self, row: FormRow) -> dict[str, int | None]:
        pin = self._marks[row].pin
        if pin is None:
            return dict.fromkeys(PIN)
        return {"picture": self.pinning.number_of(pin), "x": pin.x, "y": pin.y}

    def on_photographs_changed(self) -> None:
        """Show the photographs that are ready; a pin goes with its photograph."""
        assert self._pictures is not None
        self.pinning.show_photographs(self._pictures.ready)
        for mark in self._marks.values():
            if mark.pin is not None and not self.pinning.number_of(mark.pin):
                mark.pin = None
        self._tell()

    def on_pin_clicked(self, row: FormRow) -> None:
        """Go to the photograph to set the pin of a row, or to set it elsewhere."""
        self._placing = row
        pin = self._marks[row].pin
        if pin is not None:
            self.pinning.go_to(pin)
        self._tell()
        self.pinning.board.setFocus(Qt.FocusReason.OtherFocusReason)

    def _next(self) -> FormRow | None:
        """Give the row whose pin is set next: the one asked for, else the first without; None for a new one."""
        return self._placing or next((row for row in self.rows if self._marks[row].pin is None), None)

    def place_pin(self, pin: Pin) -> None:
        """Set the pin of the row that is next, or of a new one, and go on in that row."""
        row = self._next() or self.add()
        self._marks[row].pin = pin
        self._placing = None
        self._tell()
        self.on_typed()
        cells = list(row.grid.cells.values())
        first = next((cell for cell in cells if cell.input.empty()), cells[0])
        first.input.setFocus(Qt.FocusReason.OtherFocusReason)
        # A row that was just added is laid out after this.
        QTimer.singleShot(0, row.frame, lambda: self._bring_into_sight(row))

    def _bring_into_sight(self, row: FormRow) -> None:
        parent = self.parentWidget()
        while parent is not None and not isinstance(parent, QScrollArea):
            parent = parent.parentWidget()
        if parent is not None:
            parent.ensureWidgetVisible(row.frame, 0, CELL)

    def remove_pin(self, sha256: str) -> None:
        """Take away the pin that is being set elsewhere, else the last one of a photograph."""
        marks = [self._marks[row] for row in self.rows]
        on_it = [mark for mark in marks if mark.pin is not None and mark.pin.sha256 == sha256]
        mark = self._marks[self._placing] if self._placing is not None else on_it[-1] if on_it else None
        if mark is not None and mark.pin is not None:
            mark.pin = self._placing = None
            self._tell()
            self.on_typed()

    def _tell(self) -> None:
        """Show what stands where."""
        numbered = [(n, self._marks[row]) for n, row in enumerate(self.rows, start=1)]
        for n, mark in numbered:
            mark.number.setText(str(n))
            mark.button.setVisible(bool(self.pinning.photographs))
            if mark.pin is None:
                mark.button.setText(_("Set its pin"))
                words = _("Set the pin of mark {n} on a photograph").format(n=n)
            else:
                photograph = self.pinning.number_of(mark.pin)
                mark.button.setText(_("Pin on {n}").format(n=photograph))
                words = _("Pin of mark {n}, on photograph {photograph}").format(n=n, photograph=photograph)
            mark.button.setAccessibleName(words)
        row = self._next()
        number = self.rows.index(row) + 1 if row is not None else len(self.rows) + 1
        if row is not None and self._marks[row].pin is not None:
            said = _("Click where pin {n} is to go, or press Delete to take it away.")
        else:
            said = _("Click where mark {n} is, or go there by the arrow keys and press Return.")
        pins = [(n, mark.pin) for n, mark in numbered if mark.pin is not None]
        self.pinning.show_pins(pins, said.format(n=number), number)
