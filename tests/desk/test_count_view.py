"""Counting in the window: begun where the counts stand, ticked as fast as a scanner types, ended with its paper."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QListWidget
from pytestqt.qtbot import QtBot

from shopledger.desk.count_view import CountView
from shopledger.desk.form import ActForm
from shopledger.desk.shop import Shop
from shopledger.desk.wiring import wire
from shopledger.desk.work import Work
from shopledger.queries.counting import count_of
from shopledger.queries.shapes import Subject
from shopledger.store.prove import prove
from tests.helpers.hand import Hand, hand
from tests.helpers.shops import TriedShop

__all__ = ["hand"]


@pytest.fixture
def shop(file_place: Path) -> Shop:
    """Give a shop with four things here and one that went back to its owner."""
    tried = TriedShop(file_place)
    for _n in range(3):
        tried.own()
    tried.taken_in(instrument={"kind": "bow", "serial": "EM b 17"})
    gone = tried.taken_in()
    tried.act("return_to_owner", instrument_id=gone, handed_to="Orla Fenn")
    return wire(tried.ledger)


def scan(hand: Hand, view: CountView, *codes: str) -> None:
    """Type codes as a scanner does: letter after letter, Return behind each, without waiting for anything."""
    for code in codes:
        hand.qtbot.keyClicks(view.line, code)
        hand.qtbot.keyClick(view.line, Qt.Key.Key_Return)
        assert view.line.text() == ""
    hand.qtbot.waitUntil(lambda: not hand.work.busy)


def rows(which: QListWidget) -> list[str]:
    return [which.item(n).text() for n in range(which.count())]


def begun(hand: Hand) -> CountView:
    """Begin a count from the empty table of counts, and open the view to tick in."""
    hand.go(2)
    hand.click("tab.counts")
    hand.click("first")
    assert "4 things" in [one.text() for one in hand.form.findChildren(QLabel)]
    hand.do()
    assert hand.sheet.sheet.subject is Subject.STOCK_TAKE
    hand.click("count", hand.sheet)
    view = hand.place.side.top
    assert isinstance(view, CountView)
    return view


def test_a_count_from_its_beginning_to_its_paper(hand: Hand, shop: Shop) -> None:
    view = begun(hand)
    assert view.line.hasFocus()
    assert [row[:7] for row in rows(view.left_list)] == ["No. 001", "No. 002", "No. 003", "No. 004"]

    # Three codes at once: none is lost, and each is done in its turn.
    scan(hand, view, "No. 001", "em b 17", "2")
    # At one and the same instant, as here, the order is that of their numbers.
    assert [row[:7] for row in rows(view.seen_list)] == ["No. 004", "No. 002", "No. 001"]
    assert [row[:7] for row in rows(view.left_list)] == ["No. 003"]
    assert view.said.text() == "No. 002 violin: seen."
    assert view.said.accessibleName() == view.said.text()
    assert view.said.property("tone") == "moss"
    assert view.line.hasFocus()

    scan(hand, view, "2")
    assert (view.said.text(), view.said.property("tone")) == ("No. 002 violin is ticked already.", "ochre")
    scan(hand, view, "5")
    assert "not expected here, and noted as met. By the books: handed over." in view.said.text()
    assert "not expected" in rows(view.seen_list)[0]

    scan(hand, view, "no such thing")
    assert view.said.text() == "Nothing in this ledger has the number or serial “no such thing”."
    assert view.said.property("tone") == "madder"
    assert view.note_button.isVisible()
    hand.click("note_unlisted", view)
    assert hand.form.grid.cells["what"].input.take([]) == "no such thing"
    hand.write("what", "a bow without a frog")
    hand.do()
    assert hand.place.side.top is view
    assert view.line.hasFocus()
    assert not view.note_button.isVisible()

    hand.click("end_count", view)
    form = hand.form
    assert any("Missing: No. 003 violin" in one.text() for one in form.findChildren(QLabel))
    hand.do()
    page = hand.sheet.sheet
    assert (page.subject, page.groups[0].title) == (Subject.STOCK_TAKE, "Missing")
    assert [fact.label for fact in page.groups[0].facts] == ["No. 003"]
    assert len(page.papers) == 1
    hand.click(f"paper.{page.papers[0].id}", hand.sheet)
    assert hand.place.side.top.objectName() == "paper"
    with shop.ledger.read() as reading:
        count = count_of(reading, page.id)
    assert (len(count.seen), len(count.missing), len(count.unexpected)) == (3, 1, 1)
    assert count.note == "Met, in no book: a bow without a frog"
    assert prove(shop.ledger.where) == []


def test_by_keys_alone_a_thing_is_ticked_and_the_tick_taken_back(hand: Hand) -> None:
    view = begun(hand)
    hand.qtbot.keyClick(view.line, Qt.Key.Key_Tab)
    assert view.left_list.hasFocus()
    hand.qtbot.keyClick(view.left_list, Qt.Key.Key_Down)
    hand.qtbot.keyClick(view.left_list, Qt.Key.Key_Return)
    hand.qtbot.waitUntil(lambda: not hand.work.busy)
    assert [row[:7] for row in rows(view.seen_list)] == ["No. 002"]
    hand.qtbot.keyClick(view.left_list, Qt.Key.Key_Tab)
    assert view.seen_list.hasFocus()
    hand.qtbot.keyClick(view.seen_list, Qt.Key.Key_Return)
    hand.qtbot.waitUntil(lambda: not hand.work.busy)
    assert rows(view.seen_list) == []
    assert view.said.text() == "No. 002 violin: the tick is taken back."
    # Return where nothing is marked, and a scanner used while a list has the keyboard.
    hand.qtbot.keyClick(view.seen_list, Qt.Key.Key_Return)
    hand.qtbot.keyClick(view.seen_list, Qt.Key.Key_3)
    assert view.line.hasFocus()
    hand.qtbot.keyClick(view.line, Qt.Key.Key_Return)
    hand.qtbot.waitUntil(lambda: not hand.work.busy)
    assert [row[:7] for row in rows(view.seen_list)] == ["No. 003"]
    hand.qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert hand.sheet.sheet.subject is Subject.STOCK_TAKE
    assert hand.sheet.sheet.standing.endswith("1 of 4 seen, 3 to go.")


def test_nothing_and_nonsense_tick_nothing(hand: Hand, shop: Shop) -> None:
    view = begun(hand)
    scan(hand, view, "", "   ")
    assert view.said.text() == " "
    for code in ("0", "26-0001-0", "=1+1", "9" * 350, "x" * 5000):
        view.line.setText(code)
        hand.qtbot.keyClick(view.line, Qt.Key.Key_Return)
        hand.qtbot.waitUntil(lambda: not hand.work.busy)
        assert view.said.property("tone") == "madder"
        assert "fault of the program" not in view.said.text()
    assert view.line.text() == ""
    assert rows(view.seen_list) == []
    with shop.ledger.read() as reading:
        assert count_of(reading, view.count_id).unexpected == ()


def test_everything_has_a_name(hand: Hand) -> None:
    view = begun(hand)
    for widget in (view, view.line, view.left_list, view.seen_list, view.note_button):
        assert widget.accessibleName(), widget.objectName()


def test_a_count_that_somebody_else_ended_takes_no_more(hand: Hand, shop: Shop, qtbot: QtBot) -> None:
    view = begun(hand)
    act = shop.act("end_count")
    assert act is not None
    form = act.form(op_id="another", on=shop.ledger.today(), stock_take_id=view.count_id)
    shop.do(shop.ledger, act, form)
    scan(hand, view, "1")
    assert "ended on" in view.said.text()
    hand.click("end_count", view)
    opened = hand.place.side.top
    assert isinstance(opened, ActForm)
    qtbot.keyClick(opened, Qt.Key.Key_Escape)
    assert hand.place.side.top is not view


def test_the_queue_is_the_windows_own(hand: Hand, work: Work) -> None:
    assert begun(hand).work is work
