"""Photographs that are tidy before the act that keeps them: each waits in a file of its own, so that hundreds take
no more memory than one, and the act's transaction is as short as without them.
"""

from __future__ import annotations

import hashlib
import os
import stat
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from shopledger.quantities.errors import Trouble, Typed
from shopledger.quantities.words import N_
from shopledger.store.pictures import MOST_BYTES, Small, tidy_with_small


@dataclass(frozen=True, slots=True)
class PreparedPicture:
    """A photograph that is tidy already: the name it came with, the name its file will have, where it waits."""

    name: str
    sha256: str
    path: Path


AnyPicture: TypeAlias = bytes | PreparedPicture
"""A photograph in a form: a file's content as it came, or one that is prepared."""


def prepare_picture(
    source: Path | bytes, name: str, folder: Path, *, side: int, field: str = "pictures"
) -> tuple[PreparedPicture, Small]:
    """Give a photograph tidy, in a file of `folder`, and small within a square of `side` pixels.

    Raises: Typed: it is no photograph that can be kept. Trouble: it can't be read, or not be written to `folder`.
    """
    content = source if isinstance(source, bytes) else read_photograph(source, field=field)
    tidy, small = tidy_with_small(content, side, field=field, name=name)
    sha256 = hashlib.sha256(tidy).hexdigest()
    try:
        handle, path = tempfile.mkstemp(dir=folder, suffix=f"-{sha256[:12]}")
        with os.fdopen(handle, "wb") as file:
            file.write(tidy)
    except OSError as error:
        raise Trouble(
            N_("{name} can't be prepared in {folder} ({said}). Make room on that disk and choose it again."),
            field=field,
            name=name,
            folder=str(folder.parent),
            said=error.strerror or str(error),
        ) from error
    assert small is not None
    return PreparedPicture(name, sha256, Path(path)), small


def read_photograph(path: Path, *, field: str = "pictures") -> bytes:
    """Give the content of a file that was chosen or dropped.

    Raises: Typed: it is a folder, no file at all, or too large. Trouble: it is gone, or can't be read.
    """
    try:
        # Asked before it is opened: opening what is no file, such as a pipe, may wait for ever.
        found = path.stat()
        if stat.S_ISDIR(found.st_mode):
            raise Typed(
                N_("{name} is a folder: choose the photographs in it."),
                field=field,
                name=path.name or str(path),
            )
        if not stat.S_ISREG(found.st_mode):
            raise Typed(N_("{name} is no file: choose a photograph."), field=field, name=path.name)
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise Trouble(
            N_("{name} is no longer there: see where it went and choose it again."),
            field=field,
            name=path.name,
        ) from None
    except OSError as error:
        if isinstance(error, (Typed, Trouble)):
            raise
        raise Trouble(
            N_("{name} can't be read ({said}): choose another file."),
            field=field,
            name=path.name,
            said=error.strerror or type(error).__name__,
        ) from error
    if len(content) > MOST_BYTES:
        raise Typed(N_("{name} is over 64 MB: choose a smaller photograph."), field=field, name=path.name)
    return content
