"""The window's tests: the room dressed as for a user, and nothing left behind by any test."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QThread, QTimer
from PySide6.QtWidgets import QApplication

from shopledger.desk.palette import Scheme
from shopledger.desk.shop import Shop
from shopledger.desk.style import ALIKE, dress
from shopledger.desk.wiring import wire
from shopledger.desk.work import Work
from shopledger.store.ledger import Ledger


def settle() -> None:
    """Let all that waits be done, deletions included."""
    for _round in range(5):
        QCoreApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture(scope="session")
def qapp_args() -> list[str]:
    return ["shopledger", *ALIKE]


@pytest.fixture(autouse=True)
def room(qapp: QApplication) -> None:
    dress(qapp, Scheme.LIGHT)


@pytest.fixture(autouse=True)
def nothing_left_behind(room: None, qapp: QApplication) -> Iterator[None]:
    settle()
    widgets, threads = set(qapp.topLevelWidgets()), set(threading.enumerate())
    yield
    settle()
    left = [widget for widget in qapp.topLevelWidgets() if widget not in widgets]
    timers = [timer for widget in left for timer in widget.findChildren(QTimer) if timer.isActive()]
    running = [
        thread
        for widget in qapp.topLevelWidgets()
        for thread in widget.findChildren(QThread)
        if thread.isRunning()
    ]
    assert not left, f"widgets left behind: {left}"
    assert not timers, f"timers left behind: {timers}"
    assert not running, f"threads left behind: {running}"
    # A Qt thread that called Python stays in this list as a dummy until the process ends.
    assert {thread for thread in threading.enumerate() if not thread.name.startswith("Dummy")} <= threads


@pytest.fixture
def shop(file_ledger: Ledger) -> Shop:
    return wire(file_ledger)


@pytest.fixture
def work() -> Iterator[Work]:
    made = Work()
    yield made
    made.close()
    made.deleteLater()
