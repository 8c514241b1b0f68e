"""A photograph seen large inside the window, with the ones before and after it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QPalette, QResizeEvent, QShortcut
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import CELL, GROUP, Hairline, button, label, retone
from shopledger.desk.lying import Lying
from shopledger.desk.palette import colours
from shopledger.desk.picture import pixels
from shopledger.desk.shop import Shop
from shopledger.desk.thumbnails import want
from shopledger.desk.work import Job, work_of
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.sheet_shapes import Shot

RESTED_MS = 120
"""How long the size of the window has to rest before a photograph is made anew for it."""


class PhotographView(Lying):
    """One of several photographs, as large as there is room."""

    said = Signal(str)
    """Something to tell in the line at the foot of the window."""

    def __init__(self, shop: Shop, shots: Sequence[Shot], n: int, about: str) -> None:
        """Show the n-th of the photographs, from 0; `about` is the title of what they show."""
        super().__init__()
        self.shop, self.shots, self.n, self._about = shop, tuple(shots), n, about
        self.setObjectName("photograph_view")
        self.setAccessibleName(_("Photographs: {about}").format(about=about))
        self.large = _Large(shop)
        self._lay()
        for keys, slot in (
            ("Escape", self.on_back_clicked),
            ("Left", self.on_earlier_clicked),
            ("PgUp", self.on_earlier_clicked),
            ("Right", self.on_later_clicked),
            ("PgDown", self.on_later_clicked),
            ("Ctrl+S", self.on_save_clicked),
        ):
            made = QShortcut(keys, self, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
            made.activated.connect(slot)
        self.show_shot(n)

    def _lay(self) -> None:
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Base)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        bar = QHBoxLayout()
        bar.setContentsMargins(GROUP, CELL, GROUP, CELL)
        bar.setSpacing(8)
        self.back_button = button(_("Back"), "back", weight="quiet")
        self.back_button.clicked.connect(self.on_back_clicked)
        self.words = label("", wrap=False)
        self.words.setMinimumWidth(1)
        self.place = label("", font=sans(SMALL), tone="quiet", wrap=False)
        self.earlier_button = button(_("Previous"), "earlier")
        self.earlier_button.clicked.connect(self.on_earlier_clicked)
        self.later_button = button(_("Next"), "later")
        self.later_button.clicked.connect(self.on_later_clicked)
        self.save_button = button(_("Save a copy"), "save")
        self.save_button.clicked.connect(self.on_save_clicked)
        bar.addWidget(self.back_button)
        bar.addWidget(self.words, 1)
        for widget in (self.place, self.earlier_button, self.later_button, self.save_button):
            bar.addWidget(widget)
        for widget in (self.earlier_button, self.later_button):
            widget.setVisible(len(self.shots) > 1)
        page.addLayout(bar)
        page.addWidget(Hairline())
        page.addWidget(self.large, 1)

    @property
    def shot(self) -> Shot:
        """The photograph that is shown."""
        return self.shots[self.n]

    def show_shot(self, n: int) -> None:
        """Show the n-th, from 0."""
        self.n = n
        day = show_day(self.shot.on, self.shop.ledger.manners)
        words = _("{caption}, {day}").format(caption=self.shot.caption, day=day) if self.shot.caption else day
        self.words.setText(words)
        retone(self.place, "quiet")
        self.place.setText(_("{n} of {m}").format(n=n + 1, m=len(self.shots)))
        self.earlier_button.setEnabled(n > 0)
        self.later_button.setEnabled(n < len(self.shots) - 1)
        self.large.setAccessibleName(f"{self._about}, {words}")
        self.large.show_file(self.shot.sha256)

    def on_back_clicked(self) -> None:
        """Leave the photographs."""
        self.left.emit()

    def on_earlier_clicked(self) -> None:
        """Show the one before."""
        self.show_shot(max(self.n - 1, 0))

    def on_later_clicked(self) -> None:
        """Show the one after."""
        self.show_shot(min(self.n + 1, len(self.shots) - 1))

    def take_keyboard(self) -> None:
        """Turn from one to the next by the keys."""
        self.large.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_save_clicked(self) -> None:
        """Save a copy at full size where the system's dialog says."""
        name, _kind = QFileDialog.getSaveFileName(
            self,
            _("Save a copy"),
            f"{self.shot.caption or _('photograph')}.jpg",
            _("Photographs (*.jpg *.png)"),
        )
        if name:
            self.save_to(Path(name))

    def save_to(self, where: Path) -> None:
        """Write the kept file, byte for byte, and tell how it went."""
        shop, sha256 = self.shop, self.shot.sha256

        def run(_job: Job) -> None:
            where.write_bytes(shop.picture(shop.ledger, sha256))

        def failed(error: Exception) -> None:
            why = error.strerror or type(error).__name__ if isinstance(error, OSError) else None
            retone(self.place, "madder")
            self.place.setText(
                _("Not saved: {why}. Choose another place.").format(why=why)
                if why
                else sentence(error, shop.ledger.manners)
            )

        saved = _("The photograph is saved as {name}.").format(name=where.name)
        work_of(self).beside.do(Job("", run, lambda _none: self.said.emit(saved), failed))


class _Large(QWidget):
    """A photograph as large as the widget, asked for at that size and drawn as it was until it comes."""

    def __init__(self, shop: Shop) -> None:
        super().__init__()
        self._shop, self._sha256 = shop, ""
        self.image: QImage | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(QSize(1, 1))
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(RESTED_MS)
        self._timer.timeout.connect(self.ask)

    def show_file(self, sha256: str) -> None:
        """Show another photograph."""
        self._sha256, self.image = sha256, None
        if self.isVisible():
            self.ask()
        self.update()

    def ask(self) -> None:
        """Ask for the photograph at the size there is."""
        sha256 = self._sha256

        def made(image: QImage) -> None:
            if sha256 == self._sha256:
                self.image = image
                self.update()

        found = want(self, self._shop, sha256, pixels(self._room().size().toSize(), self), made)
        if found is not None:
            made(found)

    def _room(self) -> QRectF:
        return QRectF(self.rect()).adjusted(GROUP, CELL, -GROUP, -CELL)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask anew once the size rests; the first time at once."""
        super().resizeEvent(event)
        if self.image is None and not self._timer.isActive():
            self.ask()
        else:
            self._timer.start()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the photograph in the middle."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        room = self._room()
        if self.image is None or self.image.isNull():
            painter.setPen(QColor(colours().quiet))
            words = "" if self.image is None else _("This photograph's file is missing or damaged.")
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter, words)
        else:
            natural = self.image.size() / self.devicePixelRatioF()
            size = natural.scaled(room.size().toSize(), Qt.AspectRatioMode.KeepAspectRatio)
            if size.width() > natural.width():
                size = natural
            painter.drawImage(
                QRectF(
                    room.x() + (room.width() - size.width()) / 2,
                    room.y() + (room.height() - size.height()) / 2,
                    size.width(),
                    size.height(),
                ),
                self.image,
            )
        painter.end()
