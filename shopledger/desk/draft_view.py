"""The papers an act would leave, shown before it is done: marked as not issued, neither saved nor printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from shopledger.desk.flow import Flow
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, button, label
from shopledger.desk.lying import Lying
from shopledger.desk.paper_pages import Pages, opened
from shopledger.desk.unprintable import unprintable_words
from shopledger.quantities.words import _


@dataclass(frozen=True, slots=True)
class Draft:
    """A paper that was drawn and not issued; its number is the next one now.

    Shape:  `unprintable` has a line for each of its texts with letters that the papers' type lacks.
    """

    title: str
    number: str
    content: bytes
    unprintable: tuple[str, ...] = ()


class DraftView(Lying):
    """All papers that an act would leave, under each other, with a button to each where there are several."""

    def __init__(self, drafts: Sequence[Draft], act: str) -> None:
        """Open the drafts, at least one; `act` is what is written on the button that would issue them.

        Raises: Trouble: one is no PDF that can be read.
        """
        super().__init__()
        self.drafts = drafts
        self.setObjectName("draft")
        self.setAccessibleName(_("The paper before it is issued"))
        self.pages = Pages([opened(draft.content, draft.number) for draft in drafts], self)
        self._lay(act)
        escape = QShortcut("Escape", self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
        escape.activated.connect(self.on_back_clicked)

    def _lay(self, act: str) -> None:
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        bar = QHBoxLayout()
        bar.setContentsMargins(GROUP, CELL, GROUP, STEP)
        bar.setSpacing(8)
        self.back_button = button(_("Back to the form"), "back")
        self.back_button.clicked.connect(self.on_back_clicked)
        self.words = label(
            _("Not issued. “{act}” issues it; until then its number may become another's.").format(act=act)
            if len(self.drafts) == 1
            else _("Not issued. “{act}” issues them; until then their numbers may become others'.").format(
                act=act
            ),
            tone="ochre",
        )
        bar.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        bar.addWidget(self.words, 1)
        page.addLayout(bar)
        lacks = unprintable_words(line for draft in self.drafts for line in draft.unprintable)
        if lacks is not None:
            page.addWidget(lacks)
        to_each = QWidget()
        line = QHBoxLayout(to_each)
        line.setContentsMargins(GROUP, 0, GROUP, STEP)
        titles = QWidget()
        flow = Flow(titles, across=16, down=0)
        for n, draft in enumerate(self.drafts):
            made = button(f"{draft.title} {draft.number}", f"draft.{n}", weight="view")
            made.clicked.connect(lambda _checked=False, n=n: self.pages.go_to(n))
            flow.addWidget(made)
        line.addWidget(titles, 1)
        page.addWidget(to_each)
        page.addWidget(Hairline())
        page.addWidget(self.pages, 1)

    def on_back_clicked(self) -> None:
        """Go back to the form, as it was left."""
        self.left.emit()

    def take_keyboard(self) -> None:
        """Scroll by the keys."""
        self.pages.setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Let go of the files; called once, before the view goes."""
        self.pages.forget()
