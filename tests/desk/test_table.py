"""A table reads what is looked at: never all rows, however many there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF, QImage
from pytestqt.qtbot import QtBot

from shopledger.desk.columns import Natural, fitted, natural_widths
from shopledger.desk.fonts import TEXT, sans
from shopledger.desk.labels import CELL
from shopledger.desk.pane import Pane
from shopledger.desk.shop import Shop
from shopledger.desk.table import KEPT, PAGE, Rows
from shopledger.desk.table_view import TableView
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.queries.place_states import HERE
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.store.unit import Reading

MANY = 100_000


@dataclass
class Numbers:
    """A table of numbers that keeps account of what was read of it."""

    total: int = MANY
    asked: list[tuple[str, str, str, bool]] = field(default_factory=list)
    pages: list[int] = field(default_factory=list)

    def ids(self, _reading: Reading, view: str, words: str, column: str, descending: bool) -> Sequence[int]:
        self.asked.append((view, words, column, descending))
        if words == "?":
            raise Typed("“{typed}” can't be read here.", typed=words)
        found = range(1, self.total + 1)
        chosen: Sequence[int] = [n for n in found if words in str(n)] if words else found
        return chosen[::-1] if descending else chosen

    def page(self, _reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
        self.pages.append(len(ids))
        return [Row(n, (f"N{n}", "a name that is long " * 4, HERE, Money(n * 100, "EUR"))) for n in ids]

    def table(self) -> Table:
        columns = (
            Column("number", "Number", width=10),
            Column("name", "Name", width=24),
            Column("state", "Where", Kind.CHOICE, sortable=False),
            Column("price", "Price", Kind.MONEY, 10),
        )
        views = (View("all", "All"), View("few", "Few"))
        return Table(
            "numbers",
            Subject.INSTRUMENT,
            columns,
            views,
            self.ids,
            self.page,
            "number",
            empty="Numbers stand here.",
        )


def laid(qtbot: QtBot, shop: Shop, numbers: Numbers) -> Pane:
    pane = Pane(shop, numbers.table(), "Numbers")
    qtbot.addWidget(pane)
    pane.resize(700, 600)
    pane.show()
    pane.read()
    return pane


def test_only_what_is_seen_is_read(qtbot: QtBot, shop: Shop) -> None:
    numbers = Numbers()
    pane = laid(qtbot, shop, numbers)
    pane.grab()
    assert len(numbers.asked) == 1
    assert sum(numbers.pages) <= 2 * PAGE
    pane.view.verticalScrollBar().setValue(pane.view.verticalScrollBar().maximum())
    pane.grab()
    assert sum(numbers.pages) <= 4 * PAGE
    assert pane.view.rows.index(MANY - 1, 0).data() == f"N{MANY}"


def test_pages_that_were_left_are_let_go(qtbot: QtBot, shop: Shop) -> None:
    numbers = Numbers()
    rows = Rows(shop, numbers.table())
    rows.ask()
    for n in range(0, MANY, PAGE * 10):
        assert rows.row(n) is not None
    assert len(rows._pages) == KEPT
    before = len(numbers.pages)
    rows.row(MANY // (PAGE * 10) * PAGE * 10)
    assert len(numbers.pages) == before
    rows.deleteLater()


def test_a_click_on_a_head_asks_for_another_order(qtbot: QtBot, shop: Shop) -> None:
    numbers = Numbers()
    pane = laid(qtbot, shop, numbers)
    head = pane.view.horizontalHeader()

    def click(section: int) -> None:
        where = head.viewport().rect().center()
        where.setX(head.sectionViewportPosition(section) + 20)
        qtbot.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=where)

    click(3)
    assert numbers.asked[-1] == ("all", "", "price", True)
    click(3)
    assert numbers.asked[-1] == ("all", "", "price", False)
    before = len(numbers.asked)
    click(2)
    assert len(numbers.asked) == before
    assert pane.view.current_id() == 1


def test_typing_over_the_table_narrows_it(qtbot: QtBot, shop: Shop) -> None:
    numbers = Numbers()
    pane = laid(qtbot, shop, numbers)
    qtbot.keyClicks(pane.search, "9999")
    pane.flush()
    assert numbers.asked[-1][1] == "9999"
    assert pane.count.text() == "19 rows"
    qtbot.keyClick(pane.search, Qt.Key.Key_Down)
    assert pane.focusWidget() is pane.view
    qtbot.keyClick(pane.search, Qt.Key.Key_Escape)
    assert pane.count.text() == "100000 rows"


def test_words_that_cannot_be_read_leave_the_rows_and_say_why(qtbot: QtBot, shop: Shop) -> None:
    numbers = Numbers()
    pane = laid(qtbot, shop, numbers)
    pane.search.setText("?")
    pane.flush()
    assert pane.count.text() == "“?” can't be read here."
    assert len(pane.rows.ids) == MANY


def test_an_empty_table_says_what_belongs_here(qtbot: QtBot, shop: Shop) -> None:
    pane = laid(qtbot, shop, Numbers(total=0))
    said = pane.findChild(type(pane.count), "empty")
    assert said is not None
    assert said.text() == "Numbers stand here."
    pane.choose_view("few")
    assert "choose another view" in said.text()


def test_amounts_stand_on_the_right_with_their_currency_in_the_head(qtbot: QtBot, shop: Shop) -> None:
    rows = Rows(shop, Numbers(total=3).table())
    rows.ask()
    assert rows.headerData(3, Qt.Orientation.Horizontal) == f"Price, {shop.ledger.currency}"
    assert rows.index(0, 3).data() == "1.00"
    side = rows.index(0, 3).data(Qt.ItemDataRole.TextAlignmentRole)
    assert side & Qt.AlignmentFlag.AlignRight
    assert rows.index(0, 2).data() == "here"
    rows.deleteLater()


def test_a_long_name_keeps_the_table_inside_its_room(qtbot: QtBot, shop: Shop) -> None:
    pane = laid(qtbot, shop, Numbers(total=30))
    pane.grab()
    assert not pane.view.horizontalScrollBar().isVisible()


@pytest.mark.parametrize("scale", [1, 2])
def test_the_table_paints_at_any_scale(qtbot: QtBot, shop: Shop, scale: int) -> None:
    pane = laid(qtbot, shop, Numbers(total=30))
    image = QImage(pane.size() * scale, QImage.Format.Format_ARGB32)
    image.setDevicePixelRatio(scale)
    image.fill(0)
    pane.render(image)
    assert image.pixelColor(5 * scale, 5 * scale).alpha() == 255


def test_one_of_few_words_stays_whole_beside_long_names(shop: Shop) -> None:
    columns = (
        Column("number", "Number"),
        Column("kind", "Kind", Kind.CHOICE),
        Column("name", "Name", width=40),
    )
    cells = ("N1", "viola da gamba", "a name that is long " * 4)
    numbers = Numbers(3).table()
    rows = Rows(shop, replace(numbers, columns=columns, page=lambda _r, ids: [Row(n, cells) for n in ids]))
    rows.ask()
    natural = natural_widths(rows)
    least = QFontMetricsF(sans(TEXT)).horizontalAdvance("viola da gamba") + 2 * CELL
    widths = fitted(natural, sum(natural.widths) - 100)
    assert widths[1] >= least
    assert widths[2] < natural.widths[2]
    rows.deleteLater()


@pytest.mark.parametrize(
    ("less", "widths"), [(0, [230, 210, 220]), (5, [225, 210, 220]), (12, [219, 210, 219])]
)
def test_the_widest_words_give_way_and_short_names_stay_whole(less: int, widths: list[int]) -> None:
    natural = Natural([230, 210, 220, 50], wordy=frozenset({0, 1, 2}), kept=frozenset({0}))
    assert fitted(natural, sum(natural.widths) - less) == [*widths, 50]


def test_a_lesser_column_is_left_out_before_names_are_cut(shop: Shop) -> None:
    columns = (
        Column("number", "Number"),
        Column("email", "E-mail", lesser=True),
        Column("name", "Name", width=40),
        Column("owed", "Owed"),
        Column("since", "Since", lesser=True),
    )
    cells = ("N1", "someone@example.org", "a name of some length", "1", "4 March 2026")
    numbers = Numbers(3).table()
    rows = Rows(shop, replace(numbers, columns=columns, page=lambda _r, ids: [Row(n, cells) for n in ids]))
    rows.ask()
    natural = natural_widths(rows)
    whole = sum(natural.widths)
    assert 0 not in fitted(natural, whole)
    without_the_last = fitted(natural, whole - 1)
    assert [n for n, width in enumerate(without_the_last) if not width] == [4]
    assert without_the_last[2] >= natural.widths[2]
    without_both = fitted(natural, whole - natural.widths[4] - 1)
    assert [n for n, width in enumerate(without_both) if not width] == [1, 4]
    assert without_both[2] >= natural.widths[2]
    rows.deleteLater()


def test_return_opens_the_row(qtbot: QtBot, shop: Shop) -> None:
    pane = laid(qtbot, shop, Numbers(total=30))
    view: TableView = pane.view
    with qtbot.waitSignal(view.opened) as opened:
        qtbot.keyClick(view, Qt.Key.Key_Return)
    assert opened.args == [1]


def test_each_place_names_its_tables_as_they_name_themselves() -> None:
    from shopledger.desk.tables import TABLES

    for offered in TABLES.values():
        for offer in offered:
            table = offer.load()
            assert (offer.name, offer.subject) == (table.name, table.subject)
