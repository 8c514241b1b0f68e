"""The manners of a locale: its separators, its names of months, its way with money.

They are handed down as a value, so that the rooms below need no library of locales and the same facts are shown
the same way on every machine.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Manners:
    """Separators and names of one locale.

    Shape:  `months` and `months_long` have twelve names each; `grouping` is the size of the first and of each further
            group of digits; `order` is the order in which a typed day is read, a permutation of "dmy".
    Source: the locale data of the Unicode CLDR for any but the default.
    """

    language: str = "en"
    decimal: str = "."
    group: str = ","
    grouping: tuple[int, int] = (3, 3)
    minus: str = "\u2212"
    months: tuple[str, ...] = (
        "Jan",
        "Feb",
        "Mar",
        "Apr",
        "May",
        "Jun",
        "Jul",
        "Aug",
        "Sep",
        "Oct",
        "Nov",
        "Dec",
    )
    months_long: tuple[str, ...] = (
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    )
    day_pattern: str = "d MMM y"
    order: str = "dmy"
    money_prefix: str = ""
    money_suffix: str = ""


PLAIN = Manners()
"""English names, a point before the decimals, commas between groups."""


class Shown(ABC):
    """A value that says itself how it is shown, so that whoever shows it needs no list."""

    __slots__ = ()

    @abstractmethod
    def shown(self, manners: Manners) -> str:
        """Give its words in the manners of a reader."""


class AsTyped(Shown):
    """A value that keeps the words in which it was typed, and is shown by them."""

    __slots__ = ()
    typed: str

    def shown(self, manners: Manners) -> str:
        """Give it as it was typed."""
        return self.typed
