"""Every text can be read on every ground it stands on, in the light room and in the dark one."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication

from shopledger.desk.palette import DARK, GROUND, LIGHT, LOOKED_AT, Colours, Scheme, choose, colours, wanted
from shopledger.desk.style import rules
from shopledger.queries.shapes import Tone
from shopledger.queries.states import STATES

TEXT = 4.5  # WCAG 2.2, success criterion 1.4.3 (AA), text of ordinary size
CONTROL = 3.0  # WCAG 2.2, success criterion 1.4.11, edges of controls and graphics


def luminance(colour: QColor) -> float:
    # WCAG 2.2, "relative luminance"
    parts = [
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in (colour.redF(), colour.greenF(), colour.blueF())
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one: QColor | str, other: QColor | str) -> float:
    # WCAG 2.2, "contrast ratio"
    light, dark = sorted((luminance(QColor(one)), luminance(QColor(other))), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_itself_is_right() -> None:
    # WCAG 2.2: black on white is 21 to 1; #767676 on white is the well-known least grey at 4.54 (from memory)
    assert contrast("black", "white") == pytest.approx(21)
    assert contrast("#767676", "white") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("name", ["ink", "quiet", "varnish", "moss", "ochre", "madder", "slate"])
def test_text_can_be_read_on_paper_and_sheet(palette: Colours, name: str) -> None:
    colour = getattr(palette, name)
    assert contrast(colour, palette.paper) >= TEXT
    assert contrast(colour, palette.sheet) >= TEXT


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_text_can_be_read_in_the_selected_and_the_hovered_row(palette: Colours) -> None:
    for ground in (palette.selected, palette.hovered):
        assert contrast(palette.ink, ground) >= TEXT
        for state in STATES:
            assert contrast(palette.tone(state.tone), ground) >= TEXT, state.word


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_words_stand_out_from_the_accent_and_on_the_band(palette: Colours) -> None:
    assert contrast(palette.sheet, palette.varnish) >= TEXT
    assert contrast(palette.paper, palette.ink) >= TEXT
    for tone in Tone:
        for share in (GROUND, LOOKED_AT):
            assert contrast(palette.ink, palette.wash(palette.tone(tone), share)) >= TEXT


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_the_line_under_an_input_can_be_seen(palette: Colours) -> None:
    assert contrast(palette.edge, palette.sheet) >= CONTROL
    assert contrast(palette.edge, palette.paper) >= CONTROL


def test_a_chosen_palette_is_the_one_that_paints(qapp: QApplication) -> None:
    assert wanted(Scheme.DARK, qapp) is DARK
    assert wanted(Scheme.LIGHT, qapp) is LIGHT
    roles = choose(DARK)
    assert colours() is DARK
    assert roles.base().color() == QColor(DARK.sheet)
    choose(LIGHT)


def test_the_style_takes_every_colour_from_the_palette() -> None:
    light, dark = rules(LIGHT), rules(DARK)
    assert "{" + "{" not in light
    assert LIGHT.varnish in light
    assert DARK.varnish in dark
    assert LIGHT.varnish not in dark
