"""What lets the example be built in seconds: papers rendered beside the acts, and nothing flushed to the disk.

An example that a power cut spoils is built anew, so its build needs none of the flushes that a real ledger's acts need.
Who opens it later works with all of them.
"""

from __future__ import annotations

import gc
import hashlib
import multiprocessing
import os
from collections.abc import Iterable, Iterator
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import event, select

from shopledger.acts.papers import issue_paper, keep_paper
from shopledger.example.rendering import rendered
from shopledger.model import Paper
from shopledger.papers.registry import shows_photographs
from shopledger.store.files import FolderFiles
from shopledger.store.ledger import Ledger, files_folder

MOST_PROCESSES = 4


SELDOM = (50_000, 50, 50)
"""Thresholds of the garbage collector while the example is built: it looks for cycles less often than usual."""


def look_for_garbage_seldom() -> None:
    """Let this process look for garbage seldom, for as long as it lives."""
    gc.set_threshold(*SELDOM)


@contextmanager
def seldom_collected() -> Iterator[None]:
    """Look for garbage seldom inside: the acts make many short-lived things and few cycles."""
    usual = gc.get_threshold()
    look_for_garbage_seldom()
    try:
        yield
    finally:
        gc.set_threshold(*usual)


class UnflushedFiles(FolderFiles):
    """Files by content, written without waiting for the disk."""

    def put(self, content: bytes) -> str:
        """Write the file under its name."""
        sha256 = hashlib.sha256(content).hexdigest()
        path = self._path(sha256)
        if not path.exists():
            for folder in (self.folder, path.parent):
                folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            path.write_bytes(content)
            path.chmod(0o400)
        return sha256


def unflushed(ledger: Ledger, where: Path) -> None:
    """Let a fresh ledger in a file no longer wait for the disk, until it is closed."""
    ledger.engine.dispose()

    @event.listens_for(ledger.engine, "connect")
    def on_connected(connection: Any, _record: Any) -> None:
        connection.execute("PRAGMA synchronous=OFF")

    ledger.files = UnflushedFiles(files_folder(where))


class Printers:
    """Renders papers in other processes while the story goes on; where none can be had, in this one at the end."""

    def __init__(self, ledger: Ledger) -> None:
        """Begin with no paper."""
        self._ledger = ledger
        self._papers: list[tuple[int, Future[bytes] | None]] = []
        self._pool: ProcessPoolExecutor | None = None
        # One core is left to the story, which would wait for the papers otherwise.
        processes = min(MOST_PROCESSES, (os.cpu_count() or 1) - 1)
        if processes > 0:
            # Spawned, not forked: the window may have threads of its own.
            context = multiprocessing.get_context("spawn")
            self._pool = ProcessPoolExecutor(processes, context, look_for_garbage_seldom)

    def take(self, paper_ids: Iterable[int]) -> None:
        """Take papers that an act has just left."""
        for paper_id in paper_ids:
            with self._ledger.read() as reading:
                kind, facts = reading.session.execute(
                    select(Paper.kind, Paper.facts).where(Paper.id == paper_id)
                ).one()
            self._papers.append((paper_id, self._begun(kind, facts)))

    def _begun(self, kind: str, facts: str) -> Future[bytes] | None:
        if self._pool is None or shows_photographs(kind):  # the other processes have no files
            return None
        try:
            return self._pool.submit(rendered, kind, facts)
        except (BrokenExecutor, OSError):  # no further process can be had here
            return None

    def keep_all(self) -> None:
        """Keep every paper that was taken."""
        for paper_id, future in self._papers:
            try:
                content = future.result() if future is not None else None
            except (BrokenExecutor, OSError):
                content = None
            if content is None:
                issue_paper(self._ledger, paper_id)
            else:
                keep_paper(self._ledger, paper_id, content)
        self._papers.clear()

    def __enter__(self) -> Self:
        """Give the printers."""
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _error: BaseException | None, _trace: TracebackType | None
    ) -> None:
        """Let the other processes go."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)
