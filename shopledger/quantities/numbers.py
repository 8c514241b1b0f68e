"""Names and texts as refusals show them: the nearest known name, a text cut to one short, printable line."""

from __future__ import annotations

from collections.abc import Iterable

LONGEST_COMPARED = 60
LEAST_LIKENESS = 0.6


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Give the known name that looks most like the word, or None where none is near.

    Small and capital letters count as equal; only the first 60 characters are compared, so that a hostile
    word costs no time. Of equally near names the one with the longest common beginning is given, then the first.
    """
    # Loaded with the first refusal that needs it: most starts see none.
    import difflib

    small = word[:LONGEST_COMPARED].lower()
    matcher = difflib.SequenceMatcher(autojunk=False)
    matcher.set_seq2(small)
    best: tuple[float, int] = (LEAST_LIKENESS, -1)
    found: str | None = None
    for name in known:
        matcher.set_seq1(name.lower())
        # The two quick ratios are upper bounds: most names fall out before the slow comparison.
        if matcher.real_quick_ratio() < best[0] or matcher.quick_ratio() < best[0]:
            continue
        likeness = (matcher.ratio(), _common_beginning(name.lower(), small))
        if likeness > best:
            best, found = likeness, name
    return found


def brief(text: str, most: int = 40) -> str:
    """Give the text on one line, printable and of at most `most` characters, to be shown in a refusal."""
    if len(text) <= most and text.isprintable():
        return text
    cut = text if len(text) <= most else text[: most - 1] + "\u2026"
    return "".join(letter if letter.isprintable() else "\ufffd" for letter in cut)


def _common_beginning(one: str, other: str) -> int:
    """Give how many letters the two words have in common from the first on."""
    return next(
        (n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other))
    )
