"""Words that a person reads, through gettext: `_` translates now, `N_` marks a word for later.

The catalogue of a language, where there is one, lies in the assets; without one the English words of the code stand.
"""

from __future__ import annotations

import gettext
from pathlib import Path

_current: gettext.NullTranslations = gettext.NullTranslations()


def speak(language: str, catalogues: Path | None = None) -> None:
    """Choose the language of all words from now on; a language without a catalogue stays English."""
    global _current
    _current = gettext.translation("shopledger", localedir=catalogues, languages=[language], fallback=True)


def _(message: str) -> str:
    """Give the message in the language chosen by `speak`."""
    return _current.gettext(message) if message else ""


def N_(message: str) -> str:
    """Mark a message for translation and give it back unchanged."""
    return message


def count_words(one: str, many: str, n: int) -> str:
    """Give the form of a word that fits the number n, with `{n}` filled in."""
    return _current.ngettext(one, many, n).format(n=n)
