"""The prices of a sale: line by line, or one price divided by the asking prices."""

from __future__ import annotations

from collections.abc import Sequence

from shopledger.acts.lots import goods_of
from shopledger.acts.paying import above_zero
from shopledger.acts.selling_forms import Sell, SellLine
from shopledger.acts.taking_in import need_open_stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.standing import asking_price
from shopledger.rules.dividing import single_price_over_lines
from shopledger.store.unit import Reading


def priced(reading: Reading, form: Sell) -> tuple[tuple[Money, Money], ...]:
    """Give each line's asking price and price.

    Raises: Typed: a price is missing or the lines don't come to the one price given.
    """
    if form.price_in_all is not None:
        above_zero(form.price_in_all, reading.currency, "price_in_all")
    askings = tuple(_asking(reading, n, line) for n, line in enumerate(form.lines))
    given = [line.price for line in form.lines]
    if form.price_in_all is None:
        given = [
            asking if price is None and line.goods_id is not None else price
            for line, price, asking in zip(form.lines, given, askings, strict=True)
        ]
        for n, price in enumerate(given):
            if price is None:
                raise Typed(N_("The line's price is missing."), field=f"lines[{n}].price")
        prices = tuple(price for price in given if price is not None)
    elif all(price is None for price in given):
        prices = single_price_over_lines(form.price_in_all, askings)
    elif any(price is None for price in given):
        raise Typed(N_("Give every line its price, or none and one price for all."), field="price_in_all")
    else:
        prices = tuple(price for price in given if price is not None)
        if sum(price.minor for price in prices) != form.price_in_all.minor:
            raise Typed(
                N_("The lines come to {lines}, the one price is {all}: make them agree."),
                field="price_in_all",
                lines=reading.money(sum(price.minor for price in prices)),
                all=form.price_in_all,
            )
        _refuse_moved_discount(form, askings, prices)
    for n, price in enumerate(prices):
        above_zero(price, reading.currency, f"lines[{n}].price")
    return tuple(
        (price if asking is None else asking, price) for asking, price in zip(askings, prices, strict=True)
    )


def _asking(reading: Reading, n: int, line: SellLine) -> Money:
    if line.instrument_id is not None:
        stay = need_open_stay(reading, line.instrument_id)
        asking = asking_price(reading, stay.id)
        if asking is not None:
            return asking
    if line.goods_id is not None:
        goods = goods_of(reading, line.goods_id, f"lines[{n}].goods_id")
        if goods.price is not None:
            return reading.money(goods.price * line.quantity)
    if line.price is None:
        raise Typed(N_("Nothing is asked for this line so far: give its price."), field=f"lines[{n}].price")
    return line.price


def _refuse_moved_discount(form: Sell, askings: Sequence[Money], prices: Sequence[Money]) -> None:
    """Refuse a discount that moves from the shop's goods to a consigned line without its owner's consent."""
    assert form.price_in_all is not None
    even = single_price_over_lines(form.price_in_all, askings)
    shop_gains = any(
        line.kind != "consigned" and price > fair
        for line, price, fair in zip(form.lines, prices, even, strict=True)
    )
    agreed = {consent.line for consent in form.consents if consent.about == "discount"}
    for n, (line, price, fair) in enumerate(zip(form.lines, prices, even, strict=True)):
        if shop_gains and line.kind == "consigned" and price < fair and n + 1 not in agreed:
            raise Refused(
                N_(
                    "By the asking prices {fair} falls on this line. Less needs its owner's recorded consent."
                ),
                field=f"lines[{n}].price",
                fair=fair,
            )
