"""An act's form, built from its declared inputs, with what it would do beside it while it is filled in.

The id of the form is made once, when it opens: whatever is tried again is the same act, and a double click books once.
Errors stand at their inputs, and nothing that was typed is ever lost.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QPalette, QResizeEvent, QShortcut, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.cells import Cell, CellGrid
from shopledger.desk.errors import sentence
from shopledger.desk.fonts import SMALL, TITLE, sans, serif
from shopledger.desk.form_bar import FormBar
from shopledger.desk.input import Wrong, build, defaults_of
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, label
from shopledger.desk.lines import PreviewPane
from shopledger.desk.lying import Lying
from shopledger.desk.pictures_input import PicturesInput, StillPreparing
from shopledger.desk.scrolling import Page, scrolling
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.tab_order import go_on
from shopledger.desk.work import Job, Work
from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.fields import check_inputs, inputs
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.acts.declare import Outcome
    from shopledger.desk.draft_view import Draft

PREVIEW_AFTER_MS = 250
"""How long typing has to rest before the preview is made."""
BESIDE_PX = 760
"""From this width on the preview stands beside the inputs, not under them."""


class ActForm(Lying):
    """The form of one act about one thing."""

    done = Signal(object)
    """The act was done; its Outcome."""
    wanted = Signal(object, str)
    """(picker, words typed): a person or instrument is to be put into the ledger first."""
    drafted = Signal(object)
    """The papers that the act would leave are drawn; a list of at least one Draft."""

    def __init__(
        self,
        shop: Shop,
        work: Work,
        act: AnyAct,
        subject_id: int,
        about: str = "",
        start: Mapping[str, object] | None = None,
    ) -> None:
        """Open the form; `about` is the title of what is acted on, `start` are values to begin with.

        Raises: LedgerError: what the act begins with can't be read.
        """
        from shopledger.acts.declare import new_op_id

        super().__init__()
        self.shop, self.act, self.subject_id = shop, act, subject_id
        self.op_id = new_op_id()
        self.busy = False
        self.work, self._manners = work, shop.ledger.manners
        self.setObjectName(f"form.{act.name}")
        self.setAccessibleName(_(act.text))
        shown = {name: field for name, field in inputs(act.form).items() if name != act.subject_input}
        self.grid = CellGrid(shop, shown, usual=defaults_of(act.form))
        self.grid.be_about(act.subject, subject_id)
        self.grid.fill(self._beginning() | dict(start or {}))
        self.preview = PreviewPane(self._manners)
        self.bar = FormBar(act)
        self._back_to: QWidget | None = None
        self._when_ready: Callable[[], None] | None = None
        self._lay(about)
        self.bar.do.clicked.connect(self.on_do_clicked)
        self.bar.paper.clicked.connect(self.on_paper_clicked)
        self.bar.leave.clicked.connect(self.on_leave_clicked)
        self.bar.stay.clicked.connect(self.on_stay_clicked)
        self.bar.drop.clicked.connect(self.left)
        self.timer = QTimer(self)
        self.timer.setSingleShot(True)
        self.timer.setInterval(PREVIEW_AFTER_MS)
        self.timer.timeout.connect(self.on_typing_rested)
        self.grid.changed.connect(self.on_input_changed)
        self.grid.wanted.connect(self.wanted)
        for keys, slot in (
            ("Ctrl+Return", self.on_do_clicked),
            ("Ctrl+Enter", self.on_do_clicked),
            ("Ctrl+D", self.on_paper_clicked),
            ("Escape", self.on_leave_clicked),
        ):
            made = QShortcut(keys, self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
            made.activated.connect(slot)
        self.flush_preview()

    def _beginning(self) -> dict[str, object]:
        start = {"on": self.shop.ledger.today()} | defaults_of(self.act.form)
        if self.act.prefill is not None:
            with self.shop.ledger.read() as reading:
                start |= dict(self.act.prefill(reading, self.subject_id))
        return start

    def _lay(self, about: str) -> None:
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        self._halves = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._halves.setSpacing(0)
        inner = Page()
        box = QVBoxLayout(inner)
        box.setContentsMargins(GROUP, GROUP, GROUP, GROUP)
        box.setSpacing(0)
        title = label(_(self.act.text), font=serif(TITLE))
        title.setObjectName("title")
        box.addWidget(title)
        for words in (about, _(self.act.help)):
            if words:
                box.addSpacing(STEP)
                box.addWidget(label(words, tone="" if words == about else "quiet"))
        box.addSpacing(GROUP)
        if any(cell.field.required for cell in self.grid.cells.values()):
            box.addWidget(label(_("What bears a * is needed."), font=sans(SMALL), tone="quiet"))
            box.addSpacing(8)
        box.addWidget(self.grid)
        box.addStretch(1)
        self._halves.addWidget(scrolling(inner), 5)
        self._halves_line = Hairline(upright=True)
        self._halves.addWidget(self._halves_line)
        beside = Page()
        side = QVBoxLayout(beside)
        side.setContentsMargins(GROUP, GROUP, GROUP, CELL)
        side.addWidget(self.preview)
        self._preview_room = scrolling(beside)
        self._halves.addWidget(self._preview_room, 3)
        # Hidden, never shown: a widget that is shown before it lies in its parent is a window of its own for a moment.
        if self.act.preview is None:
            self._preview_room.hide()
            self._halves_line.hide()
        page.addLayout(self._halves, 1)
        page.addWidget(Hairline())
        page.addWidget(self.bar)

    def touched(self) -> bool:
        """Whether leaving would lose something that was typed."""
        return self.grid.touched()

    def take_keyboard(self) -> None:
        """Go back to where a paper was asked for, else to the first input that is empty, else to the first of all."""
        if self._back_to is not None:
            self._back_to.setFocus(Qt.FocusReason.OtherFocusReason)
            self._back_to = None
            return
        cells = [cell for cell in self.grid.cells.values() if cell.isVisibleTo(self.grid)]
        asked = [cell for cell in cells if cell.name != "on"]
        empty = [cell for cell in asked if cell.input.empty()]
        for cell in (empty or asked or cells)[:1]:
            cell.input.take_keyboard()

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Let Tab go through the form in the order in which it stands."""
        return go_on(self, onward=onward) or super().focusNextPrevChild(onward)

    def form(self, wrong: list[Wrong], without: Collection[str] = ()) -> Any:
        """Give an instance of the act's form, or None with all that is wrong appended.

        Shape:  inputs named in `without` may be missing though they are required; they are None then.
        """
        values = self.grid.take(wrong)
        wrong[:] = [
            (path, error)
            for path, error in wrong
            if path not in without or not self.grid.cells[path].input.empty()
        ]
        if wrong:
            return None
        given: dict[str, Any] = {"op_id": self.op_id}
        if self.act.subject_input:
            given[self.act.subject_input] = self.subject_id
        try:
            made = build(self.act.form, values, **given)
            if all(values[name] is not None for name in without):
                check_inputs(made)
        except Typed as error:
            wrong.append((error.field or "", error))
            return None
        return made

    def flush_preview(self) -> None:
        """Make the preview now, without waiting for the typing to rest."""
        self.timer.stop()
        if self.act.preview is None:
            return
        wrong: list[Wrong] = []
        form = self.form(wrong, self.act.preview_without)
        if form is None:
            self._say_what_lacks(wrong)
            return
        try:
            with self.shop.ledger.read() as reading:
                preview = self.act.preview(reading, form)
        except LedgerError as error:
            cell = self.grid.cell_at(error.field) if error.field else None
            if cell is not None and cell.field.required and cell.input.empty():
                self._say_what_lacks([(error.field or "", error)])
                return
            self.preview.show_words(sentence(error, self._manners, self._label(error.field)), "madder")
        else:
            self.preview.show_preview(preview)

    def _say_what_lacks(self, wrong: list[Wrong]) -> None:
        for path, error in wrong:
            cell = self.grid.cell_at(path)
            if cell is None or not cell.input.empty():
                tone = "quiet" if isinstance(error, StillPreparing) else "madder"
                self.preview.show_words(sentence(error, self._manners, self._label(path)), tone)
                return
        names = [
            _(cell.field.label) for path, _error in wrong if (cell := self.grid.cell_at(path)) is not None
        ]
        self.preview.show_words(
            _("Here stands what the act will do, once these are filled in: {names}.").format(
                names=", ".join(names)
            )
        )

    def _label(self, path: str | None) -> str:
        cell = self.grid.cell_at(path) if path else None
        return cell.field.label if cell is not None else ""

    def on_input_changed(self) -> None:
        """Wait until the typing rests; what was said about the whole form is no longer true."""
        self.bar.error.hide()
        self.bar.ask(False)
        self.timer.start()
        # What was asked for while photographs were being prepared is done once they are, unless one was left out.
        go_on, self._when_ready = self._when_ready, None
        if go_on is not None and not self._still_preparing():
            go_on()

    def on_typing_rested(self) -> None:
        """Make the preview."""
        self.flush_preview()

    def on_do_clicked(self) -> None:
        """Do the act, unless it is being done already or something is wrong."""
        form = self._ready(self.on_do_clicked)
        if form is None:
            return
        shop, act = self.shop, self.act
        self.work.do(
            Job(
                _(act.text),
                lambda job: shop.do(shop.ledger, act, form, job.step),
                self.on_act_done,
                self.on_failed,
            )
        )

    def on_paper_clicked(self) -> None:
        """Draw the papers the act would leave, unless something is wrong; nothing is written."""
        self._back_to = self.focusWidget()
        form = self._ready(self.on_paper_clicked) if self.act.papers else None
        if form is None:
            self._back_to = None
            return
        shop, act = self.shop, self.act
        words = _("{act}: the paper").format(act=_(act.text))
        self.work.do(
            Job(words, lambda _job: shop.drafts(shop.ledger, act, form), self.on_papers_drawn, self.on_failed)
        )

    def on_papers_drawn(self, drafts: Sequence[Draft]) -> None:
        """Hand the papers on, or say that there would be none."""
        self._set_busy(False)
        if drafts:
            self.drafted.emit(drafts)
        else:
            self.bar.say(_("As it is filled in now, it leaves no paper."), "ochre")
            self.take_keyboard()

    def _ready(self, again: Callable[[], None]) -> Any:
        """Give the form, busy from now on; None where it is busy already, or with all that is wrong said.

        Shape:  where nothing is wrong but that photographs are still being prepared, `again` is called once they are.
        """
        if self.busy:
            return None
        self.bar.error.hide()
        wrong: list[Wrong] = []
        form = self.form(wrong)
        if form is not None:
            self._set_busy(True)
        elif all(isinstance(error, StillPreparing) for _path, error in wrong):
            self._when_ready = again
            self.bar.say(_("It is done as soon as the photographs are prepared."), "quiet")
        else:
            self._complain(wrong)
        return form

    def _still_preparing(self) -> bool:
        wrong: list[Wrong] = []
        self.grid.take(wrong)
        return any(isinstance(error, StillPreparing) for _path, error in wrong)

    def on_act_done(self, outcome: Outcome) -> None:
        """Hand the outcome on."""
        self.busy = False
        self.done.emit(outcome)

    def on_failed(self, error: Exception) -> None:
        """Say at the input, or over the buttons, what stands against it."""
        self._set_busy(False)
        self._back_to = None
        if isinstance(error, LedgerError):
            self._complain([(error.field or "", error)])
        else:
            self.bar.say(sentence(error, self._manners))

    def _complain(self, wrong: list[Wrong]) -> None:
        first: Cell | None = None
        left_over = []
        for path, error in wrong:
            cell = self.grid.cell_at(path) if path else None
            if cell is None:
                left_over.append(sentence(error, self._manners))
                continue
            cell.complain(error)
            first = first or cell
        if left_over:
            self.bar.say("\n".join(left_over))
        if first is not None:
            first.input.setFocus(Qt.FocusReason.OtherFocusReason)
            self._show_cell(first)

    def _show_cell(self, cell: Cell) -> None:
        parent = cell.parentWidget()
        while parent is not None:
            if isinstance(parent, QScrollArea):
                parent.ensureWidgetVisible(cell, 0, GROUP)
                return
            parent = parent.parentWidget()

    def _set_busy(self, busy: bool) -> None:
        self.busy = busy
        self.grid.setEnabled(not busy)
        self.bar.set_busy(busy)

    def on_leave_clicked(self) -> None:
        """Leave at once where nothing was typed, else ask first, in the form itself."""
        if self.busy:
            return
        if self.touched() and not self.bar.asks:
            self.bar.ask(True)
            self.bar.stay.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.touched():
            self.on_stay_clicked()
        else:
            self.left.emit()

    def put_away(self) -> None:
        """Let go of the photographs that were prepared; called once, before the form goes."""
        for made in self.findChildren(PicturesInput):
            made.put_away()

    def ask_to_leave(self) -> None:
        """Leave, or ask first where something was typed."""
        self.on_leave_clicked()

    def on_stay_clicked(self) -> None:
        """Go back to the inputs."""
        self.bar.ask(False)
        self.take_keyboard()

    def showEvent(self, event: QShowEvent) -> None:
        """Start at the first input that is empty."""
        super().showEvent(event)
        if not self.isAncestorOf(self.focusWidget()) if self.focusWidget() else True:
            self.take_keyboard()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the preview beside the inputs where there is room, else under them."""
        super().resizeEvent(event)
        beside = self.width() >= BESIDE_PX
        direction = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        if self._halves.direction() is not direction:
            self._halves.setDirection(direction)
            self._halves_line.setMinimumSize(1, 1)
            self._halves_line.setMaximumSize(1 if beside else 16777215, 16777215 if beside else 1)
