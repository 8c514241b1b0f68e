"""A line for a figure in the unit of the measure beside it: millimetres or inches, grams or ounces, degrees."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopledger.desk.input import Wrong
from shopledger.desk.line_input import LineInput
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.fields import Field
from shopledger.quantities.measured import Measured, other_unit_of, read_measured
from shopledger.rules.measures import called, measures_for


class MeasuredInput(LineInput):
    """Reads what is typed by the measure that stands beside it; shows its unit, then the figure in the other one."""

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start empty, beside no measure yet."""
        super().__init__(shop, field, path)
        self._kind = ""
        self._measure: Any = None

    def stand_beside(self, cells: Mapping[str, Any]) -> None:
        """Follow the measure that is typed or chosen beside it."""
        cell = cells.get("measure")
        if cell is not None:
            self._measure = cell.input
            cell.input.changed.connect(self._tell)
            cell.input.left.connect(self._tell)

    def list_for(self, kind: str) -> None:
        """Read by the measures of a kind of instrument."""
        self._kind = kind
        self._tell()

    def measure_unit(self) -> str:
        """The unit of the measure beside it; nothing where it isn't known which measure that is."""
        if not self._kind or self._measure is None:
            return ""
        try:
            measure = called(self._measure.told(), measures_for(self._kind))
        except LedgerError:
            return ""
        return measure.unit if measure is not None else ""

    def take(self, wrong: list[Wrong]) -> object:
        """Give the figure; the words as they are typed where the act has to tell first which measure it is."""
        text = self.line.text().strip()
        unit = self.measure_unit()
        if not text or not unit:
            return text or None
        return read_measured(text, unit=unit, manners=self.shop.ledger.manners, field=self.path)

    def on_text_changed(self, _text: str) -> None:
        """Show how the figure reads in the other unit."""
        self._tell()

    def _tell(self) -> None:
        text, unit = self.line.text().strip(), self.measure_unit()
        words = unit
        if text and unit:
            figure = self._figure(text, unit)
            words = other_unit_of(figure, self.shop.ledger.manners) if figure is not None else unit
            if figure is not None and not words and text[-1].isdigit():
                words = unit
        self.tell_behind(words)

    def _figure(self, text: str, unit: str) -> Measured | None:
        try:
            return read_measured(text, unit=unit, manners=self.shop.ledger.manners)
        except Typed:
            return None
