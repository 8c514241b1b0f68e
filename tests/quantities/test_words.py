"""Words through gettext: English without a catalogue, translated with one."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from pathlib import Path

import pytest

from shopledger.quantities import words
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_, _, count_words, speak


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    yield
    speak("en")


def test_without_a_catalogue_the_english_words_stand() -> None:
    speak("de")
    assert _("Pay owner") == "Pay owner"
    assert N_("Pay owner") == "Pay owner"
    assert count_words("{n} string", "{n} strings", 1) == "1 string"
    assert count_words("{n} string", "{n} strings", 5) == "5 strings"


def test_an_empty_word_stays_empty() -> None:
    # gettext answers the empty message with the catalogue's own head.
    assert words._("") == ""


def test_a_catalogue_translates_words_counts_and_refusals(tmp_path: Path) -> None:
    _write_catalogue(
        tmp_path / "de" / "LC_MESSAGES" / "shopledger.mo",
        {
            "": "Content-Type: text/plain; charset=UTF-8\nPlural-Forms: nplurals=2; plural=(n != 1);\n",
            "Pay owner": "Eigner bezahlen",
            "{n} string\0{n} strings": "{n} Saite\0{n} Saiten",
            "{thing} is lent.": "{thing} ist verliehen.",
        },
    )
    speak("de", tmp_path)
    assert _("Pay owner") == "Eigner bezahlen"
    assert count_words("{n} string", "{n} strings", 5) == "5 Saiten"
    assert str(Refused(N_("{thing} is lent."), thing="A cello")) == "A cello ist verliehen."
    assert _("Sell") == "Sell"


def _write_catalogue(path: Path, messages: dict[str, str]) -> None:
    """Write a compiled catalogue: the head, two tables of lengths and places, then the texts (GNU gettext manual)."""
    path.parent.mkdir(parents=True)
    keys = sorted(messages)
    originals = [key.encode() for key in keys]
    translations = [messages[key].encode() for key in keys]
    place = 28 + 16 * len(keys)
    tables, texts = b"", b""
    for text in (*originals, *translations):
        tables += struct.pack("<2I", len(text), place + len(texts))
        texts += text + b"\0"
    head = struct.pack("<7I", 0x950412DE, 0, len(keys), 28, 28 + 8 * len(keys), 0, 28 + 16 * len(keys))
    path.write_bytes(head + tables + texts)
