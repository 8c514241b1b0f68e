"""A repair by clicking and typing, from the counter to collection, its five papers read back from their files.

Estimated: two hours at 72.00 are 144.00, a bridge blank 38.00, tax of 8.25 % by line 11.88 and 3.14 (3.135 rounded
half up), so 197.02, which is approved. Another hour of work, 72.00 and 5.94 of tax, brings it to 274.96 and is refused
until a second approval. 50.00 were deposited and 100.00 are paid by card, so that 124.96 are left for the counter.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from shopledger.desk.line_input import LineInput
from shopledger.desk.paper_view import PaperView
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.queries.shapes import Subject
from shopledger.store.prove import prove
from tests.helpers.hand import Hand, hand
from tests.papers.reading_back import in_order, text_of

__all__ = ["hand"]

CLIENT = "Marit Oosterlo"


def test_from_the_counter_to_collection(hand: Hand, shop: Shop) -> None:
    stock_a_part(hand)
    take_in(hand)
    estimate(hand)
    approve(hand, "197.02")
    bill_more_than_approved(hand)
    approve(hand, "280.00")
    use_the_part(hand)
    bill(hand)
    pay_in_part(hand)
    collect(hand)
    read_the_papers_back(hand)
    assert prove(shop.ledger.where) == []


def stock_a_part(hand: Hand) -> None:
    hand.go(3)
    hand.click("tab.goods")
    hand.click("first")
    hand.write("goods.what", "Bridge blank, cello")
    hand.choose("goods.sort", "part")
    hand.write("goods.price", "38.00")
    hand.do()
    hand.act("receive_goods")
    hand.write("quantity", "3")
    hand.write("cost", "45.00")
    hand.do()


def take_in(hand: Hand) -> None:
    hand.click("tab.jobs")
    hand.click("first")
    assert hand.form.act.name == "open_job"
    hand.write("client.name", CLIENT)
    hand.write("client.phone", "555-0142")
    hand.choose("instrument.kind", "cello")
    hand.write("instrument.maker", "the shop")
    hand.say("came_with", "Hard case")
    hand.say("hears", "The A is thin and it buzzes")
    hand.write("deposit", "50.00")
    hand.tick("cleared")
    hand.do()
    assert CLIENT in hand.sheet.sheet.line
    assert hand.sheet.sheet.state is not None
    assert hand.sheet.sheet.state.code == "to_estimate"
    assert hand.place.pane.count.text() == "1 row"


def estimate(hand: Hand) -> None:
    hand.act("estimate_job")
    hand.write("hourly_rate", "72")
    hand.write("tax_rate", "8.25%")
    if hand.form.grid.cell_at("lines[0].what") is None:
        hand.add_row("lines")
    hand.write("lines[0].what", "New bridge, cut and fitted")
    hand.write("lines[0].minutes", "120")
    hand.add_row("lines")
    hand.pick("lines[1].goods_id", "bridge")
    hand.choose("lines[1].kind", "part")
    hand.form.flush_preview()
    assert "197.02" in hand.form.preview.words
    hand.do()
    assert hand.sheet.sheet.state is not None
    assert hand.sheet.sheet.state.code == "waits_for_client"


def approve(hand: Hand, up_to: str) -> None:
    hand.act("approve_job")
    hand.write("given_by", CLIENT)
    hand.choose("how", "telephone")
    hand.write("up_to", up_to)
    hand.do()


def bill_more_than_approved(hand: Hand) -> None:
    hand.act("record_time")
    hand.write("minutes", "180")
    hand.write("what", "Bridge, and the fingerboard under it")
    hand.do()
    hand.act("mark_ready")
    hand.do()
    fill_the_bill(hand)
    form = hand.form
    hand.qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    hand.qtbot.waitUntil(lambda: not hand.work.busy)
    # The form stays with all that was typed, and says what was approved and what the bill comes to.
    assert hand.form is form
    said = [
        one.text() for one in form.findChildren(QLabel) if "error" in one.objectName() and one.isVisible()
    ]
    assert len(said) == 1
    assert "197.02" in said[0]
    assert "274.96" in said[0]
    assert hand.input("lines[2].amount", LineInput).line.text() == "72.00"
    hand.click("leave")
    hand.click("drop")
    assert isinstance(hand.place.side.top, SheetView)
    hand.act("back_to_bench")
    hand.do()


def fill_the_bill(hand: Hand) -> None:
    """Add the further hour to the lines that come from the estimate and from the work done."""
    hand.act("bill_job")
    hand.write("tax_rate", "8.25%")
    assert hand.input("lines[1].amount", LineInput).line.text() == "38.00"
    hand.add_row("lines")
    hand.write("lines[2].what", "Fingerboard dressed")
    hand.write("lines[2].minutes", "60")
    hand.write("lines[2].amount", "72.00")


def use_the_part(hand: Hand) -> None:
    hand.act("use_part")
    hand.pick("goods_id", "bridge")
    hand.do()
    hand.act("mark_ready")
    hand.do()
    assert hand.sheet.sheet.state is not None
    assert hand.sheet.sheet.state.code == "ready"


def bill(hand: Hand) -> None:
    fill_the_bill(hand)
    hand.form.flush_preview()
    assert "274.96" in hand.form.preview.words
    assert "224.96" in hand.form.preview.words
    hand.do()
    assert hand.place.name == "workshop"
    assert "take_back_bill" in {act.name for act in hand.sheet.acts}


def pay_in_part(hand: Hand) -> None:
    place = hand.go(4)
    place.pane.view.choose(place.pane.rows.ids[0])
    hand.act("take_payment")
    assert hand.input("amount", LineInput).line.text() == "224.96"
    hand.write("amount", "100.00")
    hand.choose("method", "card")
    hand.tick("cleared")
    hand.do()


def collect(hand: Hand) -> None:
    place = hand.go(3)
    assert place.pane.table.subject is Subject.JOB
    hand.act("collect_job")
    hand.write("handed_to", CLIENT)
    hand.say("condition_out", "As it came, with a new bridge")
    hand.write("amount", "124.96")
    hand.tick("cleared")
    hand.do()
    # It stays in sight, and stands among those that were collected and no longer among the open ones.
    assert hand.sheet.sheet.state is not None
    assert hand.sheet.sheet.state.code == "collected"
    for view, rows in (("open", "0 rows"), ("collected", "1 row")):
        hand.click(f"view.{view}")
        assert place.pane.count.text() == rows


def read_the_papers_back(hand: Hand) -> None:
    papers = papers_of(hand)
    said = dict(papers)
    assert len(said) == 5
    claim = hand.sheet.sheet.title.split()[0]
    assert in_order(said["Claim ticket"], claim, CLIENT)
    assert in_order(
        said["Estimate"], "New bridge, cut and fitted", "144.00", "Bridge blank, cello", "38.00", "197.02"
    )
    assert in_order(
        said["Invoice for work"], CLIENT, "144.00", "38.00", "72.00", "20.96", "274.96", "50.00", "224.96"
    )
    receipts = [text for title, text in papers if title == "Receipt for payment"]
    for text, amount in zip(receipts, ("124.96", "100.00", "50.00"), strict=True):
        assert in_order(text, CLIENT, amount)
    collection = said["Collection"]
    assert CLIENT in collection
    assert claim in collection
    assert "As it came, with a new bridge" in collection


def papers_of(hand: Hand) -> list[tuple[str, str]]:
    """Open each paper of the job, as a user does, and give its title with its words as they stand in the file."""
    found = []
    for paper in hand.sheet.sheet.papers:
        assert paper.issued
        hand.click(f"paper.{paper.id}", hand.sheet)
        view = hand.place.side.top
        assert isinstance(view, PaperView)
        view.grab()
        found.append((paper.title, text_of(view.content)))
        hand.qtbot.keyClick(view.pages, Qt.Key.Key_Escape)
    return found
