"""Files by content: a file's name is its SHA-256, so that it is kept once and never changed.

Beside a SQLite ledger they lie in `NAME.files/`, on a server in a table; one interface for both.
"""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Protocol

from sqlalchemy import Engine, select

from shopledger import model
from shopledger.quantities.errors import NotFound, Trouble
from shopledger.quantities.words import N_
from shopledger.store.trouble import told


class Files(Protocol):
    """Where the papers' and pictures' files are."""

    def put(self, content: bytes) -> str:
        """Keep a file and give its name; a file that is there already is left as it is."""

    def get(self, sha256: str) -> bytes:
        """Give a file; raise NotFound where it isn't there, Trouble where it is no longer what its name says."""

    def names(self) -> Iterator[str]:
        """Give the names of all files."""


class UnkeptFiles:
    """Files of an act that is only tried: named like the real ones, there as long as the trial, kept nowhere."""

    def __init__(self, kept: Files) -> None:
        """Read what is kept from the real files."""
        self._kept = kept
        self._tried: dict[str, bytes] = {}

    def put(self, content: bytes) -> str:
        """Give the name that the file would have."""
        sha256 = hashlib.sha256(content).hexdigest()
        self._tried[sha256] = content
        return sha256

    def get(self, sha256: str) -> bytes:
        """Give a file of the trial, else one that is kept."""
        return self._tried[sha256] if sha256 in self._tried else self._kept.get(sha256)

    def names(self) -> Iterator[str]:
        """Give the names of the files that are kept."""
        return self._kept.names()


_NAME = re.compile(r"[0-9a-f]{64}\Z")


def _checked(sha256: str, content: bytes) -> bytes:
    if hashlib.sha256(content).hexdigest() != sha256:
        raise Trouble(
            N_("The file {name} was changed since it was kept. Restore it from a backup."), name=sha256[:12]
        )
    return content


def _missing(sha256: str) -> NotFound:
    return NotFound(N_("The file {name} is missing. Restore it from a backup."), name=sha256[:12])


class FolderFiles:
    """Files in a folder beside the ledger, two letters of the name a subfolder."""

    def __init__(self, folder: Path) -> None:
        """Name the folder; it is made with the first file."""
        self.folder = folder

    def _path(self, sha256: str) -> Path:
        if not _NAME.match(sha256):
            raise _missing(sha256)
        return self.folder / sha256[:2] / sha256

    def put(self, content: bytes) -> str:
        """Write, flush and rename the file, then flush its folder: it is there before any COMMIT that names it.

        One that was damaged since it was kept is written anew.

        Raises: Trouble: the disk is full or may not be written.
        """
        sha256 = hashlib.sha256(content).hexdigest()
        path = self._path(sha256)
        try:
            if path.exists() and path.read_bytes() == content:
                # Whoever kept it may have been killed before its folder was flushed.
                _flush_folder(path.parent)
                return sha256
            for folder in (self.folder, path.parent):
                if not folder.exists():
                    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
                    _flush_folder(folder.parent)
            handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-")
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(content)
                    file.flush()
                    os.fsync(file.fileno())
                os.chmod(temporary, 0o400)
                os.replace(temporary, path)
            except BaseException:
                Path(temporary).unlink(missing_ok=True)
                raise
            _flush_folder(path.parent)
        except OSError as error:
            raise Trouble(
                N_("A file can't be kept in {folder} ({said}). Check the disk and try again."),
                folder=self.folder.name,
                said=error.strerror or str(error),
            ) from error
        return sha256

    def get(self, sha256: str) -> bytes:
        """Give a file's bytes, checked against its name."""
        try:
            content = self._path(sha256).read_bytes()
        except FileNotFoundError:
            raise _missing(sha256) from None
        except OSError as error:
            raise Trouble(
                N_("The file {name} can't be read ({said}). Check the disk."),
                name=sha256[:12],
                said=error.strerror or str(error),
            ) from error
        return _checked(sha256, content)

    def names(self) -> Iterator[str]:
        """Give the names of all files in order."""
        for path in sorted(self.folder.glob("??/*")):
            if _NAME.match(path.name):
                yield path.name


def _flush_folder(folder: Path) -> None:
    if os.name == "nt":  # a folder can't be opened there; NTFS journals its entries
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


class TableFiles:
    """Files in a table of the server's database, each written in a transaction of its own."""

    def __init__(self, engine: Engine) -> None:
        """Name the database."""
        self.engine = engine

    def _told(self) -> AbstractContextManager[None]:
        return told(str(self.engine.url))

    def put(self, content: bytes) -> str:
        """Insert the file unless it is there."""
        from sqlalchemy.dialects.postgresql import insert

        sha256 = hashlib.sha256(content).hexdigest()
        with self._told(), self.engine.begin() as connection:
            connection.execute(
                insert(model.Content).values(sha256=sha256, bytes=content).on_conflict_do_nothing()
            )
        return sha256

    def get(self, sha256: str) -> bytes:
        """Give a file's bytes, checked against its name."""
        with self._told(), self.engine.connect() as connection:
            content = connection.execute(
                select(model.Content.bytes).where(model.Content.sha256 == sha256)
            ).scalar()
        if content is None:
            raise _missing(sha256)
        return _checked(sha256, bytes(content))

    def names(self) -> Iterator[str]:
        """Give the names of all files in order."""
        with self._told(), self.engine.connect() as connection:
            yield from connection.execute(
                select(model.Content.sha256).order_by(model.Content.sha256)
            ).scalars()
