"""Strings and bridge: a set as it is typed, and beside it, live, what it pulls, what it presses, and the side view."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.bridge_picture import BridgePicture
from shopledger.desk.cells import CellGrid
from shopledger.desk.fonts import LARGE, SMALL, sans, serif
from shopledger.desk.input import Wrong, build, defaults_of
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, label
from shopledger.desk.scrolling import Page, scrolling
from shopledger.desk.shop import Shop
from shopledger.desk.strings_results import StringsResults, Told
from shopledger.desk.view import View
from shopledger.quantities.fields import inputs
from shopledger.quantities.words import _
from shopledger.rules.strings_form import StringsTyped, StringTyped
from shopledger.rules.strings_work import Worked, work_out

AFTER_MS = 120
"""How long typing has to rest before it is worked out anew."""
BESIDE_PX = 760
"""From this width on what comes of it stands beside the inputs, not under them."""
_USUAL = StringsTyped(strings=())


class StringsView(View):
    """The page; it writes nothing, so it may be left at any time."""

    def __init__(self, shop: Shop, known: Mapping[str, object], about: str) -> None:
        """Begin with what is known of an instrument, of which `about` is the title; both empty without one."""
        super().__init__()
        self.setObjectName("strings_view")
        self.setAccessibleName(_("Strings and bridge"))
        self._manners = shop.ledger.manners
        self.worked: Worked | None = None
        self.grid = CellGrid(shop, inputs(StringsTyped), usual=defaults_of(StringsTyped))
        start = defaults_of(StringsTyped) | {"strings": (StringTyped(pitch=""),)} | dict(known)
        self.grid.fill(start)
        self.picture = BridgePicture()
        self._caption = label("", font=sans(SMALL), tone="quiet")
        self._results: QWidget | None = None
        self._lay(about)
        self.timer = QTimer(self)
        self.timer.setSingleShot(True)
        self.timer.setInterval(AFTER_MS)
        self.timer.timeout.connect(self.flush)
        self.grid.changed.connect(self.on_input_changed)
        # What is missing at the beginning is not wrong yet: it is told as words, not at the inputs.
        self.flush(complain=False)

    def _lay(self, about: str) -> None:
        page = self.headed(label(_("Strings and bridge"), font=serif(LARGE), wrap=False), about)
        self._halves = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._halves.setSpacing(0)
        inner = Page()
        box = QVBoxLayout(inner)
        box.setContentsMargins(GROUP, CELL, GROUP, GROUP)
        box.addWidget(self.grid)
        box.addStretch(1)
        self._halves.addWidget(scrolling(inner), 1)
        self._line = Hairline(upright=True)
        self._halves.addWidget(self._line)
        beside = Page()
        self._side = QVBoxLayout(beside)
        self._side.setContentsMargins(GROUP, CELL, GROUP, GROUP)
        self._side.setSpacing(STEP)
        self._side.addWidget(self.picture)
        self._side.addWidget(self._caption)
        self._side.addStretch(1)
        self._halves.addWidget(scrolling(beside), 1)
        page.addLayout(self._halves, 1)

    def take_keyboard(self) -> None:
        """Go to the first input that is empty, else to the first."""
        cells = [cell for cell in self.grid.cells.values() if cell.isVisibleTo(self.grid)]
        empty = [cell for cell in cells if cell.input.empty()]
        for cell in (empty or cells)[:1]:
            cell.input.setFocus(Qt.FocusReason.OtherFocusReason)

    def flush(self, *, complain: bool = True) -> None:
        """Work it out now; what is wrong is said at its input, and whatever can be told beside it is."""
        self.timer.stop()
        wrong: list[Wrong] = []
        values = self.grid.take(wrong)
        unread = {path for path, _error in wrong}
        # A figure that can't be read is as good as missing: all else is worked out all the same.
        kept = {
            name: getattr(_USUAL, name, None)
            if value is None and name not in ("length", "afterlength")
            else value
            for name, value in values.items()
        }
        self.worked = work_out(build(StringsTyped, kept))
        said = [*wrong, *(one for one in self.worked.wrong if one[0] not in unread)]
        for path, error in said:
            cell = self.grid.cell_at(path)
            if cell is not None and (complain or not cell.input.empty()) and not self._waits(cell):
                cell.complain(error)
        cells = (self.grid.cell_at(path) for path, _error in said)
        self._show(self.worked, [_(cell.field.label) for cell in cells if cell is not None])

    @staticmethod
    def _waits(cell: object) -> bool:
        """Whether an input is empty and was never touched, so that it is only waited for."""
        inner = getattr(cell, "input", None)
        return inner is not None and inner.empty() and not inner.touched

    def _show(self, worked: Worked, lacking: Sequence[str]) -> None:
        told = Told(worked, self._manners)
        pull = worked.pull
        self.picture.setVisible(pull is not None)
        self._caption.setVisible(pull is not None)
        if pull is not None and worked.view is not None:
            self.picture.show_view(
                worked.view, told.angle(pull.angle_deg), told.force(pull.tension_n), told.force(pull.load_n)
            )
            self._caption.setText(
                _("To scale, height and length alike.")
                if worked.view.to_scale
                else _("The angle and the length to scale; the bridge upright, the afterlength as is usual.")
            )
        results = StringsResults(told, lacking)
        if self._results is not None:
            self._side.removeWidget(self._results)
            self._results.hide()
            self._results.deleteLater()
        self._results = results
        self._side.insertWidget(2, results)

    def on_input_changed(self) -> None:
        """Wait until the typing rests."""
        for cell in self.grid.cells.values():
            cell.quieten()
        self.timer.start()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set what comes of it beside the inputs where there is room."""
        super().resizeEvent(event)
        wide = self.width() >= BESIDE_PX
        self._halves.setDirection(
            QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        )
        self._line.setVisible(wide)
