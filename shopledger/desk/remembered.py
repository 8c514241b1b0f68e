"""What the window remembers between two starts: the last ledger, the scheme, its size; a small file of the user."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from shopledger.store.small_files import put_whole


def usual_place() -> Path:
    """Give where the file lies on this system for this user."""
    from platformdirs import user_config_path

    return Path(user_config_path("shopledger", appauthor=False)) / "window.json"


class Remembered:
    """A few words by name, kept in a file; a file that can't be read or written is as good as none."""

    def __init__(self, where: Path | None = None) -> None:
        """Read the file, the user's own unless another is given."""
        self.where = where or usual_place()
        self._kept: dict[str, Any] = {}
        try:
            read = json.loads(self.where.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return
        if isinstance(read, dict):
            self._kept = read

    def word(self, name: str) -> str:
        """Give the word kept under a name, or nothing."""
        value = self._kept.get(name, "")
        return value if isinstance(value, str) else ""

    def keep(self, name: str, value: str) -> None:
        """Keep a word; where the file can't be written it lasts until the window closes."""
        if self._kept.get(name) == value:
            return
        self._kept[name] = value
        put_whole(self.where, json.dumps(self._kept, ensure_ascii=False, indent=1))
