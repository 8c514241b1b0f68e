"""Photographs made ready one after another on the worker: what is dropped into a form never makes the window wait.

Each is a job of its own, so that an act needn't wait for all of them, and each waits in a file, so that hundreds take
no more memory than one.
"""

from __future__ import annotations

import shutil
import tempfile
import weakref
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from shopledger.desk.shop import Shop
from shopledger.desk.thumbnails import image_of
from shopledger.desk.work import Job, Stopped, Work, work_of
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from PySide6.QtGui import QImage

    from shopledger.store.prepared import PreparedPicture


@dataclass(frozen=True, slots=True)
class Waiting:
    """A photograph that is to be made ready: the key of its row, its file or content, its name."""

    key: int
    source: Path | bytes
    name: str


class Preparing(QObject):
    """What makes the photographs of one input ready."""

    ready = Signal(int, object, object)
    """(key, PreparedPicture, QImage)"""
    refused = Signal(int, object)
    """(key, the error that says why)"""
    rested = Signal()
    """None is waiting any more."""
    stopped = Signal()
    """All that were added since it last rested are to be as if they had never been, those that were ready included."""

    def __init__(self, shop: Shop, field: str, side: int, of: QWidget) -> None:
        """Belong to an input; `side` is how large it shows them, in pixels of the screen."""
        super().__init__(of)
        self._shop, self._field, self._side, self._of = shop, field, side, of
        self._waiting: deque[Waiting] = deque()
        self._job: Job | None = None
        self._work: Work | None = None
        self._folder: Path | None = None
        self._last: weakref.finalize[Any, Any] | None = None
        self.done = self.all = 0
        """How many were made ready or refused since it last rested, and of how many."""

    @property
    def busy(self) -> bool:
        """Whether any is waiting."""
        return self._job is not None

    def add(self, waiting: Sequence[Waiting]) -> None:
        """Make these ready after those that wait already."""
        self._waiting.extend(waiting)
        self.all += len(waiting)
        if self._job is None:
            self._go_on()

    def leave_out(self, keys: set[int]) -> None:
        """Forget those that still wait and are no longer wanted."""
        kept = [one for one in self._waiting if one.key not in keys]
        self.all -= len(self._waiting) - len(kept)
        self._waiting = deque(kept)

    def stop(self) -> None:
        """Stop at the next of them."""
        if self._job is not None and self._work is not None:
            self._work.cancel(self._job)

    def put_away(self) -> None:
        """Stop and take away what was made ready; called once, before the input goes."""
        self._waiting.clear()
        self.stop()
        if self._last is not None and self._last.detach() is not None and self._work is not None:
            folder = self._folder
            self._work.beside.do(
                Job("", lambda _job: shutil.rmtree(str(folder), ignore_errors=True), _nothing, _nothing)
            )

    def _go_on(self) -> None:
        if not self._waiting:
            self._rest()
            self.rested.emit()
            return
        one = self._waiting.popleft()
        shop, folder, side, field = self._shop, self._made_folder(), self._side, self._field
        done, of = self.done, self.all

        def run(job: Job) -> tuple[PreparedPicture, QImage]:
            job.step(done, of)
            prepared, small = shop.prepare(one.source, one.name, folder, side, field)
            return prepared, image_of(small)

        self._work = work_of(self._of)
        self._job = Job(
            _("Photographs are being prepared."),
            run,
            lambda made: self.on_made(one, *made),
            lambda error: self.on_failed(one, error),
        )
        self._work.do(self._job)

    def _made_folder(self) -> Path:
        if self._folder is None:
            # Readable by its user alone; gone with this, or at the latest with the program.
            self._folder = Path(tempfile.mkdtemp(prefix="photographs-"))
            self._last = weakref.finalize(self, shutil.rmtree, str(self._folder), ignore_errors=True)
        return self._folder

    def _rest(self) -> None:
        self._waiting.clear()
        self._job = None
        self.done = self.all = 0

    def on_made(self, one: Waiting, prepared: PreparedPicture, image: QImage) -> None:
        """Hand it on, unless all was stopped meanwhile."""
        if not isValid(self) or self._job is None:
            return
        if self._job.cancelled.is_set():
            self.on_failed(one, Stopped(""))
            return
        self.done += 1
        self.ready.emit(one.key, prepared, image)
        self._go_on()

    def on_failed(self, one: Waiting, error: Exception) -> None:
        """Say why it is left out, and go on with the others; or stop."""
        if not isValid(self):
            return
        if isinstance(error, Stopped):
            self._rest()
            self.stopped.emit()
            return
        self.done += 1
        self.refused.emit(one.key, error)
        self._go_on()


def _nothing(_result: object) -> None:
    """Do nothing with what came of it."""
