"""Dividing one amount over several lines of an invoice or several owners, so that the parts add up to the unit."""

from __future__ import annotations

from collections.abc import Sequence

from shopledger.quantities.errors import Refused
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import N_
from shopledger.rules.terms import OwnerShare


def single_price_over_lines(price: Money, askings: Sequence[Money]) -> tuple[Money, ...]:
    """Give each line's part of one price agreed for several things: by asking prices, largest remainder.

    Raises:  Refused where no line has an asking price to divide by.
    """
    if not any(askings):
        raise Refused(
            N_("A single price is divided by asking prices, and none is known. Agree a price for each line."),
            field="price",
        )
    return price.shared([asking.minor for asking in askings])


def paid_on_lines(paid: Money, buyer_pays: Sequence[Money]) -> tuple[Money, ...]:
    """Give how an amount paid on an invoice falls on its lines: by what each line's buyer pays."""
    if not total(buyer_pays, paid.currency):
        return paid.shared([1] + [0] * (len(buyer_pays) - 1)) if buyer_pays else ()
    return paid.shared([line.minor for line in buyer_pays])


def among_owners(net: Money, owners: Sequence[OwnerShare]) -> tuple[Money, ...]:
    """Give each owner's part of the net by shares that sum to one; a negative net is borne likewise."""
    return net.shared([owner.share for owner in owners])
