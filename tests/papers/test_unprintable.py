"""Letters that the papers' type lacks: told in words with the text they stand in, and a hollow square on the paper.

The scripts and signs are those of the Unicode Standard; which of them the bundled type lacks was read from its files.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopledger.papers import style
from shopledger.papers.facts import to_json
from shopledger.papers.parts import PaperFacts
from shopledger.papers.rendering import render
from shopledger.papers.unprintable import EXCERPT, Unprintable, _is_plain, lines_of, unprintable
from tests.papers import samples
from tests.papers.reading_back import text_of


def about(reason: str, name: str = "Saltmere Strings") -> PaperFacts:
    ordinary = samples.ordinary(replace(samples.SHOP, name=name))["release"]
    return replace(ordinary, reason=reason)  # type: ignore[call-arg]


def found(reason: str) -> tuple[Unprintable, ...]:
    return unprintable(to_json(about(reason)))


def bare(lines: tuple[str, ...]) -> list[str]:
    """Give the lines without the signs that keep letters written from right to left apart."""
    return [line.replace("\u2068", "").replace("\u2069", "") for line in lines]


@pytest.mark.parametrize(
    ("text", "letters", "printed"),
    [
        ("שרה", ("ש", "ר", "ה"), "□□□"),
        ("小提琴 cello", ("小", "提", "琴"), "□□□ cello"),
        ("bow 🎻🎻", ("🎻",), "bow □□"),
        ("⚓\ufe0f cello", ("⚓",), "□ cello"),
        ("👩\U0001f3fd\u200d🎨", ("👩", "\U0001f3fd", "🎨"), "□□□"),
        ("Q\u0352uill", ("\u0352",), "Q□uill"),
        ("नमस्ते", ("न", "म", "स", "\u094d", "त", "\u0947"), "□□□□□□"),
        ("\ue000", ("\ue000",), "□"),
    ],
)
def test_what_the_type_lacks_is_told_and_stands_as_a_square(
    text: str, letters: tuple[str, ...], printed: str
) -> None:
    assert found(text) == (Unprintable(text, letters),)
    assert printed in text_of(render("release", about(text)))


@pytest.mark.parametrize(
    "text",
    [
        "Zoe\u0308 Łódź Αθήνα Москва",
        "x\u0302 a\u0323\u0302 Q\u0301",
        "“a” – it’s… ½ × 3 °C €",
        "❤\ufe0f cello",
        "direction \u202e and \u200f control",
        "a\u2028b\u00a0c\u202fd",
    ],
)
def test_what_can_be_printed_is_not_told(text: str) -> None:
    assert found(text) == ()
    assert "□" not in text_of(render("release", about(text)))


def test_every_letter_taken_for_granted_is_in_every_face() -> None:
    style.register_faces()
    for number in range(0x20, 0x2100):
        letter = chr(number)
        if _is_plain(letter) and letter.isprintable():
            assert all(style.has(face)(letter) for face in (style.SANS, style.SANS_STRONG, style.SANS_ITALIC))


def test_the_strong_and_slanted_faces_have_what_the_plain_one_has() -> None:
    style.register_faces()
    plain, strong, slanted = (
        {chr(number) for number in range(0x30000) if style.has(face)(chr(number))}
        for face in (style.SANS, style.SANS_STRONG, style.SANS_ITALIC)
    )
    assert plain <= strong
    assert plain <= slanted


def test_a_line_names_the_letters_and_the_text() -> None:
    facts = about("bow 🎻 of 古楽", name="古楽 Workshop")
    assert bare(lines_of(unprintable(to_json(facts)))) == [
        "In “bow 🎻 of 古楽”: 🎻 古 楽",
        "In “古楽 Workshop”: 古 楽",
    ]


def test_a_mark_stands_on_a_circle_and_what_cannot_be_seen_is_numbered() -> None:
    assert bare(lines_of(found("Q\u0352uill \ue000\u3164"))) == [
        "In “Q\u0352uill \ue000\u3164”: \u25cc\u0352 U+E000 U+3164"
    ]


def test_of_a_long_text_the_part_with_the_letter_is_quoted() -> None:
    (line,) = bare(lines_of(found(f"{'cello ' * 40}琴{' viola' * 40}")))
    assert line.startswith("In “…")
    assert line.endswith("…”: 琴")
    assert "琴 viola" in line
    assert len(line) <= EXCERPT + 12


def test_a_great_many_are_counted() -> None:
    many = tuple(Unprintable(f"text {n} 琴", ("琴",)) for n in range(8))
    lines = lines_of(many)
    assert len(lines) == 7
    assert lines[-1] == "and in 2 more texts"
    letters = "".join(chr(0x5D0 + n) for n in range(15))
    (line,) = bare(lines_of(found(letters)))
    assert line == f"In “{letters}”: {' '.join(letters[:12])} and 3 more"


@settings(max_examples=200)
@given(st.text(max_size=60))
def test_any_text_is_told_of_in_short_lines(text: str) -> None:
    for line in lines_of(found(text)):
        assert "\n" not in line
        assert len(line) < 220
