"""A paper is shown inside the window, saved byte for byte, and printed whole."""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot

from shopledger.desk.paper_view import PaperView
from shopledger.quantities.errors import Trouble


def two_pages() -> bytes:
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(595, 842), invariant=1)
    for page in (1, 2):
        canvas.setFont("Helvetica", 24)
        canvas.drawString(72, 700, f"Bill of sale, page {page}")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def shown(qtbot: QtBot, content: bytes) -> PaperView:
    view = PaperView(content, "Bill of sale", "BS 2026-001")
    qtbot.addWidget(view, before_close_func=lambda widget: widget.put_away())
    view.resize(640, 700)
    view.show()
    return view


def test_all_pages_are_there_as_wide_as_the_room(qtbot: QtBot) -> None:
    view = shown(qtbot, two_pages())
    assert len(view.pages.leaves) == 2
    assert "Bill of sale, page 2" in view.pages.leaves[1].accessibleDescription()
    room = view.pages.viewport().width()
    assert room - 40 <= view.pages.leaves[0].width() <= room
    assert view.pages.leaves[0].height() == round(view.pages.leaves[0].width() * 842 / 595)
    first, second = (leaf.geometry() for leaf in view.pages.leaves)
    assert first.bottom() < second.top() <= first.bottom() + 16
    drawn = view.pages.leaves[0].grab().toImage()
    darkest = min(drawn.pixelColor(x, y).lightness() for x in range(60, 300, 2) for y in range(90, 170, 2))
    assert darkest < 100


def test_the_page_grows_and_shrinks_by_keys(qtbot: QtBot) -> None:
    view = shown(qtbot, two_pages())
    usual = view.pages.leaves[0].width()
    view.pages.on_larger_wanted()
    assert view.pages.leaves[0].width() > usual
    for _step in range(20):
        view.pages.on_smaller_wanted()
    assert view.pages.leaves[0].width() < usual
    view.pages.on_width_wanted()
    assert view.pages.leaves[0].width() == usual


def test_escape_goes_back(qtbot: QtBot) -> None:
    view = shown(qtbot, two_pages())
    with qtbot.waitActive(view):
        view.activateWindow()
    view.pages.setFocus()
    with qtbot.waitSignal(view.left):
        qtbot.keyClick(view.pages, Qt.Key.Key_Escape)


def test_a_copy_is_the_same_byte_for_byte(qtbot: QtBot, tmp_path: Path) -> None:
    content = two_pages()
    view = shown(qtbot, content)
    with qtbot.waitSignal(view.said) as said:
        view.save_to(tmp_path / "copy.pdf")
    assert (tmp_path / "copy.pdf").read_bytes() == content
    assert said.args == ["BS 2026-001 is saved as copy.pdf."]
    view.save_to(tmp_path / "no" / "copy.pdf")
    assert "Not saved" in view._foot.text()


def test_every_page_is_printed(qtbot: QtBot, tmp_path: Path) -> None:
    view = shown(qtbot, two_pages())
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    view.print_to(printer)
    printed = pypdfium2.PdfDocument(tmp_path / "printed.pdf")
    assert len(printed) == 2
    printed.close()


@pytest.mark.parametrize("content", [b"", b"%PDF-1.7 nothing more"])
def test_a_damaged_paper_is_told_in_words(content: bytes) -> None:
    with pytest.raises(Trouble, match="can't be shown: it is damaged"):
        PaperView(content, "Bill of sale", "BS 2026-001")
