"""The floor: the least the owner wants in hand, and how far the shop's commission gives way to reach it."""

from __future__ import annotations

from fractions import Fraction

from shopledger.quantities.money import Money


def largest_with_vat(room: Money, vat_rate: Fraction) -> Money:
    """Give the largest commission that fits into the room together with the rounded VAT on it.

    Shape:  the result c is zero or more with c + round(c × rate) <= room, and c + 1 no longer fits; where the
            room is below zero nothing fits and the result is zero.
    """
    if room.minor <= 0:
        return Money.zero(room.currency)
    # Without rounding c is room / (1 + rate); rounding moves it by less than one unit: the search starts one above.
    exact = room.minor / (1 + vat_rate)
    found = Money(exact.numerator // exact.denominator + 1, room.currency)
    while found + found.times(vat_rate) > room:
        found = Money(found.minor - 1, room.currency)
    return found


def made_up(commission: Money, room: Money, vat_rate: Fraction) -> Money:
    """Give the smallest reduction of the commission after which it and the VAT on it leave the floor.

    Units:  `room` is what commission and VAT may take together: price − owner's costs and referral − floor.
    Shape:  between zero and the whole commission; VAT shrinks with the commission.
    """
    fits = largest_with_vat(room, vat_rate)
    return commission - min(commission, fits)
