"""How much the layout of a paper costs beside a bare page with the same words in the same fonts."""

from __future__ import annotations

from html import escape
from io import BytesIO
from itertools import groupby
from typing import Any

from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.platypus import Paragraph, SimpleDocTemplate, Table

from shopledger.papers import style
from shopledger.papers.rendering import render
from tests.bench.measuring import Ratio, compare, seconds
from tests.papers.reading_back import Words, words_of
from tests.papers.samples import ordinary


def bare_page(words: list[Words]) -> bytes:
    """Lay the words out as anyone would by hand: a paragraph for running text, a table for lines with columns."""
    faces = {pdfmetrics.getFont(name).face.name.decode(): name for name in style.FILES}
    made: dict[tuple[str, float], ParagraphStyle] = {}

    def look(one: Words) -> ParagraphStyle:
        key = (one.face, one.size)
        if key not in made:
            made[key] = ParagraphStyle(
                "bare", fontName=faces[one.face], fontSize=one.size, leading=one.size * 1.3
            )
        return made[key]

    story: list[Any] = []
    lines = [list(line) for _, line in groupby(words, key=lambda one: (one.page, one.y))]
    for columns, block in groupby(lines, key=len):
        if columns == 1:
            for _, run in groupby((line[0] for line in block), key=lambda one: (one.face, one.size)):
                together = list(run)
                story.append(Paragraph(escape(" ".join(one.text for one in together)), look(together[0])))
        else:
            cells = [[Paragraph(escape(one.text), look(one)) for one in line] for line in block]
            story.append(Table(cells))
    target = BytesIO()
    SimpleDocTemplate(target, pagesize=A4, invariant=1, pageCompression=1).build(story)
    return target.getvalue()


def one_invoice() -> Ratio:
    """Compare the rendering of an ordinary invoice with a bare page of its words."""
    facts = ordinary()["invoice"]
    words = words_of(render("invoice", facts))
    return compare(
        "one invoice ÷ a bare page with its words and fonts",
        lambda: seconds(lambda: render("invoice", facts)),
        lambda: seconds(lambda: bare_page(words)),
        bound=1.5,
        runs=21,
        warm=3,
    )
