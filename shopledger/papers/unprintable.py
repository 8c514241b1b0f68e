"""What of a paper's texts its type can't print: which letters, in which text, in words, before it is printed.

A hollow square stands for each of them on the paper, so that nothing is left out unseen; the ledger keeps the text.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shopledger.papers.escaping import cleaned, lacking
from shopledger.quantities.words import _, count_words

MOST_LETTERS, MOST_TEXTS = 12, 6
"""Letters told of one text, and texts told of; of what is beyond, the count is said."""
EXCERPT = 60
"""Letters of a text that are quoted."""
_LATIN = range(0x20, 0x180)
_PUNCTUATION = "\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u202f\u00a0\n"
_BLANK = frozenset("\u115f\u1160\u3164\uffa0")
"""Letters that look like nothing."""


@dataclass(frozen=True, slots=True)
class Unprintable:
    """A text and the letters of it that the papers' type lacks, each once, in order."""

    text: str
    letters: tuple[str, ...]


def unprintable(stated: str) -> tuple[Unprintable, ...]:
    """Give what can't be printed of the facts a paper states, each text once, in the order of its canonical JSON."""
    if _is_plain(stated):
        # Nearly all papers are: the type, which is slow to load, needn't be asked.
        return ()
    from shopledger.papers import style

    style.register_faces()
    has = style.has(style.SANS)
    texts = dict.fromkeys(text for text in _texts(json.loads(stated)) if not _is_plain(text))
    found = ((text, lacking(text, has)) for text in texts)
    return tuple(Unprintable(text, letters) for text, letters in found if letters)


def lines_of(found: Sequence[Unprintable]) -> tuple[str, ...]:
    """Give a line for each text, with its letters; of a great many the first, and how many more there are."""
    lines = [_line(one) for one in found[:MOST_TEXTS]]
    more = len(found) - MOST_TEXTS
    if more > 0:
        lines.append(count_words("and in {n} more text", "and in {n} more texts", more))
    return tuple(lines)


def _line(one: Unprintable) -> str:
    letters = " ".join(_named(letter) for letter in one.letters[:MOST_LETTERS])
    more = len(one.letters) - MOST_LETTERS
    if more > 0:
        letters += " " + count_words("and {n} more", "and {n} more", more)
    # Set apart, and after a word, so that letters written from right to left don't turn the line round.
    return _("In \u201c\u2068{text}\u2069\u201d: \u2068{letters}\u2069").format(
        letters=letters, text=_excerpt(one.text, one.letters[0])
    )


def _named(letter: str) -> str:
    """Give a letter so that it can be seen alone: a mark on a dotted circle, what looks like nothing by its number."""
    kind = unicodedata.category(letter)
    if letter in _BLANK or kind in ("Co", "Cn"):
        return f"U+{ord(letter):04X}"
    return f"\u25cc{letter}" if kind.startswith("M") else letter


def _excerpt(text: str, letter: str) -> str:
    """Give the text on one line, or where it is long the part with the letter."""
    line = cleaned(text).replace("\n", " ")
    if len(line) <= EXCERPT:
        return line
    begin = max(0, min(line.index(letter) - EXCERPT // 2, len(line) - EXCERPT))
    end = begin + EXCERPT
    return ("\u2026" if begin else "") + line[begin:end].strip() + ("\u2026" if end < len(line) else "")


def _is_plain(text: str) -> bool:
    """Whether all letters are among those that every face of the papers has."""
    return text.isascii() or all(ord(letter) in _LATIN or letter in _PUNCTUATION for letter in text)


def _texts(value: object) -> Iterator[str]:
    """Give every text inside a value of JSON."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from _texts(one)
    elif isinstance(value, list):
        for one in value:
            yield from _texts(one)
