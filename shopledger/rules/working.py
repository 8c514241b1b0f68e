"""The working of a reckoning: for each figure a step that says in plain words how it came about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.numbers import brief
from shopledger.quantities.showing import show_amount, show_rate
from shopledger.quantities.words import _

LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Step:
    """One figure with its label and its working; `figure` names the figure of the Split that it explains.

    Shape:  `figure` is empty for a step on the way (a commission before its bounds, one cost of several).
    """

    label: str
    how: str
    amount: Money
    figure: str = ""


class Working:
    """Steps as they are gathered while a case is reckoned, worded in the manners of their reader."""

    def __init__(self, manners: Manners = PLAIN) -> None:
        """Begin without steps."""
        self.manners = manners
        self._steps: list[Step] = []

    @property
    def steps(self) -> tuple[Step, ...]:
        """Give the steps gathered so far, in the order of the computation."""
        return tuple(self._steps)

    def tell(self, label: str, how: str, amount: Money, *, figure: str = "") -> None:
        """Add a step; label and working are worded already, by `say`, `less` or `plus`."""
        self._steps.append(Step(label, how, amount, figure))

    def say(self, template: str, **values: object) -> str:
        """Give the translated template filled with the values as a working shows them."""
        return _(template).format(**{name: self.show(value) for name, value in values.items()})

    def show(self, value: object) -> str:
        """Give a value as a working shows it: amounts without currency, zero as digits, names cut to a line."""
        if isinstance(value, Money):
            return show_amount(value, self.manners, dash=False)
        if isinstance(value, Fraction):
            return show_rate(value, self.manners)
        return brief(str(value), LONGEST_NAME)

    def less(self, first: tuple[str, Money], others: Sequence[tuple[str, Money]]) -> str:
        """Give "price 11,250.00 − commission 2,250.00": the first amount less the others that aren't zero."""
        return " \u2212 ".join(self._named([first, *[each for each in others if each[1]]]))

    def plus(self, amounts: Sequence[tuple[str, Money]]) -> str:
        """Give "price 11,250.00 + sales tax 928.13": the amounts that aren't zero."""
        return " + ".join(self._named([each for each in amounts if each[1]]))

    def _named(self, amounts: Sequence[tuple[str, Money]]) -> list[str]:
        """Give each amount after its translated name; a negative one in brackets, since a sign stands before it."""
        shown = [
            self.show(amount) if amount.minor >= 0 else f"({self.show(amount)})" for _name, amount in amounts
        ]
        return [
            f"{self.show(_(name))} {amount}" for (name, _amount), amount in zip(amounts, shown, strict=True)
        ]
