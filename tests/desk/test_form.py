"""A form is built from an act's declared inputs; it refuses in words at the field, loses nothing and books once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QBuffer, QEvent, QObject, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.people import ADD_PERSON, CHANGE_PERSON, AddPerson
from shopledger.desk.files_input import ScanInput
from shopledger.desk.form import ActForm
from shopledger.desk.inputs import ChoiceInput, LinesInput, YesNoInput
from shopledger.desk.line_input import LineInput
from shopledger.desk.measured_input import MeasuredInput
from shopledger.desk.nested import GroupInput, RowsInput
from shopledger.desk.picker import PickerInput
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.shop import Shop
from shopledger.desk.work import Work
from shopledger.model import Person
from shopledger.quantities.errors import Refused, Trouble, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.lengths import Length
from shopledger.quantities.measured import Measured
from shopledger.quantities.money import Money
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class CostRow:
    what: str = ask(Field("What for", required=True))
    amount: Money = ask(Field("Amount", Kind.MONEY, required=True))
    borne_by: str = ask(
        Field("Borne by", Kind.CHOICE, choices=(("owner", "the owner"), ("shop", "the shop"))),
        default="owner",
    )
    key: int = 0


@dataclass(frozen=True, kw_only=True)
class Everything(Form):
    words: str = ask(Field("Words", required=True))
    lines: str = ask(Field("Lines", Kind.LINES), default="")
    price: Money = ask(Field("Price", Kind.MONEY, required=True))
    rate: Fraction | None = ask(Field("Rate", Kind.RATE))
    body: Length | None = ask(Field("Body", Kind.LENGTH))
    figure: Measured | str | None = ask(Field("Figure", Kind.MEASURED))
    due: date | None = ask(Field("Due", Kind.DAY))
    strings: int | None = ask(Field("Strings", Kind.COUNT))
    reason: str = ask(
        Field("Reason", Kind.CHOICE, choices=(("sell", "to sell"), ("mend", "to mend"))), default="sell"
    )
    signed: bool = ask(Field("Signed", Kind.YES_NO))
    owner: int | None = ask(Field("Owner", Kind.PERSON))
    thing: int | None = ask(Field("Thing", Kind.INSTRUMENT))
    part: int | None = ask(Field("Part", Kind.GOODS))
    task: int | None = ask(Field("Task", Kind.WORK))
    pictures: tuple[bytes, ...] = ask(Field("Photographs", Kind.PICTURES))
    scan: bytes | None = ask(Field("Scan", Kind.SCAN))
    person: Mapping[str, Any] = ask(Field("Person", Kind.GROUP, of=Person))
    costs: tuple[CostRow, ...] = ask(Field("Costs", Kind.ROWS, of=CostRow))


def preview(_reading: Reading, form: Everything) -> Preview:
    if form.price.minor > 1_000_000_00:
        raise Refused("{price} is more than anything here is worth.", field="price", price=form.price)
    spent = sum((cost.amount.minor for cost in form.costs), 0)
    return Preview(
        "What it comes to", (Line("Left", amount=Money(form.price.minor - spent, "EUR"), strong=True),)
    )


def refuse(_writing: Writing, _form: Everything) -> Outcome:
    raise Typed("{label}: the bridge can't cost that.", field="costs[1].amount")


EVERYTHING = Act(
    name="everything",
    text="Do everything",
    subject=Subject.SHOP,
    form=Everything,
    run=refuse,
    preview=preview,
)


@pytest.fixture
def made(qtbot: QtBot, shop: Shop, work: Work) -> ActForm:
    form = ActForm(shop, work, EVERYTHING, 0)
    qtbot.addWidget(form)
    form.resize(900, 700)
    with qtbot.waitActive(form):
        form.show()
        form.activateWindow()
    return form


def type_into(qtbot: QtBot, form: ActForm, path: str, text: str) -> None:
    cell = form.grid.cell_at(path)
    assert cell is not None, path
    inner = cell.input.focusProxy()
    assert isinstance(inner, QWidget)
    inner.setFocus()
    qtbot.keyClicks(inner, text)


def said(form: ActForm, path: str) -> str:
    made = form.findChild(QLabel, f"error.{path}")
    assert made is not None
    return "" if made.isHidden() else made.text()


def photograph() -> bytes:
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    image = QImage(40, 30, QImage.Format.Format_RGB32)
    image.fill(0)
    image.save(buffer, "PNG")
    return bytes(buffer.data().data())


def test_every_kind_has_its_input(made: ActForm) -> None:
    kinds = {name: type(cell.input) for name, cell in made.grid.cells.items()}
    assert kinds == {
        "on": LineInput, "words": LineInput, "lines": LinesInput, "price": LineInput, "rate": LineInput,
        "body": LineInput, "figure": MeasuredInput, "due": LineInput, "strings": LineInput, "reason": ChoiceInput,
        "signed": YesNoInput,
        "owner": PickerInput, "thing": PickerInput, "part": PickerInput, "task": PickerInput, "pictures": PicturesInput,
        "scan": ScanInput, "person": GroupInput, "costs": RowsInput,
    }  # fmt: skip
    assert {cell.field.kind for cell in made.grid.cells.values()} == set(Kind)


def test_every_control_has_a_name_for_readers_of_the_screen(made: ActForm) -> None:
    for name, cell in made.grid.cells.items():
        inner: QWidget = cell.input
        while (proxy := inner.focusProxy()) is not None:
            inner = proxy
        assert inner.accessibleName(), name
        assert inner.focusPolicy() is not Qt.FocusPolicy.NoFocus, name


def test_what_is_typed_becomes_the_form(qtbot: QtBot, made: ActForm, shop: Shop, tmp_path: Path) -> None:
    owner = shop.do(
        shop.ledger, ADD_PERSON, AddPerson(op_id="p1", on=shop.ledger.today(), person={"name": "Edda Soames"})
    ).id
    type_into(qtbot, made, "words", "a cello")
    type_into(qtbot, made, "lines", "closed crack")
    type_into(qtbot, made, "price", "11,250.50")
    type_into(qtbot, made, "rate", "8.25%")
    type_into(qtbot, made, "body", "14 1/8")
    type_into(qtbot, made, "due", "4 Mar 2026")
    type_into(qtbot, made, "strings", "5")
    reason = made.grid.cells["reason"].input
    assert isinstance(reason, ChoiceInput)
    qtbot.keyClick(reason.box, Qt.Key.Key_Down)
    signed = made.grid.cells["signed"].input
    assert isinstance(signed, YesNoInput)
    qtbot.keyClick(signed.box, Qt.Key.Key_Space)
    type_into(qtbot, made, "owner", "soam")
    owner_input = made.grid.cells["owner"].input
    assert isinstance(owner_input, PickerInput)
    qtbot.keyClick(owner_input.line, Qt.Key.Key_Return)
    file = tmp_path / "front.png"
    file.write_bytes(photograph())
    pictures, scan = made.grid.cells["pictures"].input, made.grid.cells["scan"].input
    assert isinstance(pictures, PicturesInput)
    assert isinstance(scan, ScanInput)
    pictures.add_files([file])
    scan.add_files([file])
    qtbot.waitUntil(lambda: not pictures.preparing.busy)
    type_into(qtbot, made, "person.name", "Tomas Verrill")
    costs = made.grid.cells["costs"].input
    assert isinstance(costs, RowsInput)
    qtbot.mouseClick(costs.add_button, Qt.MouseButton.LeftButton)
    type_into(qtbot, made, "costs[0].what", "new bridge")
    type_into(qtbot, made, "costs[0].amount", "180")
    wrong: list[Any] = []
    form = made.form(wrong)
    assert wrong == []
    assert form.op_id == made.op_id
    assert form.on == shop.ledger.today()
    assert (form.words, form.lines, form.price) == ("a cello", "closed crack", Money(1125050, "EUR"))
    assert (form.rate, form.strings, form.due) == (Fraction(33, 400), 5, date(2026, 3, 4))
    # 14 1/8 in = 358.775 mm (1 in = 25.4 mm exactly)
    assert form.body.nm == 358_775_000
    assert (form.reason, form.signed, form.owner, form.thing) == ("mend", True, owner, None)
    assert ([one.name for one in form.pictures], form.scan) == (["front.png"], file.read_bytes())
    assert form.person["name"] == "Tomas Verrill"
    assert form.person["kind"] == "person"
    assert form.costs == (CostRow(what="new bridge", amount=Money(18000, "EUR"), borne_by="owner"),)


def test_an_empty_form_says_what_it_needs_and_at_which_field(qtbot: QtBot, made: ActForm) -> None:
    qtbot.mouseClick(made.bar.do, Qt.MouseButton.LeftButton)
    assert said(made, "words") == "Words is missing: it has to be given."
    assert said(made, "price") == "Price is missing: it has to be given."
    assert said(made, "rate") == ""
    assert said(made, "person.name") == ""
    assert made.focusWidget() is made.grid.cells["words"].input.focusProxy()
    type_into(qtbot, made, "words", "x")
    assert said(made, "words") == ""


def test_a_wrong_amount_is_told_when_the_field_is_left(qtbot: QtBot, made: ActForm) -> None:
    type_into(qtbot, made, "price", "12 thousand")
    made.grid.cells["words"].input.setFocus()
    assert "“12 thousand” is no amount" in said(made, "price")
    line = made.grid.cells["price"].input
    assert isinstance(line, LineInput)
    assert line.line.text() == "12 thousand"


def test_a_refusal_inside_a_row_stands_at_that_row_and_nothing_is_lost(
    qtbot: QtBot, made: ActForm, work: Work
) -> None:
    type_into(qtbot, made, "words", "a cello")
    type_into(qtbot, made, "price", "9000")
    costs = made.grid.cells["costs"].input
    assert isinstance(costs, RowsInput)
    for n, (what, amount) in enumerate((("strings", "80"), ("bridge", "9999"))):
        qtbot.mouseClick(costs.add_button, Qt.MouseButton.LeftButton)
        type_into(qtbot, made, f"costs[{n}].what", what)
        type_into(qtbot, made, f"costs[{n}].amount", amount)
    with qtbot.waitSignal(work.ended):
        qtbot.keyClick(made, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
        if not work.busy:
            made.on_do_clicked()
    assert said(made, "costs[1].amount") == "Amount: the bridge can't cost that."
    assert said(made, "costs[0].amount") == ""
    wrong: list[Any] = []
    form = made.form(wrong)
    assert [cost.what for cost in form.costs] == ["strings", "bridge"]
    assert (form.words, form.price.minor) == ("a cello", 900000)
    assert made.bar.do.isEnabled()


def test_rows_keep_their_errors_after_one_is_taken_out(qtbot: QtBot, made: ActForm) -> None:
    costs = made.grid.cells["costs"].input
    assert isinstance(costs, RowsInput)
    for _n in range(3):
        qtbot.mouseClick(costs.add_button, Qt.MouseButton.LeftButton)
    costs.on_remove_clicked(costs.rows[0])
    wrong: list[Any] = []
    made.form(wrong)
    paths = [path for path, _error in wrong]
    assert paths == [
        "words", "price", "costs[0].what", "costs[0].amount", "costs[1].what", "costs[1].amount",
    ]  # fmt: skip
    assert made.grid.cell_at("costs[1].amount") is costs.rows[1].grid.cells["amount"]


def test_what_stands_in_a_row_and_is_not_typed_stays(made: ActForm) -> None:
    original = CostRow(what="bridge", amount=Money(100, "EUR"), key=17)
    made.grid.cells["costs"].input.put((original,))
    assert made.grid.cells["costs"].input.take([]) == (original,)


def test_the_preview_follows_the_typing(qtbot: QtBot, made: ActForm) -> None:
    assert "once these are filled in: Words, Price" in made.preview.words
    type_into(qtbot, made, "words", "a cello")
    type_into(qtbot, made, "price", "9000")
    assert made.timer.isActive()
    made.flush_preview()
    assert "9,000.00" in made.preview.words
    type_into(qtbot, made, "price", "0000")
    made.flush_preview()
    assert "€90,000,000.00 is more than anything here is worth." in made.preview.words
    type_into(qtbot, made, "price", "x")
    made.flush_preview()
    assert "is no amount" in made.preview.words


def test_leaving_asks_only_where_something_was_typed(qtbot: QtBot, made: ActForm) -> None:
    left: list[bool] = []
    made.left.connect(lambda: left.append(True))
    qtbot.mouseClick(made.bar.leave, Qt.MouseButton.LeftButton)
    assert left == [True]
    type_into(qtbot, made, "words", "a cello")
    qtbot.mouseClick(made.bar.leave, Qt.MouseButton.LeftButton)
    assert left == [True]
    assert made.bar.stay.isVisible()
    qtbot.mouseClick(made.bar.stay, Qt.MouseButton.LeftButton)
    assert not made.bar.stay.isVisible()
    made.on_leave_clicked()
    qtbot.mouseClick(made.bar.drop, Qt.MouseButton.LeftButton)
    assert left == [True, True]


def people(shop: Shop) -> list[str]:
    with shop.ledger.read() as reading:
        return [words for _id, words in shop.picking[Kind.PERSON].find(reading, "", 99)]


def test_a_double_click_books_once(qtbot: QtBot, shop: Shop, work: Work) -> None:
    form = ActForm(shop, work, ADD_PERSON, 0)
    qtbot.addWidget(form)
    form.show()
    type_into(qtbot, form, "person.name", "Marit Oakeley")
    before = len(people(shop))
    with qtbot.waitSignal(form.done) as done:
        qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
        qtbot.mouseDClick(form.bar.do, Qt.MouseButton.LeftButton)
        form.on_do_clicked()
    work.close()
    assert len(people(shop)) == before + 1
    # The same form sent again after a fault that hid its success: the same outcome, and nothing more is booked.
    with qtbot.waitSignal(form.done) as again:
        form.on_do_clicked()
    assert again.args == done.args
    assert len(people(shop)) == before + 1


def test_a_fault_is_said_and_nothing_typed_is_lost(qtbot: QtBot, shop: Shop, work: Work) -> None:
    def full(*_given: object) -> Outcome:
        raise Trouble("The disk is full. Make room and try again.")

    def broken(*_given: object) -> Outcome:
        raise ZeroDivisionError("division by zero")

    for do, words in (
        (full, "The disk is full. Make room"),
        (broken, "This is a fault of the program, not yours"),
    ):
        form = ActForm(replace(shop, do=do), work, ADD_PERSON, 0)
        qtbot.addWidget(form)
        form.show()
        type_into(qtbot, form, "person.name", "Ines Halloran")
        with qtbot.waitSignal(work.ended):
            form.on_do_clicked()
        assert words in form.bar.error.text()
        assert form.bar.error.isVisible()
        assert form.bar.do.isEnabled()
        cell = form.grid.cell_at("person.name")
        assert cell is not None
        assert cell.take([]) == "Ines Halloran"


def test_what_is_known_is_shown_to_be_changed(qtbot: QtBot, shop: Shop, work: Work) -> None:
    person = shop.do(
        shop.ledger,
        ADD_PERSON,
        AddPerson(op_id="p1", on=shop.ledger.today(), person={"name": "Edda Soames", "phone": "555-0117"}),
    ).id
    form = ActForm(shop, work, CHANGE_PERSON, person, "Edda Soames")
    qtbot.addWidget(form)
    form.show()
    assert "person_id" not in form.grid.cells
    phone = form.grid.cell_at("person.phone")
    assert phone is not None
    assert isinstance(phone.input, LineInput)
    assert phone.input.line.text() == "555-0117"
    phone.input.line.clear()
    phone.input.on_typed()
    with qtbot.waitSignal(form.done):
        form.on_do_clicked()
    again = ActForm(shop, work, CHANGE_PERSON, person)
    qtbot.addWidget(again)
    cell = again.grid.cell_at("person.phone")
    assert cell is not None
    assert cell.input.empty()


def test_a_person_who_is_not_chosen_is_not_guessed(qtbot: QtBot, made: ActForm) -> None:
    type_into(qtbot, made, "owner", "nobody here")
    made.on_do_clicked()
    assert "isn't chosen yet" in said(made, "owner")


def test_a_scan_that_cant_be_read_is_told(made: ActForm, tmp_path: Path) -> None:
    scan = made.grid.cells["scan"].input
    assert isinstance(scan, ScanInput)
    for path, words in (
        (tmp_path / "gone.pdf", "gone.pdf can't be read: No such file or directory."),
        (tmp_path, "is no file. Choose another one."),
    ):
        scan.add_files([path])
        assert scan.take([]) is None
        assert any(words in label.text() for label in scan.findChildren(QLabel))


def test_the_arrow_keys_move_a_day(qtbot: QtBot, made: ActForm) -> None:
    type_into(qtbot, made, "due", "28 Feb 2026")
    due = made.grid.cells["due"].input
    assert isinstance(due, LineInput)
    qtbot.keyClick(due.line, Qt.Key.Key_Up)
    assert due.take([]) == date(2026, 3, 1)
    qtbot.keyClick(due.line, Qt.Key.Key_Down)
    assert due.take([]) == date(2026, 2, 28)


@pytest.mark.parametrize("width", [420, 700, 1200])
def test_a_form_never_scrolls_sideways(qtbot: QtBot, made: ActForm, width: int) -> None:
    made.resize(width, 600)
    qtbot.wait(1)
    assert made.grid.width() <= width
    made.grab()


class Shown(QObject):
    """Keeps the names of all that is shown as a window of its own."""

    def __init__(self) -> None:
        super().__init__()
        self.windows: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.windows.append(watched.objectName() or type(watched).__name__)
        return False


def test_no_part_of_a_form_is_a_window_for_a_moment(
    qtbot: QtBot, qapp: QApplication, shop: Shop, work: Work
) -> None:
    shown = Shown()
    qapp.installEventFilter(shown)
    form = ActForm(shop, work, EVERYTHING, 0)
    qtbot.addWidget(form)
    form.show()
    costs = form.grid.cells["costs"].input
    assert isinstance(costs, RowsInput)
    costs.on_add_clicked()
    form.on_do_clicked()
    type_into(qtbot, form, "owner", "Od")
    form.on_leave_clicked()
    qapp.removeEventFilter(shown)
    assert shown.windows == ["form.everything"]


@dataclass(frozen=True, kw_only=True)
class Thing:
    """A row of which one input is asked with one choice only."""

    sort: str = ask(Field("Sort", Kind.CHOICE, choices=(("one", "one"), ("many", "many"))), default="one")
    count: int = ask(Field("Count", Kind.COUNT, asked_with=("sort", ("many",))), default=1)
    name: str = ask(Field("Name"), default="")


@dataclass(frozen=True, kw_only=True)
class Things(Form):
    """A list of them."""

    things: tuple[Thing, ...] = ask(Field("Things", Kind.ROWS, of=Thing))


def test_what_goes_with_a_choice_is_asked_with_it_only(qtbot: QtBot, shop: Shop, work: Work) -> None:
    form = ActForm(shop, work, Act("things", "Things", Subject.SHOP, Things, refuse), 1)
    qtbot.addWidget(form)
    form.resize(900, 600)
    form.show()
    rows = form.grid.cells["things"].input
    assert isinstance(rows, RowsInput)
    cells = rows.add().grid.cells
    choice, count = cells["sort"].input, cells["count"].input
    assert isinstance(choice, ChoiceInput)
    assert isinstance(count, LineInput)
    assert not cells["count"].isVisible()

    def choose(code: str) -> object:
        choice.box.setCurrentIndex(choice.box.findData(code))
        choice.box.activated.emit(choice.box.currentIndex())
        return rows.take([])

    assert choose("many") == (Thing(sort="many", count=1),)
    assert cells["count"].isVisible()
    qtbot.keyClicks(count.line, "2")
    assert rows.take([]) == (Thing(sort="many", count=21),)
    assert choose("one") == (Thing(sort="one", count=1),)
    assert not cells["count"].isVisible()
    assert choose("many") == (Thing(sort="many", count=21),)
    rows.put((Thing(sort="many", count=3), Thing()))
    assert [row.grid.cells["count"].isVisible() for row in rows.rows] == [True, False]
