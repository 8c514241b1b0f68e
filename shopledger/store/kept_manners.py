"""The manners of a locale as they were found last time, so that a window needn't go through the library's data again.

They are kept in a small file of the user. It is as good as none where it can't be read or written, where it is damaged,
or where it was made from another copy of the library or by another version of this program.
"""

from __future__ import annotations

import hashlib
import json
import os
from contextlib import suppress
from dataclasses import asdict, fields
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from shopledger.quantities.manners import Manners
from shopledger.store.manners import manners_of
from shopledger.store.small_files import put_whole


def usual_place() -> Path:
    """Give where the file lies on this system for this user."""
    from platformdirs import user_cache_path

    return Path(user_cache_path("shopledger", appauthor=False)) / "manners.json"


def manners_kept(locale: str, currency: str, where: Path | None = None) -> Manners:
    """Give the manners of a locale with money in a currency: as they are kept, else found in the library and kept.

    Raises: Typed: there is no such locale.
    """
    where = where or usual_place()
    library, name = _library(), f"{locale} {currency}"
    kept = _read(where, library)
    if name not in kept:
        manners = manners_of(locale, currency)
        _write(where, library, {**kept, name: asdict(manners)})
        return manners
    parts: dict[str, Any] = {
        part: tuple(told) if isinstance(told, list) else told for part, told in kept[name].items()
    }
    return Manners(**parts)


def _library() -> str:
    """Give which copy of the library of locales there is: where it lies, how long and how old its first module is.

    Its version would say it too, but is found by going through all that is installed.
    """
    found = find_spec("babel")
    if found is None or found.origin is None:
        return ""
    with suppress(OSError):
        about = os.stat(found.origin)
        return f"{found.origin} {about.st_size} {about.st_mtime_ns}"
    return ""


def _digest(told: str) -> str:
    return hashlib.sha256(told.encode()).hexdigest()


def _read(where: Path, library: str) -> dict[str, Any]:
    """Give what is kept by locale and currency; nothing from a file that isn't whole or not of this library."""
    try:
        digest, _line, told = where.read_text(encoding="utf-8").partition("\n")
        if not library or digest != _digest(told):
            return {}
        read = json.loads(told)
    except (OSError, ValueError):
        return {}
    return read["kept"] if read["library"] == library and read["parts"] == _parts() else {}


def _parts() -> list[str]:
    return [part.name for part in fields(Manners)]


def _write(where: Path, library: str, kept: dict[str, Any]) -> None:
    if not library:
        return
    told = json.dumps({"library": library, "parts": _parts(), "kept": kept}, ensure_ascii=False, indent=1)
    put_whole(where, f"{_digest(told)}\n{told}")
