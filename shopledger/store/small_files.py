"""Small files of the user beside the ledger: what may be lost, and is never half written."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path


def put_whole(where: Path, words: str) -> None:
    """Put words into a file of the user, whole or not at all; where it can't be written, nothing is left there."""
    # Each process writes a draft of its own, and the last one to be put in place stays.
    draft = where.with_suffix(f".{os.getpid()}")
    try:
        where.parent.mkdir(parents=True, exist_ok=True)
        draft.write_text(words, encoding="utf-8")
        os.replace(draft, where)
    except OSError:
        with suppress(OSError):
            draft.unlink(missing_ok=True)
