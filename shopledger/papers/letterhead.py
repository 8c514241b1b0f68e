"""The letterhead: what stands around the words of every paper, at its head and at its foot.

The first page opens with the shop's name and how to reach it; later pages say in one line whose paper goes
on. Every page
ends with number, page n of m, day of issue, and the code that proves the facts.
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageTemplate

from shopledger.papers import marks, style
from shopledger.papers.escaping import joined, one_line
from shopledger.papers.lettering import paragraph, sans, serif
from shopledger.papers.parts import PaperFacts, ShopFacts
from shopledger.quantities.errors import Bug
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _

CODE_SIDE = 17 * mm
MARK_SIDE = 20 * mm
LONGEST_NAME, LONGEST_CONTACT, MOST_LINES = 120, 100, 8
"""Letters of the shop's name and of a line of how to reach it, and lines of address: the head has no room for more."""


@dataclass(frozen=True, slots=True)
class Around:
    """What head and foot of one paper say."""

    facts: PaperFacts
    title: str
    digest: str
    mark: bytes | None
    issued: bool = True


def page_size(shop: ShopFacts) -> tuple[float, float]:
    """Give width and height of the shop's paper.

    Raises: Bug: a paper that is neither A4 nor Letter.
    """
    try:
        width, height = style.SIZES[shop.paper]
    except KeyError:
        raise Bug(N_("Papers are A4 or Letter, not {paper}."), paper=shop.paper) from None
    return float(width), float(height)


def grid_width(shop: ShopFacts) -> float:
    """Give the width of the grid in points, both columns together."""
    return page_size(shop)[0] - 2 * style.MARGIN


def build(around: Around, story: list[Flowable]) -> bytes:
    """Lay the story out under the letterhead and give the bytes of the PDF."""
    shop = around.facts.shop
    size = page_size(shop)
    head = _Head(around)
    target = BytesIO()
    document = BaseDocTemplate(
        target,
        pagesize=size,
        invariant=1,
        lang=shop.manners.language,
        title=f"{around.title} {around.facts.number}",
        author=shop.name,
        subject=around.title,
        creator="Shop ledger",
        producer="Shop ledger",
        displayDocTitle=True,
        initialFontName=style.SANS,
        initialFontSize=style.TEXT_SIZE,
        pageCompression=1,
        allowSplitting=1,
    )
    first = _frame("first", size, style.MARGIN * 0.75 + head.height + 7 * mm)
    later = _frame("later", size, style.HEAD_LATER)
    document.addPageTemplates(
        [
            PageTemplate("first", [first], onPage=lambda canvas, _document: head.draw_first(canvas)),
            PageTemplate("later", [later], onPage=lambda canvas, _document: head.draw_later(canvas)),
        ]
    )
    foot = _Foot(around, size)
    document.build(
        [NextPageTemplate("later"), *story],
        canvasmaker=lambda *parts, **more: _Pages(*parts, foot=foot, **more),
    )
    return target.getvalue()


def _frame(name: str, size: tuple[float, float], top: float) -> Frame:
    """Give the frame of a page between `top` and the foot, without padding."""
    width, height = size
    return Frame(
        style.MARGIN, style.FOOT, width - 2 * style.MARGIN, height - top - style.FOOT, 0, 0, 0, 0, id=name
    )


class _Head:
    """The head of the first page and the line on later ones; its height depends on name and address."""

    def __init__(self, around: Around) -> None:
        shop = around.facts.shop
        self._around = around
        self._wide = grid_width(shop)
        self._size = page_size(shop)
        room = self._wide - style.INDENT
        self._name = paragraph(serif(one_line(shop.name, LONGEST_NAME)), "shop")
        self._name_height = float(self._name.wrap(room, 1000)[1])
        contact = [
            one_line(text, LONGEST_CONTACT)
            for text in (*shop.address[:MOST_LINES], shop.phone, shop.email, shop.web, shop.tax_number)
        ]
        # Blanks inside a piece do not break, so that a line ends between two of them; a long piece may break after all.
        pieces = [part.replace(" ", "\u00a0") if len(part) <= 60 else part for part in contact if part]
        self._contact = paragraph(joined([sans(one) for one in pieces], " \u00b7 "), "contact")
        self._contact_height = float(self._contact.wrap(room, 1000)[1]) if pieces else 0.0
        self.height = (
            max(self._name_height + 2 + self._contact_height, MARK_SIDE * 0.8 if around.mark else 0) + 9
        )

    def draw_first(self, canvas: Any) -> None:
        """Draw mark, name, contact and a hairline."""
        left, top = style.MARGIN, self._size[1] - style.MARGIN * 0.75
        self._draw_not_issued(canvas)
        if self._around.mark is not None:
            picture = ImageReader(BytesIO(self._around.mark))
            canvas.drawImage(
                picture,
                left,
                top - MARK_SIDE * 0.8,
                style.LABELS * 0.6,
                MARK_SIDE * 0.8,
                mask="auto",
                preserveAspectRatio=True,
                anchor="nw",
            )
        y = top - self._name_height
        self._name.drawOn(canvas, left + style.INDENT, y)
        if self._contact_height:
            self._contact.drawOn(canvas, left + style.INDENT, y - 2 - self._contact_height)
        _rule(canvas, left, top - self.height, self._wide, style.VARNISH, 0.8)

    def draw_later(self, canvas: Any) -> None:
        """Draw the line that says whose paper goes on."""
        left, y = style.MARGIN, self._size[1] - style.MARGIN * 0.75 - 10
        self._draw_not_issued(canvas)
        facts = self._around.facts
        number = facts.number.replace(" ", "\u00a0")
        shop = one_line(facts.shop.name, LONGEST_NAME)
        says = [serif(text) for text in (shop, self._around.title, number)]
        goes_on = paragraph(joined(says, " \u00b7 "), "running")
        _wide, tall = goes_on.wrap(self._wide - style.INDENT, 40)
        goes_on.drawOn(canvas, left + style.INDENT, y + 10 - tall)

    def _draw_not_issued(self, canvas: Any) -> None:
        """Say over the head and, pale, across the page that it was not issued; it moves nothing of the rest."""
        if self._around.issued:
            return
        wide, high = self._size
        canvas.saveState()
        canvas.setFillColor(style.ink(style.VARNISH))
        canvas.setFont(style.SANS_STRONG, style.TEXT_SIZE)
        canvas.drawString(style.MARGIN + style.INDENT, high - 9 * mm, not_issued())
        canvas.setFillColor(style.ink(style.HAIRLINE))
        canvas.translate(wide / 2, high / 2)
        canvas.rotate(45)
        canvas.setFont(style.SERIF, 64)
        canvas.drawCentredString(0, -20, _("Not issued"))
        canvas.restoreState()


def not_issued() -> str:
    """Give what stands over the head of a paper that was not issued."""
    return _("Not issued: as it would be. The number is provisional.")


class _Foot:
    """The foot of every page: the code, number, page n of m, day of issue, digest and anchor."""

    def __init__(self, around: Around, size: tuple[float, float]) -> None:
        self._around = around
        self._size = size
        self._rows = marks.modules(marks.mark_text(around.facts.number, around.digest))

    def draw(self, canvas: Any, page: int, pages: int) -> None:
        """Draw the foot of one page."""
        facts = self._around.facts
        left = style.MARGIN
        wide = self._size[0] - 2 * left
        top = style.FOOT - 4 * mm
        _rule(canvas, left, top, wide, style.HAIRLINE, style.HAIR)
        canvas.setFillColor(style.ink(style.INK))
        issued = self._around.issued
        says = [
            facts.number,
            _("page {page} of {pages}").format(page=page, pages=pages),
            _("issued {day}").format(day=show_day(facts.issued_on, facts.shop.manners))
            if issued
            else _("not issued"),
        ]
        lines = [paragraph(joined([sans(self._around.title), *map(sans, says)], " \u00b7 "), "foot")]
        if issued:
            marks.draw(canvas, self._rows, left, top - 3 * mm - CODE_SIDE, CODE_SIDE)
            lines += self._proof()
        y = top - 3 * mm
        for line in lines:
            _wide, tall = line.wrap(wide - style.INDENT, 60)
            y -= float(tall)
            line.drawOn(canvas, left + style.INDENT, y)

    def _proof(self) -> list[Any]:
        """Give the lines that say what the code holds and where the journal stood."""
        facts = self._around.facts
        lines = [
            paragraph(
                sans(_("The code holds this paper\u2019s number and the SHA-256 of the facts it states:")),
                "tiny",
            ),
            paragraph(sans(self._around.digest), "tiny"),
        ]
        if facts.anchor_entry is not None:
            anchor = _("Journal at entry {entry}: {hash}").format(
                entry=facts.anchor_entry, hash=facts.anchor_hash
            )
            lines.append(paragraph(sans(anchor), "tiny"))
        return lines


class _Pages(Canvas):  # type: ignore[misc]  # the layout library has no stubs
    """A canvas that holds its pages back until their count is known, then draws each foot."""

    def __init__(self, *parts: Any, foot: _Foot, **more: Any) -> None:
        super().__init__(*parts, **more)
        self._foot = foot
        self._held: list[dict[str, Any]] = []

    def showPage(self) -> None:
        """Hold the page back and start the next one."""
        self._held.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Draw the foot on each held page, put the pages out and finish the file."""
        held = self._held
        for page, state in enumerate(held, start=1):
            self.__dict__.update(state)
            self._foot.draw(self, page, len(held))
            super().showPage()
        super().save()


def _rule(canvas: Any, x: float, y: float, wide: float, colour: str, thick: float) -> None:
    """Draw a horizontal line."""
    canvas.saveState()
    canvas.setStrokeColor(style.ink(colour))
    canvas.setLineWidth(thick)
    canvas.line(x, y, x + wide, y)
    canvas.restoreState()
