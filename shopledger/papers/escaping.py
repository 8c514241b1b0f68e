"""The one door through which text enters a paper.

A paragraph of the layout library understands markup, reads local files for `<img>` and takes any link. So
every text, whoever
wrote it, goes through `escaped` and comes out as text: markup escaped, control and direction characters
gone, words and
texts of absurd length cut with a note of it, characters the fonts lack replaced by a hollow square and
reported.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from html import escape

from shopledger.quantities.words import count_words

LONGEST_TEXT = 8_000
"""Letters of one text on a paper; the ledger keeps the rest."""
LONGEST_ENTRY = 4_000
"""Letters of one entry of a list in the wide column, such as the condition of a part."""
LONGEST_CELL = 1_200
"""Letters of one cell of a table: about a page of the narrowest column."""
LONGEST_WORD = 240
"""Letters of one word; shorter words that are wider than their column are broken by the layout."""
LACKING = "\u25a1"
"""What stands for a character that the fonts lack."""

_LONG_WORD = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")
_EMPTY_LINES = re.compile(r"(?:[ ]*\n){3,}")
_BREAKS = {"\n": "\n", "\u2028": "\n", "\u2029": "\n", "\t": " ", "\v": "\n", "\f": "\n", "\x85": "\n"}
_REMOVED = {"Cc", "Cf", "Cs"}
_SELECTORS = (range(0x180B, 0x1810), range(0xFE00, 0xFE10), range(0xE0100, 0xE01F0))
"""Signs that only choose how the letter before them is drawn."""


class Markup(str):
    """Text that is ready for a paragraph: only `escaped` and the functions below make it."""

    __slots__ = ()


def cleaned(text: str, most: int = LONGEST_TEXT) -> str:
    """Give the text in NFC without control, direction and other unseen characters, cut where it is absurdly long.

    More than one empty line on end becomes one.
    """
    cut = text[:most]
    seen = "".join(_seen(letter) for letter in unicodedata.normalize("NFC", cut.replace("\r\n", "\n")))
    seen = _EMPTY_LINES.sub("\n\n", _LONG_WORD.sub(_shortened, seen))
    left_out = len(text) - len(cut)
    return f"{seen}\u2026 {_left_out(left_out)}" if left_out else seen


def one_line(text: str, most: int) -> str:
    """Give the text on one line of at most `most` letters, for places that can't grow: head, foot, title."""
    line = cleaned(text[: 4 * most]).replace("\n", " ").strip()
    return line if len(line) <= most else line[: most - 1] + "\u2026"


def escaped(
    text: str,
    has: Callable[[str], bool],
    instead: str = "",
    has_instead: Callable[[str], bool] | None = None,
    most: int = LONGEST_TEXT,
) -> Markup:
    """Give the text as markup that shows exactly this text.

    Shape:  `has` tells whether the font of the paragraph has a character; `instead` names a font for those it
            lacks, and `has_instead` what that one has; what neither has becomes a hollow square; `most` is how
            many letters are kept. Markup passes unchanged.
    """
    if isinstance(text, Markup):
        return text
    if text.isascii() and text.isprintable() and len(text) <= LONGEST_WORD:
        return Markup(escape(text, quote=False))
    parts: list[str] = []
    for letter in cleaned(text, most):
        if letter == "\n":
            parts.append("<br/>")
        elif letter == " " or has(letter):
            parts.append(escape(letter, quote=False))
        elif has_instead is not None:
            other = letter if has_instead(letter) else LACKING
            parts.append(f'<font face="{instead}">{escape(other, quote=False)}</font>')
        else:
            parts.append(LACKING)
    return Markup("".join(parts))


def lacking(text: str, has: Callable[[str], bool]) -> tuple[str, ...]:
    """Give the characters of a text that the fonts lack, each once, in order."""
    return tuple(
        dict.fromkeys(letter for letter in cleaned(text) if not letter.isspace() and not has(letter))
    )


def strong(text: Markup) -> Markup:
    """Give the markup in the heavier weight."""
    return Markup(f"<b>{text}</b>")


def coloured(text: Markup, colour: str) -> Markup:
    """Give the markup in another ink; the colour comes from `style`."""
    return Markup(f'<font color="{colour}">{text}</font>')


def joined(parts: list[Markup], between: str = " ") -> Markup:
    """Give several pieces of markup as one, with plain text of our own between."""
    return Markup(escape(between, quote=False).join(parts))


def lined(parts: list[Markup]) -> Markup:
    """Give several pieces of markup, each on its own line."""
    return Markup("<br/>".join(parts))


def _seen(letter: str) -> str:
    """Give the letter, a line break or blank for what means one, or nothing for what can't be seen."""
    if letter in _BREAKS:
        return _BREAKS[letter]
    kind = unicodedata.category(letter)
    if kind in _REMOVED or (kind == "Mn" and any(ord(letter) in some for some in _SELECTORS)):
        return ""
    return " " if kind == "Zs" and letter not in "\u00a0\u202f" else letter


def _shortened(match: re.Match[str]) -> str:
    """Give a word of absurd length cut, with the count of what is left out."""
    word = match.group()
    return f"{word[:LONGEST_WORD]}\u2026 {_left_out(len(word) - LONGEST_WORD)}"


def _left_out(count: int) -> str:
    """Give the note on letters left out, in brackets."""
    return "[" + count_words("{n} letter left out", "{n} letters left out", count) + "]"
