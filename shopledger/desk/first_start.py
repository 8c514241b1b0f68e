"""The first start: four questions, or a look round the example shop first."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from PySide6.QtCore import QLocale, Qt, QTimeZone, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QFileDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from shopledger.desk.choice_box import ChoiceBox
from shopledger.desk.errors import sentence
from shopledger.desk.fonts import LARGE, SMALL, TEXT, TITLE, sans, serif
from shopledger.desk.input import mark
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, button, label, line_edit, retone
from shopledger.quantities import currencies
from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.manners import PLAIN
from shopledger.quantities.reading import read_rate
from shopledger.quantities.words import N_, _
from shopledger.store.engine import is_server

TAXES = (
    ("none", N_("none")),
    ("sales_tax", N_("sales tax, added to what the buyer pays")),
    ("vat_on_commission", N_("VAT on the commission")),
    ("margin", N_("second-hand margin scheme")),
)
CAUTION = N_(
    "Which tax applies, and at what rate, differs by place and changes. Ask an accountant or the tax office before the "
    "first sale."
)
_WIDTH_PX = 920


@dataclass(frozen=True, slots=True)
class Answers:
    """What was answered, as a new ledger needs it."""

    name: str
    address: str
    currency: str
    tax_scheme: str
    tax_rate: Fraction | None
    where: str | Path
    locale: str
    time_zone: str
    paper_size: str


class FirstStart(QScrollArea):
    """The page of the four questions."""

    answered = Signal(object)
    """Answers that can be so."""
    example_wanted = Signal()
    """A look round the example shop."""
    open_wanted = Signal()
    """There is a ledger already, to be opened."""

    def __init__(self, folder: Path) -> None:
        """Ask; `folder` is where a ledger lies unless another place is chosen."""
        super().__init__()
        self.setObjectName("first_start")
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        system = QLocale.system()
        self.name, self.address = line_edit("input.name"), QPlainTextEdit()
        self.address.setFont(sans(TEXT))
        self.address.setTabChangesFocus(True)
        self.address.document().setDocumentMargin(0)
        self.address.setFixedHeight(64)
        self.currency = line_edit("input.currency")
        self.currency.setMaximumWidth(96)
        self.currency.setText(system.currencySymbol(QLocale.CurrencySymbolFormat.CurrencyIsoCode) or "EUR")
        self.tax, self.rate = ChoiceBox(), line_edit("input.rate")
        for code, words in TAXES:
            self.tax.addItem(_(words), code)
        self.tax.activated.connect(self.on_tax_chosen)
        self.rate.setMaximumWidth(96)
        self.rate.setPlaceholderText("8.25%")
        self.where = line_edit("input.where")
        self.where.setText(str(folder / "shop.ledger"))
        self.errors: dict[str, QLabel] = {}
        self._lay()
        self.on_tax_chosen()

    def _lay(self) -> None:
        page = QWidget()
        page.setAutoFillBackground(True)
        page.setBackgroundRole(QPalette.ColorRole.Base)
        across = QHBoxLayout(page)
        column = QWidget()
        column.setMaximumWidth(_WIDTH_PX)
        box = QVBoxLayout(column)
        box.setContentsMargins(GROUP, 40, GROUP, GROUP)
        box.setSpacing(8)
        box.addWidget(label(_("A ledger for your shop"), font=serif(TITLE)))
        box.addWidget(label(_("Four questions, and it is made. The currency stays for good."), tone="quiet"))
        box.addSpacing(CELL)
        grid = QGridLayout()
        grid.setHorizontalSpacing(40)
        grid.setVerticalSpacing(GROUP)
        for n, laid in enumerate((self._shop(), self._tax(), self._currency(), self._place())):
            grid.addLayout(laid, n // 2, n % 2)
            grid.setColumnStretch(n % 2, 1)
        box.addLayout(grid)
        box.addSpacing(CELL)
        self.error = label("", tone="madder")
        self.error.setObjectName("error")
        self.error.hide()
        box.addWidget(self.error)
        box.addLayout(self._buttons())
        box.addStretch(1)
        across.addStretch(1)
        across.addWidget(column, 8)
        across.addStretch(1)
        self.setWidget(page)

    def _shop(self) -> QVBoxLayout:
        box = _question(_("What is the shop called, and where is it?"))
        self._answer(box, "name", _("Name"), self.name)
        self._answer(box, "address", _("Address, as it stands on papers"), self.address)
        box.addStretch(1)
        return box

    def _tax(self) -> QVBoxLayout:
        box = _question(_("Which tax do you charge?"))
        self._answer(box, "tax_scheme", _("Tax"), self.tax)
        self._answer(box, "tax_rate", _("Rate"), self.rate)
        box.addWidget(label(_(CAUTION), font=sans(SMALL), tone="quiet"))
        box.addStretch(1)
        return box

    def _currency(self) -> QVBoxLayout:
        box = _question(_("In which currency is it kept?"))
        self._answer(box, "currency", _("Three letters, such as EUR or USD"), self.currency)
        box.addStretch(1)
        return box

    def _place(self) -> QVBoxLayout:
        box = _question(_("Where is the ledger kept?"))
        place = QWidget()
        line = QHBoxLayout(place)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.where, 1)
        choose = button(_("Choose"), "choose")
        choose.clicked.connect(self.on_choose_clicked)
        line.addWidget(choose)
        self._answer(
            box,
            "where",
            _(
                "A file on this computer, not in a synchronised folder; or the address of a server's empty database"
            ),
            place,
        )
        box.addStretch(1)
        return box

    def _buttons(self) -> QHBoxLayout:
        last = QHBoxLayout()
        last.setSpacing(8)
        self.make_button = button(_("Make the ledger"), "make", weight="main")
        self.make_button.clicked.connect(self.on_make_clicked)
        self.example_button = button(_("Look round the example shop first"), "example")
        self.example_button.clicked.connect(self.example_wanted)
        self.open_button = button(_("Open a ledger"), "open", weight="quiet")
        self.open_button.clicked.connect(self.open_wanted)
        for made in (self.make_button, self.example_button, self.open_button):
            last.addWidget(made)
        last.addStretch(1)
        return last

    def _answer(self, box: QVBoxLayout, name: str, words: str, inner: QWidget) -> None:
        box.addWidget(label(words, font=sans(SMALL), tone="quiet"))
        box.addWidget(inner)
        wrong = label("", font=sans(SMALL), tone="madder")
        wrong.setObjectName(f"error.{name}")
        wrong.hide()
        box.addWidget(wrong)
        self.errors[name] = wrong
        self._inner(name).setAccessibleName(words)
        box.addSpacing(8)

    def on_tax_chosen(self, *_what: object) -> None:
        """A rate is asked for only where there is a tax."""
        self.rate.setEnabled(self.tax.currentData() != "none")

    def on_choose_clicked(self) -> None:
        """Let the place be chosen in the system's own dialog."""
        name, _kind = QFileDialog.getSaveFileName(
            self, _("Where the ledger is kept"), self.where.text(), _("Ledgers (*.ledger)")
        )
        if name:
            self.where.setText(name)

    def on_make_clicked(self) -> None:
        """Hand the answers on, or say at each what is wrong with it."""
        for name, wrong in self.errors.items():
            wrong.hide()
            mark(self._inner(name), False)
        self.error.hide()
        try:
            answers = self.answers()
        except Typed as error:
            self.complain(error)
        else:
            self.answered.emit(answers)

    def answers(self) -> Answers:
        """Give the answers.

        Raises: Typed, at the answer that can't be so.
        """
        name, where = self.name.text().strip(), self.where.text().strip()
        if not name:
            raise Typed(N_("The shop's name is missing: it stands on every paper."), field="name")
        currency = self.currency.text().strip().upper()
        currencies.minor_units(currency, field="currency")
        scheme = str(self.tax.currentData())
        rate = None if scheme == "none" else read_rate(self.rate.text(), PLAIN, field="tax_rate")
        if not where:
            raise Typed(N_("The place is missing: name a file for the ledger."), field="where")
        system = QLocale.system()
        return Answers(
            name=name,
            address=self.address.toPlainText().strip(),
            currency=currency,
            tax_scheme=scheme,
            tax_rate=rate,
            where=where if is_server(where) else Path(where).expanduser(),
            locale="en_GB" if system.language() is QLocale.Language.C else system.name(),
            time_zone=bytes(QTimeZone.systemTimeZoneId().data()).decode() or "UTC",
            paper_size="Letter" if system.territory() in _LETTER else "A4",
        )

    def tell(self, words: str) -> None:
        """Say over the buttons what goes on."""
        self.error.setText(words)
        retone(self.error, "quiet")
        self.error.show()

    def complain(self, error: Exception) -> None:
        """Say at its answer, or over the buttons, what is wrong."""
        field = (error.field or "") if isinstance(error, LedgerError) else ""
        wrong = self.errors.get(field)
        words = sentence(error, PLAIN)
        if wrong is None:
            self.tell(words)
            retone(self.error, "madder")
            return
        self.error.hide()
        wrong.setText(words)
        wrong.show()
        inner = self._inner(field)
        mark(inner, True)
        inner.setFocus(Qt.FocusReason.OtherFocusReason)

    def _inner(self, name: str) -> QWidget:
        known: dict[str, QWidget] = {
            "name": self.name,
            "address": self.address,
            "currency": self.currency,
            "tax_scheme": self.tax,
            "tax_rate": self.rate,
            "where": self.where,
        }
        return known[name]

    def set_busy(self, busy: bool) -> None:
        """Take no further clicks while the ledger is made."""
        for made in (self.make_button, self.example_button, self.open_button):
            made.setEnabled(not busy)


def _question(words: str) -> QVBoxLayout:
    box = QVBoxLayout()
    box.setSpacing(0)
    box.addWidget(label(words, font=serif(LARGE)))
    box.addSpacing(STEP)
    box.addWidget(Hairline())
    box.addSpacing(CELL)
    return box


# Letter is the ordinary size of paper in these countries (Unicode CLDR, territory data on paper sizes; from memory).
_LETTER = {
    QLocale.Country.UnitedStates,
    QLocale.Country.Canada,
    QLocale.Country.Mexico,
    QLocale.Country.Philippines,
    QLocale.Country.PuertoRico,
}
