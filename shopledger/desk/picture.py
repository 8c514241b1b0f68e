"""A photograph, drawn small and sharp at the screen's own resolution."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopledger.quantities.words import _


class Photograph(QWidget):
    """One photograph in a square, cut to its middle."""

    def __init__(self, image: QImage, side: int, words: str, parent: QWidget | None = None) -> None:
        """Show the image in a square with sides of `side` pixels; `words` tell what it shows."""
        super().__init__(parent)
        self._image, self._side = image, side
        self.setAccessibleName(words or _("Photograph"))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """A square."""
        return QSize(self._side, self._side)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the middle of the image."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        # Scaled down in the image first: the painter's own scaling of large photographs leaves jagged edges.
        pixels = QSize(self._side, self._side) * self.devicePixelRatioF()
        small = self._image.scaled(
            pixels, Qt.AspectRatioMode.KeepAspectRatioByExpanding, Qt.TransformationMode.SmoothTransformation
        )
        left, top = (small.width() - pixels.width()) / 2, (small.height() - pixels.height()) / 2
        painter.drawImage(QRectF(self.rect()), small, QRectF(left, top, pixels.width(), pixels.height()))
        painter.end()
