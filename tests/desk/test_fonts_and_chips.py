"""Figures are of one width; a state is told by its word and by a shape of its own, not by colour alone."""

from __future__ import annotations

import os
import subprocess
import sys
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFont, QFontInfo, QFontMetricsF, QImage, QPainter
from pytestqt.qtbot import QtBot

from shopledger.desk.chips import Chip, chip_width, paint_chip, paint_shape
from shopledger.desk.fonts import SMALL, TEXT, sans, serif
from shopledger.queries.place_states import HERE
from shopledger.queries.shapes import Shape
from shopledger.queries.states import STATES


@pytest.mark.parametrize("font", [sans(), sans(SMALL), sans(TEXT, strong=True), serif(), serif(16)])
def test_all_figures_are_of_one_width(font: QFont) -> None:
    metrics = QFontMetricsF(font)
    assert len({round(metrics.horizontalAdvance(figure * 8), 3) for figure in "0123456789"}) == 1


def test_the_fonts_are_the_bundled_ones() -> None:
    assert QFontInfo(sans()).family() == "Source Sans 3"
    assert QFontInfo(serif()).family() == "Source Serif 4"


def test_controls_are_drawn_alike_whatever_style_a_system_wants() -> None:
    told = "from shopledger.desk.style import application\nprint(application().style().name())"
    wanted = {**os.environ, "QT_STYLE_OVERRIDE": "windows"}
    child = subprocess.run(
        [sys.executable, "-c", told], capture_output=True, text=True, check=True, env=wanted
    )
    assert child.stdout.split() == ["fusion"]


@pytest.mark.parametrize("letters", ["Łódź Ærøskøbing", "Ηράκλειο", "Севастополь", "− – “ ” ½ ≈"])
def test_the_window_has_the_letters_of_europe(letters: str) -> None:
    metrics = QFontMetricsF(sans())
    assert [letter for letter in letters if letter != " " and not metrics.inFontUcs4(ord(letter))] == []


def drawn(shape: Shape) -> bytes:
    image = QImage(36, 36, QImage.Format.Format_ARGB32)
    image.fill(0)
    painter = QPainter(image)
    paint_shape(painter, shape, QRectF(0, 0, 36, 36), QColor("black"))
    painter.end()
    return bytes(image.constBits())


def test_every_shape_is_told_apart_without_colour() -> None:
    for one, other in combinations([shape for shape in Shape if shape is not Shape.NONE], 2):
        differing = sum(a != b for a, b in zip(drawn(one), drawn(other), strict=True))
        assert differing > 150, f"{one} looks like {other}"
    assert not any(drawn(Shape.NONE))


def test_every_state_has_a_word_and_a_shape() -> None:
    assert len({state.word for state in STATES}) == len(STATES)
    assert all(state.shape is not Shape.NONE for state in STATES)


def test_a_chip_is_cut_to_its_room_and_says_its_word_to_readers(qtbot: QtBot) -> None:
    image = QImage(200, 32, QImage.Format.Format_ARGB32)
    image.fill(0)
    painter = QPainter(image)
    paint_chip(painter, HERE, QRectF(0, 0, 40, 32))
    painter.end()
    assert all(image.pixelColor(x, 16).alpha() == 0 for x in range(42, 200))
    chip = Chip(HERE)
    qtbot.addWidget(chip)
    assert chip.accessibleName() == "here"
    assert chip.sizeHint().width() >= chip_width(HERE)
