"""The code one can scan: number and SHA-256 of the facts, as text and as a square of dark modules."""

from __future__ import annotations

import re
from typing import Any

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_

_MARK = re.compile(r"(\S(?:.*\S)?) ([0-9a-f]{64})")


def mark_text(number: str, digest: str) -> str:
    """Give the text that the code of a paper holds: its number, a blank, the digest of its facts."""
    return f"{number} {digest}"


def read_mark(text: str) -> tuple[str, str]:
    """Give number and digest from the text of a scanned code.

    Raises: Typed: the code is not one of this program's papers.
    """
    match = _MARK.fullmatch(text.strip())
    if match is None:
        raise Typed(
            N_("This code is not from a paper of the ledger. Scan the square code at the foot of a paper.")
        )
    return match.group(1), match.group(2)


def modules(text: str) -> tuple[tuple[bool, ...], ...]:
    """Give the rows of dark and light modules of the code, with 15 of 100 codewords to spare for wear."""
    # The layout library is slow to load, and a code is read without it.
    from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(text)
    code.version = code.calculate_version()
    # Any of the eight masks can be read; trying all of them for the evenest takes longer than the rest of a page, and
    # hexadecimal digits of a digest are even enough under the first.
    code.makeImpl(False, 0)
    count = code.getModuleCount()
    return tuple(tuple(bool(code.isDark(row, column)) for column in range(count)) for row in range(count))


def draw(canvas: Any, rows: tuple[tuple[bool, ...], ...], x: float, y: float, side: float) -> None:
    """Draw the modules into a square of `side` points with its lower left corner at x, y; a run as one piece."""
    from reportlab.pdfgen.pathobject import PDFPathObject

    count = len(rows)
    # The rectangles are whole numbers, so they are written as the file format wants them; the path's own method would
    # format each of some two thousand numbers as a float.
    pieces: list[str] = []
    for row, cells in enumerate(rows):
        start: int | None = None
        for column, dark in enumerate((*cells, False)):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                pieces.append(f"{start} {count - row - 1} {column - start} 1 re")
                start = None
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(side / count, side / count)
    canvas.drawPath(PDFPathObject(code=pieces), stroke=0, fill=1)
    canvas.restoreState()
