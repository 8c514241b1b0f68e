"""A trial by clicking and typing: a cello and a bow go out, the bow is kept, the cello comes back with a new scratch.

The deposit of 300.00 is the player's money, never income; when the bow is sold, 900.00 less 300.00 leave 600.00 to pay.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from shopledger.desk.line_input import LineInput
from shopledger.desk.paper_view import PaperView
from shopledger.desk.shop import Shop
from shopledger.queries.accounts import balances
from shopledger.queries.shapes import Subject
from shopledger.store.prove import prove
from tests.helpers.hand import Hand, hand
from tests.papers.reading_back import in_order, text_of

__all__ = ["hand"]

OWNER, PLAYER = "Ottilie Brandvik", "Tomas Verrill"


def test_a_bow_is_kept_and_a_cello_comes_back_scratched(hand: Hand, shop: Shop) -> None:
    consign_a_cello(hand)
    take_in_a_bow(hand)
    lend(hand)
    # A deposit is owed to the player; nothing is earned by it. The bank paid 300.00 for the bow and got as much.
    assert balances_of(shop) == {"deposits": -30000, "stock": 30000}
    keep_the_bow(hand)
    take_the_cello_back(hand)
    read_the_papers_back(hand)
    sell_the_bow(hand)
    pay_the_rest(hand)
    assert "deposits" not in balances_of(shop)
    assert prove(shop.ledger.where) == []


def balances_of(shop: Shop) -> dict[str, int]:
    """Give every account that is not nought."""
    with shop.ledger.read() as reading:
        return {code: minor for code, minor in balances(reading).items() if minor}


def consign_a_cello(hand: Hand) -> None:
    hand.go(2)
    hand.click("first")
    hand.choose("instrument.kind", "cello")
    hand.write("instrument.maker", "the shop")
    hand.choose("stay.reason", "to_sell")
    hand.add_row("owners")
    hand.pick("owners[0].person_id", OWNER)
    hand.do()
    hand.do()
    hand.act("agree_terms")
    hand.write("terms.asking", "12,000.00")
    hand.write("terms.commission_rate", "20%")
    hand.write("signed_by", OWNER)
    hand.do()
    # Its agreement doesn't allow trials: nothing can be lent before an addendum does.
    assert "lend_on_trial" not in {act.name for act in hand.sheet.acts}
    hand.act("add_addendum")
    hand.tick("terms.trials_allowed")
    hand.write("signed_by", OWNER)
    hand.do()
    assert "lend_on_trial" in {act.name for act in hand.sheet.acts}


def take_in_a_bow(hand: Hand) -> None:
    hand.click("act.take_in")
    hand.choose("instrument.kind", "bow")
    hand.choose("stay.reason", "own")
    hand.write("cost", "300.00")
    hand.write("asking", "900.00")
    hand.do()


def lend(hand: Hand) -> None:
    hand.place.select(Subject.INSTRUMENT, 1)
    hand.act("lend_on_trial")
    hand.pick("trial.person_id", PLAYER)
    hand.do()
    hand.write("trial.insurance", "Her own, seen")
    hand.choose("trial.carriage_by", "shop")
    hand.say("lines[0].condition_out", "An old scratch on the back")
    hand.add_row("lines")
    hand.pick("lines[1].instrument_id", "bow")
    hand.write("lines[1].value", "900.00")
    hand.write("deposit", "300.00")
    hand.tick("cleared")
    # Without an end nothing goes out.
    form = hand.form
    hand.qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    error = form.findChild(QLabel, "error.trial.due_on")
    assert isinstance(error, QLabel)
    assert error.text() == "Back by is missing: it has to be given."
    hand.write("trial.due_on", "18 Jan 2027")
    hand.form.flush_preview()
    assert in_order(hand.form.preview.words, "12,900.00", f"Deposit, held for {PLAYER}", "300.00")
    hand.do()


def keep_the_bow(hand: Hand) -> None:
    assert hand.sheet.sheet.subject is Subject.TRIAL
    hand.act("decide_to_buy")
    hand.write("lines", "2")
    hand.do()


def take_the_cello_back(hand: Hand) -> None:
    hand.act("take_trial_back")
    assert hand.input("lines", LineInput).line.text() == "1"
    hand.say("condition_back", "A new scratch on the top; Mr Verrill saw it")
    hand.add_row("marks")
    hand.write("marks[0].part", "top")
    hand.write("marks[0].term", "scratch")
    hand.choose("marks[0].severity", "slight")
    hand.do()


def read_the_papers_back(hand: Hand) -> None:
    found = {}
    for paper in hand.sheet.sheet.papers:
        hand.click(f"paper.{paper.id}", hand.sheet)
        view = hand.place.side.top
        assert isinstance(view, PaperView)
        view.grab()
        found[paper.title] = text_of(view.content)
        hand.qtbot.keyClick(view.pages, Qt.Key.Key_Escape)
    agreement = found["Trial agreement"]
    assert in_order(
        agreement, PLAYER, "18 Jan 2027", "Cello", "An old scratch on the back", "12,000.00", "Bow", "900.00"
    )
    assert in_order(
        agreement, "borne by the player", "Her own, seen", "Carriage is paid by the shop", "€300.00"
    )
    assert in_order(found["Receipt for payment"], PLAYER, "300.00")
    back = found["Receipt back from a trial"]
    assert in_order(back, "What came back", "A new scratch on the top", "To be bought", "Bow", "€300.00")


def sell_the_bow(hand: Hand) -> None:
    hand.act("sell_kept")
    assert hand.input("lines[0].price", LineInput).line.text() == "900.00"
    hand.choose("tax_scheme", "none")
    hand.input("tax_rate", LineInput).line.clear()
    hand.form.flush_preview()
    assert "600.00" in hand.form.preview.words
    hand.do()
    assert hand.place.name == "sales"


def pay_the_rest(hand: Hand) -> None:
    hand.act("take_payment")
    assert hand.input("amount", LineInput).line.text() == "600.00"
    hand.choose("method", "card")
    hand.tick("cleared")
    hand.do()
    place = hand.go(2)
    hand.click("tab.trials")
    hand.click("view.back")
    assert place.pane.count.text() == "1 row"
