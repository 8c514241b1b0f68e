"""The side view of the strings over the bridge, drawn to scale, with the angle and the forces of all strings."""

from __future__ import annotations

import math

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopledger.desk.fonts import SMALL, TEXT, sans
from shopledger.desk.palette import colours
from shopledger.quantities.words import _
from shopledger.rules.bridge import Point
from shopledger.rules.bridge_view import Arrow, SideView

_EDGE, _HEAD = 16, 7
_BELOW = 40
"""Room under the drawing for the names of nut, bridge and tail."""


class BridgePicture(QWidget):
    """The drawing; it says nothing while there is nothing to draw."""

    def __init__(self) -> None:
        """Start with nothing."""
        super().__init__()
        self.setObjectName("bridge_picture")
        self.view: SideView | None = None
        self._words: tuple[str, str, str] = ("", "", "")
        self.setFixedHeight(176)
        self.setMinimumWidth(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_view(self, view: SideView | None, angle: str, tension: str, load: str) -> None:
        """Draw a side view with the words of its angle, of the tension of all strings, and of their load."""
        self.view, self._words = view, (angle, tension, load)
        self.setAccessibleName(_("Side view of the strings over the bridge"))
        self.setAccessibleDescription(
            ""
            if view is None
            else _("Angle {angle}, tension {tension} on either side, load on the bridge {load}").format(
                angle=angle, tension=tension, load=load
            )
        )
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(480, 176)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line from which heights count, bridge, strings, arrows and words."""
        if self.view is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw(painter, self.view)
        painter.end()

    def _scale(self, view: SideView) -> tuple[float, QPointF]:
        """Give the pixels of a millimetre, one for both directions, and where the point (0, 0) of the view lies."""
        low, high = view.corners
        wide, tall = high.along_mm - low.along_mm, max(high.height_mm - low.height_mm, 1.0)
        room_wide, room_tall = self.width() - 2 * _EDGE, self.height() - 2 * _EDGE - _BELOW
        scale = min(room_wide / wide, room_tall / tall)
        left = _EDGE + (room_wide - wide * scale) / 2 - low.along_mm * scale
        # As far down as the names under it leave, so that the angle above the bridge has its room.
        bottom = self.height() - _BELOW + low.height_mm * scale
        return scale, QPointF(left, bottom)

    def _draw(self, painter: QPainter, view: SideView) -> None:
        scale, origin = self._scale(view)
        palette = colours()

        def at(point: Point) -> QPointF:
            return QPointF(origin.x() + point.along_mm * scale, origin.y() - point.height_mm * scale)

        nut, top, tail = (
            at(point) for point in (view.geometry.nut, view.geometry.bridge_top, view.geometry.tail)
        )
        foot = at(view.foot)
        painter.setPen(QPen(QColor(palette.hairline), 1))
        painter.drawLine(QLineF(QPointF(nut.x(), foot.y()), QPointF(tail.x(), foot.y())))
        for end in (nut, tail):
            painter.drawLine(QLineF(end, QPointF(end.x(), foot.y())))
        # Pale and broad, so that the arrow of the load, which mostly lies along it, stands out.
        painter.setPen(QPen(palette.wash(palette.varnish, 0.4), 8, c=Qt.PenCapStyle.FlatCap))
        painter.drawLine(QLineF(top, foot))
        painter.setPen(QPen(QColor(palette.ink), 1.5))
        painter.drawLine(QLineF(nut, top))
        painter.drawLine(QLineF(top, tail))
        self._draw_angle(painter, nut, top, tail)
        for arrow, colour in (
            (view.to_nut, palette.slate),
            (view.to_tail, palette.slate),
            (view.load, palette.madder),
        ):
            self._draw_arrow(painter, at(arrow.begin), at(arrow.end), QColor(colour), arrow)
        self._write(painter, nut, top, tail, at(view.load.end), at(view.to_nut.end), foot)

    def _draw_angle(self, painter: QPainter, nut: QPointF, top: QPointF, tail: QPointF) -> None:
        """Draw the arc of the angle under the strings, from the one side to the other."""
        radius = min(34.0, QLineF(top, tail).length() * 0.6)
        ways = [math.degrees(math.atan2(top.y() - end.y(), end.x() - top.x())) for end in (nut, tail)]
        begin, end = ways[0] % 360, ways[1] % 360
        span = (end - begin) % 360
        painter.setPen(QPen(QColor(colours().ochre), 1.5))
        box = QRectF(top.x() - radius, top.y() - radius, 2 * radius, 2 * radius)
        painter.drawArc(box, round(begin * 16), round(span * 16))

    def _draw_arrow(
        self, painter: QPainter, begin: QPointF, end: QPointF, colour: QColor, arrow: Arrow
    ) -> None:
        line = QLineF(begin, end)
        if line.length() < 2 or not arrow.newtons:
            return
        painter.setPen(QPen(colour, 2))
        painter.drawLine(line)
        way = math.atan2(end.y() - begin.y(), end.x() - begin.x())
        head = min(_HEAD, line.length())
        wings = [
            QPointF(end.x() - head * math.cos(way + turn), end.y() - head * math.sin(way + turn))
            for turn in (0.45, -0.45)
        ]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawPolygon(QPolygonF([end, *wings]))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _write(
        self,
        painter: QPainter,
        nut: QPointF,
        top: QPointF,
        tail: QPointF,
        load: QPointF,
        pull: QPointF,
        foot: QPointF,
    ) -> None:
        """Write the forces and the angle at their arrows, and the names of the points under the line."""
        palette = colours()
        angle, tension, force = self._words
        self._word(painter, angle, QPointF(top.x(), top.y() - 22), palette.ochre, strong=True)
        self._word(painter, tension, QPointF(pull.x(), pull.y() - 20), palette.slate)
        side = QPointF(load.x() + 12, max(min(load.y() + 12, self.height() - _BELOW - 8), top.y() + 30))
        self._word(painter, force, side, palette.madder, strong=True, left=True)
        under = max(foot.y(), load.y()) + 14
        for words, point in ((_("nut"), nut), (_("bridge"), top), (_("tailpiece"), tail)):
            self._word(painter, words, QPointF(point.x(), under), palette.quiet, small=True)

    def _word(
        self,
        painter: QPainter,
        words: str,
        middle: QPointF,
        colour: str,
        *,
        strong: bool = False,
        small: bool = False,
        left: bool = False,
    ) -> None:
        """Write words around a point, or right of it, never beyond the edge."""
        font = sans(SMALL if small else TEXT, strong)
        painter.setFont(font)
        measure = QFontMetricsF(font)
        wide = measure.horizontalAdvance(words)
        x = middle.x() if left else middle.x() - wide / 2
        x = max(2.0, min(x, self.width() - wide - 2))
        ground = QRectF(x - 2, middle.y() - measure.height() / 2, wide + 4, measure.height())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(colours().sheet))
        painter.drawRect(ground)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QColor(colour))
        painter.drawText(ground, Qt.AlignmentFlag.AlignCenter, words)
