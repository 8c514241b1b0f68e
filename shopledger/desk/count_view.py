"""Ticking what is seen, keyboard first: a line for the scanner, what it found, and what is left to be seen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.fonts import LARGE, SMALL, TEXT, sans, serif
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, button, label, line_edit, retone
from shopledger.desk.shop import Shop
from shopledger.desk.view import View
from shopledger.desk.work import Job, Work
from shopledger.quantities.errors import NotFound, Refused
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.acts.declare import Outcome
    from shopledger.queries.counting import Counted

_KEY = Qt.ItemDataRole.UserRole
_RETURN = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})


class CountView(View):
    """A line that takes what a scanner types; every code is done in its turn, however fast they come."""

    done = Signal(object)
    """A thing was ticked or unticked; its Outcome."""
    act_wanted = Signal(object, object)
    """(act, what it begins with): the form of an act is wanted."""

    def __init__(self, shop: Shop, work: Work, count_id: int) -> None:
        """Show a count that goes on.

        Raises: LedgerError: it can't be read.
        """
        super().__init__()
        self.shop, self.work, self.count_id = shop, work, count_id
        self._manners = shop.ledger.manners
        self._unknown = ""
        self.setObjectName("count_view")
        self.line = line_edit("scan")
        self.said = label(" ", font=sans(LARGE))
        self.note_button = button(_("Note it all the same"), "note_unlisted")
        self.left_list = self._list("left_to_see", _("Not seen yet"))
        self.seen_list = self._list("seen", _("Seen"))
        self._left_head = label("", font=serif(LARGE), wrap=False)
        self._seen_head = label("", font=serif(LARGE), wrap=False)
        self._title = label("", font=serif(LARGE), wrap=False)
        self._lay()
        self.line.returnPressed.connect(self.on_code_scanned)
        self.note_button.clicked.connect(self.on_note_clicked)
        self.read_again()

    def _list(self, name: str, words: str) -> QListWidget:
        made = QListWidget()
        made.setObjectName(name)
        made.setAccessibleName(words)
        made.setFont(sans(TEXT))
        made.setProperty("weight", "found")
        made.setWordWrap(True)
        made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        made.installEventFilter(self)
        return made

    def _lay(self) -> None:
        end = button(_("End the count"), "end_count")
        end.clicked.connect(lambda: self._want("end_count", {}))
        page = self.headed(self._title, end=end)
        box = QVBoxLayout()
        box.setContentsMargins(GROUP, CELL, GROUP, GROUP)
        box.setSpacing(STEP)
        words = _("Scan, or type a number and Return")
        box.addWidget(label(words, font=sans(SMALL), tone="quiet", wrap=False))
        self.line.setAccessibleName(words)
        self.line.setAccessibleDescription(_("No. 012 or 12, a serial, an entry or claim number"))
        self.line.setPlaceholderText(_("No. 012 or 12, a serial, an entry or claim number"))
        box.addWidget(self.line)
        told = QHBoxLayout()
        told.setSpacing(CELL)
        self.said.setObjectName("said")
        self.said.setMinimumHeight(44)
        self.said.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        told.addWidget(self.said, 1)
        self.note_button.hide()
        told.addWidget(self.note_button)
        box.addLayout(told)
        halves = QHBoxLayout()
        halves.setSpacing(GROUP)
        for head, which, hint in (
            (self._left_head, self.left_list, _("Return ticks the one that is marked.")),
            (self._seen_head, self.seen_list, _("Return takes the tick back.")),
        ):
            half = QVBoxLayout()
            half.setSpacing(STEP)
            half.addWidget(head)
            half.addWidget(label(hint, font=sans(SMALL), tone="quiet", wrap=False))
            half.addWidget(Hairline())
            half.addWidget(which, 1)
            halves.addLayout(half, 1)
        box.addLayout(halves, 1)
        page.addLayout(box, 1)
        QWidget.setTabOrder(self.line, self.left_list)
        QWidget.setTabOrder(self.left_list, self.seen_list)

    def read_again(self) -> None:
        """Show what is left to be seen and what was seen, the newest first.

        Raises: LedgerError: the count can't be read.
        """
        with self.shop.ledger.read() as reading:
            self.count = self.shop.count(reading, self.count_id)
        count = self.count
        title = _("Count {number}").format(number=count.number)
        self.setAccessibleName(title)
        self._title.setText(title)
        self._left_head.setText(_("Not seen yet: {n}").format(n=len(count.missing)))
        self._seen_head.setText(_("Seen: {n} of {all}").format(n=len(count.seen), all=count.expected))
        ticked = [line for line in count.lines if line.seen_at is not None]
        ticked.sort(key=lambda line: (line.seen_at is not None and line.seen_at, line.stay_id), reverse=True)
        self._fill(self.left_list, count.missing)
        self._fill(self.seen_list, ticked)

    def _fill(self, which: QListWidget, lines: Sequence[Counted]) -> None:
        row = which.currentRow()
        which.clear()
        for line in lines:
            words = line.words
            if not line.was_expected:
                words = _("{what} \u2014 not expected; {note}").format(what=words, note=line.note)
            item = QListWidgetItem(words)
            item.setData(_KEY, line.number)
            which.addItem(item)
        which.setCurrentRow(min(max(row, 0), which.count() - 1))

    def touched(self) -> bool:
        """Whether a code was typed that isn't done."""
        return bool(self.line.text().strip())

    def take_keyboard(self) -> None:
        """Go to the line for the scanner; a count that has ended is left."""
        self.read_again()
        if self.count.ended_on is not None:
            self.line.clear()
            self.left.emit()
            return
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_code_scanned(self) -> None:
        """Take what was typed, clear the line for the next one, and tick."""
        code = "".join(letter if letter.isprintable() else " " for letter in self.line.text()).strip()
        self.line.clear()
        if code:
            self._do("tick", code)

    def _do(self, name: str, code: str) -> None:
        from shopledger.acts.declare import new_op_id

        act = self.shop.act(name)
        if act is None:
            return
        form = act.form(
            op_id=new_op_id(), on=self.shop.ledger.today(), stock_take_id=self.count_id, code=code
        )

        def run(_job: Job) -> tuple[Outcome, int]:
            outcome = self.shop.do(self.shop.ledger, act, form)
            with self.shop.ledger.read() as reading:
                return outcome, self.shop.thing_by_code(reading, code)

        def then(result: tuple[Outcome, int]) -> None:
            self.on_done(name, *result)

        self.work.do(Job(_(act.text), run, then, lambda error: self.on_failed(error, code)))

    def on_done(self, name: str, outcome: Outcome, instrument_id: int) -> None:
        """Say what was found."""
        before = {line.instrument_id: line for line in self.count.lines}
        self.read_again()
        now = {line.instrument_id: line for line in self.count.lines}
        line = now.get(instrument_id) or before.get(instrument_id)
        self._unknown = ""
        if line is None:
            self._say("", "")
        elif name == "untick":
            self._say(_("{what}: the tick is taken back.").format(what=line.words), "ochre")
        elif line.was_expected:
            self._say(_("{what}: seen.").format(what=line.words), "moss")
        else:
            self._say(
                _("{what}: not expected here, and noted as met. By the books: {note}.").format(
                    what=line.words, note=line.note
                ),
                "ochre",
            )
        self.done.emit(outcome)

    def on_failed(self, error: Exception, code: str) -> None:
        """Say why it was not ticked; what is in no book can be noted all the same."""
        self._unknown = " ".join(code.split()) if isinstance(error, NotFound) else ""
        self._say(sentence(error, self._manners), "ochre" if isinstance(error, Refused) else "madder")

    def _say(self, words: str, tone: str) -> None:
        self.said.setText(words or " ")
        self.said.setAccessibleName(words)
        retone(self.said, tone)
        self.note_button.setVisible(bool(self._unknown))

    def on_note_clicked(self) -> None:
        """Open the form that notes a thing that is in no book."""
        self._want("note_unlisted", {"what": self._unknown})

    def _want(self, name: str, start: Mapping[str, object]) -> None:
        act = self.shop.act(name)
        if act is not None:
            self._unknown = ""
            self._say("", "")
            self.act_wanted.emit(act, start)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Return ticks or unticks what is marked; figures and letters go to the line, wherever the scanner is used."""
        if (
            isinstance(watched, QListWidget)
            and isinstance(event, QKeyEvent)
            and (event.type() is QEvent.Type.KeyPress)
        ):
            item = watched.currentItem()
            if event.key() in _RETURN:
                if item is not None:
                    self._do("tick" if watched is self.left_list else "untick", item.data(_KEY))
                return True
            plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier)
            if plain and event.text().isprintable() and event.text().strip():
                self.line.setFocus(Qt.FocusReason.OtherFocusReason)
                self.line.insert(event.text())
                return True
        return super().eventFilter(watched, event)
