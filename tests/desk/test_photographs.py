"""Photographs in the window: dropped on a form and made ready beside it, or told of; shown small, and opened large."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from threading import current_thread, main_thread
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot
from sqlalchemy import select

from shopledger.acts import act, do, new_op_id
from shopledger.desk.form import ActForm
from shopledger.desk.line_input import LineInput
from shopledger.desk.palette import Scheme
from shopledger.desk.photograph_strip import PhotographStrip
from shopledger.desk.photograph_view import PhotographView
from shopledger.desk.picture import KeptPhotograph
from shopledger.desk.pictures_input import PicturesInput
from shopledger.desk.place import Place
from shopledger.desk.sheet import SheetView
from shopledger.desk.shop import Shop
from shopledger.desk.window import Frame
from shopledger.desk.work import Work
from shopledger.model import Picture
from shopledger.queries.shapes import Subject
from shopledger.store.pictures import tidy_picture
from tests.desk.conftest import settle
from tests.helpers.photographs import bomb, photograph

MANY = 500
"""As many as an import of a shop's old photographs."""


@pytest.fixture
def cello(shop: Shop) -> int:
    form = act("take_in").form(
        op_id=new_op_id(),
        on=shop.ledger.today(),
        by="the maker",
        instrument={"kind": "cello", "maker": "Ansel Quill"},
        stay={"reason": "own"},
    )
    return do(shop.ledger, act("take_in"), form).id


@pytest.fixture
def frame(qtbot: QtBot, shop: Shop, cello: int, work: Work) -> Iterator[Frame]:
    made = Frame(shop, work, Scheme.LIGHT)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.open_subject(Subject.INSTRUMENT, cello)
    yield made
    work.close()


def opened(frame: Frame, name: str) -> ActForm:
    """Open the form of an act about what is shown."""
    place = frame.shown
    assert isinstance(place, Place)
    form = place.side.open_act(act(name))
    assert form is not None
    settle()
    return form


def pictures_of(form: ActForm) -> PicturesInput:
    found = form.grid.cells["pictures"].input
    assert isinstance(found, PicturesInput)
    return found


def files(folder: Path, count: int, kind: str = "JPEG") -> list[Path]:
    """Write so many different photographs."""
    made = []
    for n in range(count):
        path = folder / f"view {n + 1}.{kind.lower()}"
        path.write_bytes(photograph(kind, 120, 80, shade=n + 1, orientation=n % 8 + 1))
        made.append(path)
    return made


def dropped(urls: Sequence[QUrl]) -> QMimeData:
    data = QMimeData()
    data.setUrls(list(urls))
    return data


def drop(on: QWidget, paths: Sequence[Path]) -> None:
    """Drop files on a widget as the system does, where it takes them."""
    data = dropped([QUrl.fromLocalFile(str(path)) for path in paths])
    at, copy = QPoint(5, 5), Qt.DropAction.CopyAction
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(at, copy, data, left, none)
    QApplication.sendEvent(on, enter)
    assert enter.isAccepted()
    QApplication.sendEvent(on, QDropEvent(QPointF(at), copy, data, left, none))


def rested(qtbot: QtBot, pictures: PicturesInput) -> None:
    qtbot.waitUntil(lambda: not pictures.preparing.busy)


def kept(shop: Shop) -> list[str]:
    with shop.ledger.read() as reading:
        return list(reading.session.scalars(select(Picture.sha256).order_by(Picture.id)))


def test_photographs_dropped_on_the_form_are_added_by_it(
    qtbot: QtBot, frame: Frame, shop: Shop, work: Work, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures, three = pictures_of(form), files(tmp_path, 3)
    drop(form, three)
    assert pictures.names == ["view 1.jpeg", "view 2.jpeg", "view 3.jpeg"]
    assert not pictures.empty()
    assert form.touched()
    rested(qtbot, pictures)
    assert pictures.count.text() == "3 photographs"
    assert all(tile.image is not None and not tile.image.isNull() for tile in pictures.list.tiles.tiles)
    with qtbot.waitSignal(form.done):
        form.on_do_clicked()
    assert [shop.picture(shop.ledger, one) for one in kept(shop)] == [
        tidy_picture(path.read_bytes()) for path in three
    ]


def test_they_are_made_ready_on_the_worker_and_typing_goes_on(
    qtbot: QtBot, frame: Frame, shop: Shop, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    pictures.add_files(files(tmp_path, 4))
    assert pictures.preparing.busy
    assert pictures.cancel_button.isVisible()
    caption = form.grid.cells["caption"].input
    assert isinstance(caption, LineInput)
    qtbot.keyClicks(caption.line, "front")
    seen: list[bool] = []
    pictures.preparing.ready.connect(lambda *_what: seen.append(current_thread() is main_thread()))
    rested(qtbot, pictures)
    assert seen == [True] * 4, "what is ready is handed over on the window's own thread"
    assert caption.line.text() == "front"
    assert not pictures.cancel_button.isVisible()


BAD: dict[str, tuple[Callable[[Path], object], str]] = {
    "notes.txt": (
        lambda path: path.write_text("words"),
        "notes.txt is no photograph the ledger can keep: choose a PNG, JPEG or WebP file.",
    ),
    "bomb.png": (
        lambda path: path.write_bytes(bomb()),
        "bomb.png has over 50 megapixels: choose a smaller photograph.",
    ),
    "empty.jpg": (lambda path: path.touch(), "empty.jpg is empty: choose the file again."),
    "Scans": (lambda path: path.mkdir(), "Scans is a folder: choose the photographs in it."),
    "gone.jpg": (lambda path: None, "gone.jpg is no longer there: see where it went and choose it again."),
    "pipe.jpg": (os.mkfifo, "pipe.jpg is no file: choose a photograph."),
    "torn.jpg": (lambda path: path.write_bytes(photograph(width=300, height=200)[:1500]), "torn.jpg is a broken"),
    "large.jpg": (
        lambda path: os.truncate(path, 65 * 1024 * 1024) if not path.touch() else None,
        "large.jpg is over 64 MB: choose a smaller photograph.",
    ),
}  # fmt: skip


def test_each_bad_one_is_told_in_a_sentence_and_all_else_stays(
    qtbot: QtBot, frame: Frame, shop: Shop, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    caption = form.grid.cells["caption"].input
    assert isinstance(caption, LineInput)
    qtbot.keyClicks(caption.line, "the back")
    pictures, good = pictures_of(form), files(tmp_path, 2)
    for name, (make, _words) in BAD.items():
        make(tmp_path / name)
    drop(form, [good[0], *(tmp_path / name for name in BAD), good[1]])
    rested(qtbot, pictures)
    told = pictures.left_out.sentences
    assert len(told) == len(BAD)
    for sentence, (_make, words) in zip(told, BAD.values(), strict=True):
        assert sentence.startswith(words)
        assert sentence.endswith(".")
    labels = [made.text() for made in pictures.left_out.findChildren(QLabel)]
    assert labels == told
    assert pictures.names == ["view 1.jpeg", "view 2.jpeg"]
    assert caption.line.text() == "the back"
    with qtbot.waitSignal(form.done):
        form.on_do_clicked()
    assert len(kept(shop)) == 2


def test_a_file_that_vanishes_between_drop_and_reading_is_told(
    qtbot: QtBot, frame: Frame, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures, three = pictures_of(form), files(tmp_path, 3)
    drop(form, three)
    three[2].unlink()
    rested(qtbot, pictures)
    assert pictures.names == ["view 1.jpeg", "view 2.jpeg"]
    assert pictures.left_out.sentences == [
        "view 3.jpeg is no longer there: see where it went and choose it again."
    ]


def test_what_was_told_goes_when_others_are_added(qtbot: QtBot, frame: Frame, tmp_path: Path) -> None:
    pictures = pictures_of(opened(frame, "add_pictures"))
    pictures.add_files([tmp_path / "gone.jpg"])
    rested(qtbot, pictures)
    assert pictures.left_out.isVisible()
    pictures.add_files(files(tmp_path, 1))
    assert not pictures.left_out.isVisible()
    rested(qtbot, pictures)
    assert pictures.left_out.sentences == []


def test_what_lies_on_another_computer_is_told(qtbot: QtBot, frame: Frame, tmp_path: Path) -> None:
    pictures = pictures_of(opened(frame, "add_pictures"))
    [one] = files(tmp_path, 1)
    pictures.add_dropped(dropped([QUrl("https://example.org/front.jpg"), QUrl.fromLocalFile(str(one))]))
    rested(qtbot, pictures)
    assert pictures.names == ["view 1.jpeg"]
    assert pictures.left_out.sentences == ["front.jpg isn't on this computer: save it first, then drop it."]


def test_the_same_photograph_is_added_once(qtbot: QtBot, frame: Frame, tmp_path: Path) -> None:
    pictures = pictures_of(opened(frame, "add_pictures"))
    [one] = files(tmp_path, 1)
    copy = tmp_path / "copy.jpg"
    copy.write_bytes(one.read_bytes())
    pictures.add_files([one, copy])
    pictures.add_files([one])
    rested(qtbot, pictures)
    assert pictures.names == ["view 1.jpeg"]
    assert pictures.left_out.sentences == [
        "copy.jpg is the same photograph as view 1.jpeg: it is added once.",
        "view 1.jpeg is here already: it is added once.",
    ]


def test_a_line_to_type_in_doesnt_take_a_dropped_file_for_words(frame: Frame) -> None:
    form = opened(frame, "add_pictures")
    lines = form.findChildren(QLineEdit)
    assert lines
    assert not any(line.acceptDrops() for line in lines)
    assert form.acceptDrops()


def test_everything_is_done_by_keyboard_too(qtbot: QtBot, frame: Frame, tmp_path: Path) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    pictures.add_files(files(tmp_path, 4))
    rested(qtbot, pictures)
    pictures.choose_button.setFocus()
    QTest.keyClick(pictures.choose_button, Qt.Key.Key_Tab)
    assert form.focusWidget() is pictures.list
    assert not pictures.remove_button.isEnabled() or pictures.list.chosen()
    QTest.keyClick(pictures.list, Qt.Key.Key_Home)
    QTest.keyClick(pictures.list, Qt.Key.Key_Right)
    assert pictures.remove_button.accessibleName() == "Remove view 2.jpeg"
    QTest.keyClick(pictures.list, Qt.Key.Key_Delete)
    assert pictures.names == ["view 1.jpeg", "view 3.jpeg", "view 4.jpeg"]
    QTest.keyClick(pictures.list, Qt.Key.Key_End, Qt.KeyboardModifier.ShiftModifier)
    assert pictures.remove_button.accessibleName() == "Remove 2 photographs"
    QTest.keyClick(pictures.list, Qt.Key.Key_Tab)
    assert form.focusWidget() is pictures.remove_button
    QTest.keyClick(pictures.remove_button, Qt.Key.Key_Space)
    assert pictures.names == ["view 1.jpeg"]
    pictures.remove_button.click()
    assert pictures.empty()
    assert pictures.take([]) == ()
    assert form.focusWidget() is pictures.choose_button
    assert not pictures.list.isVisible()


def test_every_control_has_a_name_for_readers_of_the_screen(
    qtbot: QtBot, frame: Frame, tmp_path: Path
) -> None:
    pictures = pictures_of(opened(frame, "add_pictures"))
    pictures.add_files(files(tmp_path, 2))
    assert pictures.list.tiles.index(1).data(Qt.ItemDataRole.AccessibleTextRole) == (
        "view 2.jpeg, waits to be prepared"
    )
    rested(qtbot, pictures)
    assert pictures.list.accessibleName() == "Photographs"
    assert pictures.list.tiles.index(1).data(Qt.ItemDataRole.AccessibleTextRole) == "view 2.jpeg"
    assert all(made.accessibleName() for made in pictures.findChildren(QPushButton))
    assert pictures.left_out.accessibleName()


def test_cancelling_leaves_the_form_as_it_was(qtbot: QtBot, frame: Frame, work: Work, tmp_path: Path) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    several = files(tmp_path, 40)
    pictures.add_files(several[:2])
    rested(qtbot, pictures)
    pictures.add_files([*several[2:], tmp_path / "gone.jpg"])
    # The button at the foot of the window, once one is ready.
    with qtbot.waitSignal(pictures.preparing.ready):
        pass
    cancel = frame.findChild(QPushButton, "cancel")
    assert cancel is not None
    assert cancel.isVisible()
    assert "Photographs are being prepared." in frame.message.text()
    with qtbot.waitSignal(pictures.preparing.stopped):
        cancel.click()
    assert pictures.names == ["view 1.jpeg", "view 2.jpeg"]
    assert pictures.left_out.sentences == ["Cancelled: the photographs you added last are left out."]
    assert not pictures.preparing.busy
    qtbot.waitUntil(lambda: not work.busy)
    assert not cancel.isVisible()
    # The button beside them does the same, and what was cancelled can be added again.
    pictures.add_files(several[2:])
    with qtbot.waitSignal(pictures.preparing.stopped):
        pictures.cancel_button.click()
    assert len(pictures.names) == 2
    pictures.add_files(several)
    rested(qtbot, pictures)
    assert len(pictures.names) == 40


def test_one_that_is_taken_out_before_its_turn_is_never_read(
    qtbot: QtBot, frame: Frame, tmp_path: Path
) -> None:
    pictures = pictures_of(opened(frame, "add_pictures"))
    pictures.add_files([*files(tmp_path, 2), tmp_path / "gone.jpg"])
    pictures.remove({pictures.list.tiles.tiles[2].key, pictures.list.tiles.tiles[0].key})
    rested(qtbot, pictures)
    assert pictures.names == ["view 2.jpeg"]
    assert pictures.left_out.sentences == []


def test_an_act_waits_for_the_photographs(qtbot: QtBot, frame: Frame, shop: Shop, tmp_path: Path) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    pictures.add_files(files(tmp_path, 5))
    form.on_do_clicked()
    assert form.bar.error.text() == "It is done as soon as the photographs are prepared."
    assert kept(shop) == []
    with qtbot.waitSignal(form.done):
        pass
    assert len(kept(shop)) == 5


def test_an_act_doesnt_go_on_over_one_that_was_left_out(
    qtbot: QtBot, frame: Frame, shop: Shop, work: Work, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    for last in (True, False):
        bad, good = [tmp_path / "gone.jpg"], files(tmp_path, 2)
        pictures.add_files([*good, *bad] if last else [*bad, *good])
        form.on_do_clicked()
        rested(qtbot, pictures)
        assert "gone.jpg is no longer there" in pictures.left_out.sentences[-1 if last else 0]
        qtbot.waitUntil(lambda: not work.busy)
        assert kept(shop) == []
        assert form.bar.do.isEnabled()


def test_five_hundred_are_kept_in_files_and_added_with_counts(
    qtbot: QtBot, frame: Frame, shop: Shop, work: Work, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    told: list[tuple[int, int]] = []
    work.stepped.connect(lambda _job, done, of: told.append((done, of)))
    pictures.add_files(files(tmp_path, MANY))
    qtbot.waitUntil(lambda: not pictures.preparing.busy, timeout=600_000)
    assert told == [(n, MANY) for n in range(MANY)]
    values: Any = pictures.take([])
    assert all(one.path.exists() for one in values)
    told.clear()
    with qtbot.waitSignal(form.done, timeout=600_000):
        form.on_do_clicked()
    assert told == [(n, MANY) for n in range(MANY + 1)]
    assert len(kept(shop)) == MANY
    qtbot.waitUntil(lambda: not work.beside.busy)
    assert not any(one.path.exists() for one in values), "what waited is gone with the form"


def test_adding_them_can_be_cancelled_midway_and_nothing_is_kept(
    qtbot: QtBot, frame: Frame, shop: Shop, work: Work, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    pictures.add_files(files(tmp_path, MANY))
    qtbot.waitUntil(lambda: not pictures.preparing.busy, timeout=600_000)
    before = list(shop.ledger.files.names())

    def cancel(job: Any, done: int, _of: int) -> None:
        if done == MANY // 2:
            job.cancelled.set()

    work.stepped.connect(cancel, Qt.ConnectionType.DirectConnection)
    with qtbot.waitSignal(work.ended, timeout=600_000):
        form.on_do_clicked()
    assert "Cancelled. Everything is as it was before." in form.bar.error.text()
    assert kept(shop) == []
    assert list(shop.ledger.files.names()) == before
    assert len(pictures.names) == MANY
    work.stepped.disconnect(cancel)
    with qtbot.waitSignal(form.done, timeout=600_000):
        form.on_do_clicked()
    assert len(kept(shop)) == MANY


def test_a_form_that_is_left_takes_what_waited_with_it(
    qtbot: QtBot, frame: Frame, work: Work, tmp_path: Path
) -> None:
    form = opened(frame, "add_pictures")
    pictures = pictures_of(form)
    pictures.add_files(files(tmp_path, 3))
    rested(qtbot, pictures)
    values: Any = pictures.take([])
    pictures.add_files(files(tmp_path, 60))
    form.left.emit()
    qtbot.waitUntil(lambda: not work.busy and not work.beside.busy)
    settle()
    assert not values[0].path.parent.exists()


def add(shop: Shop, cello: int, *pictures: bytes, caption: str = "") -> None:
    form = act("add_pictures").form(
        op_id=new_op_id(), on=shop.ledger.today(), instrument_id=cello, caption=caption, pictures=pictures
    )
    do(shop.ledger, act("add_pictures"), form)


def test_the_page_shows_all_photographs_and_opens_them_large(
    qtbot: QtBot, frame: Frame, shop: Shop, cello: int, work: Work, tmp_path: Path
) -> None:
    place = frame.shown
    assert isinstance(place, Place)
    assert frame.findChild(KeptPhotograph) is None
    assert frame.findChild(PhotographStrip) is None
    add(shop, cello, photograph(width=300, height=500, shade=1), caption="front")
    place.side.read_again()
    settle()
    assert frame.findChild(PhotographStrip) is None
    add(shop, cello, photograph(width=500, height=300, shade=2), photograph(shade=3))
    place.side.read_again()
    settle()
    qtbot.waitUntil(lambda: not work.beside.busy)
    head = frame.findChild(KeptPhotograph)
    assert head is not None
    assert (head.width(), head.height()) == (86, 144)
    assert head.accessibleName() == "Photograph: Cello, maker unknown"
    strip = frame.findChild(PhotographStrip)
    assert strip is not None
    assert strip.tiles.tiles[0].name == "front"
    assert all(tile.image is not None and not tile.image.isNull() for tile in strip.tiles.tiles)
    strip.setFocus()
    QTest.keyClick(strip, Qt.Key.Key_Right)
    QTest.keyClick(strip, Qt.Key.Key_Return)
    view = place.side.top
    assert isinstance(view, PhotographView)
    assert view.place.text() == "2 of 3"
    # Never larger than it is, once the table has drawn back.
    qtbot.waitUntil(lambda: view.large.image is not None and view.large.image.width() == 500)
    # Keys of a view are heard in the window that is in front, which a test before this one may have taken.
    with qtbot.waitActive(frame):
        frame.activateWindow()
    view.take_keyboard()
    QTest.keyClick(view.large, Qt.Key.Key_Right)
    assert view.place.text() == "3 of 3"
    assert not view.later_button.isEnabled()
    QTest.keyClick(view.large, Qt.Key.Key_Left)
    QTest.keyClick(view.large, Qt.Key.Key_Left)
    assert view.words.text().startswith("front, ")
    with qtbot.waitSignal(view.said):
        view.save_to(tmp_path / "copy.jpg")
    assert (tmp_path / "copy.jpg").read_bytes() == shop.picture(shop.ledger, view.shot.sha256)
    view.save_to(tmp_path)
    qtbot.waitUntil(lambda: "Not saved" in view.place.text())
    QTest.keyClick(view.large, Qt.Key.Key_Escape)
    assert not isinstance(place.side.top, PhotographView)
    head.click()
    assert isinstance(place.side.top, PhotographView)


def test_a_photograph_whose_file_is_gone_leaves_the_page_whole(
    qtbot: QtBot, frame: Frame, shop: Shop, cello: int, work: Work
) -> None:
    add(shop, cello, photograph(shade=201), photograph(shade=202))
    for path in Path(f"{shop.ledger.where}.files").rglob("*"):
        if path.is_file():
            path.chmod(0o600)
            path.unlink()
    place = frame.shown
    assert isinstance(place, Place)
    place.side.read_again()
    settle()
    qtbot.waitUntil(lambda: not work.beside.busy)
    head, strip = frame.findChild(KeptPhotograph), frame.findChild(PhotographStrip)
    assert head is not None
    assert strip is not None
    assert not head.isVisible()
    assert all(tile.image is not None and tile.image.isNull() for tile in strip.tiles.tiles)
    strip.opened.emit(0)
    view = place.side.top
    assert isinstance(view, PhotographView)
    qtbot.waitUntil(lambda: view.large.image is not None)
    view.grab()


def test_dropped_on_the_page_they_open_its_form(
    qtbot: QtBot, frame: Frame, shop: Shop, work: Work, tmp_path: Path
) -> None:
    place = frame.shown
    assert isinstance(place, Place)
    sheet = place.side.top
    assert isinstance(sheet, SheetView)
    drop(sheet.viewport(), files(tmp_path, 2))
    form = place.side.top
    assert isinstance(form, ActForm)
    assert form.act.name == "add_pictures"
    rested(qtbot, pictures_of(form))
    with qtbot.waitSignal(form.done):
        form.on_do_clicked()
    assert len(kept(shop)) == 2


def test_what_is_dragged_and_is_no_file_is_not_taken(frame: Frame) -> None:
    form = opened(frame, "add_pictures")
    data = QMimeData()
    data.setText("words")
    for on in (form, pictures_of(form)):
        enter = QDragEnterEvent(
            QPoint(5, 5),
            Qt.DropAction.CopyAction,
            data,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
        enter.ignore()
        QApplication.sendEvent(on, enter)
        assert not enter.isAccepted()
        assert enter.type() is QEvent.Type.DragEnter
