"""What an estimate comes to: each line at least and at most, then discount and tax over them, once for either end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.rules.billing import Billed, WorkAmount, reckon_bill


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkWanted:
    """What is known of one line before it is reckoned.

    Units:  minutes of work, for all of the line.
    Shape:  `price` is what one of them costs by the price list or the goods; `amount` and `amount_high` were typed
            and are for all of the line.
    """

    minutes: int | None = None
    minutes_high: int | None = None
    quantity: int = 1
    price: Money | None = None
    amount: Money | None = None
    amount_high: Money | None = None


@dataclass(frozen=True, slots=True)
class LineRange:
    """What a line comes to at least and at most, before discount and tax; whether it is taxed."""

    low: Money
    high: Money
    is_taxed: bool


@dataclass(frozen=True, slots=True)
class Estimated:
    """What an estimate comes to, its lines at their least and at their most."""

    low: Billed
    high: Billed


def for_time(hourly: Money, minutes: int) -> Money:
    """Give what time costs at an hourly rate, rounded once."""
    return hourly.times(Fraction(minutes, 60))


def amounts_of(wanted: WorkWanted, hourly: Money) -> tuple[Money, Money] | None:
    """Give what a line comes to at least and at most; None where nothing says what it costs.

    An amount that is typed goes before a price, and a price before the time at the hourly rate. At most is what is
    typed as such, else the longest time at the rate, else the same.

    Raises: Typed, with the field of the line: something is below nothing, or at most is below at least.
    """
    if wanted.quantity < 1:
        raise Typed(N_("The quantity is at least 1."), field="quantity")
    if wanted.minutes_high is not None and (wanted.minutes or 0) > wanted.minutes_high:
        raise Typed(N_("The longest time can't be shorter than the time."), field="minutes_high")
    if wanted.amount is not None:
        low = wanted.amount
    elif wanted.price is not None:
        low = wanted.price.times(wanted.quantity)
    elif wanted.minutes is not None:
        low = for_time(hourly, wanted.minutes)
    else:
        return None
    if low.minor < 0:
        raise Typed(N_("A line can't be below nothing: give a discount instead."), field="amount")
    if wanted.amount_high is not None:
        high, field = wanted.amount_high, "amount_high"
    elif wanted.minutes_high is not None:
        high, field = for_time(hourly, wanted.minutes_high), "minutes_high"
    else:
        return low, low
    if high < low:
        raise Typed(
            N_("At most comes to {high}, and at least to {low}: type more, or leave it out."),
            field=field,
            high=high,
            low=low,
        )
    return low, high


def reckon_estimate(
    lines: Sequence[LineRange], discount: Money, rate: Fraction | None, *, by_invoice: bool
) -> Estimated:
    """Give what an estimate comes to at least and at most, each reckoned as a bill would be.

    Raises: Typed: the discount is below nothing, or above what the lines come to at least.
    Source: Streamlined Sales and Use Tax Agreement, section 324 (the seller chooses item or invoice basis).
    """

    def bill(amounts: Sequence[Money]) -> Billed:
        taxed = [WorkAmount(amount, line.is_taxed) for amount, line in zip(amounts, lines, strict=True)]
        return reckon_bill(taxed, discount, rate, by_invoice=by_invoice)

    return Estimated(bill([line.low for line in lines]), bill([line.high for line in lines]))
