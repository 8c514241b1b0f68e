"""Today: what waits for the maker; until it can gather that itself, it says so and offers what can begin."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopledger.desk.flow import Flow
from shopledger.desk.fonts import LARGE, serif
from shopledger.desk.labels import CELL, button, label
from shopledger.desk.quiet_page import QuietPage
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.shapes import Subject

SENTENCES = (
    N_(
        "Here will stand what waits for you, each with the day it is due: trials that end, agreements that run out,"
        " money that has cleared and is to be settled, owners to pay, work that is ready and not collected."
    ),
    N_(
        "Until then Stock says where every instrument is, Sales what is paid and what is to settle, and Accounts what"
        " is owed to each owner."
    ),
)


class Today(QuietPage):
    """The page of the day."""

    act_wanted = Signal(object)
    """An act that can begin at any time."""

    def __init__(self, shop: Shop) -> None:
        """Read what can begin."""
        super().__init__("today", show_day(shop.ledger.today(), shop.ledger.manners), SENTENCES)
        self.shop = shop
        self.box.addSpacing(CELL)
        self.box.addWidget(label(_("What can begin now"), font=serif(LARGE)))
        self._row = QWidget()
        self._flow = Flow(self._row)
        self.box.addWidget(self._row)
        self._said = label("", tone="madder")
        self.box.addWidget(self._said)
        self.box.addStretch(1)
        self.read()

    def read(self) -> None:
        """Read again what can begin."""
        while (item := self._flow.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        try:
            with self.shop.ledger.read() as reading:
                acts = self.shop.next_acts(reading, Subject.SHOP, 0)
        except LedgerError as error:
            self._said.setText(error.sentence(self.shop.ledger.manners))
            return
        self._said.setText("")
        for act in acts:
            made = button(_(act.text), f"act.{act.name}")
            made.setToolTip(_(act.help))
            made.clicked.connect(lambda _checked=False, act=act: self.act_wanted.emit(act))
            self._flow.addWidget(made)


def make(shop: Shop) -> Today:
    """Give the page."""
    return Today(shop)
