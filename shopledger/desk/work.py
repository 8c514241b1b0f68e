"""One worker with a queue for writes and long work, so that the window never stands still and writes never cross.

A job runs on the worker's thread and may tell how far it is and ask whether to stop; its result comes back on the
window's own thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QThread, Signal
from PySide6.QtWidgets import QWidget

from shopledger.quantities.errors import Bug, Refused
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from queue import SimpleQueue


class Stopped(Refused):
    """The job was cancelled; everything is as it was before."""


@dataclass
class Job:
    """One piece of work: what to run, what to call with its result or its error; the last two on the window's thread.

    Shape:  `run(job)` calls `job.step(done, of)` as it goes, which raises `Stopped` once the job is cancelled.
    """

    words: str
    run: Callable[[Job], Any]
    then: Callable[[Any], None]
    failed: Callable[[Exception], None]
    tell: Callable[[int, int], None] = lambda done, of: None
    cancelled: Event = field(default_factory=Event)

    def step(self, done: int, of: int) -> None:
        """Tell that `done` of `of` pieces are done.

        Raises: Stopped: the job was cancelled meanwhile.
        """
        if self.cancelled.is_set():
            raise Stopped(N_("Cancelled. Everything is as it was before."))
        self.tell(done, of)


class _Worker(QThread):
    """The thread that takes job after job from the queue until it finds None."""

    ended = Signal(object, object, object)
    """(job, result, error): one of the two last is None."""

    def __init__(self, parent: QObject) -> None:
        # Loaded with the first job: a window shows its first table without one.
        from queue import SimpleQueue

        super().__init__(parent)
        self.waiting: SimpleQueue[Job | None] = SimpleQueue()

    def run(self) -> None:
        """Work until told to end."""
        while (job := self.waiting.get()) is not None:
            try:
                result = job.run(job)
            except Exception as error:  # the edge: whatever goes wrong is told by whoever asked for the job
                self.ended.emit(job, None, error)
            else:
                self.ended.emit(job, result, None)


class Work(QObject):
    """The queue of the window."""

    began = Signal(object)
    """A job was put into the queue."""
    stepped = Signal(object, int, int)
    """(job, done, of)"""
    ended = Signal(object)
    """A job is over, whether it was done or not; its own `then` or `failed` was called before."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold no job yet; the queue and its thread begin with the first."""
        super().__init__(parent)
        self._worker: _Worker | None = None
        self._open: list[Job] = []
        self._beside: Work | None = None

    @property
    def beside(self) -> Work:
        """A second queue for what is only looked at: it neither waits for writes nor is told of at the foot."""
        if self._beside is None:
            self._beside = Work(self)
        return self._beside

    @property
    def busy(self) -> bool:
        """Whether a job runs or waits."""
        return bool(self._open)

    def do(self, job: Job) -> Job:
        """Put a job into the queue and give it back."""
        if self._worker is None:
            self._worker = _Worker(self)
            self._worker.ended.connect(self.on_job_ended)
            self._worker.start()
        job.tell = lambda done, of: self.stepped.emit(job, done, of)
        self._open.append(job)
        self.began.emit(job)
        self._worker.waiting.put(job)
        return job

    def cancel(self, job: Job) -> None:
        """Ask a job to stop at its next step; one that still waits stops before its first."""
        job.cancelled.set()

    def on_job_ended(self, job: Job, result: object, error: Exception | None) -> None:
        """Hand the result over on the window's thread."""
        self._open.remove(job)
        if error is not None:
            job.failed(error)
        else:
            job.then(result)
        self.ended.emit(job)

    def close(self) -> None:
        """Let the queue run empty and end the thread; what waits to be looked at isn't waited for."""
        if self._beside is not None:
            for job in self._beside._open:
                self._beside.cancel(job)
            self._beside.close()
        if self._worker is not None:
            self._worker.waiting.put(None)
            self._worker.wait()
            self._worker.deleteLater()
            self._worker = None


def work_of(widget: QWidget) -> Work:
    """Give the queue of the form or window in which a widget lies."""
    parent: QWidget | None = widget
    while parent is not None:
        found = getattr(parent, "work", None)
        if isinstance(found, Work):
            return found
        parent = parent.parentWidget()
    raise Bug("a widget that needs the worker lies nowhere")
