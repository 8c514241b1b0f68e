"""Settings: the shop's own facts, its terms of work to set, and whether the room is light or dark."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QRadioButton, QVBoxLayout, QWidget

from shopledger.desk.fonts import sans
from shopledger.desk.labels import GROUP, label
from shopledger.desk.palette import Scheme
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.side import Side
from shopledger.desk.work import Work
from shopledger.quantities.words import N_, _

SCHEMES = (
    (Scheme.SYSTEM, N_("as the system")),
    (Scheme.LIGHT, N_("light")),
    (Scheme.DARK, N_("dark")),
)
SETS = ("set_work_terms", "set_country", "note_copy")
"""The names of the acts by which the shop's own facts are set."""
LATER = N_(
    "Backup, restoring, import and changing the shop's name and address will stand here. Until then keep a copy of the "
    "ledger's file together with the folder of the same name that ends in .files, made while the window is closed."
)


class Settings(QWidget):
    """The page of settings."""

    scheme_chosen = Signal(object)
    """A Scheme."""
    done = Signal(object)
    """An act was done here; its Outcome."""
    said = Signal(str)
    """Something to tell in the line at the foot of the window."""

    def __init__(self, shop: Shop, work: Work, scheme: Scheme) -> None:
        """Read the shop's facts."""
        super().__init__()
        self.setObjectName("place.settings")
        self._shop, self._scheme = shop, scheme
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        self.side = Side(shop, work)
        self.side.done.connect(self.on_act_done)
        self.side.said.connect(self.said)
        box.addWidget(self.side)
        self.read()

    def read(self) -> None:
        """Show the shop's facts as they are now."""
        from shopledger.desk.sheet import SheetView

        with self._shop.ledger.read() as reading:
            sheet = self._shop.facts(reading)
        view = SheetView(
            self._shop, sheet, [act for name in SETS if (act := self._shop.act(name)) is not None]
        )
        view.act_wanted.connect(self.open_act)
        view.add(_("Light or dark"), [self._choice()])
        later = label(_(LATER), tone="quiet")
        later.setMaximumWidth(560)
        view.add(_("Backup and import"), [later])
        self.side.show_page(view)

    def open_act(self, act: AnyAct) -> None:
        """Open the form by which some of the shop's own facts are set."""
        self.side.open_act(act, on=1)

    def on_act_done(self, outcome: object) -> None:
        """Show what was set, and tell."""
        self.read()
        self.done.emit(outcome)

    def _choice(self) -> QWidget:
        choice = QWidget()
        line = QHBoxLayout(choice)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(GROUP)
        group = QButtonGroup(choice)
        for one, words in SCHEMES:
            made = QRadioButton(_(words))
            made.setFont(sans())
            made.setObjectName(f"scheme.{one.value}")
            made.setChecked(one is self._scheme)
            made.clicked.connect(lambda _checked=False, one=one: self.on_scheme_clicked(one))
            group.addButton(made)
            line.addWidget(made)
        line.addStretch(1)
        return choice

    def on_scheme_clicked(self, scheme: Scheme) -> None:
        """Tell which palette was chosen."""
        self._scheme = scheme
        self.scheme_chosen.emit(scheme)


def make(shop: Shop, work: Work, scheme: Scheme) -> Settings:
    """Give the page."""
    return Settings(shop, work, scheme)
