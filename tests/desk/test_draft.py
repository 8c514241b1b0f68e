"""Papers shown before they are issued, and inputs folded away: by clicks and keys, with nothing typed lost."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot
from sqlalchemy import func, select

from shopledger.acts.declare import Act, Form, Outcome, new_op_id
from shopledger.acts.owning import OwnerRow
from shopledger.acts.people import ADD_PERSON, AddPerson
from shopledger.acts.shop_money import LIST_OTHERS
from shopledger.acts.taking_in import TAKE_IN
from shopledger.desk.draft_view import Draft, DraftView
from shopledger.desk.form import ActForm
from shopledger.desk.inputs import ChoiceInput
from shopledger.desk.line_input import LineInput
from shopledger.desk.nested import RowsInput
from shopledger.desk.paper_view import PaperView
from shopledger.desk.shop import Shop
from shopledger.desk.side import Side
from shopledger.desk.work import Work
from shopledger.model import Counter, Deed, Paper
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing

FOREIGN = "שרה 小提琴 Q\u0352uill 🎻"
LACKING = f"In “{FOREIGN}”: ש ר ה 小 提 琴 \u25cc\u0352 🎻"


@dataclass(frozen=True, kw_only=True)
class Row:
    what: str = ask(Field("What", required=True))


@dataclass(frozen=True, kw_only=True)
class Folded(Form):
    who: str = ask(Field("Who", required=True))
    price: str = ask(Field("Price", required=True))
    scheme: str = ask(
        Field("Scheme", Kind.CHOICE, choices=(("none", "no tax"), ("some", "some tax")), under="Tax"),
        default="none",
    )
    rate: str = ask(Field("Rate", under="Tax"), default="")
    rows: tuple[Row, ...] = ask(Field("Costs", Kind.ROWS, of=Row, under="Costs"))
    note: str = ask(Field("Note"), default="")


def refuse(_writing: Writing, _form: Folded) -> Outcome:
    raise Typed("{label}: not at that rate.", field="rate")


def preview(_reading: Reading, form: Folded) -> Preview:
    return Preview(f"{form.who or 'nobody yet'} pays {form.price}", (Line("All", form.price, None),))


FOLDED = Act(
    name="folded", text="Fold", subject=Subject.SHOP, form=Folded, run=refuse, preview=preview,
    papers=("invoice",), preview_without=frozenset({"who"}),
)  # fmt: skip


@pytest.fixture
def side(qtbot: QtBot, shop: Shop, work: Work) -> Side:
    made = Side(shop, work)
    qtbot.addWidget(made, before_close_func=put_all_away)
    made.resize(900, 700)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def put_all_away(side: Side) -> None:
    while side.count() > 1:
        side.on_top_left()


def opened(side: Side, act: Act[Folded]) -> ActForm:
    form = side.open_act(act)
    assert form is not None
    return form


def write(qtbot: QtBot, form: ActForm, path: str, text: str) -> None:
    cell = form.grid.cell_at(path)
    assert cell is not None
    inner = cell.input.focusProxy()
    assert isinstance(inner, QWidget)
    inner.setFocus()
    qtbot.keyClicks(inner, text)


def written(shop: Shop) -> tuple[int, ...]:
    with shop.ledger.read() as reading:
        count = reading.session.scalar
        return tuple(
            count(select(asked)) or 0
            for asked in (func.count(Deed.id), func.count(Paper.id), func.sum(Counter.last))
        )


@pytest.mark.parametrize("by_key", [False, True])
def test_a_paper_is_shown_and_left_with_the_form_as_it_was(
    qtbot: QtBot, side: Side, shop: Shop, work: Work, by_key: bool
) -> None:
    form = opened(side, LIST_OTHERS)
    before = written(shop)
    with qtbot.waitSignal(work.ended):
        if by_key:
            qtbot.keyClick(form.bar.do, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
        else:
            qtbot.mouseClick(form.bar.paper, Qt.MouseButton.LeftButton)
    view = side.top
    assert isinstance(view, DraftView)
    assert [draft.title for draft in view.drafts] == ["Others' property and money"]
    for leaf in view.pages.leaves:
        assert "Not issued: as it would be." in leaf.accessibleDescription()
    assert "Not issued" in view.words.text()
    assert view.findChild(QLabel, "unprintable") is None
    view.grab()
    assert written(shop) == before
    qtbot.mouseClick(view.back_button, Qt.MouseButton.LeftButton)
    assert side.top is form
    assert not form.busy
    # Done after all, it has the number that was shown.
    with qtbot.waitSignal(form.done) as done:
        qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    with shop.ledger.read() as reading:
        assert reading.session.get_one(Paper, done.args[0].papers[0]).number == view.drafts[0].number


def test_letters_that_cannot_be_printed_are_told_before_and_after(
    qtbot: QtBot, side: Side, shop: Shop, work: Work
) -> None:
    day = shop.ledger.today()
    person = AddPerson(op_id=new_op_id(), on=day, by="", person={"name": FOREIGN})
    owner = shop.do(shop.ledger, ADD_PERSON, person).id
    form = opened(side, TAKE_IN)
    form.grid.fill(
        {
            "instrument": {"kind": "cello"},
            "stay": {"reason": "to_sell"},
            "owners": (OwnerRow(person_id=owner),),
        }
    )
    with qtbot.waitSignal(work.ended):
        qtbot.mouseClick(form.bar.paper, Qt.MouseButton.LeftButton)
    view = side.top
    assert isinstance(view, DraftView)
    assert LACKING in told_on(view)
    assert "□□□ □□□ Q□uill □" in view.pages.leaves[0].accessibleDescription()
    view.on_back_clicked()
    with qtbot.waitSignal(form.done) as done:
        qtbot.mouseClick(form.bar.do, Qt.MouseButton.LeftButton)
    side.open_paper(done.args[0].papers[0])
    view = side.top
    assert isinstance(view, PaperView)
    assert LACKING in told_on(view)
    # Nothing is lost in the ledger.
    with shop.ledger.read() as reading:
        assert FOREIGN in reading.session.get_one(Paper, done.args[0].papers[0]).facts


def told_on(view: QWidget) -> list[str]:
    """Give the lines on what can't be printed, without the signs that keep scripts apart."""
    words = view.findChild(QLabel, "unprintable")
    assert isinstance(words, QLabel)
    assert words.isVisible()
    return words.text().replace("\u2068", "").replace("\u2069", "").splitlines()


def test_a_refusal_stands_at_its_input_and_what_is_typed_stays(
    qtbot: QtBot, side: Side, shop: Shop, work: Work
) -> None:
    form = opened(side, TAKE_IN)
    form.grid.fill({"instrument": {"kind": "cello"}, "stay": {"reason": "to_sell"}})
    write(qtbot, form, "instrument.maker", "Ansel Quill")
    before = written(shop)
    with qtbot.waitSignal(work.ended):
        qtbot.mouseClick(form.bar.paper, Qt.MouseButton.LeftButton)
    assert side.top is form
    error = form.findChild(QLabel, "error.owners")
    assert isinstance(error, QLabel)
    assert error.text() == "Nobody owns it so far: name its owner."
    cell = form.grid.cell_at("instrument.maker")
    assert cell is not None
    assert cell.take([]) == "Ansel Quill"
    assert written(shop) == before


def test_an_act_without_a_paper_offers_none(qtbot: QtBot, side: Side, work: Work) -> None:
    form = opened(side, ADD_PERSON)
    assert not form.bar.paper.isVisible()
    form.on_paper_clicked()
    assert not work.busy
    form.bar.ask(True)
    form.bar.ask(False)
    assert not form.bar.paper.isVisible()


def test_where_no_paper_would_be_left_it_is_said(qtbot: QtBot, shop: Shop, work: Work) -> None:
    none: list[Draft] = []
    form = ActForm(replace(shop, drafts=lambda *_given: none), work, LIST_OTHERS, 0)
    qtbot.addWidget(form)
    form.show()
    with qtbot.waitSignal(work.ended):
        form.on_paper_clicked()
    assert form.bar.error.text() == "As it is filled in now, it leaves no paper."
    assert form.bar.paper.isEnabled()


def test_a_preview_that_needs_no_buyer_is_made_without_one(qtbot: QtBot, side: Side) -> None:
    form = opened(side, FOLDED)
    form.flush_preview()
    assert "once these are filled in: Price" in form.preview.words
    write(qtbot, form, "price", "90")
    form.flush_preview()
    assert "nobody yet pays 90" in form.preview.words
    # To be done it needs one all the same.
    form.on_do_clicked()
    error = form.findChild(QLabel, "error.who")
    assert isinstance(error, QLabel)
    assert error.text() == "Who is missing: it has to be given."


@pytest.mark.parametrize("key", [Qt.Key.Key_Space, Qt.Key.Key_Return])
def test_a_fold_is_opened_and_closed_by_keys_and_tells_what_stands_in_it(
    qtbot: QtBot, side: Side, key: Qt.Key
) -> None:
    form = opened(side, FOLDED)
    fold = form.grid.folds["Tax"]
    rate = form.grid.cells["rate"]
    assert list(form.grid.folds) == ["Tax", "Costs"]
    assert not rate.isVisible()
    assert fold.head.told == ""
    fold.head.setFocus()
    qtbot.keyClick(fold.head, key)
    assert rate.isVisible()
    write(qtbot, form, "rate", "7%")
    scheme = form.grid.cells["scheme"].input
    assert isinstance(scheme, ChoiceInput)
    qtbot.keyClick(scheme.box, Qt.Key.Key_Down)
    fold.head.setFocus()
    qtbot.keyClick(fold.head, key)
    assert not rate.isVisible()
    assert fold.head.told == "some tax \u00b7 7%"
    assert fold.head.accessibleDescription() == "folded. some tax \u00b7 7%"
    fold.grab()
    wrong: list[object] = []
    assert form.grid.take(wrong)["rate"] == "7%"  # type: ignore[arg-type]


def test_the_keyboard_goes_through_the_form_in_the_order_in_which_it_stands(qtbot: QtBot, side: Side) -> None:
    form = opened(side, FOLDED)
    order = []
    form.grid.cells["on"].input.setFocus()
    for _step in range(5):
        focus = form.focusWidget()
        assert focus is not None
        order.append(focus.accessibleName())
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
    assert order == ["On", "Who", "Price", "Note", "Tax"]


def test_an_error_inside_a_fold_opens_it(qtbot: QtBot, side: Side, work: Work) -> None:
    form = opened(side, FOLDED)
    write(qtbot, form, "who", "Tam")
    write(qtbot, form, "price", "90")
    with qtbot.waitSignal(work.ended):
        form.on_do_clicked()
    assert form.grid.folds["Tax"].is_open
    rate = form.grid.cells["rate"].input
    assert isinstance(rate, LineInput)
    assert form.focusWidget() is rate.line
    rows = form.grid.cells["rows"].input
    assert isinstance(rows, RowsInput)
    rows.add()
    assert not form.grid.folds["Costs"].is_open
    form.on_do_clicked()
    assert form.grid.folds["Costs"].is_open
