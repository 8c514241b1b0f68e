"""Rows whose words fit the kind of instrument that the form is about, be it on record or just being described."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from shopledger.desk.nested import FormRow, GroupInput, MakeGrid, RowsInput
from shopledger.desk.picker import PickerInput
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Field
from shopledger.queries.shapes import Subject


class KindRows(RowsInput):
    """A list of rows that tell their inputs the kind of instrument."""

    def __init__(self, shop: Shop, field: Field, path: str, make_grid: MakeGrid) -> None:
        """Make an empty list."""
        super().__init__(shop, field, path, make_grid)
        self.kind = ""
        """The kind of instrument; empty where it isn't known yet."""

    def stand_beside(self, cells: Mapping[str, Any]) -> None:
        """Find what says which kind of instrument it is."""
        for name, kind_in in (
            ("instrument_id", self._kind_of_known),
            ("instrument", _kind_of_new),
            ("wish", _kind_of_new),
        ):
            cell = cells.get(name)
            if cell is not None:
                cell.input.changed.connect(self._follower(cell.input, kind_in))

    def _follower(self, beside: Any, kind_in: Callable[[Any], str]) -> Callable[[], None]:
        def follow() -> None:
            # The two are alternatives: the one that is empty doesn't take back what the other says.
            kind = kind_in(beside)
            if kind:
                self.show_kind(kind)

        return follow

    def _kind_of_known(self, picker: PickerInput) -> str:
        return "" if picker.id is None else self._kind_of(Subject.INSTRUMENT, picker.id)

    def be_about(self, subject: Subject, subject_id: int) -> None:
        """Offer the words of the kind of instrument that the form is about."""
        if subject_id:
            self.show_kind(self._kind_of(subject, subject_id))

    def _kind_of(self, subject: Subject, subject_id: int) -> str:
        try:
            with self._shop.ledger.read() as reading:
                return self._shop.kind_of(reading, subject, subject_id)
        except LedgerError:
            # What doesn't fit is told by the act; until then the words of any kind will do.
            return ""

    def show_kind(self, kind: str) -> None:
        """Offer the words of this kind of instrument."""
        self.kind = kind
        for row in self.rows:
            self._tell_kind(row)

    def _tell_kind(self, row: FormRow) -> None:
        for cell in row.grid.cells.values():
            cell.input.list_for(self.kind)

    def add(self, original: object | None = None) -> FormRow:
        """Append a row for this kind of instrument."""
        row = super().add(original)
        self._tell_kind(row)
        return row


def _kind_of_new(group: GroupInput) -> str:
    cell = group.grid.cells.get("kind")
    return "" if cell is None else str(cell.input.take([]) or "")
