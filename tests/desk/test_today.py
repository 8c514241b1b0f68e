"""The page of the day by mouse and keyboard: a line opens its thing, its button the act, and what is done is gone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from shopledger.desk.form import ActForm
from shopledger.desk.palette import Scheme
from shopledger.desk.place import Place
from shopledger.desk.settings import Settings
from shopledger.desk.today import Today
from shopledger.desk.window import Frame
from shopledger.desk.wiring import wire
from shopledger.desk.work import Work
from shopledger.queries.shapes import Subject
from tests.helpers.shops import TriedShop


@pytest.fixture
def shop(file_place: Path) -> Iterator[TriedShop]:
    tried = TriedShop(file_place)
    yield tried
    tried.ledger.close()


@pytest.fixture
def frame(qtbot: QtBot, shop: TriedShop, work: Work) -> Iterator[Frame]:
    made = Frame(wire(shop.ledger), work, Scheme.LIGHT)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    yield made
    work.close()


def page(frame: Frame) -> Today:
    made = frame.show_place("today")
    assert isinstance(made, Today)
    return made


def said(made: Today) -> str:
    label = made.findChild(QLabel, "today.said")
    assert label is not None
    return label.text()


def test_a_line_opens_its_thing_and_its_button_the_act(qtbot: QtBot, shop: TriedShop, frame: Frame) -> None:
    cello = shop.consigned()
    sale = shop.sold(cello)
    today = page(frame)
    today.read()
    assert said(today) == "2 things need you, the gravest first."
    (row, _copy) = today.rows
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert isinstance(frame.shown, Place)
    assert frame.shown.side.subject == (Subject.SALE, sale)
    page(frame)
    button = today.findChild(QPushButton, f"due_act.take_payment.{sale}")
    assert button is not None
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert isinstance(frame.shown, Place)
    form = frame.shown.side.currentWidget().findChild(ActForm) or frame.shown.side.currentWidget()
    assert isinstance(form, ActForm)
    assert form.act.name == "take_payment"


def test_every_button_has_room_for_its_words(shop: TriedShop, frame: Frame) -> None:
    shop.sold(shop.consigned())
    today = page(frame)
    today.read()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    QCoreApplication.processEvents()
    ends = [made for made in today.findChildren(QPushButton) if made.objectName().startswith("due_act.")]
    assert "Note a copy of the ledger" in [made.text() for made in ends]
    assert len(ends) > 1
    assert [made.text() for made in ends if made.width() < made.sizeHint().width()] == []
    assert len({made.mapTo(today, made.rect().topLeft()).x() for made in ends}) == 1


def test_an_act_that_is_no_longer_possible_leaves_the_thing_shown(
    qtbot: QtBot, shop: TriedShop, frame: Frame
) -> None:
    sale = shop.sold(shop.consigned())
    today = page(frame)
    today.read()
    shop.pay(sale)
    button = today.findChild(QPushButton, f"due_act.take_payment.{sale}")
    assert button is not None
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert isinstance(frame.shown, Place)
    assert frame.shown.side.subject == (Subject.SALE, sale)
    assert frame.shown.side.findChild(ActForm) is None


def test_the_arrows_go_from_line_to_line_and_the_space_bar_opens(
    qtbot: QtBot, shop: TriedShop, frame: Frame
) -> None:
    sale = shop.sold(shop.consigned())
    today = page(frame)
    today.read()
    qtbot.keyClick(today, Qt.Key.Key_Down)
    assert today.rows[0].hasFocus()
    qtbot.keyClick(today.rows[0], Qt.Key.Key_Down)
    assert today.rows[1].hasFocus()
    qtbot.keyClick(today.rows[1], Qt.Key.Key_Down)
    qtbot.keyClick(today.rows[1], Qt.Key.Key_Up)
    assert today.rows[0].hasFocus()
    qtbot.keyClick(today.rows[0], Qt.Key.Key_Space)
    assert isinstance(frame.shown, Place)
    assert frame.shown.side.subject == (Subject.SALE, sale)


def test_the_copy_is_noted_in_settings_and_the_line_is_gone(
    qtbot: QtBot, shop: TriedShop, frame: Frame
) -> None:
    today = page(frame)
    button = today.findChild(QPushButton, "due_act.note_copy.0")
    assert button is not None
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    place = frame.shown
    assert isinstance(place, Settings)
    form = place.side.currentWidget()
    assert isinstance(form, ActForm)
    where = form.grid.cells["where_kept"].input
    qtbot.keyClicks(where.line, "a disk at Una's")  # type: ignore[attr-defined]
    qtbot.keyClick(where.line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)  # type: ignore[attr-defined]
    qtbot.waitUntil(lambda: place.side.findChild(ActForm) is None)
    assert said(page(frame)).startswith("Nothing waits")
    assert not today.rows
    assert shop.wrong() == []


def test_another_day_brings_its_own(shop: TriedShop, frame: Frame) -> None:
    shop.consigned(ends_on=shop.today + timedelta(days=31))
    shop.act("note_copy", where_kept="a disk")
    today = page(frame)
    today.read()
    assert (today.accessibleName(), today.rows) == ("2 Mar 2026", [])
    frame.show_place("stock")
    shop.pass_days(1)
    page(frame)
    assert today.accessibleName() == "3 Mar 2026"
    assert [row.line.says for row in today.rows] == ["agreement AG 2026-001, 30 days left"]


def test_all_of_many_are_shown_in_their_table(qtbot: QtBot, shop: TriedShop, frame: Frame) -> None:
    for n in range(10):
        shop.consigned(ends_on=shop.today + timedelta(days=n + 1))
    today = page(frame)
    today.read()
    more = today.findChild(QPushButton, "more.agreements")
    assert more is not None
    assert more.text() == "2 more: show all"
    qtbot.mouseClick(more, Qt.MouseButton.LeftButton)
    assert isinstance(frame.shown, Place)
    assert frame.shown.name == "stock"
    assert frame.shown.pane.view.model().rowCount() == 10


def test_a_line_says_all_it_shows_to_whoever_hears_it(shop: TriedShop, frame: Frame) -> None:
    shop.sold(shop.consigned())
    today = page(frame)
    today.read()
    row = today.rows[0]
    assert row.accessibleName().endswith("owed by Tam Brine, 2 Mar 2026, 10,000.00")
