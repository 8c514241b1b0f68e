"""The faces of the papers: their letters, their figures, and inks that can be read."""

from __future__ import annotations

import pytest

from shopledger.papers import style
from shopledger.quantities.assets import asset


@pytest.fixture(autouse=True)
def _faces() -> None:
    style.register_faces()


LETTERS = {
    "Latin Extended-A": (0x100, 0x17F),
    "Greek": (0x391, 0x3A1),
    "Greek, small": (0x3B1, 0x3C9),
    "Cyrillic": (0x400, 0x45F),
}


@pytest.mark.parametrize(("first", "last"), LETTERS.values(), ids=LETTERS)
@pytest.mark.parametrize("face", [style.SANS, style.SANS_STRONG, style.SANS_ITALIC])
def test_the_sans_has_the_letters_of_europe(face: str, first: int, last: int) -> None:
    has = style.has(face)
    assert [chr(code) for code in range(first, last + 1) if not has(chr(code))] == []


@pytest.mark.parametrize("face", style.FILES)
def test_every_face_has_minus_dashes_quotes_and_fractions(face: str) -> None:
    has = style.has(face)
    assert [
        letter for letter in "\u2212\u2013\u2014\u2018\u2019\u201c\u201d×·½¼¾⅛⅜⅝⅞€£" if not has(letter)
    ] == []


@pytest.mark.parametrize("face", [style.SANS, style.SANS_STRONG])
def test_figures_of_tables_are_equally_wide(face: str) -> None:
    assert len({style.width_of(figure, face, 10) for figure in "0123456789"}) == 1


def test_each_font_lies_beside_its_licence() -> None:
    for file in style.FILES.values():
        family = file.partition("-")[0]
        assert "SIL OPEN FONT LICENSE" in asset("fonts", f"{family}-OFL.txt").read_text(encoding="utf-8")


def _light(colour: str) -> float:
    """Give the relative luminance of a colour, by WCAG 2.2."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("colour", [style.INK, style.QUIET, style.VARNISH])
def test_inks_are_legible_on_white(colour: str) -> None:
    # WCAG 2.2, success criterion 1.4.3 (AA): 4.5 to 1 for text.
    assert 1.05 / (_light(colour) + 0.05) >= 4.5


def test_an_unknown_style_is_a_mistake() -> None:
    with pytest.raises(KeyError):
        style.paragraph("shouting")
