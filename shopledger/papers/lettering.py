"""From text to set type: markup for the sans and serif faces, and paragraphs in the styles of the papers."""

from __future__ import annotations

from html import unescape

from reportlab.platypus import Paragraph
from reportlab.platypus.paraparser import ParaFrag

from shopledger.papers import style
from shopledger.papers.escaping import LONGEST_TEXT, Markup, escaped


def sans(text: str, most: int = LONGEST_TEXT) -> Markup:
    """Give a text as markup for the sans faces, cut to so many letters."""
    return escaped(text, style.has(style.SANS), most=most)


def serif(text: str) -> Markup:
    """Give a text as markup for the serif faces; what they lack is set in sans."""
    return escaped(text, style.has(style.SERIF), style.SANS, style.has(style.SANS))


def paragraph(markup: Markup, name: str) -> Paragraph:
    """Give a paragraph in the style of this name.

    Most texts hold no markup but escaped signs; they are handed over as the one piece they are, which spares
    parsing them.
    """
    look = style.paragraph(name)
    if "<" in markup:
        return Paragraph(markup, look)
    piece = ParaFrag(
        rise=0,
        greek=0,
        link=[],
        fontName=look.fontName,
        bold=0,
        italic=0,
        fontSize=look.fontSize,
        textColor=look.textColor,
        us_lines=[],
        text=unescape(markup).strip(),
    )
    return Paragraph("", look, frags=[piece])
