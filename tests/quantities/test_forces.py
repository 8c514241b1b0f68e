"""Units of force, by their exact definitions."""

from __future__ import annotations

import pytest

from shopledger.quantities.forces import POUND_KG, STANDARD_GRAVITY, ForceUnit, in_newtons, newtons_in


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
