"""The history of a thing as one band from its first entry to now: custody is the ground, events are marks on it.

Hovering tells and clicking opens; so do the arrow keys and Return, and the words of the event that is looked at stand
under the band.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import tip
from shopledger.desk.palette import GROUND, LOOKED_AT, colours
from shopledger.quantities.manners import Manners
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.sheet_shapes import History, Mark, MarkKind, Span

_TOP, _HIGH = 22, 20
_MARK = 9.0
_APART = 11.0
HEIGHT = 84


@dataclass(frozen=True, slots=True)
class Event:
    """A stretch or a mark as one can come to it: its words, and the stretch or mark itself."""

    on: date
    words: str
    what: Span | Mark


def events_of(history: History, manners: Manners) -> tuple[Event, ...]:
    """Give all events of a history in the order of their days, with the words that tell of them."""
    found = []
    for span in history.spans:
        until = show_day(span.until, manners) if span.until else _("now")
        words = _("{since} to {until}: {words}").format(
            since=show_day(span.since, manners), until=until, words=span.words or _(span.state.word)
        )
        found.append(Event(span.since, words, span))
    for mark in history.marks:
        words = _("{day}: {words}").format(day=show_day(mark.on, manners), words=mark.words)
        found.append(Event(mark.on, words, mark))
    return tuple(sorted(found, key=lambda event: (event.on, isinstance(event.what, Mark))))


class Band(QWidget):
    """The painted band."""

    opened = Signal(object)
    """A mark that has a paper or a subject behind it was opened."""

    def __init__(
        self, history: History, today: date, manners: Manners, parent: QWidget | None = None
    ) -> None:
        """Show a history up to today."""
        super().__init__(parent)
        self.events = events_of(history, manners)
        self.at = -1
        """Which event is looked at, -1 for none."""
        self._manners = manners
        self._first = min((event.on for event in self.events), default=today)
        self._last = max([today, *(event.on for event in self.events)])
        self.setObjectName("band")
        self.setAccessibleName(_("History"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._tell()

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(320, HEIGHT)

    def minimumSizeHint(self) -> QSize:
        """Narrow windows still show it."""
        return QSize(160, HEIGHT)

    def go(self, n: int) -> None:
        """Look at an event by its number."""
        if self.events:
            self.at = max(0, min(n, len(self.events) - 1))
            self._tell()

    def _tell(self) -> None:
        self.setAccessibleDescription(self.events[self.at].words if self.at >= 0 else self.summary())
        self.update()

    def summary(self) -> str:
        """Give the words under the band while no event is looked at."""
        if not self.events:
            return _("Nothing has happened yet.")
        return _("Since {day}, {n} events. The arrow keys go through them.").format(
            day=show_day(self._first, self._manners), n=len(self.events)
        )

    def _x(self, day: date) -> float:
        days = max((self._last - self._first).days, 1)
        room = self.width() - 2 * _MARK
        return _MARK + room * min(max((day - self._first).days, 0), days) / days

    def _spots(self) -> dict[int, float]:
        """Where each mark stands, moved apart where several fall on nearly one day."""
        spots: dict[int, float] = {}
        before = -_APART
        for n, event in enumerate(self.events):
            if isinstance(event.what, Mark):
                before = spots[n] = max(self._x(event.on), before + _APART)
        limit = self.width() - _MARK
        for n in reversed(spots):
            spots[n] = min(spots[n], limit)
            limit = spots[n] - _APART
        return spots

    def event_at(self, x: float, y: float) -> int:
        """Give the number of the event at a point of the band, or -1: a mark before the stretch under it."""
        for n, spot in self._spots().items():
            if abs(spot - x) <= _APART / 2 + 1 and y < _TOP + _HIGH:
                return n
        for n, event in enumerate(self.events):
            span = event.what
            if isinstance(span, Span) and _TOP <= y <= _TOP + _HIGH:
                end = self._x(span.until or self._last)
                if self._x(span.since) <= x <= max(end, self._x(span.since) + 3):
                    return n
        return -1

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, marks, years and the words under them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        palette = colours()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(palette.wash(palette.hairline, 0.5))
        painter.drawRect(QRectF(_MARK, _TOP, self.width() - 2 * _MARK, _HIGH))
        for n, one in enumerate(self.events):
            if isinstance(one.what, Span):
                self._paint_span(painter, one.what, looked_at=n == self.at)
        self._paint_years(painter)
        for n, spot in self._spots().items():
            mark = self.events[n].what
            assert isinstance(mark, Mark)
            paint_mark(painter, mark.kind, QPointF(spot, _TOP - 9), looked_at=n == self.at)
        painter.setFont(sans(SMALL))
        painter.setPen(palette.ink if self.at >= 0 else palette.quiet)
        words = self.events[self.at].words if self.at >= 0 else self.summary()
        room = QRectF(0, HEIGHT - 20, self.width(), 20)
        cut = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(room, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter), cut)
        if self.hasFocus():
            painter.setPen(QPen(palette.wash(palette.varnish, 1), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(_MARK - 2.5, _TOP - 2.5, self.width() - 2 * _MARK + 5, _HIGH + 5))
        painter.end()

    def _paint_span(self, painter: QPainter, span: Span, *, looked_at: bool) -> None:
        palette = colours()
        left, right = self._x(span.since), self._x(span.until or self._last)
        box = QRectF(left, _TOP, max(right - left, 2), _HIGH)
        tone = palette.tone(span.state.tone)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(palette.wash(tone, LOOKED_AT if looked_at else GROUND))
        painter.drawRect(box)
        painter.setPen(palette.ink)
        painter.setFont(sans(SMALL))
        words = _(span.state.word)
        # The ground's colour alone tells nothing: its word stands in it wherever there is room.
        if painter.fontMetrics().horizontalAdvance(words) + 12 < box.width():
            painter.drawText(box.adjusted(6, 0, 0, 0), int(Qt.AlignmentFlag.AlignVCenter), words)

    def _paint_years(self, painter: QPainter) -> None:
        palette = colours()
        painter.setFont(sans(SMALL))
        painter.setPen(palette.quiet)
        years = [date(year, 1, 1) for year in range(self._first.year + 1, self._last.year + 1)]
        for day in years:
            x = self._x(day)
            painter.drawLine(QPointF(x, _TOP + _HIGH), QPointF(x, _TOP + _HIGH + 4))
            painter.drawText(QPointF(min(x + 3, self.width() - 28), _TOP + _HIGH + 14), str(day.year))
        if not years or self._x(years[0]) > 64:
            painter.drawText(QPointF(_MARK, _TOP + _HIGH + 14), show_day(self._first, self._manners))

    def event(self, event: QEvent) -> bool:
        """Tell of an event in a tooltip."""
        if event.type() is QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            n = self.event_at(event.pos().x(), event.pos().y())
            QToolTip.showText(event.globalPos(), tip(self.events[n].words) if n >= 0 else "", self)
            return True
        return super().event(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Look at the event under the pointer."""
        n = self.event_at(event.position().x(), event.position().y())
        self.setCursor(Qt.CursorShape.PointingHandCursor if self._opens(n) else Qt.CursorShape.ArrowCursor)
        if n >= 0 and n != self.at:
            self.go(n)

    def leaveEvent(self, event: QEvent) -> None:
        """Look at nothing any more, unless the keyboard does."""
        if not self.hasFocus():
            self.at = -1
            self._tell()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Open the event under the pointer."""
        n = self.event_at(event.position().x(), event.position().y())
        if n >= 0:
            self.go(n)
            self._open()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go through the events by arrow keys, Home and End; Return opens."""
        key = event.key()
        if key in {Qt.Key.Key_Right, Qt.Key.Key_Left}:
            self.go(self.at + (1 if key == Qt.Key.Key_Right else -1))
        elif key == Qt.Key.Key_Home:
            self.go(0)
        elif key == Qt.Key.Key_End:
            self.go(len(self.events) - 1)
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            self._open()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Start at the latest event."""
        if self.at < 0 and event.reason() is not Qt.FocusReason.MouseFocusReason:
            self.go(len(self.events) - 1)
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Look at nothing any more."""
        self.at = -1
        self._tell()
        super().focusOutEvent(event)

    def _opens(self, n: int) -> bool:
        what = self.events[n].what if n >= 0 else None
        return isinstance(what, Mark) and (what.paper_id is not None or what.subject is not None)

    def _open(self) -> None:
        if self._opens(self.at):
            self.opened.emit(self.events[self.at].what)


def paint_mark(painter: QPainter, kind: MarkKind, middle: QPointF, *, looked_at: bool) -> None:
    """Draw the sign of an event: each kind has its own shape, filled where it is looked at."""
    palette = colours()
    size, x, y = _MARK / 2, middle.x(), middle.y()
    colour = palette.wash(palette.varnish if looked_at else palette.ink, 1)
    painter.save()
    painter.setPen(QPen(colour, 1.5))
    painter.setBrush(colour if looked_at else palette.wash(palette.sheet, 1))
    painter.drawLine(QPointF(x, y + size), QPointF(x, y + size + 4))
    if kind is MarkKind.ARRIVAL:
        corners = [(x - size, y - size), (x + size, y - size), (x, y + size)]
    elif kind is MarkKind.HANDOVER:
        corners = [(x - size, y + size), (x + size, y + size), (x, y - size)]
    elif kind is MarkKind.TERMS:
        side = size - 1
        corners = [(x - side, y - size), (x + side, y - size), (x + side, y + size), (x - side, y + size)]
    elif kind is MarkKind.SALE:
        corners = [(x, y - size), (x + size, y), (x, y + size), (x - size, y)]
    else:
        corners = []
    if corners:
        painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
    elif kind is MarkKind.PRICE:
        painter.drawLine(QPointF(x - size, y + size), QPointF(x + size, y - size))
    else:
        radius = size if kind is MarkKind.MONEY else size - 2
        painter.drawEllipse(middle, radius, radius)
    painter.restore()
