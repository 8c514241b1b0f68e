"""A table with the line to type in over it and the few views of its place."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.flow import Flow
from shopledger.desk.fonts import LARGE, SMALL, sans, serif
from shopledger.desk.labels import CELL, GROUP, STEP, button, label, line_edit, retone
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.table import Rows
from shopledger.desk.table_view import TableView
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.words import _, count_words
from shopledger.queries.shapes import Table

READ_AFTER_MS = 120
"""How long typing over the table has to rest before the table is read."""


class Pane(QWidget):
    """One table of a place."""

    chosen = Signal(int)
    """The id of the row that is the current one."""
    emptied = Signal()
    """No row is left to choose."""
    act_wanted = Signal(object)
    """The first act of the place is wanted."""
    opened = Signal(int)
    """A row was opened by Return or a double click."""

    def __init__(self, shop: Shop, table: Table, text: str, parent: QWidget | None = None) -> None:
        """Lay out a table that is read when `read` is called; `text` names it."""
        super().__init__(parent)
        self.shop, self.table = shop, table
        self.rows = Rows(shop, table)
        self.rows.setParent(self)
        self.rows.failed.connect(self.on_read_failed)
        # Made in the order in which they are seen: the keyboard goes from one to the next in it.
        self.search = line_edit("search", self)
        self.search.setPlaceholderText(_(table.hint) or _("type to narrow the list"))
        self.search.setAccessibleName(_("Narrow the list"))
        self.search.setClearButtonEnabled(False)
        self.search.textEdited.connect(self.on_words_typed)
        self.search.installEventFilter(self)
        self.timer = QTimer(self)
        self.timer.setSingleShot(True)
        self.timer.setInterval(READ_AFTER_MS)
        self.timer.timeout.connect(self.on_typing_rested)
        self.count = label("", font=sans(SMALL), tone="quiet", wrap=False)
        self.count.setObjectName("count")
        self._views = QButtonGroup(self)
        views = self._views_row()
        self._pages = QStackedWidget(self)
        self.view = TableView(self.rows, self._pages)
        self.view.setObjectName(f"table.{table.name}")
        self.view.setAccessibleName(text)
        self.view.chosen.connect(self.chosen)
        self.view.opened.connect(self.opened)
        self._empty = _Empty(self._pages)
        self._empty.act_wanted.connect(self.act_wanted)
        self._lay(views)

    def _views_row(self) -> QWidget:
        views = QWidget(self)
        flow = Flow(views, across=16, down=0)
        for view in self.table.views if len(self.table.views) > 1 else ():
            made = button(_(view.text), f"view.{view.name}", weight="view")
            made.setCheckable(True)
            made.setChecked(view.name == self.rows.view)
            made.clicked.connect(lambda _checked=False, name=view.name: self.choose_view(name))
            self._views.addButton(made)
            flow.addWidget(made)
        return views

    def _lay(self, views: QWidget) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, CELL, 0, 0)
        box.setSpacing(STEP)
        line = QHBoxLayout()
        line.setContentsMargins(CELL, 0, CELL, 0)
        line.setSpacing(CELL)
        line.addWidget(self.search, 1)
        self._line = line
        box.addLayout(line)
        under = QHBoxLayout()
        under.setContentsMargins(CELL, STEP, CELL, 0)
        under.addWidget(views, 1)
        under.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        box.addLayout(under)
        self._pages.addWidget(self.view)
        self._pages.addWidget(self._empty)
        box.addWidget(self._pages, 1)

    def first_act(self) -> AnyAct | None:
        """Give the first act of the place, loaded when it is first asked for."""
        return self.shop.act(self.table.first_act) if self.table.first_act else None

    def offer_first_act(self) -> None:
        """Put the button of the first act beside the line, unless it is there."""
        act = self.first_act()
        if act is None or self._line.count() > 1:
            return
        first = button(_(act.text), f"act.{act.name}", weight="main")
        first.clicked.connect(self.on_first_act_clicked)
        if act.shortcut:
            first.setShortcut(act.shortcut)
        self._line.addWidget(first)

    def read(self, *, view: str | None = None, words: str | None = None, choose: int | None = None) -> None:
        """Read the table anew; the current row stays the current one, `choose` makes another of it."""
        kept = choose if choose is not None else self.view.current_id()
        try:
            self.rows.ask(view=view, words=words)
        except LedgerError as error:
            self.on_read_failed(error)
            return
        self._tell_count()
        self.view.fit_columns()
        self._pages.setCurrentIndex(0 if len(self.rows.ids) else 1)
        if not len(self.rows.ids):
            self._empty.say(
                self.table,
                self.first_act(),
                narrowed=bool(self.rows.words.strip()) or self._narrow_view(),
                slip=self._slip(),
            )
            self.emptied.emit()
        elif kept is None or not self.view.choose(kept):
            self.view.choose(self.rows.ids[0])

    def _slip(self) -> str:
        """Give what is wrong with what is typed, or nothing."""
        error = self.table.slip(self.rows.words) if self.table.slip is not None else None
        return sentence(error, self.shop.ledger.manners) if error is not None else ""

    def _narrow_view(self) -> bool:
        return bool(self.table.views) and self.rows.view != self.table.views[0].name

    def _tell_count(self) -> None:
        self.count.setText(count_words("{n} row", "{n} rows", len(self.rows.ids)))
        retone(self.count, "quiet")
        self.count.setToolTip("")

    def choose_view(self, name: str) -> None:
        """Show another view of the table."""
        for made in self._views.buttons():
            made.setChecked(made.objectName() == f"view.{name}")
        self.read(view=name)

    def select(self, subject_id: int) -> bool:
        """Make a row the current one, whatever is typed or viewed now; False where it isn't in the table at all."""
        if self.view.choose(subject_id):
            return True
        self.search.clear()
        for view in ("", *(view.name for view in self.table.views)):
            try:
                self.rows.ask(view=view or self.rows.view, words="")
            except LedgerError as error:
                self.on_read_failed(error)
                return False
            if self.rows.row_of(subject_id) >= 0:
                for made in self._views.buttons():
                    made.setChecked(made.objectName() == f"view.{self.rows.view}")
                self.read(choose=subject_id)
                return True
        return False

    def flush(self) -> None:
        """Read what was typed now, without waiting for the typing to rest."""
        self.timer.stop()
        self.read(words=self.search.text())

    def on_words_typed(self, _words: str) -> None:
        """Wait until the typing rests."""
        self.timer.start()

    def on_typing_rested(self) -> None:
        """Narrow the list."""
        self.flush()

    def on_read_failed(self, error: LedgerError) -> None:
        """Tell beside the views why the list isn't what was asked for."""
        words = sentence(error, self.shop.ledger.manners)
        self.count.setText(words)
        self.count.setToolTip(words)
        retone(self.count, "madder")

    def on_first_act_clicked(self) -> None:
        """Ask for the first act."""
        self.act_wanted.emit(self.first_act())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """From the line, the arrow down and Return go to the table, Escape empties it."""
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if event.key() in {Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                if self.timer.isActive():
                    self.flush()
                self.view.setFocus(Qt.FocusReason.OtherFocusReason)
                return True
            if event.key() == Qt.Key.Key_Escape and self.search.text():
                self.search.clear()
                self.flush()
                return True
        return super().eventFilter(watched, event)


class _Empty(QWidget):
    """What an empty table says."""

    act_wanted = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        box = QVBoxLayout(self)
        box.setContentsMargins(GROUP, 2 * GROUP, GROUP, GROUP)
        box.setSpacing(CELL)
        self.title = label("", font=serif(LARGE))
        self.words = label("", tone="quiet")
        self.words.setObjectName("empty")
        self.words.setMaximumWidth(440)
        self.act = button("", "first")
        self._act: AnyAct | None = None
        self.act.clicked.connect(lambda: self.act_wanted.emit(self._act))
        box.addWidget(self.title)
        box.addWidget(self.words)
        box.addWidget(self.act, 0, Qt.AlignmentFlag.AlignLeft)
        box.addStretch(1)

    def say(self, table: Table, act: AnyAct | None, *, narrowed: bool, slip: str) -> None:
        self._act = act
        self.act.setVisible(act is not None and not narrowed)
        if narrowed:
            self.title.setText(_("Nothing fits"))
            self.words.setText(
                slip or _("No row has all these words in this view. Take a word out, or choose another view.")
            )
            return
        self.title.setText(_("Nothing here yet"))
        self.words.setText(_(table.empty))
        if act is not None:
            self.act.setText(_(act.text))
            self.act.setAccessibleName(_(act.text))
