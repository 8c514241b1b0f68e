"""Other processes, which render papers while the story goes on; light to import, so that they begin before the rest."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor
from types import TracebackType
from typing import Any, Self

from shopledger.example.garbage import look_for_garbage_seldom
from shopledger.example.rendering import made_ready

MOST_PROCESSES = 4


class Workers:
    """The other processes, as many as there are cores to spare; none where none can be had."""

    def __init__(self) -> None:
        """Start them, and let them make themselves ready at once."""
        self._pool: ProcessPoolExecutor | None = None
        # One core is left to the story, which would wait for the papers otherwise.
        processes = min(MOST_PROCESSES, (os.cpu_count() or 1) - 1)
        if processes > 0:
            # Spawned, not forked: the window may have threads of its own.
            context = multiprocessing.get_context("spawn")
            self._pool = ProcessPoolExecutor(processes, context, look_for_garbage_seldom)
            for _each in range(processes):
                self.begun(made_ready)

    def begun(self, work: Callable[..., Any], *given: str) -> Future[Any] | None:
        """Hand work to one of them and give what will come of it; None where there is none to do it."""
        if self._pool is None:
            return None
        try:
            return self._pool.submit(work, *given)
        except (BrokenExecutor, OSError):  # no further process can be had here
            return None

    def __enter__(self) -> Self:
        """Give the workers."""
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _error: BaseException | None, _trace: TracebackType | None
    ) -> None:
        """Let the other processes go."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)
