"""Two condition reports of one instrument side by side: their photographs with pins, and what became of every mark."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from shopledger.desk.choice_box import ChoiceBox
from shopledger.desk.fonts import LARGE, SMALL, TEXT, sans, serif
from shopledger.desk.labels import CELL, GROUP, STEP, Hairline, label
from shopledger.desk.palette import colours
from shopledger.desk.pinned_shots import PinnedShots
from shopledger.desk.scrolling import Page, scrolling
from shopledger.desk.shop import Shop
from shopledger.desk.view import View
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _, count_words
from shopledger.queries.sheet_shapes import Shot

if TYPE_CHECKING:
    from shopledger.queries.condition_pair import MarkPair, Pair, ReportPage

_IN_ROW = 8
"""The room at either end of a row, in pixels."""
_SHARES = (4, 4, 4, 2)
"""How wide the columns of the marks are: what and where, then, now, what became of it."""


class ConditionView(View):
    """The earlier report on the left, the later one on the right, and under them every mark of both."""

    photograph_wanted = Signal(object, int)
    """(shots, n): the n-th of these photographs is to be seen large."""

    def __init__(self, shop: Shop, before_id: int, after_id: int, about: str) -> None:
        """Show two reports; `about` is the title of what they are of.

        Raises: LedgerError: they can't be read, or are of two instruments.
        """
        super().__init__()
        self.shop = shop
        self.setObjectName("condition_view")
        self.sides: tuple[PinnedShots, ...] = ()
        """The photographs of the earlier and of the later report."""
        self.boxes: tuple[ChoiceBox, ...] = ()
        """Where another earlier and another later report is chosen."""
        self.rows: list[MarkRow] = []
        title = label(_("Condition, then and now"), font=serif(LARGE), wrap=False)
        self._page = self.headed(title, about)
        self._area: QWidget | None = None
        self._back_to: QWidget | None = None
        self.show_reports(before_id, after_id)

    def show_reports(self, before_id: int, after_id: int) -> None:
        """Set these two side by side.

        Raises: LedgerError: they can't be read, or are of two instruments.
        """
        with self.shop.ledger.read() as reading:
            self.pair = self.shop.reports_beside(reading, before_id, after_id)
        pair = self.pair
        self.setAccessibleName(
            _("Condition: {before} beside {after}").format(before=pair.before.number, after=pair.after.number)
        )
        inner = Page()
        box = QVBoxLayout(inner)
        box.setContentsMargins(GROUP, GROUP, GROUP, GROUP)
        box.setSpacing(0)
        halves = QGridLayout()
        halves.setHorizontalSpacing(GROUP)
        halves.setVerticalSpacing(8)
        made = [
            self._half(halves, 0, pair.before, self._earlier_ones(pair)),
            self._half(halves, 1, pair.after, self._later_ones(pair)),
        ]
        self.boxes = tuple(chosen for chosen, _side in made)
        self.sides = tuple(side for _chosen, side in made)
        box.addLayout(halves)
        self.rows = []
        self._add_rows(box, _("What changed"), pair.changed, _("Nothing: every mark is as it was."))
        if pair.unchanged:
            self._add_rows(box, _("As it was"), pair.unchanged, "")
        box.addStretch(1)
        area = scrolling(inner)
        if self._area is not None:
            self._page.removeWidget(self._area)
            self._area.hide()
            self._area.deleteLater()
        self._area = area
        self._page.addWidget(area, 1)
        self._fit()

    @staticmethod
    def _earlier_ones(pair: Pair) -> list[tuple[int, str]]:
        return [one for one in pair.reports if one[0] < pair.after.id]

    @staticmethod
    def _later_ones(pair: Pair) -> list[tuple[int, str]]:
        return [one for one in pair.reports if one[0] > pair.before.id]

    def _half(
        self, grid: QGridLayout, column: int, page: ReportPage, offered: Sequence[tuple[int, str]]
    ) -> tuple[ChoiceBox, PinnedShots]:
        """Set one report into its column; give where another is chosen, and its photographs."""
        grid.setColumnStretch(column, 1)
        name = ("before", "after")[column]
        chosen = ChoiceBox()
        chosen.setObjectName(f"report.{name}")
        chosen.setAccessibleName((_("The earlier report"), _("The later report"))[column])
        for key, words in offered:
            chosen.addItem(words, key)
        chosen.setCurrentIndex(chosen.findData(page.id))
        chosen.setEnabled(len(offered) > 1)
        chosen.activated.connect(self.on_report_chosen)
        said = [show_day(page.made_on, self.shop.ledger.manners), page.made_by, page.light]
        shots = PinnedShots(self.shop, page.shots, page.words, name)
        shots.opened.connect(lambda n: self.on_photograph_opened(shots, n))
        facts = label(" \u00b7 ".join(part for part in said if part), tone="quiet", select=True)
        overall = label(page.overall, select=True)
        overall.setVisible(bool(page.overall))
        for row, widget in enumerate((chosen, facts, overall, shots)):
            grid.addWidget(widget, row, column, Qt.AlignmentFlag.AlignTop)
        return chosen, shots

    def _add_rows(self, box: QVBoxLayout, title: str, rows: Sequence[MarkPair], nothing: str) -> None:
        head = QHBoxLayout()
        head.addWidget(label(title, font=serif(LARGE), wrap=False))
        head.addStretch(1)
        if rows:
            counted = count_words("{n} mark", "{n} marks", len(rows))
            head.addWidget(label(counted, font=sans(SMALL), tone="quiet", wrap=False))
        box.addSpacing(GROUP)
        box.addLayout(head)
        box.addSpacing(STEP)
        box.addWidget(Hairline())
        if rows:
            box.addLayout(self._columns())
        else:
            box.addSpacing(8)
            box.addWidget(label(nothing, tone="quiet"))
        for row in rows:
            made = MarkRow(row, self.pair)
            made.setObjectName(f"mark.{len(self.rows)}")
            made.toggled.connect(lambda on, made=made: self.on_mark_toggled(made, on))
            self.rows.append(made)
            box.addWidget(made)
            box.addWidget(Hairline())

    def _columns(self) -> QHBoxLayout:
        """Give the words over the columns of the marks."""
        line = QHBoxLayout()
        line.setContentsMargins(_IN_ROW, STEP, _IN_ROW, 0)
        line.setSpacing(CELL)
        heads = ("", self.pair.before.number, self.pair.after.number, "")
        for words, share in zip(heads, _SHARES, strict=True):
            line.addWidget(label(words, font=sans(SMALL), tone="quiet"), share)
        return line

    def on_report_chosen(self, _index: int) -> None:
        """Set what is chosen now side by side; the keyboard stays where it was."""
        at = next((n for n, box in enumerate(self.boxes) if box.hasFocus()), None)
        before, after = (box.currentData() for box in self.boxes)
        self.show_reports(before, after)
        for side in self.sides:
            side.begin()
        if at is not None:
            self.boxes[at].setFocus(Qt.FocusReason.OtherFocusReason)

    def on_photograph_opened(self, side: PinnedShots, n: int) -> None:
        """Have a photograph of one of the two seen large, and come back to it."""
        self._back_to = side.large
        self.photograph_wanted.emit(tuple(Shot(one.sha256, one.caption, one.on) for one in side.shots), n)

    def on_mark_toggled(self, chosen: MarkRow, on: bool) -> None:
        """Point a mark's pins out on both photographs, or none."""
        for row in self.rows if on else ():
            if row is not chosen:
                row.setChecked(False)
        shown = next((row.pair for row in self.rows if row.isChecked()), None)
        before, after = self.sides
        before.point_out(0 if shown is None else shown.before_n)
        after.point_out(0 if shown is None else shown.after_n)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the photographs a part of the height, so that the marks under them are seen with them."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        for side in self.sides:
            side.fit(self.height() * 2 // 5)

    def take_keyboard(self) -> None:
        """Go back to where the keyboard was; at first to the photographs, else to the marks."""
        for side in self.sides:
            side.begin()
        photographs = [side.large for side in self.sides if side.shots]
        first = [*photographs, *self.rows, self.back_button][0]
        (self._back_to or first).setFocus(Qt.FocusReason.OtherFocusReason)
        self._back_to = None


class MarkRow(QAbstractButton):
    """What was seen at one place then and now; pressed, its pins are pointed out."""

    def __init__(self, row: MarkPair, pair: Pair) -> None:
        """Show one row; `pair` names the two reports."""
        super().__init__()
        self.pair = row
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        nothing = "\u2013"
        place = _("{part}: {term}").format(part=row.part, term=row.term)
        place = place[:1].upper() + place[1:]
        change = _(row.change.value)
        self.setAccessibleName(
            _("{place}. {one}: {before}. {other}: {after}. {change}").format(
                place=place,
                one=pair.before.number,
                before=row.before or nothing,
                other=pair.after.number,
                after=row.after or nothing,
                change=change,
            )
        )
        self.setAccessibleDescription(_("Points its pins out on the photographs."))
        line = QHBoxLayout(self)
        line.setContentsMargins(_IN_ROW, 6, _IN_ROW, 6)
        line.setSpacing(CELL)
        changed = row in pair.changed
        for words, share, strong in zip(
            (place, self._numbered(row.before, row.before_n), self._numbered(row.after, row.after_n), change),
            _SHARES,
            (False, False, False, changed),
            strict=True,
        ):
            part = label(words or nothing, font=sans(TEXT, strong), tone="" if changed else "quiet")
            part.setAlignment(Qt.AlignmentFlag.AlignTop)
            part.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            line.addWidget(part, share)

    @staticmethod
    def _numbered(words: str, number: int) -> str:
        return _("{n}. {words}").format(n=number, words=words) if number else ""

    def sizeHint(self) -> QSize:
        """As high as its words."""
        layout = self.layout()
        return super().sizeHint() if layout is None else layout.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Tint the row that is pointed out, and underline the one with the keyboard."""
        painter, palette = QPainter(self), colours()
        if self.isChecked():
            painter.fillRect(self.rect(), palette.selected)
        elif self.underMouse():
            painter.fillRect(self.rect(), palette.hovered)
        if self.hasFocus():
            painter.fillRect(0, self.height() - 2, self.width(), 2, palette.varnish)
        painter.end()
