"""First in, first out: which lots goods are taken from, and the share of each lot's cost that goes with them.

A lot's cost is known for all of it, not for one piece. What goes is costed by cumulative rounding: after n pieces the
lot has given away its cost times n over its quantity, rounded once, so that the shares sum to the lot's cost to the
unit whatever it is divided into, and no lot is ever left with a cost and nothing to carry it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shopledger.quantities.errors import Bug
from shopledger.quantities.money import round_half_away


@dataclass(frozen=True, slots=True)
class Layer:
    """A lot of one sort: how many came, what all of them cost, how many are gone.

    Units:  minor units.
    """

    key: int
    quantity: int
    cost: int
    gone: int = 0

    @property
    def left(self) -> int:
        """How many are left of it."""
        return self.quantity - self.gone

    @property
    def cost_left(self) -> int:
        """What those that are left cost."""
        return self.cost - cost_of_first(self, self.gone)


@dataclass(frozen=True, slots=True)
class Take:
    """Some of a lot that is taken, at its share of the lot's cost."""

    key: int
    quantity: int
    cost: int


def cost_of_first(layer: Layer, n: int) -> int:
    """Give what the first n of a lot cost together, rounded once.

    Raises: Bug: the lot never held so many.
    """
    if not 0 <= n <= layer.quantity:
        raise Bug("{n} of a lot of {quantity}", n=n, quantity=layer.quantity)
    return round_half_away(Fraction(layer.cost * n, layer.quantity))


def there(layers: Sequence[Layer]) -> int:
    """Give how many are left of all lots."""
    return sum(layer.left for layer in layers)


def value_of(layers: Sequence[Layer]) -> int:
    """Give what those that are left of all lots cost."""
    return sum(layer.cost_left for layer in layers)


def take(layers: Sequence[Layer], quantity: int) -> tuple[tuple[Take, ...], tuple[Layer, ...]]:
    """Give what is taken of which lots, the first in first, and the lots as they are then.

    Shape:  `layers` stand in the order in which they came.
    Raises: Bug: fewer are left, or nothing is wanted; whoever asks has to look before.
    """
    if not 0 < quantity <= there(layers):
        raise Bug("{quantity} wanted of {there}", quantity=quantity, there=there(layers))
    takes: list[Take] = []
    after: list[Layer] = []
    for layer in layers:
        n = min(quantity, layer.left)
        if n:
            cost = cost_of_first(layer, layer.gone + n) - cost_of_first(layer, layer.gone)
            takes.append(Take(layer.key, n, cost))
            layer = replace(layer, gone=layer.gone + n)
            quantity -= n
        after.append(layer)
    return tuple(takes), tuple(after)


def cost_of(takes: Sequence[Take]) -> int:
    """Give what all that was taken cost."""
    return sum(one.cost for one in takes)


def part_of(cost: int, quantity: int, n: int) -> int:
    """Give what n of some that were taken together cost, the last of them; the others keep the rest.

    Units:  minor units.
    Raises: Bug: there were not so many.
    """
    return cost - cost_of_first(Layer(0, quantity, cost), quantity - n)


def at_newest_cost(newest: Layer, quantity: int) -> int:
    """Give what a number of pieces would have cost at the unit cost of the newest lot, rounded once."""
    return round_half_away(Fraction(newest.cost * quantity, newest.quantity))
