"""A kept photograph on a page: drawn sharp at the screen's own resolution, opened large by a click or a key."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QPen, QShowEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from shopledger.desk.palette import colours
from shopledger.desk.shop import Shop
from shopledger.desk.thumbnails import want
from shopledger.quantities.words import _


def pixels(size: QSize, of: QWidget) -> QSize:
    """Give a size in pixels of the screen that a widget is on."""
    ratio = of.devicePixelRatioF()
    return QSize(round(size.width() * ratio), round(size.height() * ratio))


class KeptPhotograph(QAbstractButton):
    """One photograph, whole, as large as fits into a square; empty until it is made small, which the window doesn't
    wait for.
    """

    def __init__(self, shop: Shop, sha256: str, side: int, words: str) -> None:
        """Show the photograph in a square with sides of `side` pixels; `words` tell what it shows."""
        super().__init__()
        self.setObjectName("photograph")
        self._shop, self._sha256, self._side = shop, sha256, side
        self.image: QImage | None = None
        # Most are of an instrument that stands: the page hardly moves when the photograph comes.
        self._size = QSize(side * 3 // 4, side)
        self.setAccessibleName(_("Photograph: {words}").format(words=words) if words else _("Photograph"))
        self.setAccessibleDescription(_("Opens it large."))
        self.setToolTip(_("See it large"))
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As large as it is drawn."""
        return self._size

    def showEvent(self, event: QShowEvent) -> None:
        """Ask for the photograph once it is known where it is shown."""
        super().showEvent(event)
        if self.image is None:
            room = pixels(QSize(self._side, self._side), self)
            found = want(self, self._shop, self._sha256, room, self.on_made)
            if found is not None:
                self.on_made(found)

    def on_made(self, image: QImage) -> None:
        """Show it; one that can't be shown leaves no hole."""
        self.image = image
        self.setVisible(not image.isNull())
        if not image.isNull():
            self._size = image.size().scaled(self._side, self._side, Qt.AspectRatioMode.KeepAspectRatio)
            self.updateGeometry()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the photograph, or where it will be."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if self.image is None:
            painter.setPen(QColor(colours().hairline))
            painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        else:
            painter.drawImage(QRectF(self.rect()), self.image)
        if self.hasFocus():
            painter.setPen(QPen(QColor(colours().varnish), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()
