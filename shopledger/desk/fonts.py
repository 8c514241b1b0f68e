"""The two bundled families in their four sizes, with tabular figures; words in two weights, titles in one."""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QFont, QFontDatabase

from shopledger.quantities.assets import asset

SMALL, TEXT, LARGE, TITLE = 12, 13, 16, 22
"""The sizes of the window, in pixels before scaling."""

_FILES = (
    "SourceSans3-Regular.ttf",
    "SourceSans3-SemiBold.ttf",
    "SourceSerif4-Regular.ttf",
)
_loaded: list[int] = []


def load_fonts() -> None:
    """Hand the bundled fonts to Qt, once a process.

    Raises: Trouble: a font is missing from the assets.
    """
    if not _loaded:
        _loaded.extend(QFontDatabase.addApplicationFont(str(asset("fonts", name))) for name in _FILES)


@cache
def sans(size: int = TEXT, strong: bool = False) -> QFont:
    """Give the family of the window in a size, at weight 400 or 600."""
    return _font("Source Sans 3", size, strong)


@cache
def serif(size: int = TITLE) -> QFont:
    """Give the family of titles in a size, at weight 400."""
    return _font("Source Serif 4", size, strong=False)


def _font(family: str, size: int, strong: bool) -> QFont:
    font = QFont(family)
    font.setPixelSize(size)
    font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font
