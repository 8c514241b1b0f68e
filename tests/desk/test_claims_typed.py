"""A claim number with a slip, wherever one is typed: it is caught, and nothing is taken for another job."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from shopledger.acts import act, do, new_op_id
from shopledger.desk.form import ActForm
from shopledger.desk.goto import GoTo
from shopledger.desk.shop import Shop
from shopledger.queries.shapes import Subject
from tests.desk.conftest import settle
from tests.helpers.hand import Hand, hand

__all__ = ["hand"]


@pytest.fixture
def job(shop: Shop) -> int:
    form = act("open_job").form(
        op_id=new_op_id(),
        on=shop.ledger.today(),
        by="the maker",
        client={"name": "Marit Oosterlo"},
        instrument={"kind": "cello"},
        hears="it buzzes",
    )
    return do(shop.ledger, act("open_job"), form).id


def number_of(hand: Hand, job: int) -> str:
    hand.frame.open_subject(Subject.JOB, job)
    settle()
    return hand.sheet.sheet.title.split()[0]


def slips(claim: str) -> list[str]:
    """Give a number with one digit wrong, and with two neighbours that changed places."""
    wrong = claim[:-1] + str((int(claim[-1]) + 3) % 10)
    # The two digits of the year differ, until 2033.
    return [wrong, claim[1] + claim[0] + claim[2:]]


def typed_into(hand: Hand, words: str) -> GoTo:
    hand.frame.on_goto_wanted()
    hand.qtbot.keyClicks(hand.frame.goto.line, words)
    return hand.frame.goto


def test_the_line_to_go_anywhere_leads_to_the_job_or_says_that_there_is_a_slip(hand: Hand, job: int) -> None:
    claim = number_of(hand, job)
    hand.go(2)
    for slip in slips(claim):
        goto = typed_into(hand, slip)
        assert (
            goto.list.item(0).text().startswith(f"{slip} has a slip: its last digit doesn't fit the others")
        )
        hand.qtbot.keyClick(goto.line, Qt.Key.Key_Return)
        assert hand.place.name == "stock"
        hand.qtbot.keyClick(goto.line, Qt.Key.Key_Escape)
    goto = typed_into(hand, claim.replace("-", ""))
    assert goto.list.item(0).text().startswith(f"{claim} Marit Oosterlo")
    hand.qtbot.keyClick(goto.line, Qt.Key.Key_Return)
    assert hand.place.name == "workshop"
    assert hand.place.side.subject == (Subject.JOB, job)


def test_the_list_of_jobs_says_that_there_is_a_slip_and_finds_none(hand: Hand, job: int) -> None:
    claim = number_of(hand, job)
    pane = hand.place.pane
    for slip in slips(claim):
        pane.search.setText(slip)
        pane.flush()
        assert pane.count.text() == "0 rows"
        said = [one.text() for one in pane.findChildren(QLabel) if one.isVisible()]
        assert any(words.startswith(f"{slip} has a slip") for words in said), said
    pane.search.setText(claim)
    pane.flush()
    assert pane.count.text() == "1 row"


@pytest.mark.parametrize("name", ["open_job", "change_job"])
def test_the_earlier_job_of_a_warranty_is_refused_at_its_field(hand: Hand, job: int, name: str) -> None:
    claim = number_of(hand, job)
    if name == "open_job":
        hand.click("act.open_job")
        hand.write("client.name", "Odo Vail")
        hand.choose("instrument.kind", "cello")
        hand.say("hears", "it buzzes again")
    else:
        hand.act(name)
    for slip in slips(claim):
        hand.write("earlier_claim", slip)
        form = hand.form
        hand.qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
        hand.qtbot.waitUntil(lambda: not hand.work.busy)
        assert isinstance(hand.place.side.top, ActForm)
        error = form.findChild(QLabel, "error.earlier_claim")
        assert isinstance(error, QLabel)
        assert error.text().startswith(f"{slip} has a slip")
