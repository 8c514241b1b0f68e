"""Names and texts as refusals show them: the nearest known name, a text cut to one short, printable line."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

LONGEST_COMPARED = 60


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Give the known name that looks most like the word, or None where none is near.

    Small and capital letters count as equal; only the first 60 characters are compared, so that a hostile
    word costs no time.
    """
    by_small: dict[str, str] = {}
    for name in known:
        by_small.setdefault(name.lower(), name)
    found = difflib.get_close_matches(word[:LONGEST_COMPARED].lower(), list(by_small), n=1, cutoff=0.6)
    return by_small[found[0]] if found else None


def brief(text: str, most: int = 40) -> str:
    """Give the text on one line, printable and of at most `most` characters, to be shown in a refusal."""
    cut = text if len(text) <= most else text[: most - 1] + "\u2026"
    return "".join(letter if letter.isprintable() else "\ufffd" for letter in cut)
