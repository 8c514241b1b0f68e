"""Files by content: a file's name is its SHA-256, so that it is kept once and never changed.

Beside a SQLite ledger they lie in `NAME.files/`, on a server in a table; one interface for both.
"""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Protocol, TypeAlias

from sqlalchemy import Connection, Engine, select

from shopledger import model
from shopledger.quantities.errors import NotFound, Trouble
from shopledger.quantities.words import N_
from shopledger.store.trouble import told

Step: TypeAlias = Callable[[int, int], None]
"""(done, of): is told how far long work is, and stops it by raising."""
_AT_ONCE = 1024 * 1024
"""So much of a file is held in memory while it is copied."""


def no_step(_done: int, _of: int) -> None:
    """Let work go on that nobody watches."""


class Files(Protocol):
    """Where the papers' and pictures' files are."""

    def put(self, content: bytes) -> str:
        """Keep a file and give its name; a file that is there already is left as it is."""

    def put_files(self, waiting: Mapping[str, Path], step: Step = no_step) -> None:
        """Keep files that wait elsewhere, by the names they will have: all of them, or none where it fails or stops."""

    def holds(self, sha256: str) -> bool:
        """Whether there is such a file, without reading it."""

    def get(self, sha256: str) -> bytes:
        """Give a file; raise NotFound where it isn't there, Trouble where it is no longer what its name says."""

    def names(self) -> Iterator[str]:
        """Give the names of all files."""


class UnkeptFiles:
    """Files of an act that is only tried: named like the real ones, there as long as the trial, kept nowhere."""

    def __init__(self, kept: Files) -> None:
        """Read what is kept from the real files."""
        self._kept = kept
        self._tried: dict[str, bytes | Path] = {}

    def put(self, content: bytes) -> str:
        """Give the name that the file would have."""
        sha256 = hashlib.sha256(content).hexdigest()
        self._tried[sha256] = content
        return sha256

    def put_files(self, waiting: Mapping[str, Path], step: Step = no_step) -> None:
        """Note where the files wait."""
        self._tried.update(waiting)

    def holds(self, sha256: str) -> bool:
        """Whether the file is of the trial, or kept."""
        return sha256 in self._tried or self._kept.holds(sha256)

    def get(self, sha256: str) -> bytes:
        """Give a file of the trial, else one that is kept."""
        tried = self._tried.get(sha256)
        if isinstance(tried, Path):
            return b"".join(_pieces(sha256, tried))
        return self._kept.get(sha256) if tried is None else tried

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


def _pieces(sha256: str, path: Path) -> Iterator[bytes]:
    """Give a waiting file piece by piece; raise Trouble at its end where it isn't what its name says."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while piece := file.read(_AT_ONCE):
            digest.update(piece)
            yield piece
    if digest.hexdigest() != sha256:
        raise Trouble(
            N_("The file {name} was changed while it waited to be kept. Choose it again."), name=path.name
        )


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
        with self._told():
            if path.exists() and path.read_bytes() == content:
                # Whoever kept it may have been killed before its folder was flushed.
                _flush_folder(path.parent)
                return sha256
            temporary = self._write(path, (content,))
            try:
                os.replace(temporary, path)
            except BaseException:
                temporary.unlink(missing_ok=True)
                raise
            _flush_folder(path.parent)
        return sha256

    def put_files(self, waiting: Mapping[str, Path], step: Step = no_step) -> None:
        """Write and flush all files under other names first, then rename them all and flush their folders.

        Raises: as `put`; whatever `step` raises; Trouble: one was changed while it waited.
        """
        written: dict[Path, Path] = {}
        try:
            with self._told():
                for n, (sha256, source) in enumerate(waiting.items()):
                    step(n, len(waiting))
                    path = self._path(sha256)
                    if not self._is_sound(path, sha256):
                        written[path] = self._write(path, _pieces(sha256, source))
                step(len(waiting), len(waiting))
                for path, temporary in written.items():
                    os.replace(temporary, path)
                for folder in {self._path(sha256).parent for sha256 in waiting}:
                    _flush_folder(folder)
        except BaseException:
            for temporary in written.values():
                temporary.unlink(missing_ok=True)
            raise

    def _is_sound(self, path: Path, sha256: str) -> bool:
        try:
            with path.open("rb") as file:
                return hashlib.file_digest(file, "sha256").hexdigest() == sha256
        except FileNotFoundError:
            return False

    def _write(self, path: Path, pieces: Iterable[bytes]) -> Path:
        """Write and flush a file beside where it will be; give where it is."""
        for folder in (self.folder, path.parent):
            if not folder.exists():
                folder.mkdir(mode=0o700, parents=True, exist_ok=True)
                _flush_folder(folder.parent)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        try:
            with os.fdopen(handle, "wb") as file:
                for piece in pieces:
                    file.write(piece)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(temporary, 0o400)
        except BaseException:
            Path(temporary).unlink(missing_ok=True)
            raise
        return Path(temporary)

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            if isinstance(error, Trouble):
                raise
            raise Trouble(
                N_("A file can't be kept in {folder} ({said}). Check the disk and try again."),
                folder=self.folder.name,
                said=error.strerror or str(error),
            ) from error

    def holds(self, sha256: str) -> bool:
        """Whether there is such a file, without reading it."""
        return self._path(sha256).exists()

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
        sha256 = hashlib.sha256(content).hexdigest()
        with self._told(), self.engine.begin() as connection:
            self._insert(connection, sha256, content)
        return sha256

    def put_files(self, waiting: Mapping[str, Path], step: Step = no_step) -> None:
        """Insert all files in one transaction.

        Raises: Trouble: the server fails, or a file was changed while it waited; whatever `step` raises.
        """
        with self._told(), self.engine.begin() as connection:
            for n, (sha256, source) in enumerate(waiting.items()):
                step(n, len(waiting))
                if not self._is_there(connection, sha256):
                    self._insert(connection, sha256, b"".join(_pieces(sha256, source)))
            step(len(waiting), len(waiting))

    def _insert(self, connection: Connection, sha256: str, content: bytes) -> None:
        from sqlalchemy.dialects.postgresql import insert

        connection.execute(
            insert(model.Content).values(sha256=sha256, bytes=content).on_conflict_do_nothing()
        )

    def _is_there(self, connection: Connection, sha256: str) -> bool:
        found = connection.execute(select(model.Content.sha256).where(model.Content.sha256 == sha256))
        return found.first() is not None

    def holds(self, sha256: str) -> bool:
        """Whether there is such a file, without reading it."""
        with self._told(), self.engine.connect() as connection:
            return self._is_there(connection, sha256)

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
