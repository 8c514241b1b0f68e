"""A place: its tables on the left, the sheet of what is selected on the right, with a splitter between."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QButtonGroup, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from shopledger.desk.flow import Flow
from shopledger.desk.labels import CELL, STEP, button
from shopledger.desk.pane import Pane
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.side import Side
from shopledger.desk.work import Work
from shopledger.quantities.words import _
from shopledger.queries.shapes import Offered, Subject

NARROW_PX = 300
"""How wide the table stays where a form or a paper needs the room."""


class Place(QWidget):
    """One of the seven places, with one table or several."""

    done = Signal(object)
    """An act was done here; its Outcome."""
    subject_wanted = Signal(object, int)
    """(subject, id): something is to be shown in its own place."""
    said = Signal(str)
    """Something to tell in the line at the foot of the window."""

    def __init__(
        self, shop: Shop, work: Work, name: str, offered: Sequence[Offered], parent: QWidget | None = None
    ) -> None:
        """Lay out the first table and what leads to the others; nothing is read before the place is shown."""
        super().__init__(parent)
        self.shop, self.name = shop, name
        self.setObjectName(f"place.{name}")
        self._stale = True
        self._held = False
        self._table_px = 0
        self._offered = tuple(offered)
        self._panes: dict[int, Pane] = {}
        self._at = 0
        # Each part is made where it will lie, in the order in which they are seen: moved there later, it would be
        # dressed again with all that is in it; and the keyboard goes through them as they were made.
        self.splitter = QSplitter(Qt.Orientation.Horizontal, self)
        self.splitter.setHandleWidth(1)
        self.splitter.setChildrenCollapsible(False)
        left = QWidget(self.splitter)
        self._stack = QStackedWidget(left)
        box = QVBoxLayout(left)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        if len(self._offered) > 1:
            box.addWidget(self._switch())
        box.addWidget(self._stack, 1)
        self._stack.addWidget(self.pane)
        self.side = Side(shop, work, self.splitter)
        self.side.setObjectName("side")
        self.side.done.connect(self.done)
        self.side.subject_wanted.connect(self.subject_wanted)
        self.side.said.connect(self.said)
        self.side.room_wanted.connect(self.on_room_wanted)
        left.setMinimumWidth(240)
        self.side.setMinimumWidth(320)
        self.splitter.setStretchFactor(0, 1)
        self.splitter.setStretchFactor(1, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(self.splitter)

    def _switch(self) -> QWidget:
        row = QWidget()
        flow = Flow(row, across=16, down=0)
        flow.setContentsMargins(CELL, CELL, CELL, STEP)
        self._tabs = QButtonGroup(self)
        for n, offer in enumerate(self._offered):
            made = button(_(offer.text), f"tab.{offer.name}", weight="view")
            made.setCheckable(True)
            made.setChecked(n == 0)
            made.clicked.connect(lambda _checked=False, n=n: self.choose_table(n))
            self._tabs.addButton(made, n)
            flow.addWidget(made)
        return row

    @property
    def pane(self) -> Pane:
        """The table that is shown, made when it first is."""
        if self._at not in self._panes:
            self._panes[self._at] = self._made(self._offered[self._at])
        return self._panes[self._at]

    def _made(self, offer: Offered) -> Pane:
        pane = Pane(self.shop, offer.load(), _(offer.text), self._stack)
        pane.chosen.connect(self.on_row_chosen)
        pane.emptied.connect(self.on_table_emptied)
        pane.act_wanted.connect(self.open_act)
        pane.opened.connect(self.on_row_opened)
        return pane

    @property
    def subjects(self) -> frozenset[Subject]:
        """What the rows of this place are about."""
        return frozenset(offer.subject for offer in self._offered)

    def hold_sheet(self) -> None:
        """Let the table be painted first, and show what is beside it right after: at the start of the window."""
        self._held = True
        # Queued: the painting that tells of itself is to be over first.
        self.pane.view.painted.connect(self.on_table_painted, Qt.ConnectionType.QueuedConnection)

    def on_table_painted(self) -> None:
        """Show the sheet that was held back."""
        if not self._held:
            return
        self._held = False
        self.pane.offer_first_act()
        current = self.pane.view.current_id()
        if current is not None and self.side.subject is None:
            self.on_row_chosen(current)

    def choose_table(self, n: int) -> None:
        """Show another table of the place."""
        self._at = n
        if self._stack.indexOf(self.pane) < 0:
            self._stack.addWidget(self.pane)
        self._stack.setCurrentWidget(self.pane)
        if len(self._offered) > 1:
            self._tabs.button(n).setChecked(True)
        self.pane.offer_first_act()
        self.pane.read()

    def changed(self, subjects: frozenset[Subject]) -> None:
        """Read again, now or when it is next shown, if any of this is what the place shows."""
        if not self.isVisible():
            self._stale = True
        elif subjects & self.subjects or self.side.subject is not None:
            self.read_again()

    def read_again(self) -> None:
        """Read table and sheet again."""
        self._stale = False
        before = self.side.subject
        self.pane.read()
        if self.side.subject == before:
            self.side.read_again()

    def select(self, subject: Subject, subject_id: int) -> bool:
        """Select a thing in this place; False where it isn't here."""
        for n, offer in enumerate(self._offered):
            if offer.subject is subject:
                self.choose_table(n)
                self._stale = False
                return self.pane.select(subject_id)
        return False

    def show_view(self, table: str, view: str) -> None:
        """Show one of the tables in one of its views."""
        for n, offer in enumerate(self._offered):
            if offer.name == table:
                self.choose_table(n)
                self.pane.choose_view(view)

    def show_missing(self, subject: Subject, subject_id: int) -> None:
        """Show the sheet of a thing that stands in no row of the table."""
        self.side.show_subject(subject, subject_id)

    def focus_search(self) -> None:
        """Go to the line over the table."""
        self.pane.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.pane.search.selectAll()

    def open_act(self, act: AnyAct) -> None:
        """Open an act's form here."""
        self.side.open_act(act)

    def on_row_chosen(self, subject_id: int) -> None:
        """Show the sheet of the current row."""
        if self._held:
            return
        self.side.show_subject(self.pane.table.subject, subject_id)

    def on_row_opened(self, _subject_id: int) -> None:
        """Go over to the sheet."""
        self.side.top.focusNextChild()

    def on_table_emptied(self) -> None:
        """With no row there is no sheet."""
        self.on_table_painted()
        self.side.show_words("", "")

    def on_room_wanted(self, wanted: bool) -> None:
        """Let the table draw back while a form or paper lies on the right, and come forward after."""
        sizes = self.splitter.sizes()
        if wanted and not self._table_px:
            self._table_px = sizes[0]
            self.splitter.setSizes([min(sizes[0], NARROW_PX), sum(sizes) - min(sizes[0], NARROW_PX)])
        elif not wanted and self._table_px:
            self.splitter.setSizes([self._table_px, sum(sizes) - self._table_px])
            self._table_px = 0

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the first width between table and sheet."""
        super().resizeEvent(event)
        if not event.oldSize().isValid() or event.oldSize().width() < NARROW_PX:
            self.splitter.setSizes([self.width() * 56 // 100, self.width() * 44 // 100])

    def showEvent(self, event: QShowEvent) -> None:
        """Read what changed while the place was out of sight."""
        super().showEvent(event)
        if not self._held:
            self.pane.offer_first_act()
        if self._stale:
            self.read_again()
