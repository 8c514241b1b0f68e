"""Settings: the shop's own facts, to read, and whether the room is light or dark."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QRadioButton, QVBoxLayout, QWidget

from shopledger.desk.fonts import sans
from shopledger.desk.labels import GROUP, label
from shopledger.desk.palette import Scheme
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.quantities.words import N_, _

SCHEMES = (
    (Scheme.SYSTEM, N_("as the system")),
    (Scheme.LIGHT, N_("light")),
    (Scheme.DARK, N_("dark")),
)
LATER = N_(
    "Backup, restoring, import and changing the shop's own facts will stand here. Until then keep a copy of the "
    "ledger's file together with the folder of the same name that ends in .files, made while the window is closed."
)


class Settings(QWidget):
    """The page of settings."""

    scheme_chosen = Signal(object)
    """A Scheme."""

    def __init__(self, shop: Shop, scheme: Scheme) -> None:
        """Read the shop's facts."""
        super().__init__()
        self.setObjectName("place.settings")
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        with shop.ledger.read() as reading:
            sheet = shop.facts(reading)
        view = SheetView(shop, sheet, ())
        box.addWidget(view)
        choice = QWidget()
        line = QHBoxLayout(choice)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(GROUP)
        self._group = QButtonGroup(self)
        for one, words in SCHEMES:
            made = QRadioButton(_(words))
            made.setFont(sans())
            made.setObjectName(f"scheme.{one.value}")
            made.setChecked(one is scheme)
            made.clicked.connect(lambda _checked=False, one=one: self.scheme_chosen.emit(one))
            self._group.addButton(made)
            line.addWidget(made)
        line.addStretch(1)
        view.add(_("Light or dark"), [choice])
        later = label(_(LATER), tone="quiet")
        later.setMaximumWidth(560)
        view.add(_("Backup and import"), [later])


def make(shop: Shop, scheme: Scheme) -> Settings:
    """Give the page."""
    return Settings(shop, scheme)
