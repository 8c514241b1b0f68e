"""What lets the example be built in seconds: papers rendered beside the acts, and nothing flushed to the disk.

An example that a power cut spoils is built anew, so its build needs none of the flushes that a real ledger's acts need.
Who opens it later works with all of them.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from concurrent.futures import BrokenExecutor, Future
from contextlib import suppress
from pathlib import Path
from typing import Any

from sqlalchemy import bindparam, event, select

from shopledger.acts.papers import issue_paper, keep_papers
from shopledger.example.rendering import rendered
from shopledger.example.workers import Workers
from shopledger.model import Paper
from shopledger.papers.registry import shows_photographs
from shopledger.store.files import FolderFiles
from shopledger.store.ledger import Ledger, files_folder

_STATED = (
    select(Paper.id, Paper.kind, Paper.facts)
    .where(Paper.id.in_(bindparam("papers", expanding=True)))
    .order_by(Paper.id)
)


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

    def __init__(self, workers: Workers) -> None:
        """Begin with no paper."""
        self._papers: dict[int, tuple[str, str, Future[bytes] | None]] = {}
        self._workers = workers

    def take(self, ledger: Ledger, paper_ids: Sequence[int]) -> None:
        """Take papers that an act has just left."""
        if not paper_ids:
            return
        with ledger.read() as reading:
            stated = reading.rows(_STATED, {"papers": list(paper_ids)}).all()
        for paper_id, kind, facts in stated:
            # The other processes have no files, so a paper with photographs waits.
            future = None if shows_photographs(kind) else self._workers.begun(rendered, kind, facts)
            self._papers[paper_id] = kind, facts, future

    def keep_all(self, ledger: Ledger) -> None:
        """Keep every paper that was taken.

        The other processes go through them from the first on; what they haven't begun is rendered here, from the last
        on, until the two meet.
        """
        done: dict[int, bytes] = {}
        for paper_id, (kind, facts, future) in reversed(self._papers.items()):
            if future is not None and future.cancel():
                done[paper_id] = rendered(kind, facts)
        for paper_id, (_kind, _facts, future) in self._papers.items():
            if future is not None and not future.cancelled():
                with suppress(BrokenExecutor, OSError):
                    done[paper_id] = future.result()
        keep_papers(ledger, done)
        for paper_id in self._papers.keys() - done.keys():
            issue_paper(ledger, paper_id)
        self._papers.clear()
