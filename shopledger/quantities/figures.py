"""Figures that were measured or worked out: a number with the decimals it is shown with and its unit.

Money never passes here: it is counted, not measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shopledger.quantities.manners import PLAIN, Manners, Shown

CLOSE_UNITS = {"°", "%"}
"""Units that stand at the number without a space."""


@dataclass(frozen=True, slots=True)
class Figure(Shown):
    """A number, how many decimals of it are shown, and its unit ("" where it has none)."""

    number: float
    decimals: int
    unit: str = ""

    def shown(self, manners: Manners) -> str:
        """Give it with its decimals and its unit."""
        return show_figure(self, manners)

    def rounded_up(self) -> Figure:
        """Give the smallest figure of these decimals that is not below this one, for the lower end of a range."""
        return Figure(
            math.ceil(self.number * 10**self.decimals) / 10**self.decimals, self.decimals, self.unit
        )

    def rounded_down(self) -> Figure:
        """Give the largest figure of these decimals that is not above this one, for the upper end of a range."""
        return Figure(
            math.floor(self.number * 10**self.decimals) / 10**self.decimals, self.decimals, self.unit
        )


def show_figure(figure: Figure, manners: Manners = PLAIN) -> str:
    """Give the figure with the decimal sign and the minus of the manners: "83.96 N", "−0.40°"."""
    written = f"{abs(figure.number):.{figure.decimals}f}"
    minus = manners.minus if figure.number < 0 and float(written) else ""
    space = "" if not figure.unit or figure.unit in CLOSE_UNITS else " "
    return f"{minus}{written.replace('.', manners.decimal)}{space}{figure.unit}"
