"""What a player can want of an instrument: which things can be asked for, and how limits are typed.

A criterion is known by a code: `price`, `string_count`, `maker`, `size`, `measure:string_length`, `fitting:pegs`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.measured import NEAR, UNITS, kept, read_measured
from shopledger.quantities.numbers import brief, nearest
from shopledger.quantities.reading import read_amount
from shopledger.quantities.words import N_, _
from shopledger.rules.likeness import Stretch
from shopledger.rules.measures import measure_words, measures_listed, part_words, sets

PRICE, STRINGS, MAKER, SIZE = "price", "string_count", "maker", "size"
MEASURE, FITTING = "measure:", "fitting:"
_OWN = {PRICE: N_("price"), STRINGS: N_("number of strings"), MAKER: N_("maker"), SIZE: N_("size")}


class Sort(Enum):
    """How a criterion is compared."""

    FIGURE = "figure"
    WORDS = "words"


@dataclass(frozen=True, slots=True)
class Limits:
    """What is wanted of one criterion: a stretch of figures, or words that have to be found.

    Units:  minor units for a price, a count for strings, the whole numbers that are kept for a measure.
    """

    stretch: Stretch | None = None
    words: str = ""


def sort_of(code: str) -> Sort:
    """Give how a criterion is compared."""
    return Sort.FIGURE if code in {PRICE, STRINGS} or code.startswith(MEASURE) else Sort.WORDS


def criterion_words(code: str) -> str:
    """Give a criterion in the reader's words."""
    if code.startswith(MEASURE):
        return _(measure_words(code.removeprefix(MEASURE)))
    if code.startswith(FITTING):
        return _(part_words(code.removeprefix(FITTING)))
    return _(_OWN.get(code, code))


def criteria_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give what can be asked for of a kind by code with marked words; of all kinds where it isn't known."""
    fittings = sets().fittings
    of_kind = fittings[kind] if kind in fittings else [part for parts in fittings.values() for part in parts]
    return (
        *_OWN.items(),
        *((MEASURE + key, words) for key, words in measures_listed(kind)),
        *dict.fromkeys((FITTING + part.key, part.words) for part in of_kind),
    )


def read_criterion(typed: str, kind: str, field: str) -> str:
    """Give the code of a criterion from its code or its words.

    Raises: Typed: this kind has no such thing; the nearest is named.
    """
    wanted = " ".join(typed.casefold().replace("_", " ").split())
    listed = criteria_listed(kind)
    by_words = {name.casefold(): code for code, words in listed for name in (words, _(words))}
    by_code = {code.replace("_", " "): code for code, _words in listed}
    by_bare = {code.partition(":")[2].replace("_", " "): code for code, _words in listed}
    for known in (by_code, by_words, by_bare):
        if wanted in known:
            return known[wanted]
    raise Typed(
        N_("“{typed}” can't be wanted of this kind. The nearest is “{near}”; choose that or another."),
        field=field,
        typed=brief(typed),
        near=nearest(wanted, [_(words) for _code, words in listed]) or _(_OWN[PRICE]),
    )


def read_limits(
    code: str, typed: str, *, must: bool, currency: str, manners: Manners = PLAIN, field: str = "value"
) -> Limits:
    """Give what is wanted of a criterion as it is typed: `690-700`, `at most 12000`, `> 80 g`, `27 in`, or words.

    A single price that is a must is the most that is paid; another single figure that is a must may be off by half of
    what a figure is told to.

    Raises: Typed: it can't be read; what would be right is said.
    """
    text = " ".join(typed.split())
    if not text:
        raise Typed(N_("What is wanted here? Write a figure, a stretch or words."), field=field)
    if sort_of(code) is Sort.WORDS:
        return Limits(words=text)
    read = _reader(code, currency, manners, field)
    bound = _BOUND.fullmatch(text)
    if bound is not None:
        figure = read(bound["figure"])
        return Limits(Stretch(None, figure) if _is_most(bound["sign"]) else Stretch(figure, None))
    for dash in _DASH.finditer(text):
        try:
            low, high = read(text[: dash.start()] + _unit_of(text, dash)), read(text[dash.end() :])
        except LedgerError:
            continue
        if low > high:
            raise Typed(
                N_("“{text}” goes downwards: write the smaller figure first."), field=field, text=brief(text)
            )
        return Limits(Stretch(low, high))
    figure = read(text)
    if not must:
        return Limits(Stretch(figure, figure))
    if code == PRICE:
        return Limits(Stretch(None, figure))
    near = 0 if code == STRINGS else NEAR[sets().measure_units.get(code.removeprefix(MEASURE), "mm")]
    return Limits(Stretch(figure - near, figure + near))


_DASH = re.compile(r"\s*[-\u2013\u2014]\s*|\s+to\s+")
_BOUND = re.compile(
    r"(?P<sign><=|>=|[<>\u2264\u2265]|at most|up to|at least|from)\s*(?P<figure>.+)", re.IGNORECASE
)
_OWN_UNIT = re.compile(r"[^\W\d_]+\.?$|[\u00b0\"\u2033\u201d]$")


def _is_most(sign: str) -> bool:
    return sign[0] in "<\u2264" or sign.casefold() in {"at most", "up to"}


def _unit_of(text: str, dash: re.Match[str]) -> str:
    """Give the unit at the end where only the end of a stretch names it: both its figures are meant in it."""
    before, after = _OWN_UNIT.search(text[: dash.start()]), _OWN_UNIT.search(text)
    return f" {after.group()}" if after is not None and before is None else ""


def _reader(code: str, currency: str, manners: Manners, field: str) -> Callable[[str], int]:
    """Give what reads one figure of a criterion."""
    if code == PRICE:
        return lambda text: read_amount(text, currency, manners, field=field).minor
    if code == STRINGS:
        return lambda text: _count(text, field)
    unit = sets().measure_units.get(code.removeprefix(MEASURE), "mm")
    return lambda text: kept(read_measured(text, unit=unit, manners=manners, field=field))


def _count(text: str, field: str) -> int:
    if not re.fullmatch(r"[0-9]{1,2}", text.strip()):
        raise Typed(N_("“{text}” is no number of strings. Write it as 5."), field=field, text=brief(text))
    return int(text)


def column_of_measure(code: str) -> str:
    """Give the column in which the figures of a measure are kept: `nm`, `mg` or `mdeg`."""
    unit = sets().measure_units.get(code.removeprefix(MEASURE), "mm")
    return str(UNITS[unit][0].value)


def holds_words(text: str | None, wanted: str) -> bool | None:
    """Tell whether a text has each of the words that are wanted; None where there is no text."""
    if not text or not text.strip():
        return None
    found = text.casefold()
    return all(word in found for word in wanted.casefold().split())
