"""Money: a whole number of minor units with its currency. No floating-point number ever holds an amount.

A figure that needs rounding is rounded once, half away from zero; an amount is divided between people by
largest remainder. Both rules live here and nowhere else.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities import currencies
from shopledger.quantities.errors import Bug, Typed
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_

MOST_DIGITS = 15
_PLAIN_AMOUNT = re.compile(r"(-?)([0-9]+)(?:\.([0-9]+))?")


def round_half_away(exact: Fraction) -> int:
    """Give the nearest whole number; a half goes away from zero.

    Source: Streamlined Sales and Use Tax Agreement, section 324 (the third decimal above four rounds up).
    """
    return _nearest_whole(exact.numerator, exact.denominator)


def _nearest_whole(top: int, bottom: int) -> int:
    """Give top / bottom rounded half away from zero; bottom is above zero."""
    whole = (2 * abs(top) + bottom) // (2 * bottom)
    return -whole if top < 0 else whole


def share_out(total: int, weights: Sequence[Fraction | int]) -> list[int]:
    """Divide a whole number by weights with largest remainder, so that the parts add up to it.

    Everyone gets the whole units of the exact share; the units left go to the largest fractions, equal
    fractions first named first. A negative total divides like its absolute value.

    Raises:  Bug where a weight is below zero, or all are zero and there is something to divide.
    """
    if any(weight < 0 for weight in weights):
        raise Bug(N_("An amount can't be divided by a weight below zero."))
    size = abs(total)
    whole_weight = sum((Fraction(weight) for weight in weights), Fraction(0))
    if whole_weight == 0:
        if size == 0:
            return [0] * len(weights)
        raise Bug(N_("An amount can't be divided between nobody."))
    parts: list[int] = []
    remainders: list[Fraction] = []
    for weight in weights:
        exact = size * weight / whole_weight
        parts.append(exact.numerator // exact.denominator)
        remainders.append(exact - parts[-1])
    # sorted() is stable: of equal fractions the first named stays first.
    first_served = sorted(range(len(parts)), key=lambda n: remainders[n], reverse=True)
    for n in first_served[: size - sum(parts)]:
        parts[n] += 1
    return [-part for part in parts] if total < 0 else parts


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in minor units of one currency.

    Units:   minor units (cents where the currency has two decimals).
    Raises:  Bug where amounts of two currencies meet; TypeError where the minor units are no whole number.
    """

    minor: int
    currency: str

    def __post_init__(self) -> None:
        """Refuse anything but a whole number of minor units."""
        if type(self.minor) is not int:
            raise TypeError(f"Money counts whole minor units, not {self.minor!r}")

    @classmethod
    def zero(cls, currency: str) -> Money:
        """Give nothing, in the currency."""
        return cls(0, currency)

    @classmethod
    def parse(cls, text: str, currency: str, *, field: str = "amount") -> Money:
        """Read an amount written plainly: digits, a point before the decimals, a minus where need be.

        Shape:   `-?[0-9]+(\\.[0-9]+)?`, at most 15 digits, no more decimals than the currency has.
        Raises:  Typed, with what would be right.
        """
        units = currencies.minor_units(currency)
        match = _PLAIN_AMOUNT.fullmatch(text)
        if match is None:
            raise Typed(
                N_(
                    "“{typed}” is not an amount. Write it like {example}, in digits with a point before decimals."
                ),
                field=field,
                typed=brief(text),
                example=cls(125000 if units == 0 else 1250 * 10**units, currency).plain(),
            )
        minus, whole, decimals = match.group(1), match.group(2), match.group(3) or ""
        if len(whole) + len(decimals) > MOST_DIGITS:
            raise Typed(
                N_("“{typed}” has {digits} digits. An amount has at most {most}."),
                field=field,
                typed=brief(text),
                digits=len(whole) + len(decimals),
                most=MOST_DIGITS,
            )
        if len(decimals) > units:
            raise _too_many_decimals(text, len(decimals), units, currency, field)
        minor = int(whole + decimals.ljust(units, "0"))
        return cls(-minor if minus else minor, currency)

    def plain(self) -> str:
        """Give the amount as a plain decimal string with all decimals of its currency: "11250.00"."""
        units = currencies.minor_units(self.currency)
        digits = str(abs(self.minor)).rjust(units + 1, "0")
        sign = "-" if self.minor < 0 else ""
        return f"{sign}{digits[:-units]}.{digits[-units:]}" if units else sign + digits

    def times(self, rate: Fraction | int) -> Money:
        """Give the amount times an exact rate, rounded once, half away from zero, to the minor unit."""
        return Money(_nearest_whole(self.minor * rate.numerator, rate.denominator), self.currency)

    def shared(self, weights: Sequence[Fraction | int]) -> tuple[Money, ...]:
        """Give the amount divided by weights with largest remainder; the parts add up to it."""
        return tuple(Money(part, self.currency) for part in share_out(self.minor, weights))

    def halves(self) -> tuple[Money, Money]:
        """Give the smaller and the larger half; they differ by the odd unit where there is one."""
        smaller = abs(self.minor) // 2
        smaller = -smaller if self.minor < 0 else smaller
        return Money(smaller, self.currency), Money(self.minor - smaller, self.currency)

    def _same(self, other: Money) -> int:
        """Give the other's minor units once it is sure that both are of one currency."""
        if self.currency != other.currency:
            raise Bug(
                N_("An amount in {one} met an amount in {other}; a ledger has one currency."),
                one=self.currency,
                other=other.currency,
            )
        return other.minor

    def __add__(self, other: Money) -> Money:
        """Give the sum."""
        if not isinstance(other, Money):
            return NotImplemented
        return Money(self.minor + self._same(other), self.currency)

    def __sub__(self, other: Money) -> Money:
        """Give the difference."""
        if not isinstance(other, Money):
            return NotImplemented
        return Money(self.minor - self._same(other), self.currency)

    def __neg__(self) -> Money:
        """Give the same amount with the other sign."""
        return Money(-self.minor, self.currency)

    def __abs__(self) -> Money:
        """Give the amount without its sign."""
        return Money(abs(self.minor), self.currency)

    def __bool__(self) -> bool:
        """Tell whether the amount is anything but zero."""
        return self.minor != 0

    def __lt__(self, other: Money) -> bool:
        """Tell whether this is the smaller amount."""
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor < self._same(other)

    def __le__(self, other: Money) -> bool:
        """Tell whether this is at most the other amount."""
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor <= self._same(other)

    def __gt__(self, other: Money) -> bool:
        """Tell whether this is the larger amount."""
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor > self._same(other)

    def __ge__(self, other: Money) -> bool:
        """Tell whether this is at least the other amount."""
        if not isinstance(other, Money):
            return NotImplemented
        return self.minor >= self._same(other)


def total(amounts: Sequence[Money], currency: str) -> Money:
    """Give the sum of the amounts, zero in the currency where there are none."""
    result = Money.zero(currency)
    for amount in amounts:
        result = result + amount
    return result


def _too_many_decimals(text: str, decimals: int, units: int, currency: str, field: str) -> Typed:
    """Give the refusal of an amount that is finer than its currency's smallest coin."""
    if units == 0:
        return Typed(
            N_("“{typed}” has decimals, but {currency} has none. Write whole units."),
            field=field,
            typed=brief(text),
            currency=currency,
        )
    return Typed(
        N_("“{typed}” has {decimals} decimals, but {currency} has {units}. Write at most {units}."),
        field=field,
        typed=brief(text),
        decimals=decimals,
        currency=currency,
        units=units,
    )
