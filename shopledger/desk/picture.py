"""A photograph, drawn small and sharp at the screen's own resolution."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopledger.quantities.words import _


class Photograph(QWidget):
    """One photograph, whole, as large as fits into a square."""

    def __init__(self, image: QImage, side: int, words: str, parent: QWidget | None = None) -> None:
        """Show the image in a square with sides of `side` pixels; `words` tell what it shows."""
        super().__init__(parent)
        self._image = image
        self._size = image.size().scaled(side, side, Qt.AspectRatioMode.KeepAspectRatio)
        self.setAccessibleName(words or _("Photograph"))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As large as it is drawn."""
        return self._size

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the image."""
        # Scaled down in the image first: the painter's own scaling of large photographs leaves jagged edges.
        small = self._image.scaled(
            self._size * self.devicePixelRatioF(),
            Qt.AspectRatioMode.IgnoreAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(QRectF(self.rect()), small)
        painter.end()
