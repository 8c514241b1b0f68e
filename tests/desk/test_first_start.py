"""The first start makes a ledger from four answers; what stands against opening one is a page in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from shopledger.desk.first_start import Answers, FirstStart
from shopledger.desk.palette import DARK, LIGHT, Scheme, colours
from shopledger.desk.remembered import Remembered
from shopledger.desk.start import House
from shopledger.desk.window import Frame
from shopledger.desk.wiring import wire
from shopledger.store.ledger import open_ledger


@pytest.fixture
def house(qtbot: QtBot, tmp_path: Path) -> Iterator[House]:
    made = House(Remembered(tmp_path / "window.json"), wire, tmp_path)
    qtbot.addWidget(made)
    made.show()
    yield made
    made.close()


def questions(house: House) -> FirstStart:
    page = house.page
    assert isinstance(page, FirstStart)
    return page


def click(qtbot: QtBot, house: House, name: str) -> None:
    found = house.findChild(QPushButton, name)
    assert isinstance(found, QPushButton), name
    qtbot.mouseClick(found, Qt.MouseButton.LeftButton)


def test_four_answers_make_a_ledger_and_the_next_start_opens_it(
    qtbot: QtBot, house: House, tmp_path: Path
) -> None:
    house.begin(None)
    page = questions(house)
    qtbot.keyClicks(page.name, "Saltmere Strings")
    qtbot.keyClicks(page.address, "3 Ropewalk")
    page.currency.clear()
    qtbot.keyClicks(page.currency, "usd")
    qtbot.keyClick(page.tax, Qt.Key.Key_Down)
    qtbot.keyClicks(page.rate, "8.25%")
    with qtbot.waitSignal(house.work.ended):
        click(qtbot, house, "make")
    assert isinstance(house.page, Frame)
    assert house.windowTitle().startswith("Saltmere Strings")
    house.close()
    with open_ledger(tmp_path / "shop.ledger") as ledger:
        assert ledger.currency == "USD"
        with ledger.read() as reading:
            assert reading.shop().tax_scheme == "sales_tax"
    again = House(Remembered(tmp_path / "window.json"), wire, tmp_path)
    qtbot.addWidget(again)
    again.begin(None)
    assert isinstance(again.page, Frame)
    again.close()


def test_each_wrong_answer_is_told_where_it_stands(qtbot: QtBot, house: House) -> None:
    house.begin(None)
    page = questions(house)

    def told(name: str) -> str:
        said = page.findChild(QLabel, f"error.{name}")
        assert isinstance(said, QLabel)
        return "" if said.isHidden() else said.text()

    click(qtbot, house, "make")
    assert told("name") == "The shop's name is missing: it stands on every paper."
    qtbot.keyClicks(page.name, "Saltmere Strings")
    page.currency.setText("EUX")
    click(qtbot, house, "make")
    assert told("name") == ""
    assert "EUX" in told("currency")
    page.currency.setText("EUR")
    page.tax.setCurrentIndex(1)
    page.on_tax_chosen()
    page.rate.setText("a fifth")
    click(qtbot, house, "make")
    assert told("tax_rate") != ""
    assert page.name.text() == "Saltmere Strings"


def test_a_ledger_that_is_there_already_is_not_overwritten(
    qtbot: QtBot, house: House, tmp_path: Path
) -> None:
    (tmp_path / "shop.ledger").write_text("something else", encoding="utf-8")
    house.begin(None)
    page = questions(house)
    qtbot.keyClicks(page.name, "Saltmere Strings")
    with qtbot.waitSignal(house.work.ended):
        click(qtbot, house, "make")
    assert questions(house) is page
    assert "is there already" in page.error.text()
    assert (tmp_path / "shop.ledger").read_text(encoding="utf-8") == "something else"


def test_answers_carry_what_a_ledger_needs(qtbot: QtBot, tmp_path: Path) -> None:
    page = FirstStart(tmp_path)
    qtbot.addWidget(page)
    page.name.setText(" Saltmere Strings ")
    page.tax.setCurrentIndex(3)
    page.on_tax_chosen()
    page.rate.setText("1/5")
    answers = page.answers()
    assert isinstance(answers, Answers)
    assert (answers.name, answers.tax_scheme, answers.tax_rate) == (
        "Saltmere Strings",
        "margin",
        Fraction(1, 5),
    )
    assert answers.where == tmp_path / "shop.ledger"


@pytest.mark.parametrize("content", [None, b"", b"no ledger at all" * 400])
def test_what_cannot_be_opened_is_a_page_in_words(
    qtbot: QtBot, house: House, tmp_path: Path, content: bytes | None
) -> None:
    where = tmp_path / "other.ledger"
    if content is not None:
        where.write_bytes(content)
    house.begin(str(where))
    said = house.findChild(QLabel, "said")
    assert isinstance(said, QLabel)
    assert "other.ledger" in said.text()
    assert "Traceback" not in said.text()
    click(qtbot, house, "new")
    assert isinstance(house.page, FirstStart)


def test_the_chosen_scheme_is_kept(qtbot: QtBot, house: House, tmp_path: Path) -> None:
    house.on_scheme_chosen(Scheme.DARK)
    assert colours() is DARK
    assert House(Remembered(tmp_path / "window.json"), wire, tmp_path).scheme is Scheme.DARK
    house.on_scheme_chosen(Scheme.LIGHT)
    assert colours() is LIGHT


def test_a_damaged_memory_is_as_good_as_none(tmp_path: Path) -> None:
    for content in ("", "[1, 2]", '{"ledger": 5}', "\x00"):
        (tmp_path / "window.json").write_text(content, encoding="utf-8")
        assert Remembered(tmp_path / "window.json").word("ledger") == ""
    kept = Remembered(tmp_path / "no" / "such" / "window.json")
    kept.keep("ledger", "here")
    assert Remembered(tmp_path / "no" / "such" / "window.json").word("ledger") == "here"
