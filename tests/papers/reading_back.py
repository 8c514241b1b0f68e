"""Reading a paper back: its text page by page, its fonts, where each letter stands, and what its code says."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pypdfium2
import zxingcpp
from pypdf import PdfReader


def pages_of(pdf: bytes) -> list[str]:
    """Give the text of each page, blanks and line ends as one blank each."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


def text_of(pdf: bytes) -> str:
    """Give the text of all pages."""
    return " ".join(pages_of(pdf))


def bodies_of(pdf: bytes, foot: float, head: float) -> list[str]:
    """Give the text of each page between its foot and its head, whose heights are in points."""
    with pypdfium2.PdfDocument(pdf) as document:
        said = []
        for page in document:
            width, height = page.get_size()
            text = page.get_textpage().get_text_bounded(0, foot, width, height - head)
            said.append(" ".join(text.split()))
    return said


def in_order(text: str, *parts: str) -> bool:
    """Tell whether the parts stand in the text, one after the other."""
    place = 0
    for part in parts:
        place = text.find(part, place)
        if place < 0:
            return False
        place += len(part)
    return True


@dataclass(frozen=True)
class Face:
    """A font of a paper and whether its glyphs are in the file."""

    name: str
    embedded: bool


def faces_of(pdf: bytes) -> set[Face]:
    """Give all fonts that the pages of a paper name."""
    found = set()
    for font in _fonts(pdf):
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        described = inner.get("/FontDescriptor", {})
        found.add(Face(str(font["/BaseFont"]), "/FontFile2" in described))
    return found


def _fonts(pdf: bytes) -> Iterator[Any]:
    """Give each font of each page."""
    for page in PdfReader(BytesIO(pdf)).pages:
        yield from (font.get_object() for font in page["/Resources"]["/Font"].values())


@dataclass(frozen=True, slots=True)
class Words:
    """A run of words on a page: the page from 0, its height in points, where it begins, its font and size."""

    page: int
    y: int
    x: float
    face: str
    size: float
    text: str


def words_of(pdf: bytes) -> list[Words]:
    """Give the words of a paper in reading order, as they stand on its pages."""
    found: list[Words] = []
    for number, page in enumerate(PdfReader(BytesIO(pdf)).pages):

        def visit(
            text: str, cm: list[float], tm: list[float], font: Any, size: float, number: int = number
        ) -> None:
            if text.strip() and font is not None:
                x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
                y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
                face = str(font["/BaseFont"]).rpartition("+")[2]
                found.append(Words(number, round(y), x, face, size, " ".join(text.split())))

        page.extract_text(visitor_text=visit)
    return sorted(found, key=lambda words: (words.page, -words.y, words.x))


def ends_of(pdf: bytes, foot: float) -> list[Words]:
    """Give what stands lowest on each page above its foot, whose height is in points."""
    return list({words.page: words for words in words_of(pdf) if words.y > foot}.values())


def letters_embedded(pdf: bytes) -> set[str]:
    """Give the letters whose glyphs are in the file, in any of its fonts."""
    found: set[str] = set()
    for font in _fonts(pdf):
        if "/ToUnicode" in font:
            said = font["/ToUnicode"].get_data().decode()
            found.update(chr(int(code, 16)) for code in re.findall(r"<([0-9A-F]{4})>", said))
    return found


def letters_outside(pdf: bytes, margin: float) -> list[str]:
    """Give the letters that stand nearer to the edge of their page than the margin, or outside it."""
    outside = []
    with pypdfium2.PdfDocument(pdf) as document:
        for number, page in enumerate(document, start=1):
            width, height = page.get_size()
            text = page.get_textpage()
            for n in range(text.count_chars()):
                letter = text.get_text_range(n, 1)
                if not letter.strip():
                    continue
                left, bottom, right, top = text.get_charbox(n)
                if left < margin or bottom < margin or right > width - margin or top > height - margin:
                    outside.append(f"page {number}: {letter!r} at {left:.0f}, {bottom:.0f}")
    return outside


def codes_of(pdf: bytes, dpi: int = 150) -> list[str]:
    """Give what the code of each page says, as a scanner at this resolution reads it."""
    said = []
    with pypdfium2.PdfDocument(pdf) as document:
        for page in document:
            picture = page.render(scale=dpi / 72).to_pil()
            said.extend(code.text for code in zxingcpp.read_barcodes(picture))
    return said
