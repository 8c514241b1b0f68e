"""What a metre of string weighs: read as it is typed, kept whole, shown back."""

from __future__ import annotations

import pytest

from shopledger.quantities.densities import read_density, show_density
from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import Manners


@pytest.mark.parametrize(
    ("typed", "ug", "shown"),
    [
        ("0.45", 450_000, "0.45 g/m"),
        (" 0,45 g/m ", 450_000, "0.45 g/m"),
        ("450 mg/m", 450_000, "0.45 g/m"),
        ("20 g/m", 20_000_000, "20 g/m"),
        ("0.697001", 697_001, "0.697001 g/m"),
    ],
)
def test_it_is_read_and_shown(typed: str, ug: int, shown: str) -> None:
    assert read_density(typed) == ug
    assert show_density(ug) == shown
    assert read_density(show_density(ug)) == ug


def test_it_is_shown_in_the_readers_manners() -> None:
    assert show_density(450_000, Manners(decimal=",")) == "0,45 g/m"


@pytest.mark.parametrize("typed", ["", "heavy", "0", "0.001", "501", "-1", "1e3", "0.45 N", "٣"])
def test_what_is_none_is_refused(typed: str) -> None:
    with pytest.raises(Typed) as caught:
        read_density(typed, field="strings[0].density")
    assert caught.value.field == "strings[0].density"
    assert caught.value.sentence().endswith(".")
