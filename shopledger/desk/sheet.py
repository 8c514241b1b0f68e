"""The page about one thing: what it is, where it stands, what can be done next, its facts, money, papers, history."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent, QPalette
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from shopledger.desk.band import Band
from shopledger.desk.chips import Chip
from shopledger.desk.flow import Flow
from shopledger.desk.fonts import LARGE, SMALL, TEXT, TITLE, sans, serif
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, button, label
from shopledger.desk.lines import Lines, currency_of
from shopledger.desk.photograph_strip import PhotographStrip
from shopledger.desk.picture import KeptPhotograph
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.shown import broken, fact_words, quiet_words
from shopledger.quantities.fields import Kind, inputs
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _, count_words
from shopledger.queries.sheet_shapes import Fact, Group, PaperRow, Sheet

PICTURE_PX = 144
_LABEL_PX = 148


def adds_photographs(act: AnyAct) -> bool:
    """Whether an act is there to add photographs."""
    return any(field.kind is Kind.PICTURES and field.required for field in inputs(act.form).values())


class SheetView(QScrollArea):
    """A sheet as a page that scrolls."""

    act_wanted = Signal(object)
    """An act was chosen among the next ones."""
    paper_wanted = Signal(int)
    """A paper was chosen, by its id."""
    photograph_wanted = Signal(object, int)
    """(shots, n): the n-th of these photographs is to be seen large."""
    files_dropped = Signal(object, object)
    """(act, what was dropped): files for the act that adds photographs."""
    mark_wanted = Signal(object)
    """A mark on the history was opened."""
    strings_wanted = Signal(int)
    """The strings and the bridge of what this sheet is about, an instrument, are to be reckoned, by its id."""
    comparison_wanted = Signal(int)
    """Others are to be set beside what this sheet is about, an instrument, by its id."""
    count_wanted = Signal(int)
    """Things are to be ticked in what this sheet is about, a count, by its id."""
    reports_wanted = Signal(int, int)
    """(before, after): two condition reports are to be seen side by side, by their ids."""

    def __init__(
        self, shop: Shop, sheet: Sheet, acts: Sequence[AnyAct], parent: QWidget | None = None
    ) -> None:
        """Show a sheet with the acts that are possible now."""
        super().__init__(parent)
        self.shop, self.sheet, self.acts = shop, sheet, tuple(acts)
        self._manners = shop.ledger.manners
        self.setObjectName("sheet")
        self.setAccessibleName(sheet.title)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        page = QWidget()
        page.setAutoFillBackground(True)
        page.setBackgroundRole(QPalette.ColorRole.Base)
        self._adds = next((act for act in self.acts if adds_photographs(act)), None)
        self.setAcceptDrops(self._adds is not None)
        self._box = QVBoxLayout(page)
        self._box.setContentsMargins(GROUP, GROUP, GROUP, GROUP)
        self._box.setSpacing(0)
        self._add_head()
        self._add_acts()
        self._add_history()
        self._add_photographs()
        for group in sheet.groups:
            self._add_group(group)
        self._add_money()
        self._add_papers()
        self._box.addStretch(1)
        self.setWidget(page)

    def add(self, title: str, widgets: Sequence[QWidget]) -> None:
        """Set more under the sheet, with a heading of its own."""
        self._box.takeAt(self._box.count() - 1)
        self._heading(title)
        for widget in widgets:
            self._box.addWidget(widget)
            self._box.addSpacing(CELL)
        self._box.addStretch(1)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files where photographs can be added."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        """Take them anywhere on the page."""
        event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Hand on what is dropped."""
        event.acceptProposedAction()
        self.files_dropped.emit(self._adds, event.mimeData())

    def _add_head(self) -> None:
        sheet = self.sheet
        head = QHBoxLayout()
        head.setSpacing(16)
        if sheet.picture:
            picture = KeptPhotograph(self.shop, sheet.picture, PICTURE_PX, sheet.title)
            picture.clicked.connect(self.on_picture_clicked)
            head.addWidget(picture, 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(STEP)
        title = label(sheet.title, font=serif(TITLE), select=True)
        title.setObjectName("title")
        words.addWidget(title)
        if sheet.line:
            words.addWidget(label(sheet.line, tone="quiet", select=True))
        if sheet.state is not None:
            words.addSpacing(STEP)
            words.addWidget(Chip(sheet.state), 0, Qt.AlignmentFlag.AlignLeft)
        words.addStretch(1)
        head.addLayout(words, 1)
        self._box.addLayout(head)
        if sheet.standing:
            standing = label(sheet.standing, select=True)
            standing.setObjectName("standing")
            self._box.addSpacing(CELL)
            self._box.addWidget(standing)

    def on_picture_clicked(self) -> None:
        """See the photograph of the head large, the first of them all."""
        self.photograph_wanted.emit(self.sheet.photographs, 0)

    def _add_acts(self) -> None:
        if not self.acts and not self.sheet.strung:
            return
        row = QWidget()
        flow = Flow(row, across=8, down=8)
        if self.sheet.counting:
            tick = button(_("Tick what is seen"), "count")
            tick.setShortcut("Ctrl+Shift+T")
            tick.setToolTip(_("By hand-held scanner or by number; Ctrl+Shift+T"))
            tick.setAccessibleDescription(_("By hand-held scanner or by number"))
            tick.clicked.connect(lambda: self.count_wanted.emit(self.sheet.id))
            flow.addWidget(tick)
        for act in self.acts:
            made = button(_(act.text), f"act.{act.name}")
            made.setToolTip(_(act.help))
            made.setAccessibleDescription(_(act.help))
            if act.shortcut:
                made.setShortcut(act.shortcut)
            made.clicked.connect(lambda _checked=False, act=act: self.act_wanted.emit(act))
            flow.addWidget(made)
        if self.sheet.strung:
            strings = button(_("Strings and bridge"), "strings")
            strings.setToolTip(_("Tension, angle and load, reckoned; Ctrl+Shift+G"))
            strings.setAccessibleDescription(_("Tension, angle and load, reckoned"))
            strings.clicked.connect(lambda: self.strings_wanted.emit(self.sheet.id))
            flow.addWidget(strings)
        self._box.addSpacing(16)
        self._box.addWidget(row)

    def _add_history(self) -> None:
        history = self.sheet.history
        if not history.spans and not history.marks:
            return
        band = Band(history, self.shop.ledger.today(), self._manners)
        band.opened.connect(self.mark_wanted)
        self._box.addSpacing(GROUP)
        self._box.addWidget(band)

    def _add_photographs(self) -> None:
        shots = self.sheet.photographs
        if len(shots) < 2:
            return
        self._heading(_("Photographs"), count_words("{n} photograph", "{n} photographs", len(shots)))
        strip = PhotographStrip(self.shop, shots)
        strip.opened.connect(lambda n: self.photograph_wanted.emit(shots, n))
        self._box.addWidget(strip)

    def _heading(self, words: str, behind: str = "", aside: QWidget | None = None) -> None:
        line = QHBoxLayout()
        line.setSpacing(CELL)
        line.addWidget(label(words, font=serif(LARGE), wrap=False))
        line.addStretch(1)
        if behind:
            line.addWidget(label(behind, font=sans(SMALL), tone="quiet", wrap=False))
        if aside is not None:
            line.addWidget(aside)
        self._box.addSpacing(GROUP)
        self._box.addLayout(line)
        self._box.addSpacing(STEP)
        self._box.addWidget(Hairline())
        self._box.addSpacing(8)

    def _add_group(self, group: Group) -> None:
        facts = [fact for fact in group.facts if fact.value not in (None, "", ())]
        if not facts:
            return
        self._heading(_(group.title), aside=self._beside(group))
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(CELL)
        grid.setVerticalSpacing(6)
        grid.setColumnMinimumWidth(0, _LABEL_PX)
        grid.setColumnStretch(1, 1)
        for n, fact in enumerate(facts):
            name = label(_(fact.label), tone="quiet")
            name.setFixedWidth(_LABEL_PX)
            name.setAlignment(Qt.AlignmentFlag.AlignTop)
            grid.addWidget(name, n, 0)
            grid.addLayout(self._fact(fact), n, 1, Qt.AlignmentFlag.AlignTop)
        self._box.addLayout(grid)

    def _beside(self, group: Group) -> QWidget | None:
        """Give the button that sets what the group is about beside another, where there is one."""
        if group.measured:
            made = button(_("Set side by side"), "compare")
            made.setShortcut("Ctrl+Shift+B")
            made.setToolTip(_("Beside other instruments or earlier days, with what differs; Ctrl+Shift+B"))
            made.setAccessibleDescription(_("Beside other instruments or earlier days, with what differs"))
            made.clicked.connect(lambda: self.comparison_wanted.emit(self.sheet.id))
            return made
        if not group.reports:
            return None
        before, after = group.reports
        made = button(_("See then and now"), "reports_beside")
        made.setToolTip(_("Two condition reports side by side, with what changed"))
        made.setAccessibleDescription(_("Two condition reports side by side, with what changed"))
        made.clicked.connect(lambda: self.reports_wanted.emit(before, after))
        return made

    def _fact(self, fact: Fact) -> QVBoxLayout:
        box = QVBoxLayout()
        box.setSpacing(0)
        words = broken(fact_words(fact.value, self._manners))
        quiet = quiet_words(fact.value, fact.quiet, self._manners)
        value = label(words, select=True)
        value.setAccessibleName(f"{_(fact.label)} {words} {quiet}")
        if not quiet:
            box.addWidget(value)
        elif len(words) + len(quiet) < 44:
            line = QHBoxLayout()
            line.setSpacing(8)
            value.setWordWrap(False)
            line.addWidget(value)
            line.addWidget(label(quiet, tone="quiet", wrap=False, select=True))
            line.addStretch(1)
            box.addLayout(line)
        else:
            box.addWidget(value)
            box.addWidget(label(quiet, font=sans(SMALL), tone="quiet", select=True))
        return box

    def _add_money(self) -> None:
        lines = self.sheet.money
        if not lines:
            return
        self._heading(_(self.sheet.money_title) or _("Money"), currency_of(lines))
        money = Lines(lines, self._manners)
        money.setObjectName("money")
        self._box.addWidget(money)

    def _add_papers(self) -> None:
        if not self.sheet.papers:
            return
        self._heading(_("Papers"))
        for paper in self.sheet.papers:
            self._box.addWidget(self._paper_row(paper))

    def _paper_row(self, paper: PaperRow) -> QWidget:
        row = button("", f"paper.{paper.id}", weight="row")
        title = _(paper.title) if paper.issued else _("{title} (not yet issued)").format(title=_(paper.title))
        row.setAccessibleName(f"{title} {paper.number} {show_day(paper.on, self._manners)}")
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(CELL)
        for words, tone, stretch in (
            (title, "", 1),
            (paper.number, "quiet", 0),
            (show_day(paper.on, self._manners), "quiet", 0),
        ):
            part: QLabel = label(words, font=sans(TEXT), tone=tone, wrap=False)
            part.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            if stretch:
                part.setMinimumWidth(1)
            line.addWidget(part, stretch)
        row.clicked.connect(lambda: self.paper_wanted.emit(paper.id))
        return row
