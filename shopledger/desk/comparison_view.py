"""Up to four instruments side by side, or one on several days: what each measures, what differs, what it feels like."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.choice_box import ChoiceBox
from shopledger.desk.errors import sentence
from shopledger.desk.flow import Flow
from shopledger.desk.fonts import LARGE, SMALL, TEXT, sans, serif
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, button, label
from shopledger.desk.picker import PickerInput
from shopledger.desk.scrolling import Page, scrolling
from shopledger.desk.shop import Shop
from shopledger.desk.view import View
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.queries.comparing import Cell, ComparedRow, Comparison, Wanted

_LABEL_PX = 132
_BESIDE = Field(N_("Set another beside"), Kind.INSTRUMENT)
_CARRIED = Field(N_("Carry with it"), Kind.INSTRUMENT)


class ComparisonView(View):
    """The instrument it was opened from in the first column; others are found by typing a part of their names."""

    def __init__(self, shop: Shop, instrument_id: int, about: str) -> None:
        """Show one instrument, beside which others can be set; `about` is its title.

        Raises: LedgerError: it can't be read.
        """
        super().__init__()
        self.shop = shop
        self.setObjectName("comparison_view")
        self.setAccessibleName(_("Side by side: {about}").format(about=about))
        self.with_it: tuple[int, ...] = ()
        """What is carried with each: bows and a case, by their ids."""
        self.beside = PickerInput(shop, _BESIDE, "beside")
        self.carried = PickerInput(shop, _CARRIED, "carried")
        self._said = label("", font=sans(SMALL), tone="madder")
        self._said.setObjectName("said")
        self._said.hide()
        self._page = self.headed(label(_("Side by side"), font=serif(LARGE), wrap=False), about)
        self._page.addLayout(self._lines())
        self._area: QScrollArea | None = None
        self.beside.changed.connect(self.on_beside_chosen)
        self.carried.changed.connect(self.on_carried_chosen)
        self.boxes: list[ChoiceBox] = []
        self.wanted: tuple[Wanted, ...] = ()
        self.show_beside(self.shop.as_wanted(instrument_id))

    def _lines(self) -> QVBoxLayout:
        """Give the two lines in which instruments are found."""
        box = QVBoxLayout()
        box.setContentsMargins(GROUP, CELL, GROUP, 8)
        box.setSpacing(STEP)
        line = QHBoxLayout()
        line.setSpacing(GROUP)
        for picker, help_words in (
            (self.beside, _("An instrument, or the same one on an earlier day; four at most.")),
            (self.carried, _("A case, a bow: their weights are added to that of each.")),
        ):
            words = _(picker.field.label)
            picker.setObjectName(f"input.{picker.path}")
            picker.name_for_readers(words, help_words)
            picker.setToolTip(help_words)
            one = QVBoxLayout()
            one.setSpacing(0)
            one.addWidget(label(words, font=sans(SMALL), tone="quiet", wrap=False))
            one.addWidget(picker)
            one.addStretch(1)
            line.addLayout(one, 1)
        box.addLayout(line)
        box.addWidget(self._said)
        return box

    def show_beside(self, *wanted: Wanted, with_it: Sequence[int] | None = None) -> None:
        """Set these side by side, carried with these things.

        Raises: LedgerError: they can't be read, or are more than four.
        """
        carried = self.with_it if with_it is None else tuple(with_it)
        with self.shop.ledger.read() as reading:
            found = self.shop.beside(reading, wanted, carried)
        self.wanted, self.with_it, self.comparison = wanted, carried, found
        inner = Page()
        box = QVBoxLayout(inner)
        box.setContentsMargins(GROUP, CELL, GROUP, GROUP)
        box.setSpacing(0)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(CELL)
        self._grid.setVerticalSpacing(6)
        self._grid.setColumnMinimumWidth(0, _LABEL_PX)
        for n in range(len(wanted)):
            self._grid.setColumnStretch(n + 1, 1)
        self._row = 0
        self._add_heads(found)
        self._add_rows(_("Measured"), found.measures)
        self._add_rows(_("Which size it feels like"), found.feels)
        self._add_rows(_("To carry"), (found.carried,))
        box.addLayout(self._grid)
        self._add_carried(box, found)
        box.addStretch(1)
        area = scrolling(inner)
        kept = 0
        if self._area is not None:
            kept = self._area.verticalScrollBar().value()
            self._page.removeWidget(self._area)
            self._area.hide()
            self._area.deleteLater()
        self._area = area
        self._page.addWidget(area, 1)
        area.verticalScrollBar().setValue(kept)

    def _add_heads(self, found: Comparison) -> None:
        """Set the head of each column: what it is, up to which day it is shown, and what takes it away."""
        manners = self.shop.ledger.manners
        self.boxes = []
        for n, side in enumerate(found.sides):
            head = QVBoxLayout()
            head.setSpacing(STEP)
            head.addWidget(label(side.title, font=sans(TEXT, strong=True), select=True))
            head.addWidget(label(side.line, font=sans(SMALL), tone="quiet", select=True))
            box = ChoiceBox()
            box.setObjectName(f"day.{n}")
            box.setAccessibleName(_("As measured up to, {title}").format(title=side.title))
            box.addItem(_("newest readings"))
            for day in side.days:
                box.addItem(_("up to {day}").format(day=show_day(day, manners)))
            box.setCurrentIndex(side.days.index(side.on) + 1 if side.on in side.days else 0)
            box.activated.connect(lambda _index, n=n: self.on_day_chosen(n))
            self.boxes.append(box)
            head.addWidget(box)
            if len(found.sides) > 1:
                away = button(_("Take away"), f"away.{n}", weight="quiet")
                away.setAccessibleName(_("Take away {title}").format(title=side.title))
                away.clicked.connect(lambda _checked=False, n=n: self.on_away_clicked(n))
                head.addWidget(away, 0, Qt.AlignmentFlag.AlignLeft)
            head.addStretch(1)
            self._grid.addLayout(head, self._row, n + 1)
        self._row += 1

    def _add_rows(self, title: str, rows: Sequence[ComparedRow]) -> None:
        if not rows:
            return
        wide = len(self.wanted) + 1
        self._grid.setRowMinimumHeight(self._row, GROUP)
        head = label(title, font=serif(LARGE), wrap=False)
        self._grid.addWidget(head, self._row + 1, 0, 1, wide)
        self._row += 2
        for row in rows:
            self._grid.addWidget(Hairline(), self._row, 0, 1, wide)
            name = label(row.label, tone="quiet")
            name.setFixedWidth(_LABEL_PX)
            self._grid.addWidget(name, self._row + 1, 0, Qt.AlignmentFlag.AlignTop)
            for n, cell in enumerate(row.cells):
                made = self._cell(row, n, cell)
                self._grid.addLayout(made, self._row + 1, n + 1, Qt.AlignmentFlag.AlignTop)
            self._row += 2

    def _cell(self, row: ComparedRow, n: int, cell: Cell) -> QVBoxLayout:
        box = QVBoxLayout()
        box.setSpacing(0)
        words = label(cell.words or "\u2013", select=True)
        title = self.comparison.sides[n].title
        words.setAccessibleName(f"{row.label}, {title}: {cell.words} {cell.differs} {cell.quiet}".strip())
        words.setObjectName(f"cell.{row.label}.{n}")
        box.addWidget(words)
        if cell.differs:
            differs = label(cell.differs, font=sans(SMALL, strong=True), tone="slate")
            differs.setObjectName(f"differs.{row.label}.{n}")
            box.addWidget(differs)
        if cell.quiet:
            box.addWidget(label(cell.quiet, font=sans(SMALL), tone="quiet", select=True))
        return box

    def _add_carried(self, box: QVBoxLayout, found: Comparison) -> None:
        if not found.with_it:
            return
        row = QWidget()
        flow = Flow(row, across=8, down=8)
        for key, words in found.with_it:
            made = button(_("Leave {thing} out").format(thing=words), f"leave.{key}", weight="quiet")
            made.clicked.connect(lambda _checked=False, key=key: self.on_leave_clicked(key))
            flow.addWidget(made)
        box.addSpacing(8)
        box.addWidget(row)

    def _try(self, wanted: Sequence[Wanted], with_it: Sequence[int]) -> None:
        """Set them side by side, or say why not and leave what stands there."""
        self._said.hide()
        try:
            self.show_beside(*wanted, with_it=with_it)
        except LedgerError as error:
            self._said.setText(sentence(error, self.shop.ledger.manners))
            self._said.show()

    def on_beside_chosen(self) -> None:
        """Set what was chosen beside the rest; the same one again is shown as it was measured before."""
        key = self.beside.id
        if key is None:
            return
        self.beside.put(None)
        new = self.shop.as_wanted(key)
        shown = [day.on for day in self.wanted if day.id == key]
        days = next((side.days for side in self.comparison.sides if side.id == key), ())
        earlier = [day for day in days[1:] if day not in shown]
        if shown and earlier:
            new = replace(new, on=earlier[0])
        self._try((*self.wanted, new), self.with_it)
        self.beside.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_carried_chosen(self) -> None:
        """Add what was chosen to what is carried."""
        key = self.carried.id
        if key is None:
            return
        self.carried.put(None)
        if key not in self.with_it:
            self._try(self.wanted, (*self.with_it, key))
        self.carried.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_day_chosen(self, n: int) -> None:
        """Show a column as it was measured up to the day that is chosen now."""
        chosen = self.boxes[n].currentIndex()
        day = self.comparison.sides[n].days[chosen - 1] if chosen else None
        wanted = [replace(one, on=day) if m == n else one for m, one in enumerate(self.wanted)]
        self._try(wanted, self.with_it)
        self.boxes[n].setFocus(Qt.FocusReason.OtherFocusReason)

    def on_away_clicked(self, n: int) -> None:
        """Take a column away."""
        self._try([one for m, one in enumerate(self.wanted) if m != n], self.with_it)
        self.beside.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_leave_clicked(self, key: int) -> None:
        """Carry one thing less."""
        self._try(self.wanted, [one for one in self.with_it if one != key])
        self.carried.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_keyboard(self) -> None:
        """Go to the line in which another one is found."""
        self.beside.setFocus(Qt.FocusReason.OtherFocusReason)
