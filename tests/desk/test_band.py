"""The history band tells and opens by mouse and by keyboard alike."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from shopledger.desk.band import Band, events_of
from shopledger.quantities.manners import PLAIN
from shopledger.queries.place_states import HERE, ON_TRIAL
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import History, Mark, MarkKind, Span

TODAY = date(2026, 3, 1)
HISTORY = History(
    (
        Span(date(2025, 1, 10), date(2025, 6, 1), HERE, "in the shop"),
        Span(date(2025, 6, 1), None, ON_TRIAL, "with a player"),
    ),
    (
        Mark(date(2025, 1, 10), MarkKind.ARRIVAL, "taken in", paper_id=7),
        Mark(date(2025, 1, 10), MarkKind.TERMS, "terms agreed"),
        Mark(date(2025, 5, 2), MarkKind.SALE, "sold", subject=(Subject.SALE, 4)),
    ),
)


def made(qtbot: QtBot, history: History = HISTORY) -> Band:
    band = Band(history, TODAY, PLAIN)
    qtbot.addWidget(band)
    band.resize(600, band.sizeHint().height())
    band.show()
    return band


def test_events_stand_in_the_order_of_their_days() -> None:
    assert [event.words for event in events_of(HISTORY, PLAIN)] == [
        "10 Jan 2025 to 1 Jun 2025: in the shop",
        "10 Jan 2025: taken in",
        "10 Jan 2025: terms agreed",
        "2 May 2025: sold",
        "1 Jun 2025 to now: with a player",
    ]


def test_the_arrow_keys_go_through_every_event_and_tell_it(qtbot: QtBot) -> None:
    band = made(qtbot)
    qtbot.keyClick(band, Qt.Key.Key_Home)
    told = [band.accessibleDescription()]
    for _step in range(4):
        qtbot.keyClick(band, Qt.Key.Key_Right)
        told.append(band.accessibleDescription())
    assert told == [event.words for event in band.events]
    qtbot.keyClick(band, Qt.Key.Key_Right)
    assert band.at == 4
    qtbot.keyClick(band, Qt.Key.Key_Left)
    assert band.accessibleDescription() == "2 May 2025: sold"


def test_return_opens_what_has_something_behind_it(qtbot: QtBot) -> None:
    band = made(qtbot)
    opened: list[Mark] = []
    band.opened.connect(opened.append)
    for n in range(5):
        band.go(n)
        qtbot.keyClick(band, Qt.Key.Key_Return)
    assert [mark.words for mark in opened] == ["taken in", "sold"]


def test_marks_of_one_day_stand_apart_and_a_click_opens_the_right_one(qtbot: QtBot) -> None:
    band = made(qtbot)
    opened: list[Mark] = []
    band.opened.connect(opened.append)
    found = {band.event_at(x, 13) for x in range(0, 600)}
    assert {1, 2, 3} <= found
    where = next(x for x in range(600) if band.event_at(x, 13) == 1)
    qtbot.mouseClick(band, Qt.MouseButton.LeftButton, pos=QPoint(where + 2, 13))
    assert [mark.words for mark in opened] == ["taken in"]


def test_the_ground_tells_whose_hands_it_was_in(qtbot: QtBot) -> None:
    band = made(qtbot)
    assert band.events[band.event_at(60, 35)].words.endswith("in the shop")
    assert band.events[band.event_at(580, 35)].words.endswith("with a player")
    band.grab()


def test_a_history_without_events_says_so(qtbot: QtBot) -> None:
    band = made(qtbot, History())
    assert band.accessibleDescription() == "Nothing has happened yet."
    qtbot.keyClick(band, Qt.Key.Key_Right)
    qtbot.keyClick(band, Qt.Key.Key_Return)
    assert band.at == -1
    band.grab()


def test_many_marks_on_one_day_stay_inside_the_band(qtbot: QtBot) -> None:
    marks = tuple(Mark(TODAY, MarkKind.OTHER, f"event {n}") for n in range(20))
    band = made(qtbot, History((Span(date(2025, 1, 1), None, HERE, ""),), marks))
    reachable = {band.event_at(x, 13) for x in range(600)}
    assert set(range(1, 21)) <= reachable
