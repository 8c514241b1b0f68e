"""Intake at the counter and a whole job, by keys alone and quickly; bad photographs lose nothing of what was typed."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QLabel, QPlainTextEdit, QWidget
from sqlalchemy import select

from shopledger.desk.finding import FindingInput
from shopledger.desk.form import ActForm
from shopledger.desk.input import Input
from shopledger.desk.line_input import LineInput
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.model import Job, Picture
from shopledger.store.prove import prove
from tests.desk.conftest import settle
from tests.helpers.hand import Hand, hand
from tests.helpers.photographs import bomb, photograph

__all__ = ["hand"]

CLIENT, PHONE = "Marit Oosterlo", "555-0142"
HEARS = "The A is thin and it buzzes"
CONTROL = Qt.KeyboardModifier.ControlModifier
BOTH = CONTROL | Qt.KeyboardModifier.ShiftModifier

KEY_S, THINKS_S, SEES_S = 0.28, 1.35, 0.1
"""How long a key takes an average typist, and to think of a next step (K and M of the keystroke-level model by Card,
Moran and Newell, 1980; from memory, verify), and the short delay of a button that is pressed by its own key."""
MINUTE_S = 60


class Keys:
    """The keyboard alone, which counts what it was asked to do."""

    def __init__(self, hand: Hand) -> None:
        self.hand = hand
        self.pressed = self.fields = 0

    @property
    def focus(self) -> QWidget:
        found = self.hand.frame.focusWidget()
        assert found is not None
        return found

    def press(self, key: Qt.Key, how: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.hand.qtbot.keyClick(self.focus, key, how)
        self.pressed += 1
        settle()

    def write(self, text: str) -> None:
        self.hand.qtbot.keyClicks(self.focus, text)
        self.pressed += len(text)
        self.fields += 1
        settle()

    def go_to(self, path: str) -> None:
        """Press Tab until the keyboard is at an input of the form."""
        cell = self.hand.form.grid.cell_at(path)
        assert cell is not None, path
        for _step in range(60):
            if cell.isAncestorOf(self.focus):
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"{path} is not reached")

    def go_on_to(self, name: str) -> None:
        """Press Tab until the keyboard is at a button."""
        for _step in range(30):
            if self.focus.objectName() == name:
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"{name} is not reached")

    def at(self) -> str:
        """Give the path of the input with the keyboard."""
        one: QWidget | None = self.focus
        while one is not None and not isinstance(one, Input):
            one = one.parentWidget()
        assert one is not None
        return one.path

    def fill(self, path: str, text: str) -> None:
        self.go_to(path)
        self.press(Qt.Key.Key_A, CONTROL)
        self.write(text)

    def act(self, words: str) -> None:
        """Open the form of an act by the line to go anywhere."""
        self.press(Qt.Key.Key_K, CONTROL)
        self.write(words)
        self.press(Qt.Key.Key_Return)
        assert isinstance(self.hand.place.side.top, ActForm), words

    def do(self) -> None:
        self.press(Qt.Key.Key_Return, CONTROL)
        self.hand.qtbot.waitUntil(lambda: not self.hand.work.busy)
        settle()
        top = self.hand.place.side.top
        said = [one.text() for one in top.findChildren(QLabel) if "error" in one.objectName()]
        assert not isinstance(top, ActForm), said

    def open_an_intake(self) -> None:
        self.press(Qt.Key.Key_3, CONTROL)
        self.press(Qt.Key.Key_J, BOTH)
        self.hand.qtbot.waitUntil(lambda: isinstance(self.hand.place.side.top, ActForm))
        settle()

    def state(self) -> str:
        assert isinstance(self.hand.place.side.top, SheetView)
        state = self.hand.sheet.sheet.state
        assert state is not None
        return state.code


def take_in(keys: Keys) -> None:
    keys.open_an_intake()
    keys.write(CLIENT)
    keys.press(Qt.Key.Key_Return)
    # Nobody of that name is known: the name goes into the new client, and the telephone is next.
    keys.write(PHONE)
    keys.go_to("instrument.kind")
    keys.write("ce")
    keys.go_to("came_with")
    keys.write("Case")
    keys.go_to("hears")
    keys.write(HEARS)
    keys.go_to("promised_on")
    keys.write("18 Jan 2027")
    keys.go_to("deposit")
    keys.write("50")
    keys.go_to("cleared")
    keys.press(Qt.Key.Key_Space)
    keys.do()


def test_an_intake_with_a_new_client_takes_less_than_a_minute_of_keys(hand: Hand, shop: Shop) -> None:
    keys = Keys(hand)
    take_in(keys)
    assert keys.state() == "to_estimate"
    assert (keys.pressed, keys.fields) == (88, 7)
    assert keys.pressed * KEY_S + (keys.fields + 2) * THINKS_S + SEES_S < MINUTE_S
    assert CLIENT in hand.sheet.sheet.line
    titles = [paper.title for paper in hand.sheet.sheet.papers]
    assert titles == ["Claim ticket", "Receipt for payment"]
    # Who comes again is found by telephone, with what was left before found by its number.
    again = Keys(hand)
    again.open_an_intake()
    again.write("0142")
    again.press(Qt.Key.Key_Return)
    assert hand.input("client_id", FindingInput).line.text().startswith(CLIENT)


def test_a_whole_job_by_keys_alone(hand: Hand, shop: Shop) -> None:
    keys = Keys(hand)
    take_in(keys)
    keys.act("estimate")
    # It begins in the line that is there; Tab goes on in the order in which everything stands.
    assert keys.at() == "lines[0].work_item_id"
    keys.fill("lines[0].what", "Bridge fitted")
    keys.fill("lines[0].minutes", "90")
    # Round through the window, and by Shift+Tab back through the first line.
    keys.go_on_to("leave")
    keys.press(Qt.Key.Key_Tab)
    assert keys.focus is hand.frame.places
    keys.go_on_to("add.lines")
    keys.press(Qt.Key.Key_Space)
    assert keys.at() == "lines[1].work_item_id"
    keys.press(Qt.Key.Key_Backtab)
    assert keys.focus.objectName() == "remove.lines[0]"
    keys.press(Qt.Key.Key_Tab)
    keys.fill("lines[1].what", "Soundpost set")
    keys.fill("lines[1].minutes", "30")
    keys.go_on_to("open.hourly_rate")
    keys.press(Qt.Key.Key_Space)
    keys.fill("hourly_rate", "80")
    keys.fill("tax_rate", "0%")
    keys.do()
    assert keys.state() == "waits_for_client"
    keys.act("approval")
    keys.fill("given_by", CLIENT)
    keys.fill("up_to", "160")
    keys.do()
    assert keys.state() == "agreed"
    keys.act("mark as ready")
    keys.do()
    keys.act("bill the work")
    keys.do()
    keys.act("hand over")
    keys.fill("handed_to", CLIENT)
    keys.go_to("cleared")
    keys.press(Qt.Key.Key_Space)
    keys.do()
    assert keys.state() == "collected"
    assert prove(shop.ledger.where) == []


def spoil(folder: Path) -> dict[Path, str]:
    """Make each sort of file that is no photograph; give what is said of it."""
    made = {
        folder / "notes.jpg": "is no photograph",
        folder / "bomb.png": "has over 50 megapixels",
        folder / "empty.jpg": "is empty",
        folder / "Scans": "is a folder",
        folder / "gone.jpg": "is no longer there",
    }
    notes, large, empty, scans, gone = made
    notes.write_text("words")
    large.write_bytes(bomb())
    empty.touch()
    scans.mkdir()
    gone.write_bytes(photograph(width=120, height=80))
    return made


def test_what_is_no_photograph_is_told_and_the_intake_stays_as_it_was_typed(
    hand: Hand, shop: Shop, tmp_path: Path
) -> None:
    hand.go(3)
    hand.click("first")
    hand.write("client.name", CLIENT)
    hand.choose("instrument.kind", "cello")
    hand.say("hears", HEARS)
    hand.write("deposit", "50")
    form, pictures = hand.form, hand.input("pictures", PicturesInput)
    bad = spoil(tmp_path)
    good = tmp_path / "top.jpg"
    good.write_bytes(photograph(width=160, height=120, shade=3))
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in (*bad, good)])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(form, QDragEnterEvent(QPoint(5, 5), copy, data, left, none))
    QApplication.sendEvent(form, QDropEvent(QPointF(5, 5), copy, data, left, none))
    # One goes while the others are read.
    (tmp_path / "gone.jpg").unlink()
    hand.qtbot.waitUntil(lambda: not pictures.preparing.busy)
    told = pictures.left_out.sentences
    assert len(told) == len(bad)
    for sentence, (path, words) in zip(told, bad.items(), strict=True):
        assert sentence.startswith(f"{path.name} {words}")
        assert sentence.endswith(".")
    assert pictures.names == ["top.jpg"]
    assert hand.form is form
    assert hand.input("client.name", LineInput).line.text() == CLIENT
    assert hand.input("deposit", LineInput).line.text() == "50"
    assert form.grid.cells["hears"].input.findChild(QPlainTextEdit).toPlainText() == HEARS  # type: ignore[union-attr]
    hand.do()
    with shop.ledger.read() as reading:
        (job,) = reading.session.scalars(select(Job)).all()
        assert job.hears == HEARS
        assert [picture.job_id for picture in reading.session.scalars(select(Picture))] == [job.id]
    assert prove(shop.ledger.where) == []
