"""First in, first out against worked examples of published texts, and shares that always sum to the lot's cost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Bug
from shopledger.rules.first_in import (
    Layer,
    Take,
    at_newest_cost,
    cost_of,
    cost_of_first,
    part_of,
    take,
    there,
    value_of,
)


def bought(*lots: tuple[int, int]) -> tuple[Layer, ...]:
    """Give lots of so many at so much each."""
    return tuple(Layer(key, n, n * each) for key, (n, each) in enumerate(lots, 1))


def test_an_open_text_on_inventories() -> None:
    # Simple Studies, Accounting for Inventories, 3.1 (simplestudies.com/accounting-for-inventories.html/page/6), FIFO
    # in a perpetual system. Read: 50 at $10; 100 at $12 come; 120 are sold; 60 at $14 come; 70 are sold; 210 in all are
    # there to be sold and 20 are left; and that the 120 are the 50 of the first layer and 70 of the second. The sums
    # follow from that: 500 + 840 = 1,340, then 30 at $12 and 40 at $14 = 920, and 20 at $14 = 280 are left.
    layers = bought((50, 10), (100, 12))
    march, layers = take(layers, 120)
    assert march == (Take(1, 50, 500), Take(2, 70, 840))
    may, layers = take((*layers, Layer(3, 60, 840)), 70)
    assert may == (Take(2, 30, 360), Take(3, 40, 560))
    assert (cost_of(march), cost_of(may)) == (1340, 920)
    assert (there(layers), value_of(layers)) == (20, 280)


def test_a_published_manuals_output() -> None:
    # FinCal 0.6.3, reference manual, cogs(): 2 at 2, 3 at 3, 5 at 5, of which 7 are sold. Read: cost of goods 23,
    # ending inventory 15.
    sold, left = take(bought((2, 2), (3, 3), (5, 5)), 7)
    assert (cost_of(sold), value_of(left)) == (23, 15)


def test_an_open_textbooks_perpetual_example() -> None:
    # From memory: OpenStax, Principles of Accounting 1, 10.3: 150 at $21; 120 sold; 225 at $27; 180 sold; 210 at $33.
    # Cost of goods sold $7,200, ending inventory $8,955.
    first, layers = take(bought((150, 21)), 120)
    second, layers = take((*layers, Layer(2, 225, 225 * 27)), 180)
    layers = (*layers, Layer(3, 210, 210 * 33))
    assert cost_of(first) + cost_of(second) == 7200
    assert (there(layers), value_of(layers)) == (285, 8955)


def test_a_lot_that_does_not_divide() -> None:
    # By hand: three for 1.00 go at 33, 34 and 33 cents, as 33.3, 66.7 and 100 are rounded.
    layers: tuple[Layer, ...] = (Layer(7, 3, 100),)
    costs = []
    for _n in range(3):
        takes, layers = take(layers, 1)
        costs.append(cost_of(takes))
    assert costs == [33, 34, 33]
    assert value_of(layers) == 0


def test_some_of_what_was_taken_together() -> None:
    assert [part_of(100, 3, n) for n in range(4)] == [0, 33, 67, 100]


def test_pieces_found_at_the_newest_cost() -> None:
    # By hand: 2 at the unit cost of three for 1.00, that is 66.67 cents, rounded once.
    assert at_newest_cost(Layer(1, 3, 100), 2) == 67


@pytest.mark.parametrize("quantity", [0, -1, 4])
def test_more_than_there_is_or_nothing(quantity: int) -> None:
    with pytest.raises(Bug):
        take((Layer(1, 3, 100),), quantity)
    with pytest.raises(Bug):
        cost_of_first(Layer(1, 3, 100), 5)


LOTS = st.lists(st.tuples(st.integers(1, 60), st.integers(0, 10**7)), min_size=1, max_size=6)


@given(LOTS, st.data())
def test_shares_sum_to_what_the_lots_cost(lots: list[tuple[int, int]], data: st.DataObject) -> None:
    layers = tuple(Layer(key, n, cost) for key, (n, cost) in enumerate(lots))
    whole = sum(cost for _n, cost in lots)
    spent: dict[int, int] = {}
    gone = 0
    while there(layers):
        wanted = data.draw(st.integers(1, there(layers)))
        takes, layers = take(layers, wanted)
        assert sum(one.quantity for one in takes) == wanted
        assert [one.key for one in takes] == sorted(one.key for one in takes)
        for one in takes:
            assert one.cost >= 0
            spent[one.key] = spent.get(one.key, 0) + one.cost
        gone += cost_of(takes)
        assert gone + value_of(layers) == whole
        open_ones = [layer.key for layer in layers if layer.left]
        assert not open_ones or all(layer.left == 0 for layer in layers if layer.key < open_ones[0])
    assert spent == {key: cost for key, (_n, cost) in enumerate(lots)}
