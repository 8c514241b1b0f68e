"""Today: what needs the shop, in order of harm; each line leads to its act. Under it stands what can begin now."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.due_row import DueRow
from shopledger.desk.flow import Flow
from shopledger.desk.fonts import LARGE, TITLE, serif
from shopledger.desk.labels import CELL, GROUP, Hairline, button, label
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _, count_words
from shopledger.queries.due_lines import DueLine, Section
from shopledger.queries.shapes import Subject

WIDE_PX = 900
"""How wide a section may be: a longer line is hard to follow to its amount."""


class Today(QScrollArea):
    """The page of the day."""

    act_wanted = Signal(object)
    """An act that can begin at any time."""
    line_wanted = Signal(object, bool)
    """A DueLine: the thing itself is to be shown, and where True also the form of the act it leads to."""
    view_wanted = Signal(object)
    """A Section, of which all lines are to be shown in their table."""

    def __init__(self, shop: Shop) -> None:
        """Read what waits and what can begin."""
        super().__init__()
        self.setObjectName("place.today")
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(GROUP, GROUP, GROUP, GROUP)
        box.setSpacing(CELL)
        self._title = label("", font=serif(TITLE))
        box.addWidget(self._title)
        self.shop = shop
        self._stale = False
        self._said = label("", tone="quiet")
        self._said.setObjectName("today.said")
        box.addWidget(self._said)
        self._sections = QWidget()
        self._waiting = QVBoxLayout(self._sections)
        self._waiting.setContentsMargins(0, 0, 0, 0)
        self._waiting.setSpacing(0)
        self._sections.setMaximumWidth(WIDE_PX)
        box.addWidget(self._sections)
        box.addSpacing(CELL)
        box.addWidget(label(_("What can begin now"), font=serif(LARGE)))
        self._row = QWidget()
        self._flow = Flow(self._row)
        box.addWidget(self._row)
        box.addStretch(1)
        self.setWidget(page)
        self.rows: list[DueRow] = []
        self.read()

    def read(self) -> None:
        """Read again what waits and what can begin."""
        self._stale = False
        self._day = self.shop.ledger.today()
        title = show_day(self._day, self.shop.ledger.manners)
        self._title.setText(title)
        self.setAccessibleName(title)
        for layout in (self._flow, self._waiting):
            while (item := layout.takeAt(0)) is not None:
                if (widget := item.widget()) is not None:
                    widget.hide()
                    widget.deleteLater()
        self.rows = []
        self._ends: list[QWidget] = []
        try:
            with self.shop.ledger.read() as reading:
                sections = self.shop.today(reading)
                acts = self.shop.next_acts(reading, Subject.SHOP, 0)
        except LedgerError as error:
            self._said.setText(error.sentence(self.shop.ledger.manners))
            return
        count = sum(section.count for section in sections)
        self._said.setText(
            count_words(
                "{n} thing needs you, the gravest first.", "{n} things need you, the gravest first.", count
            )
            if count
            else _("Nothing waits: no trial is due, nothing is owed or promised for the days to come.")
        )
        for section in sections:
            self._add(section)
        # As wide as the widest button of the page, so that the lines end alike.
        widest = max((end.sizeHint().width() for end in self._ends), default=0)
        for end in self._ends:
            end.setFixedWidth(widest)
        for act in acts:
            made = button(_(act.text), f"act.{act.name}")
            made.setToolTip(_(act.help))
            made.clicked.connect(lambda _checked=False, act=act: self.act_wanted.emit(act))
            self._flow.addWidget(made)

    def read_later(self) -> None:
        """Read again when the page is next seen, or now where it is."""
        self._stale = True
        if self.isVisible():
            self.read()

    def _add(self, section: Section) -> None:
        self._waiting.addSpacing(GROUP)
        self._waiting.addWidget(label(_(section.title), font=serif(LARGE)))
        self._waiting.addSpacing(4)
        for line in section.lines:
            self._waiting.addWidget(Hairline())
            self._waiting.addWidget(self._line(line))
        if section.more:
            self._waiting.addWidget(Hairline())
            more = button(
                count_words("{n} more: show all", "{n} more: show all", section.more),
                f"more.{section.name}",
                weight="quiet",
            )
            more.clicked.connect(lambda: self.view_wanted.emit(section))
            self._waiting.addWidget(more, 0, Qt.AlignmentFlag.AlignLeft)

    def _line(self, line: DueLine) -> QWidget:
        whole = QWidget()
        box = QHBoxLayout(whole)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(GROUP)
        row = DueRow(line, self.shop.ledger.manners)
        row.clicked.connect(lambda: self.line_wanted.emit(line, False))
        box.addWidget(row, 1)
        self.rows.append(row)
        end = QWidget()
        self._ends.append(end)
        last = QHBoxLayout(end)
        last.setContentsMargins(0, 0, 0, 0)
        act = next((one for name in line.acts if (one := self.shop.act(name)) is not None), None)
        if act is not None:
            made = button(_(act.text), f"due_act.{act.name}.{line.key}")
            made.setAccessibleName(f"{_(act.text)}: {line.what}")
            made.clicked.connect(lambda: self.line_wanted.emit(line, True))
            made.ensurePolished()  # its size is told with the room at its sides
            last.addWidget(made, 0, Qt.AlignmentFlag.AlignLeft)
        box.addWidget(end)
        return whole

    def showEvent(self, event: QShowEvent) -> None:
        """Read what was done meanwhile, and on another day what that brings."""
        super().showEvent(event)
        if self._stale or self._day != self.shop.ledger.today():
            self.read()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The arrows go from line to line."""
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        if step is None or not self.rows:
            super().keyPressEvent(event)
            return
        at = next((n for n, row in enumerate(self.rows) if row.hasFocus()), None)
        to = 0 if at is None else max(0, min(len(self.rows) - 1, at + step))
        self.rows[to].setFocus(Qt.FocusReason.OtherFocusReason)
        self.ensureWidgetVisible(self.rows[to])


def make(shop: Shop) -> Today:
    """Give the page."""
    return Today(shop)
