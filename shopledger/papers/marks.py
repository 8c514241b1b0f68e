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
    # Loaded when the first code is made, since one is read without it.
    import zxingcpp

    code = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.QRCode, ec_level="M")
    # One byte a module, nought where it is dark; the picture's own stubs don't say that it can be viewed.
    picture: Any = code.to_image(scale=1, add_quiet_zones=False)
    rows: Any = memoryview(picture).tolist()
    return tuple(tuple(not light for light in row) for row in rows)


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
