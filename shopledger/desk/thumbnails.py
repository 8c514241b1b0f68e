"""Kept photographs made as small as they are shown, off the window's thread, and remembered while there is room."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from shopledger.desk.shop import Shop
from shopledger.desk.work import Job, work_of

if TYPE_CHECKING:
    from shopledger.store.pictures import Small

MOST_BYTES = 96_000_000
"""So much of what was shown is remembered."""
_kept: OrderedDict[tuple[str, int, int], QImage] = OrderedDict()
_lock = Lock()


def image_of(small: Small) -> QImage:
    """Give colours as an image of the window."""
    return QImage(
        small.colours, small.width, small.height, 4 * small.width, QImage.Format.Format_RGBA8888
    ).convertToFormat(QImage.Format.Format_ARGB32_Premultiplied)


def want(
    widget: QWidget,
    shop: Shop,
    sha256: str,
    room: QSize,
    then: Callable[[QImage], None],
    content: Callable[[], bytes] | None = None,
) -> QImage | None:
    """Give a photograph within `room` (pixels of the screen) if it is remembered; else None, and `then` is handed
    it once it is made, or an empty image where its file can't be shown, unless the widget is gone by then.

    Shape:  `content` gives the file of one that isn't kept in the ledger yet.
    """
    key = sha256, room.width(), room.height()
    found = _remembered(key)
    if found is not None:
        return found

    def run(job: Job) -> QImage:
        if job.cancelled.is_set() or not isValid(widget):
            return QImage()
        # Two places that show the same photograph ask one after the other.
        again = _remembered(key)
        if again is not None:
            return again
        file = shop.picture(shop.ledger, sha256) if content is None else content()
        made = image_of(shop.small(file, room.width(), room.height()))
        _remember(key, made)
        return made

    def shown(image: QImage) -> None:
        if isValid(widget):
            then(image)

    # One that is missing or damaged is told by the proof of the ledger; the page is as good without it.
    work_of(widget).beside.do(Job("", run, shown, lambda _error: shown(QImage())))
    return None


def _remembered(key: tuple[str, int, int]) -> QImage | None:
    with _lock:
        if key in _kept:
            _kept.move_to_end(key)
        return _kept.get(key)


def _remember(key: tuple[str, int, int], image: QImage) -> None:
    with _lock:
        _kept[key] = image
        while sum(one.sizeInBytes() for one in _kept.values()) > MOST_BYTES and len(_kept) > 1:
            _kept.popitem(last=False)
