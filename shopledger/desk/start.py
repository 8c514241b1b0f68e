"""Starting the window: the ledger that was named, the last one, or the first start's questions.

Whatever stands against opening a ledger becomes a page with a sentence and what to do.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QIcon, QPixmap
from PySide6.QtWidgets import QApplication, QStackedWidget, QVBoxLayout, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.fonts import TITLE, serif
from shopledger.desk.labels import GROUP, button, label
from shopledger.desk.palette import Scheme
from shopledger.desk.place import Place
from shopledger.desk.remembered import Remembered
from shopledger.desk.shop import Shop
from shopledger.desk.style import application, dress
from shopledger.desk.window import Frame
from shopledger.desk.work import Job, Work
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.manners import PLAIN
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.desk.first_start import Answers, FirstStart
    from shopledger.store.ledger import Ledger

Wire = Callable[["Ledger"], Shop]
SMALLEST = (960, 600)
USUAL = (1280, 800)


class House(QWidget):
    """The one window: the questions of the first start, trouble said in words, or the frame of an open ledger."""

    def __init__(self, remembered: Remembered, wire: Wire, folder: Path) -> None:
        """Open nothing yet; `folder` is where a new ledger lies unless another place is chosen."""
        super().__init__()
        self.remembered, self._wire, self._folder = remembered, wire, folder
        self.work = Work(self)
        self.ledger: Ledger | None = None
        self._questions: FirstStart | None = None
        self.setObjectName("house")
        self.setWindowTitle(_("Shop ledger"))
        # An empty icon instead of the toolkit's own sign.
        self.setWindowIcon(QIcon(QPixmap(1, 1)))
        self.setMinimumSize(*SMALLEST)
        self.resize(*USUAL)
        self._stack = QStackedWidget(self)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(self._stack)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        self._app = app
        app.styleHints().colorSchemeChanged.connect(self.on_system_scheme_changed)

    @property
    def scheme(self) -> Scheme:
        """The palette that was chosen, the system's where none was."""
        known = {one.value: one for one in Scheme}
        return known.get(self.remembered.word("scheme"), Scheme.SYSTEM)

    @property
    def page(self) -> QWidget | None:
        """What the window shows."""
        return self._stack.currentWidget()

    def begin(self, where: str | None) -> None:
        """Open the ledger that is named, else the last one, else ask."""
        wanted = where or self.remembered.word("ledger")
        if wanted:
            self.open(wanted)
        else:
            self.ask()

    def ask(self) -> None:
        """Show the questions of the first start."""
        from shopledger.desk.first_start import FirstStart

        page = self._questions = FirstStart(self._folder)
        page.answered.connect(self.on_answered)
        page.example_wanted.connect(self.on_example_wanted)
        page.open_wanted.connect(self.on_open_wanted)
        self._show(page)
        page.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def open(self, where: str) -> None:
        """Open a ledger, or show why it can't be opened and what to do."""
        from shopledger.store.ledger import open_ledger

        try:
            ledger = open_ledger(where)
        except LedgerError as error:
            self.show_trouble(error, where)
        else:
            self.enter(ledger)

    def enter(self, ledger: Ledger) -> None:
        """Show the frame of an open ledger."""
        try:
            shop = self._wire(ledger)
            frame = Frame(shop, self.work, self.scheme, self._stack)
        except LedgerError as error:
            ledger.close()
            self.show_trouble(error, str(ledger.where))
            return
        self._leave_ledger()
        self.ledger = ledger
        self.remembered.keep("ledger", str(ledger.where))
        frame.scheme_chosen.connect(self.on_scheme_chosen)
        self._show(frame)
        self.setWindowTitle(_("{shop} \u2013 shop ledger").format(shop=frame.title))
        place = frame.show_place("stock")
        if isinstance(place, Place) and not self.isVisible():
            place.hold_sheet()

    def show_trouble(self, error: Exception, where: str) -> None:
        """Show what stands against opening a ledger, with what can be done."""
        page = QWidget()
        page.setObjectName("trouble")
        box = QVBoxLayout(page)
        box.setContentsMargins(2 * GROUP, 2 * GROUP, GROUP, GROUP)
        box.setSpacing(GROUP // 2)
        box.addWidget(label(_("The ledger is not open"), font=serif(TITLE)))
        said = label(sentence(error, PLAIN), select=True)
        said.setObjectName("said")
        said.setMaximumWidth(640)
        box.addWidget(said)
        for text, name, slot in (
            (N_("Try again"), "again", lambda: self.open(where)),
            (N_("Open another ledger"), "other", self.on_open_wanted),
            (N_("Make a new ledger"), "new", self.ask),
        ):
            made = button(_(text), name)
            made.clicked.connect(slot)
            box.addWidget(made, 0, Qt.AlignmentFlag.AlignLeft)
        box.addStretch(1)
        self._show(page)

    def _show(self, page: QWidget) -> None:
        old = self._stack.currentWidget()
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        if page is not self._questions:
            self._questions = None
        if old is not None:
            self._stack.removeWidget(old)
            old.hide()
            old.deleteLater()

    def on_answered(self, answers: Answers) -> None:
        """Make the ledger and go in."""
        from shopledger.store.new_ledger import NewShop, create_ledger

        shop = NewShop(
            name=answers.name,
            address=answers.address,
            currency=answers.currency,
            locale=answers.locale,
            time_zone=answers.time_zone,
            paper_size=answers.paper_size,
            tax_scheme=answers.tax_scheme,
            tax_rate=answers.tax_rate,
            tax_source=_("said at the first start"),
        )
        self._in_work(_("The ledger is made."), lambda _job: create_ledger(answers.where, shop), self.enter)

    def on_example_wanted(self) -> None:
        """Build the example shop, unless it is there, and go in."""
        where = self._folder / "example" / "demo.ledger"

        def built(_job: Job) -> Ledger:
            from shopledger.store.ledger import open_ledger

            if not where.exists():
                from shopledger.example.building import build

                build(where.parent)
            return open_ledger(where)

        self._in_work(_("The example shop is built; it takes some seconds."), built, self.enter)

    def _in_work(self, words: str, run: Callable[[Job], Ledger], then: Callable[[Ledger], None]) -> None:
        page = self._questions
        if page is not None:
            page.set_busy(True)
            page.tell(words)
        self.work.do(Job(words, run, then, self.on_making_failed))

    def on_making_failed(self, error: Exception) -> None:
        """Say at the questions what stands against it."""
        page = self._questions
        if page is not None:
            page.set_busy(False)
            page.complain(error)

    def on_open_wanted(self) -> None:
        """Let a ledger be chosen in the system's own dialog, and open it."""
        from PySide6.QtWidgets import QFileDialog

        name, _kind = QFileDialog.getOpenFileName(
            self, _("Open a ledger"), str(self._folder), _("Ledgers (*.ledger);;All files (*)")
        )
        if name:
            self.open(name)

    def on_scheme_chosen(self, scheme: Scheme) -> None:
        """Change the palette and remember it."""
        self.remembered.keep("scheme", scheme.value)
        dress(self._app, scheme)

    def on_system_scheme_changed(self, _scheme: Qt.ColorScheme) -> None:
        """Follow the system."""
        dress(self._app, self.scheme)

    def on_bug_found(self, error: BaseException) -> None:
        """Say that the program is at fault, in the line at the foot, and go on."""
        page = self.page
        if isinstance(page, Frame) and isinstance(error, Exception):
            page.say(sentence(error, PLAIN))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close, unless a form holds something typed or an act is being done."""
        page = self.page
        if isinstance(page, Frame):
            name = page.unsaved()
            if name:
                place = page.show_place(name)
                if isinstance(place, Place):
                    place.side.ask_to_leave()
                event.ignore()
                return
        self.work.close()
        self._leave_ledger()
        super().closeEvent(event)

    def _leave_ledger(self) -> None:
        if self.ledger is not None:
            self.ledger.close()
            self.ledger = None


def usual_folder() -> Path:
    """Give where a ledger lies on this system for this user unless another place is chosen."""
    from platformdirs import user_documents_path

    return Path(user_documents_path())


def look_for_garbage_again() -> None:
    """Look for garbage again, but only among what is made from now on: going through all that was loaded takes longer
    than painting the first table.
    """
    gc.freeze()
    gc.enable()


def run_window(where: str | Path | None) -> int:
    """Open the window on a ledger, the last one where none is named, and give the exit status once it is closed."""
    from shopledger.desk.wiring import wire

    # Nothing that is made while the window comes up is garbage: looking for some takes a tenth of the start.
    gc.disable()
    app = application()
    app.setApplicationName("shopledger")
    app.setApplicationDisplayName(_("Shop ledger"))
    house = House(Remembered(), wire, usual_folder())
    dress(app, house.scheme)
    usual_hook = sys.excepthook

    def on_fault(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        usual_hook(kind, error, trace)
        house.on_bug_found(error)

    sys.excepthook = on_fault
    try:
        house.begin(None if where is None else str(where))
        house.show()
        QTimer.singleShot(0, look_for_garbage_again)
        return app.exec()
    finally:
        gc.unfreeze()
        gc.enable()
        sys.excepthook = usual_hook
        house.work.close()
