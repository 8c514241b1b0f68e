"""What papers draw rather than write: a claim number with its codes, a line to cut along, photographs with pins."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from hashlib import sha256
from io import BytesIO
from typing import Any

from reportlab.graphics.barcode.code128 import Code128
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, KeepTogether, Spacer, Table

from shopledger.papers import marks, style, tables
from shopledger.papers.escaping import one_line
from shopledger.papers.lettering import paragraph, sans
from shopledger.quantities.errors import Bug, Trouble
from shopledger.quantities.words import N_

Photographs = Callable[[str], bytes]
"""Gives the file of a photograph by its SHA-256."""
_BARE = (
    ("FONT", (0, 0), (-1, -1), style.SANS, style.TEXT_SIZE),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    *((f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")),
)
Pin = tuple[int, int, int]
"""A pin's number and its place, in ten-thousandths of the picture's width and height from the upper left."""

SQUARE: float = 27 * mm
BAR_WIDTH: float = 0.5 * mm
BAR_HEIGHT: float = 10 * mm
"""A bar of half a millimetre is three dots of a scan at 150 to the inch."""
QUIET_ZONE = 10 * BAR_WIDTH
"""What stays empty beside the bars: ten widths of a bar, ISO/IEC 15417 (from memory)."""
WORDS, NUMBER = 13.0, 43.0
"""Heights of the small words over a claim number, and of the number."""
TALLEST_PICTURE: float = 84 * mm
DOTS = 1400
"""Dots of the longer side of a photograph on paper: some 300 to the inch at its size there."""
FULL = 10_000
PIN_RADIUS = 6.2
LONGEST_CLAIM = 16
"""Letters of a claim number, for which large type and bars have room."""


def claim(
    wide: float, words: str, number: str, rows: Sequence[tuple[str, str]], *, coded: bool = True
) -> Table:
    """Give a claim number in large type with both its codes, and under it pairs of label and value, kept in one piece.

    Shape:  the codes are left out where it is not `coded`, and their room stays.
    """
    room = wide - style.INDENT
    number = one_line(number, LONGEST_CLAIM)
    return Table(
        [[_Square(number, coded), [_Number(room, words, number, coded), tables.labelled(room, rows)]]],
        colWidths=[style.INDENT, room],
        hAlign="LEFT",
        splitByRow=0,
        style=_BARE,
    )


class _Square(Flowable):  # type: ignore[misc]  # the layout library has no stubs
    """The square code of a number, with a quiet zone under it; beside it is the rest of the narrow column."""

    def __init__(self, number: str, coded: bool) -> None:
        super().__init__()
        self._rows = marks.modules(number) if coded else ()

    def wrap(self, _wide: float, _tall: float) -> tuple[float, float]:
        """Take the room of the square."""
        return SQUARE, SQUARE + 6

    def draw(self) -> None:
        """Draw the square at the top left."""
        if self._rows:
            canvas: Any = self.canv
            canvas.setFillColor(style.ink(style.INK))
            marks.draw(canvas, self._rows, 0, 6, SQUARE)


class _Number(Flowable):  # type: ignore[misc]  # the layout library has no stubs
    """Small words, the number in large type under them, and at the right its digits as bars."""

    def __init__(self, wide: float, words: str, number: str, coded: bool) -> None:
        super().__init__()
        self.wide, self._coded = wide, coded
        self._words = paragraph(sans(words), "block_head")
        self._number = paragraph(sans(number), "claim")
        digits = "".join(letter for letter in number if letter in "0123456789")
        self._bars = Code128(
            digits, barWidth=BAR_WIDTH, barHeight=BAR_HEIGHT, humanReadable=0, quiet=0,
            barFillColor=style.ink(style.INK), barStrokeColor=None,
        )  # fmt: skip

    def wrap(self, _wide: float, _tall: float) -> tuple[float, float]:
        """Take the height of words and number."""
        self._words.wrap(self.wide, 100)
        self._number.wrap(self.wide - self._bars.width - QUIET_ZONE, 100)
        return self.wide, WORDS + NUMBER

    def draw(self) -> None:
        """Draw words and number at the left, the bars at the right edge of the grid."""
        canvas: Any = self.canv
        self._words.drawOn(canvas, 0, NUMBER)
        self._number.drawOn(canvas, 0, NUMBER - self._number.height + 3)
        if self._coded:
            self._bars.drawOn(canvas, self.wide - self._bars.width, NUMBER - BAR_HEIGHT)


class CutLine(Flowable):  # type: ignore[misc]  # the layout library has no stubs
    """A dashed line from edge to edge of the grid, with small words on it."""

    def __init__(self, wide: float, words: str) -> None:
        """Set the words."""
        super().__init__()
        self.wide = wide
        self._words = paragraph(sans(words), "tiny")

    def wrap(self, _wide: float, _tall: float) -> tuple[float, float]:
        """Take room to cut in."""
        return self.wide, 26.0

    def draw(self) -> None:
        """Draw the line and the words over its left end."""
        canvas: Any = self.canv
        canvas.saveState()
        canvas.setStrokeColor(style.ink(style.QUIET))
        canvas.setLineWidth(0.7)
        canvas.setDash(4, 3)
        canvas.line(-style.MARGIN, 12, self.wide + style.MARGIN, 12)
        canvas.restoreState()
        self._words.wrap(style.LABELS, 20)
        self._words.drawOn(canvas, 0, 14)


def photographs(
    wide: float, pictures: Sequence[tuple[str, str, Sequence[Pin]]], file_of: Photographs | None
) -> list[Flowable]:
    """Give photographs two in a row, each with its pins and the line under it.

    Raises: Bug: a photograph was not handed over, or another one was. Trouble: a file is no photograph any more.
    """
    gap = 6 * mm
    half = (wide - gap) / 2
    cells = [
        [_Pinned(half, _file(name, file_of), pins), Spacer(0, 3), paragraph(sans(line, 300), "cell_small")]
        for name, line, pins in pictures
    ]
    story: list[Flowable] = []
    for n in range(0, len(cells), 2):
        row = cells[n : n + 2]
        table = Table(
            [[row[0], "", row[1] if len(row) > 1 else ""]],
            colWidths=[half, gap, half],
            hAlign="LEFT",
            style=_BARE,
        )
        story.extend([KeepTogether([table]), Spacer(0, 12)])
    return story


def _file(name: str, file_of: Photographs | None) -> bytes:
    """Give the file of a photograph, made sure to be the one named."""
    content = file_of(name) if file_of is not None else b""
    if sha256(content).hexdigest() != name:
        raise Bug(N_("The photograph handed to a paper is not the one its facts name."))
    return content


class _Pinned(Flowable):  # type: ignore[misc]  # the layout library has no stubs
    """A photograph as large as its column and the page allow, with numbered pins."""

    def __init__(self, wide: float, content: bytes, pins: Sequence[Pin]) -> None:
        super().__init__()
        small, across, down = _for_paper(content)
        scale = min(wide / across, TALLEST_PICTURE / down)
        self._picture = ImageReader(BytesIO(small))
        self.wide, self.tall = across * scale, down * scale
        self._pins = pins

    def wrap(self, _wide: float, _tall: float) -> tuple[float, float]:
        """Take the room of the photograph."""
        return self.wide, self.tall

    def draw(self) -> None:
        """Draw the photograph, then its pins over it."""
        canvas: Any = self.canv
        canvas.drawImage(self._picture, 0, 0, self.wide, self.tall)
        canvas.saveState()
        canvas.setStrokeColor(style.ink(style.PAPER))
        canvas.setLineWidth(1)
        for n, x, y in self._pins:
            # A pin at the very edge is moved in, so that all of it stands on the photograph.
            left = _within(self.wide * x / FULL, self.wide)
            up = _within(self.tall * (1 - y / FULL), self.tall)
            canvas.setFillColor(style.ink(style.VARNISH))
            canvas.circle(left, up, PIN_RADIUS, stroke=1, fill=1)
            canvas.setFillColor(style.ink(style.PAPER))
            canvas.setFont(style.SANS_STRONG, style.SMALL_SIZE)
            canvas.drawCentredString(left, up - style.SMALL_SIZE * 0.34, str(n))
        canvas.restoreState()


def _within(place: float, most: float) -> float:
    return min(max(place, PIN_RADIUS + 1), max(most - PIN_RADIUS - 1, PIN_RADIUS + 1))


def _for_paper(content: bytes) -> tuple[bytes, int, int]:
    """Give a photograph as finely as paper shows it, with its width and height; the same file, the same bytes.

    Raises: Trouble: the file is no photograph.
    """
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(BytesIO(content), formats=("PNG", "JPEG", "WEBP")) as image:
            image.draft("RGB", (DOTS, DOTS))
            image.thumbnail((DOTS, DOTS))
            ground = Image.new("RGB", image.size, style.PAPER)
            through = image.convert("RGBA") if "A" in image.getbands() or image.mode == "P" else None
            ground.paste(image.convert("RGB"), mask=through.getchannel("A") if through else None)
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as error:
        raise Trouble(
            N_("A photograph of this paper can\u2019t be read ({said}). Restore its file from a backup."),
            said=str(error)[:80],
        ) from error
    kept = BytesIO()
    ground.save(kept, "JPEG", quality=86)
    return kept.getvalue(), ground.width, ground.height
