"""Measured figures as a reader sees them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from shopledger.quantities.errors import Refused
from shopledger.quantities.figures import Figure, show_figure
from shopledger.quantities.manners import PLAIN

GERMAN = replace(PLAIN, language="de", decimal=",", group=".")


@pytest.mark.parametrize(
    ("figure", "shown"),
    [
        (Figure(83.9559, 2, "N"), "83.96 N"),
        (Figure(157.92997, 2, "°"), "157.93°"),
        (Figure(328, 0, "mm"), "328 mm"),
        (Figure(0.9111, 1, "%"), "0.9%"),
        (Figure(-0.4, 1), "\u22120.4"),
        (Figure(-0.04, 1), "0.0"),
    ],
)
def test_a_figure_has_its_decimals_and_its_unit(figure: Figure, shown: str) -> None:
    assert show_figure(figure) == shown


def test_a_sentence_shows_figures_in_the_manners_of_its_reader() -> None:
    error = Refused("{load} is too much.", load=Figure(84.5, 1, "N"))
    assert error.sentence(GERMAN) == "84,5 N is too much."


def test_the_ends_of_a_range_are_rounded_into_it() -> None:
    assert Figure(0.871, 2, "N").rounded_up() == Figure(0.88, 2, "N")
    assert Figure(77.0399, 2, "N").rounded_down() == Figure(77.03, 2, "N")
