"""Units of force, by their exact definitions."""

from __future__ import annotations

import pytest

from shopledger.quantities.errors import Typed
from shopledger.quantities.forces import (
    POUND_KG,
    STANDARD_GRAVITY,
    ForceUnit,
    in_newtons,
    newtons_in,
    read_force,
)


def test_the_units_are_those_of_the_tables() -> None:
    # NIST Special Publication 811, appendix B.8: kilogram-force to newton 9.80665, exactly
    assert in_newtons(1, ForceUnit.KILOGRAM_FORCE) == 9.80665
    # the same: pound-force to newton 4.448 222 (rounded there); exactly the pound times standard gravity
    assert in_newtons(1, ForceUnit.POUND_FORCE) == pytest.approx(4.448222, abs=5e-7)
    assert in_newtons(1, ForceUnit.POUND_FORCE) == pytest.approx(POUND_KG * STANDARD_GRAVITY, rel=1e-15)
    assert in_newtons(1, ForceUnit.NEWTON) == 1


@pytest.mark.parametrize("unit", list(ForceUnit))
def test_there_and_back(unit: ForceUnit) -> None:
    assert newtons_in(in_newtons(84.0, unit), unit) == pytest.approx(84.0, rel=1e-15)


@pytest.mark.parametrize(
    ("typed", "newtons"),
    [
        ("58.8", 58.8),
        ("58,8 N", 58.8),
        ("6 kgf", 6 * 9.80665),
        ("6 kg", 6 * 9.80665),
        ("13.2 lb.", 13.2 * 4.4482216152605),
        ("13.2 LBF", 13.2 * 4.4482216152605),
    ],
)
def test_a_force_is_read_as_it_is_typed(typed: str, newtons: float) -> None:
    assert read_force(typed) == pytest.approx(newtons, rel=1e-15)


def test_a_figure_alone_is_in_the_unit_chosen() -> None:
    assert read_force("2", ForceUnit.KILOGRAM_FORCE) == 2 * 9.80665


@pytest.mark.parametrize("typed", ["", "0", "0.0 N", "-5 N", "5 Nm", "N", "1e3", "5 stone"])
def test_what_is_no_force_is_refused(typed: str) -> None:
    with pytest.raises(Typed) as caught:
        read_force(typed, field="wanted")
    assert caught.value.field == "wanted"
