"""From text to set type: markup for the sans and serif faces, and paragraphs in the styles of the papers."""

from __future__ import annotations

from html import unescape

from reportlab.platypus import Paragraph
from reportlab.platypus.paraparser import ParaFrag

from shopledger.papers import style
from shopledger.papers.escaping import LONGEST_TEXT, Markup, escaped


class _Laid(Paragraph):  # type: ignore[misc]  # the layout library has no stubs
    """A paragraph that is laid out once for a width: a table asks for that twice, for its heights and to draw."""

    _laid_for = 0.0
    _size: tuple[float, float] = (0.0, 0.0)

    def wrap(self, wide: float, tall: float) -> tuple[float, float]:
        """Give width and height; lines that were laid out before are taken again, unless they were given up."""
        if wide != self._laid_for or not hasattr(self, "blPara"):
            self._laid_for, self._size = wide, super().wrap(wide, tall)
        return self._size


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
        return _Laid(markup, look)
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
    return _Laid("", look, frags=[piece])
