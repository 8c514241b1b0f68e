"""Days as people type them, in the order and with the names of their locale.

The year has four figures, always: a ledger that is read ten years on must not guess the century.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import date, timedelta

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.numbers import brief
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _

FIRST_YEAR, LAST_YEAR = 1500, 2199

_NUMBERS = re.compile(
    r"([0-9]{1,4})\s*[./\-\s\u5e74]\s*([0-9]{1,2})\s*[./\-\s\u6708]\s*([0-9]{1,4})\s*[.\u65e5]?"
)
_PARTS = re.compile(r"[0-9]+|[^\W\d_]+", re.UNICODE)


def read_day(text: str, manners: Manners = PLAIN, *, field: str = "day", today: date | None = None) -> date:
    """Read a day as people type it: "4.3.2026", "4 Mar 2026", "March 4, 2026", "2026-03-04".

    Figures alone are read in the locale's order, or year, month, day where the year comes first. Where `today` is
    given, "today", "yesterday" and "tomorrow" count from it.

    Raises: Typed: no day, a day that the calendar lacks, a year of two figures or outside 1500 to 2199.
    """
    tidy = " ".join(unicodedata.normalize("NFC", text[:80]).split())
    example = show_day(date(2026, 3, 4), manners)
    if not tidy:
        raise Typed(N_("A day is missing: write it as {example}."), field=field, example=example)
    if today is not None:
        near = {_("today"): 0, _("yesterday"): -1, _("tomorrow"): 1}.get(tidy.casefold())
        if near is not None:
            return today + timedelta(days=near)
    parts = _by_numbers(tidy, manners) or _by_name(tidy, manners)
    if parts is None:
        raise Typed(
            N_("“{typed}” is no day. Write it as {example} or as 2026-03-04."),
            field=field,
            typed=brief(text),
            example=example,
        )
    year, month, day = parts
    if len(year) < 4:
        raise Typed(
            N_("“{typed}” leaves the century open: write the year with four figures, as {example}."),
            field=field,
            typed=brief(text),
            example=example,
        )
    return _in_calendar(int(year), month, day, text, field)


def _in_calendar(year: int, month: int, day: int, text: str, field: str) -> date:
    """Give the day if the calendar has it.

    Raises: Typed: it hasn't, with the last day of that month where the month is right.
    """
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Typed(
            N_("“{typed}” lies in a year that can't be meant: from {first} to {last} is possible."),
            field=field,
            typed=brief(text),
            first=str(FIRST_YEAR),
            last=str(LAST_YEAR),
        )
    if not 1 <= month <= 12:
        raise Typed(
            N_("“{typed}” names month {month}, but a year has twelve."),
            field=field,
            typed=brief(text),
            month=month,
        )
    last = (date(year + month // 12, month % 12 + 1, 1) - timedelta(days=1)).day
    if not 1 <= day <= last:
        raise Typed(
            N_("“{typed}” is not in the calendar: that month has the days 1 to {last}."),
            field=field,
            typed=brief(text),
            last=last,
        )
    return date(year, month, day)


def _by_numbers(text: str, manners: Manners) -> tuple[str, int, int] | None:
    """Give year, month and day of a text of three numbers, or None where it is none."""
    match = _NUMBERS.fullmatch(text)
    if match is None:
        return None
    first, middle, last = match.groups()
    if len(first) >= 3:
        return first, int(middle), int(last)
    month_first = manners.order.index("m") < manners.order.index("d")
    if len(last) < 3 and manners.order.startswith("y"):
        return first, int(middle), int(last)
    return (last, int(first), int(middle)) if month_first else (last, int(middle), int(first))


def _by_name(text: str, manners: Manners) -> tuple[str, int, int] | None:
    """Give year, month and day of a text with the name of a month in it, or None where it is none."""
    numbers: list[str] = []
    month: int | None = None
    for part in _PARTS.findall(text):
        if part.isascii() and part.isdigit():
            numbers.append(part)
        elif (found := _month(part, manners)) is not None and month is None:
            month = found
        elif part.casefold() not in _small_words(manners):
            return None
    if month is None or len(numbers) != 2 or not re.fullmatch(r"[\w\s.,/\-’']+", text):
        return None
    year, day = (numbers[0], numbers[1]) if len(numbers[0]) >= 3 else (numbers[1], numbers[0])
    return (year, month, int(day)) if len(day) <= 2 else None


def _month(word: str, manners: Manners) -> int | None:
    """Give the month that the word names in the locale or in English; three letters or more of its name are enough."""
    small = word.casefold()
    for names in (manners.months_long, manners.months, PLAIN.months_long, PLAIN.months):
        for n, name in enumerate(names, start=1):
            if name.casefold().rstrip(".") == small:
                return n
    begun = {
        n
        for n, name in enumerate(manners.months_long, start=1)
        if len(small) >= 3 and name.casefold().startswith(small)
    }
    return begun.pop() if len(begun) == 1 else None


def _small_words(manners: Manners) -> set[str]:
    """Give the words that the locale's pattern sets between the parts, as "de" in Portuguese, and English endings."""
    between = re.findall(r"'([^']*)'", manners.day_pattern)
    return {word.casefold() for quoted in between for word in _PARTS.findall(quoted)} | {
        "st",
        "nd",
        "rd",
        "th",
        "of",
    }
