"""Two condition reports side by side in the window: reached by keys, each with its pins, and what changed."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from shopledger.acts import act, do, new_op_id
from shopledger.acts.conditions import MarkRow
from shopledger.acts.declare import Outcome
from shopledger.desk.condition_view import ConditionView
from shopledger.desk.photograph_view import PhotographView
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.queries.shapes import Subject
from shopledger.rules.condition import Change
from tests.desk.conftest import settle
from tests.helpers.hand import Hand, hand
from tests.helpers.photographs import photograph

__all__ = ["hand"]


def acted(shop: Shop, name: str, *, days_ago: int = 0, **inputs: object) -> Outcome:
    made, on = act(name), shop.ledger.today() - timedelta(days=days_ago)
    return do(shop.ledger, made, made.form(op_id=new_op_id(), on=on, by="the maker", **inputs))


@pytest.fixture
def cello(shop: Shop) -> int:
    return acted(
        shop,
        "take_in",
        days_ago=9,
        instrument={"kind": "cello", "maker": "Ansel Quill"},
        stay={"reason": "own"},
    ).id


@pytest.fixture
def job(shop: Shop, cello: int) -> int:
    client = acted(shop, "add_person", person={"name": "Orla Fenn"}).id
    return acted(shop, "open_job_here", instrument_id=cello, client_id=client, hears="A crack").id


def report(
    shop: Shop, cello: int, *marks: MarkRow, days_ago: int, shades: tuple[int, ...] = (), **known: object
) -> None:
    pictures = tuple(photograph(width=160, height=120, shade=shade) for shade in shades)
    acted(
        shop, "make_report", days_ago=days_ago, instrument_id=cello, marks=marks, pictures=pictures, **known
    )


@pytest.fixture
def two(shop: Shop, cello: int) -> int:
    report(
        shop,
        cello,
        MarkRow(part="top", term="crack", severity="slight", note="6 cm", picture=2, x=2500, y=5000),
        MarkRow(part="back", term="wear"),
        MarkRow(part="nut", term="wear"),
        days_ago=9,
        shades=(1, 2),
        occasion="intake",
        light="raking light",
        overall="Sound.",
    )
    report(
        shop,
        cello,
        MarkRow(part="neck", term="dent", picture=1, x=100, y=200),
        MarkRow(part="top", term="crack", severity="grave", note="9 cm", picture=1, x=2600, y=5100),
        MarkRow(part="nut", term="wear"),
        days_ago=5,
        shades=(3,),
        occasion="handover",
    )
    return cello


def opened(hand: Hand, subject: Subject, key: int) -> ConditionView:
    """Go to a page, to the button on it by keys alone, and press it."""
    hand.frame.open_subject(subject, key)
    settle()
    sheet = hand.sheet
    button = sheet.findChild(QPushButton, "reports_beside")
    assert button is not None
    first = next(made for made in sheet.findChildren(QPushButton) if made.isVisible())
    first.setFocus()
    for _step in range(80):
        if button.hasFocus():
            break
        hand.qtbot.keyClick(hand.frame.focusWidget(), Qt.Key.Key_Tab)
    assert button.hasFocus()
    hand.qtbot.keyClick(button, Qt.Key.Key_Space)
    view = hand.place.side.top
    assert isinstance(view, ConditionView)
    assert view.isAncestorOf(hand.frame.focusWidget())
    for side in view.sides:
        hand.qtbot.waitUntil(lambda side=side: not side.shots or side.large.image is not None)
    settle()
    return view


def test_from_the_page_of_the_instrument_both_stand_with_their_pins_and_what_changed(
    hand: Hand, two: int
) -> None:
    view = opened(hand, Subject.INSTRUMENT, two)
    before, after = view.sides
    assert (len(before.shots), len(after.shots)) == (2, 1)
    # It begins with the first photograph that has a pin.
    assert before.at == 1
    assert [n for n, _pin in before.large.pins] == [1]
    assert [n for n, _pin in after.large.pins] == [1, 2]
    assert [(row.part, row.term, row.change) for row in view.pair.rows] == [
        ("top", "crack", Change.GRAVER),
        ("back", "wear", Change.GONE),
        ("neck", "dent", Change.NEW),
        ("nut", "wear", Change.UNCHANGED),
    ]
    one, other = view.pair.before.number, view.pair.after.number
    # What changed stands first; every row says all of it to readers of the screen.
    assert [row.accessibleName() for row in view.rows] == [
        f"Top: crack. {one}: slight: 6 cm. {other}: grave: 9 cm. graver",
        f"Back: wear. {one}: noted. {other}: –. gone",
        f"Neck: dent. {one}: –. {other}: noted. new",
        f"Nut: wear. {one}: noted. {other}: noted. unchanged",
    ]
    assert hand.frame.focusWidget() is before.large


def test_a_mark_points_its_pins_out_on_both_and_turns_to_them(hand: Hand, two: int) -> None:
    view = opened(hand, Subject.INSTRUMENT, two)
    before, after = view.sides
    hand.qtbot.mouseClick(before.earlier_button, Qt.MouseButton.LeftButton)
    assert before.at == 0
    crack, gone = view.rows[0], view.rows[1]
    crack.setFocus()
    hand.qtbot.keyClick(crack, Qt.Key.Key_Space)
    assert (before.at, before.large.pointed_out, after.large.pointed_out) == (1, 1, 2)
    hand.qtbot.mouseClick(gone, Qt.MouseButton.LeftButton)
    assert not crack.isChecked()
    assert (before.large.pointed_out, after.large.pointed_out) == (2, 0)
    hand.qtbot.mouseClick(gone, Qt.MouseButton.LeftButton)
    assert (before.large.pointed_out, after.large.pointed_out) == (0, 0)
    view.grab()


def test_photographs_turn_by_keys_and_open_large_and_come_back_to(hand: Hand, two: int) -> None:
    view = opened(hand, Subject.INSTRUMENT, two)
    before, _after = view.sides
    hand.qtbot.keyClick(before.large, Qt.Key.Key_PageUp)
    assert before.told.text().startswith("Photograph 1 of 2")
    assert not before.earlier_button.isEnabled()
    hand.qtbot.keyClick(before.large, Qt.Key.Key_PageDown)
    assert before.told.text().startswith("Photograph 2 of 2")
    assert not before.later_button.isEnabled()
    hand.qtbot.keyClick(before.large, Qt.Key.Key_Right)
    assert before.at == 1
    assert "Pins on it: 1." in before.large.accessibleDescription()
    hand.qtbot.keyClick(before.large, Qt.Key.Key_Return)
    large = hand.place.side.top
    assert isinstance(large, PhotographView)
    # Keys of a view are heard in the window that is in front, which a test before this one may have taken.
    with hand.qtbot.waitActive(hand.frame):
        hand.frame.activateWindow()
    large.take_keyboard()
    assert (large.n, len(large.shots)) == (1, 2)
    hand.qtbot.keyClick(large.large, Qt.Key.Key_Escape)
    assert hand.place.side.top is view
    assert hand.frame.focusWidget() is before.large
    assert before.at == 1
    hand.qtbot.keyClick(before.large, Qt.Key.Key_Escape)
    assert isinstance(hand.place.side.top, SheetView)


def test_another_report_is_chosen_and_the_earlier_stays_the_earlier(hand: Hand, shop: Shop, two: int) -> None:
    report(shop, two, MarkRow(part="head", term="dent"), days_ago=1)
    view = opened(hand, Subject.INSTRUMENT, two)
    earlier, later = view.boxes
    assert [earlier.itemText(n).split(", ")[1] for n in range(2)] == ["intake", "hand-over"]
    assert (earlier.count(), later.count()) == (2, 1)
    assert later.isEnabled() is False
    assert view.pair.before.number.endswith("002")
    earlier.setFocus()
    hand.qtbot.keyClick(earlier, Qt.Key.Key_Up)
    assert view.pair.before.number.endswith("001")
    assert hand.frame.focusWidget() is view.boxes[0]
    assert view.boxes[1].count() == 2
    assert not view.sides[1].shots
    view.grab()


def test_from_the_page_of_the_job_the_first_of_its_stay_stands_beside_the_newest(
    hand: Hand, shop: Shop, two: int, job: int
) -> None:
    report(shop, two, MarkRow(part="head", term="dent"), days_ago=1)
    view = opened(hand, Subject.JOB, job)
    keys = [key for key, _words in view.pair.reports]
    assert len(keys) == 3
    assert (view.pair.before.id, view.pair.after.id) == (keys[0], keys[2])


def test_one_report_has_nothing_to_stand_beside(hand: Hand, shop: Shop, cello: int) -> None:
    report(shop, cello, MarkRow(part="head", term="dent"), days_ago=1)
    hand.frame.open_subject(Subject.INSTRUMENT, cello)
    settle()
    assert hand.sheet.findChild(QPushButton, "reports_beside") is None


def test_nothing_changed_is_said_and_a_photograph_whose_file_is_gone_too(
    qtbot: QtBot, hand: Hand, shop: Shop, cello: int
) -> None:
    for days_ago in (3, 2):
        report(shop, cello, MarkRow(part="head", term="dent"), days_ago=days_ago, shades=(5,))
    for path in Path(f"{shop.ledger.where}.files").rglob("*"):
        if path.is_file():
            path.chmod(0o600)
            path.unlink()
    view = opened(hand, Subject.INSTRUMENT, cello)
    assert view.pair.changed == ()
    assert len(view.rows) == 1
    assert all(side.large.image is not None and side.large.image.isNull() for side in view.sides)
    view.grab()
