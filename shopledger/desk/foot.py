"""The foot of the window: what is told, and how far work in the background is, with a button that stops it."""

from __future__ import annotations

from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QWidget

from shopledger.desk.fonts import SMALL, sans
from shopledger.desk.labels import CELL, button, label
from shopledger.desk.work import Job, Work
from shopledger.quantities.words import _


class Foot(QWidget):
    """One line of words, and beside it the progress while something goes on."""

    def __init__(self, work: Work) -> None:
        """Say nothing yet."""
        super().__init__()
        self._work = work
        self._job: Job | None = None
        self.setFixedHeight(28)
        self.setBackgroundRole(QPalette.ColorRole.Window)
        line = QHBoxLayout(self)
        line.setContentsMargins(20, 0, CELL, 0)
        line.setSpacing(CELL)
        self.message = label("", font=sans(SMALL), tone="quiet", wrap=False)
        self.message.setObjectName("message")
        self.message.setMinimumWidth(1)
        self._progress = QProgressBar()
        self._progress.setFixedWidth(120)
        self._progress.setTextVisible(False)
        self._counts = label("", font=sans(SMALL), tone="quiet", wrap=False)
        self._cancel = button(_("Cancel"), "cancel", weight="quiet")
        self._cancel.clicked.connect(self.on_cancel_clicked)
        line.addWidget(self.message, 1)
        for widget in (self._counts, self._progress, self._cancel):
            widget.hide()
            line.addWidget(widget)

    def say(self, words: str) -> None:
        """Say something."""
        self.message.setText(words)
        self.message.setToolTip("")
        self.message.setAccessibleName(words)

    def on_work_began(self, job: Job) -> None:
        """Say what goes on."""
        self._job = job
        self.say(job.words)

    def on_work_stepped(self, job: Job, done: int, of: int) -> None:
        """Show how far the work is."""
        self._job = job
        for widget in (self._counts, self._progress, self._cancel):
            widget.show()
        self._progress.setMaximum(of)
        self._progress.setValue(done)
        self._counts.setText(_("{done} of {of}").format(done=done, of=of))

    def on_work_ended(self, job: Job) -> None:
        """Put the progress away."""
        # Another of the same words may have begun: photographs are prepared one after another.
        if self.message.text() == job.words and self._job is job:
            self.say("")
        if not self._work.busy:
            self._job = None
            for widget in (self._counts, self._progress, self._cancel):
                widget.hide()

    def on_cancel_clicked(self) -> None:
        """Ask the work to stop."""
        if self._job is not None:
            self._work.cancel(self._job)
