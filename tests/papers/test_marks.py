"""The code at the foot: read from a picture of the page, also a coarse, turned or worn one."""

from __future__ import annotations

import pypdfium2
import pytest
import zxingcpp
from PIL import Image
from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

from shopledger.papers.facts import digest
from shopledger.papers.marks import mark_text, modules, read_mark
from shopledger.papers.rendering import render
from shopledger.quantities.errors import Typed
from tests.papers import samples

FACTS = samples.ordinary()["invoice"]


@pytest.fixture(scope="module")
def page() -> Image.Image:
    """The first page of an invoice at 200 dots an inch."""
    with pypdfium2.PdfDocument(render("invoice", FACTS)) as document:
        picture: Image.Image = document[0].render(scale=200 / 72).to_pil().convert("L")
    return picture


@pytest.mark.parametrize("degrees", [0, 3, 90, 180, 265])
def test_the_code_is_read_however_the_page_lies(page: Image.Image, degrees: int) -> None:
    [code] = zxingcpp.read_barcodes(page.rotate(degrees, expand=True, fillcolor=255))
    assert read_mark(code.text) == (FACTS.number, digest(FACTS))


def test_the_code_is_read_with_a_blot_on_it(page: Image.Image) -> None:
    [code] = zxingcpp.read_barcodes(page)
    left, top = code.position.top_left.x, code.position.top_left.y
    side = code.position.top_right.x - left
    blotted = page.copy()
    # Level M of ISO/IEC 18004 restores 15 of 100 codewords (from memory); the blot covers some 4 of 100.
    blotted.paste(0, (left + side // 2, top + side // 2, left + side * 7 // 10, top + side * 7 // 10))
    [again] = zxingcpp.read_barcodes(blotted)
    assert again.text == code.text


@pytest.mark.parametrize("text", ["paper " + "abcdef" * 10, "SI 2026-009 ABCDEF", "0123456789" * 6])
def test_another_encoder_makes_the_same_code(text: str) -> None:
    # Oracle: the encoder of the layout library, run here under each of the eight masks of ISO/IEC 18004, of which an
    # encoder chooses one. The texts are of letters of one sort, since the two divide others differently.
    others = []
    for mask in range(8):
        code = QRCode(None, QRErrorCorrectLevel.M)
        code.addData(text)
        code.version = code.calculate_version()
        code.makeImpl(False, mask)
        count = range(code.getModuleCount())
        others.append(tuple(tuple(bool(code.isDark(row, column)) for column in count) for row in count))
    assert others.count(modules(text)) == 1


def test_rows_and_columns_are_as_many() -> None:
    rows = modules(mark_text("SI 2026-009", "a" * 64))
    assert {len(row) for row in rows} == {len(rows)}


@pytest.mark.parametrize("number", ["SI 2026-009", "AG 2026-014/2", "No. 12"])
def test_number_and_digest_come_back(number: str) -> None:
    assert read_mark(f" {mark_text(number, 'b' * 64)}\n") == (number, "b" * 64)


@pytest.mark.parametrize(
    "text", ["", "SI 2026-009", "a" * 64, f" {'a' * 64}", f"SI 1 {'A' * 64}", f"SI 1 {'a' * 63}"]
)
def test_other_codes_are_refused(text: str) -> None:
    with pytest.raises(Typed, match="not from a paper of the ledger"):
        read_mark(text)
