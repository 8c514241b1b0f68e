"""How papers look: inks, faces, sizes, the grid, the styles of paragraphs. Every paper takes them from here.

The grid has two columns: a narrow one on the left for headings and labels, a wide one for what is said;
money stands at
the right edge. Lengths are in points.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from threading import Lock

from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from shopledger.quantities.assets import asset

# Streams as bytes instead of letters: every reader takes them, and a file is smaller and sooner made.
rl_config.useA85 = 0

INK = "#2A2622"
QUIET = "#6B635A"
HAIRLINE = "#E3DCD1"
VARNISH = "#8A4B1F"
PAPER = "#FFFFFF"

SANS, SANS_STRONG, SANS_ITALIC = "ShopSans", "ShopSans-Strong", "ShopSans-Italic"
SERIF, SERIF_STRONG = "ShopSerif", "ShopSerif-Strong"
FILES = {
    SANS: "SourceSans3-Regular.ttf",
    SANS_STRONG: "SourceSans3-SemiBold.ttf",
    SANS_ITALIC: "SourceSans3-Italic.ttf",
    SERIF: "SourceSerif4-Regular.ttf",
    SERIF_STRONG: "SourceSerif4-SemiBold.ttf",
}

SIZES = {"A4": A4, "Letter": LETTER}
MARGIN: float = 19 * mm
LABELS: float = 35 * mm
GAP: float = 5 * mm
INDENT: float = LABELS + GAP
FOOT: float = 30 * mm
HEAD_LATER: float = 24 * mm
ROW = 3.2
HAIR = 0.5

TITLE_SIZE, HEADING_SIZE, TEXT_SIZE, SMALL_SIZE, TINY_SIZE = 21.0, 10.0, 9.4, 8.0, 6.4
CLAIM_SIZE = 34.0
"""The claim number on a ticket, to be read from across the bench."""

_registering = Lock()


def ink(colour: str) -> Color:
    """Give the layout library's colour for one of the inks above."""
    return HexColor(colour)


@cache
def _faces() -> dict[str, TTFont]:
    """Register the bundled faces once a process and give them by name."""
    # Only letters that are used are embedded: the library would else put all of ASCII into every file.
    faces = {name: TTFont(name, str(asset("fonts", file)), asciiReadable=0) for name, file in FILES.items()}
    for face in faces.values():
        pdfmetrics.registerFont(face)
    pdfmetrics.registerFontFamily(
        SANS, normal=SANS, bold=SANS_STRONG, italic=SANS_ITALIC, boldItalic=SANS_STRONG
    )
    pdfmetrics.registerFontFamily(
        SERIF, normal=SERIF, bold=SERIF_STRONG, italic=SERIF, boldItalic=SERIF_STRONG
    )
    return faces


def register_faces() -> None:
    """Make the bundled faces known to the layout library; safe to repeat and from any thread."""
    with _registering:
        _faces()


def has(face: str) -> Callable[[str], bool]:
    """Give a test of whether a face has a glyph for a character."""
    glyphs = _faces()[face].face.charToGlyph
    return lambda letter: ord(letter) in glyphs


def width_of(text: str, face: str, size: float) -> float:
    """Give the width of a text in points."""
    return float(pdfmetrics.stringWidth(text, face, size))


@cache
def paragraph(name: str) -> ParagraphStyle:
    """Give the style of this name; unknown names are a mistake of the caller."""
    register_faces()
    return {
        "title": _style("title", SERIF, TITLE_SIZE, 28, leftIndent=INDENT),
        "under": _style("under", SERIF, 10.5, 14, colour=QUIET, leftIndent=INDENT),
        "heading": _style("heading", SERIF_STRONG, HEADING_SIZE, 13.4),
        "heading_wide": _style(
            "heading_wide", SERIF_STRONG, HEADING_SIZE + 1.2, 15, spaceBefore=11, spaceAfter=2, keepWithNext=1
        ),
        "small_wide": _style(
            "small_wide", SANS, SMALL_SIZE, 10.8, colour=QUIET, spaceAfter=2, keepWithNext=1
        ),
        "body": _style("body", SANS, TEXT_SIZE, 13.4, leftIndent=INDENT, spaceAfter=3.4),
        "small": _style("small", SANS, SMALL_SIZE, 10.8, colour=QUIET, leftIndent=INDENT, spaceAfter=3),
        "cell": _style("cell", SANS, TEXT_SIZE, 12.8),
        "cell_strong": _style("cell_strong", SANS_STRONG, TEXT_SIZE, 12.8),
        "cell_right": _style("cell_right", SANS, TEXT_SIZE, 12.8, alignment=TA_RIGHT),
        "cell_right_quiet": _style(
            "cell_right_quiet", SANS, TEXT_SIZE, 12.8, colour=QUIET, alignment=TA_RIGHT
        ),
        "amount_strong": _style("amount_strong", SANS_STRONG, TEXT_SIZE, 12.8, alignment=TA_RIGHT),
        "pair_label": _style("pair_label", SANS, TEXT_SIZE, 12.8, colour=QUIET),
        "cell_small": _style("cell_small", SANS, SMALL_SIZE, 10.8, colour=QUIET),
        "head": _style("head", SANS, SMALL_SIZE, 10.4, colour=QUIET),
        "block_head": _style("block_head", SANS, SMALL_SIZE, 12.8, colour=QUIET, spaceAfter=1),
        "pair_head": _style("pair_head", SANS, SMALL_SIZE, 12.8, colour=QUIET),
        "head_right": _style("head_right", SANS, SMALL_SIZE, 10.4, colour=QUIET, alignment=TA_RIGHT),
        "claim": _style("claim", SANS_STRONG, CLAIM_SIZE, 40),
        "shop": _style("shop", SERIF_STRONG, 14.5, 18),
        "running": _style("running", SERIF, SMALL_SIZE, 10.4, colour=QUIET),
        "contact": _style("contact", SANS, SMALL_SIZE, 11, colour=QUIET),
        "foot": _style("foot", SANS, SMALL_SIZE, 10.4),
        "tiny": _style("tiny", SANS, TINY_SIZE, 8.2, colour=QUIET),
    }[name]


def _style(
    name: str, face: str, size: float, leading: float, *, colour: str = INK, **more: float
) -> ParagraphStyle:
    """Give a paragraph style; words wider than their column are broken, links are never made."""
    return ParagraphStyle(
        name,
        fontName=face,
        fontSize=size,
        leading=leading,
        textColor=ink(colour),
        splitLongWords=1,
        allowWidows=0,
        allowOrphans=0,
        **more,
    )
