"""Wishes by clicking and typing: noted from the empty table, ranked on their page, told of by letter."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from shopledger.desk.paper_view import PaperView
from shopledger.desk.shop import Shop
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact
from shopledger.store.prove import prove
from tests.helpers.hand import Hand, hand
from tests.papers.reading_back import in_order, text_of

__all__ = ["hand"]

PLAYER = "Tomas Verrill"


def test_a_wish_is_noted_ranked_and_told_of(hand: Hand, shop: Shop) -> None:
    take_in(hand, "692 mm", "9000.00")
    take_in(hand, "", "11000.00")
    note_a_wish(hand)
    look_at_what_fits(hand)
    tell_by_letter(hand)
    assert prove(shop.ledger.where) == []


def take_in(hand: Hand, length: str, asking: str) -> None:
    hand.go(2)
    hand.click("first" if not hand.place.pane.rows.ids else "act.take_in")
    hand.choose("instrument.kind", "cello")
    hand.choose("stay.reason", "own")
    hand.write("cost", "500.00")
    hand.write("asking", asking)
    if length:
        hand.add_row("measures")
        hand.write("measures[0].measure", "string_length")
        hand.write("measures[0].value", length)
    hand.do()


def note_a_wish(hand: Hand) -> None:
    hand.go(5)
    hand.click("tab.wishes")
    hand.click("first")
    assert hand.form.act.name == "note_wish"
    hand.pick("wish.person_id", PLAYER)
    hand.do()
    hand.choose("wish.kind", "cello")
    hand.say("wish.words", "A dark voice")
    hand.add_row("criteria")
    hand.write("criteria[0].what", "vibrating string")
    hand.qtbot.keyClick(hand.input_line("criteria[0].what"), Qt.Key.Key_Return)
    hand.write("criteria[0].value", "far")
    hand.qtbot.mouseClick(hand.form.bar.do, Qt.MouseButton.LeftButton)
    hand.qtbot.waitUntil(lambda: not hand.work.busy)
    error = hand.form.findChild(QLabel, "error.criteria[0].value")
    assert isinstance(error, QLabel)
    assert "is no length" in error.text()
    hand.write("criteria[0].value", "690-694 mm")
    hand.write("criteria[0].weight", "3")
    hand.add_row("criteria")
    hand.write("criteria[1].what", "price")
    hand.write("criteria[1].value", "at most 12000")
    hand.tick("criteria[1].must")
    hand.form.flush_preview()
    assert in_order(hand.form.preview.words, "690-694 mm, counts 3", "at most 12000, a must")
    hand.do()


def look_at_what_fits(hand: Hand) -> None:
    sheet = hand.sheet.sheet
    assert sheet.subject is Subject.WISH
    assert sheet.standing == "2 instruments fit."
    (fits,) = [group for group in sheet.groups if group.title == "What fits"]
    first, second = fits.facts
    assert isinstance(first, Fact)
    assert "No. 001" in first.label
    assert str(first.value).startswith("100\u00a0% alike, 9,000.00")
    assert str(second.value).startswith("nothing to compare, 11,000.00")
    assert "vibrating string length unknown" in second.quiet


def tell_by_letter(hand: Hand) -> None:
    hand.act("tell_of_matches")
    hand.write("lines", "1")
    hand.form.flush_preview()
    assert "No. 001" in hand.form.preview.words
    hand.do()
    (paper,) = hand.sheet.sheet.papers
    hand.click(f"paper.{paper.id}", hand.sheet)
    view = hand.place.side.top
    assert isinstance(view, PaperView)
    view.grab()
    assert in_order(
        text_of(view.content), "What we have for you", PLAYER, "A dark voice", "692 mm", "9,000.00"
    )
