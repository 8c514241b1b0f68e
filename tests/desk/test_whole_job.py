"""The main job by clicking and typing: from an owner's hand to the owner's payout, on a real ledger in a file.

The figures are those of the worked case of the reckoning: asked 12,000.00, sold for 11,250.00 at 20 %, a new bridge of
180.00 at the owner's cost, so 8,820.00 for the owner and 2,250.00 for the shop.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from shopledger.desk.draft_view import DraftView
from shopledger.desk.line_input import LineInput
from shopledger.desk.paper_view import PaperView
from shopledger.desk.picker import PickerInput
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.store.prove import prove
from tests.helpers.hand import Hand, hand

__all__ = ["hand"]


def test_from_the_owners_hand_to_the_owners_payout(hand: Hand, shop: Shop) -> None:
    take_in(hand)
    agree(hand)
    sell(hand)
    take_the_money(hand)
    settle_and_pay(hand)
    open_every_paper(hand)
    assert prove(shop.ledger.where) == []


def take_in(hand: Hand) -> None:
    hand.go(2)
    empty = hand.place.findChild(QLabel, "empty")
    assert isinstance(empty, QLabel)
    assert "from the day they come in" in empty.text()
    hand.click("first")
    hand.choose("instrument.kind", "cello")
    hand.write("instrument.maker", "the shop")
    hand.choose("stay.reason", "to_sell")
    hand.add_row("owners")
    hand.pick("owners[0].person_id", "Ottilie Brandvik")
    # She isn't in the ledger yet: the form for a person lies over this one, with her name in it.
    assert hand.form.act.name == "add_person"
    assert hand.input("person.name", LineInput).line.text() == "Ottilie Brandvik"
    hand.do()
    assert hand.form.act.name == "take_in"
    assert "Ottilie Brandvik" in hand.input("owners[0].person_id", PickerInput).line.text()
    hand.add_row("measures")
    hand.write("measures[0].measure", "string_length")
    hand.write("measures[0].value", "27 1/8 in")
    hand.do()
    assert "No. 001" in hand.sheet.sheet.line
    assert hand.place.pane.count.text() == "1 row"


def agree(hand: Hand) -> None:
    hand.act("agree_terms")
    hand.write("terms.asking", "12,000.00")
    hand.write("terms.commission_rate", "20%")
    hand.write("signed_by", "Ottilie Brandvik")
    hand.form.flush_preview()
    assert "9,600.00" in hand.form.preview.words
    hand.do()


def sell(hand: Hand) -> None:
    hand.act("sell")
    # What a price leaves is said before a buyer is chosen.
    hand.write("lines[0].price", "11000")
    hand.form.flush_preview()
    assert "8,800.00" in hand.form.preview.words
    hand.pick("buyer_id", "Tomas Verrill")
    assert hand.form.act.name == "add_person"
    hand.do()
    hand.choose("tax_scheme", "none")
    hand.input("tax_rate", LineInput).line.clear()
    hand.write("lines[0].price", "11250")
    hand.add_row("costs")
    hand.write("costs[0].what", "new bridge")
    hand.write("costs[0].amount", "18o")
    hand.qtbot.mouseClick(hand.form.bar.do, Qt.MouseButton.LeftButton)
    error = hand.form.findChild(QLabel, "error.costs[0].amount")
    assert isinstance(error, QLabel)
    assert "“18o” is no amount" in error.text()
    hand.write("costs[0].amount", "180")
    # The reckoning stands beside the form while the price is typed.
    hand.form.flush_preview()
    assert "8,820.00" in hand.form.preview.words
    assert "2,250.00" in hand.form.preview.words
    see_the_papers_first(hand)
    hand.do()
    assert hand.place.name == "sales"
    assert "Tomas Verrill" in hand.sheet.sheet.title


def see_the_papers_first(hand: Hand) -> None:
    """The invoice is shown before the sale is made, and nothing typed is lost by looking at it."""
    form = hand.form
    hand.click("show_paper")
    hand.qtbot.waitUntil(lambda: not hand.work.busy)
    view = hand.place.side.top
    assert isinstance(view, DraftView)
    assert [draft.title for draft in view.drafts] == ["Invoice", "Bill of sale"]
    said = view.pages.firsts[0].accessibleDescription()
    assert "Not issued" in said
    assert "11,250.00" in said
    hand.qtbot.keyClick(view.pages, Qt.Key.Key_Escape)
    assert hand.form is form
    assert hand.input("costs[0].amount", LineInput).line.text() == "180"


def take_the_money(hand: Hand) -> None:
    hand.act("take_payment")
    assert hand.input("amount", LineInput).line.text() == "11,250.00"
    hand.do()
    hand.act("clear_payments")
    hand.do()


def settle_and_pay(hand: Hand) -> None:
    hand.act("settle")
    hand.form.flush_preview()
    assert "8,820.00" in hand.form.preview.words
    hand.do()
    hand.go(6)
    hand.click("tab.owners")
    assert hand.place.pane.count.text() == "1 row"
    hand.act("pay_owner")
    assert hand.input("amount", LineInput).line.text() == "8,820.00"
    hand.write("reference", "PAY 1")
    hand.do()
    hand.go(6)
    assert hand.place.pane.count.text() == "0 rows"


def open_every_paper(hand: Hand) -> None:
    opened = set()
    for n in (2, 4, 5):
        place = hand.go(n)
        for subject_id in list(place.pane.rows.ids):
            place.pane.view.choose(subject_id)
            for paper in hand.sheet.sheet.papers:
                assert paper.issued
                hand.click(f"paper.{paper.id}", hand.sheet)
                view = hand.place.side.top
                assert isinstance(view, PaperView)
                assert view.content.startswith(b"%PDF")
                assert len(view.pages.leaves) >= 1
                view.grab()
                opened.add(paper.title)
                hand.qtbot.keyClick(view.pages, Qt.Key.Key_Escape)
                assert isinstance(hand.place.side.top, SheetView)
    assert opened >= {
        "Receipt of intake", "Consignment agreement", "Invoice", "Bill of sale", "Receipt for payment", "Account sales",
        "Payout remittance",
    }  # fmt: skip
