"""What is typed over the table of stock, taken apart: plain words, ranges of measures, numbers of strings, prices.

`cello string 650-695 < 12000` asks for the word cello, a vibrating string length between 650 and 695 mm and an asking
price below 12,000. What can't be read as a range stays plain words, so nothing that is typed is ever refused.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.measured import NEAR, UNITS, Dimension, kept, read_measured
from shopledger.quantities.reading import read_amount
from shopledger.quantities.words import _

LONGEST = 400
MOST_NAME_WORDS = 8
SHORTEST_BEGINNING = 3

_FRACTION = "[¼½¾⅛⅜⅝⅞]"
_WHOLE = rf"[0-9]{{1,6}}(?:[.,][0-9]{{1,6}})?(?:\s*{_FRACTION}|\s+[0-9]{{1,2}}/[0-9]{{1,3}})?"
_NUMBER = rf"(?:{_WHOLE}|[0-9]{{1,2}}/[0-9]{{1,3}}|{_FRACTION})"
_UNIT = r"(?:mm|cm|inches|inch|in|\"|\u2033|\u201d|kg|g|oz|lbs?|\u00b0)"
_MEANS = {"kg": "kg", "g": "g", "oz": "oz", "lb": "lb", "lbs": "lb", "\u00b0": "\u00b0"}
"""What a unit means that is none of a length."""
_DASH = r"\s*[-\u2013\u2014]\s*"
_AMOUNT = r"[0-9](?:[0-9.,'\u2019\u00a0\u202f]*[0-9])?"
_ENDS = r"(?![\w/.,]*\w)"
_LENGTHS = re.compile(
    rf"(?<!\S)(?P<low>{_NUMBER})\s*(?P<low_unit>{_UNIT})?{_DASH}(?P<high>{_NUMBER})\s*(?P<unit>{_UNIT})?{_ENDS}",
    re.IGNORECASE,
)
_BOUND = re.compile(
    rf"(?P<sign>[<>\u2264\u2265]=?)\s*(?P<figure>{_NUMBER})\s*(?P<unit>{_UNIT})?{_ENDS}", re.IGNORECASE
)
_LENGTH = re.compile(rf"(?<!\S)(?P<figure>{_NUMBER})\s*(?P<unit>{_UNIT})?{_ENDS}(?!{_DASH})", re.IGNORECASE)
_PRICES = re.compile(rf"(?<!\S)(?P<low>{_AMOUNT}){_DASH}(?P<high>{_AMOUNT}){_ENDS}")
_PRICE_BOUND = re.compile(rf"(?P<sign>[<>\u2264\u2265]=?)\s*(?P<figure>{_AMOUNT}){_ENDS}")


@dataclass(frozen=True, slots=True)
class MeasureRange:
    """A measure, by the keys it can mean, and the figures it has to lie between, both ends included.

    Units:  the whole numbers that are kept of its dimension: nanometres, milligrams, thousandths of a degree.
    """

    keys: tuple[str, ...]
    low: int | None
    high: int | None
    dimension: Dimension = Dimension.LENGTH


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for.

    Units:  prices in minor units, both ends included.
    """

    words: str = ""
    strings: int | None = None
    price_low: int | None = None
    price_high: int | None = None
    measures: tuple[MeasureRange, ...] = ()


@dataclass(slots=True)
class _Gathered:
    currency: str
    manners: Manners
    names: Mapping[str, Sequence[str]]
    units: Mapping[str, str]
    strings: int | None = None
    low: int | None = None
    high: int | None = None
    measures: list[MeasureRange] = field(default_factory=list)

    def price(self, low: int | None, high: int | None) -> None:
        """Narrow the price."""
        if low is not None:
            self.low = low if self.low is None else max(low, self.low)
        if high is not None:
            self.high = high if self.high is None else min(high, self.high)


_Take = Callable[[re.Match[str], str, _Gathered], int | None]
"""Reads a match after the text before it; gives where what it took begins, or None where it is none of its own."""


def take_apart(
    typed: str,
    currency: str,
    manners: Manners = PLAIN,
    measures: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
) -> Asked:
    """Give what a line asks for; never raises.

    Shape:  `measures` gives the words of each known measure by its key; a measure is named by the beginnings of one or
            more of its words right before a range, a bound or a single figure. `units` gives the unit of each that is
            no length in millimetres.
    """
    text = " ".join(unicodedata.normalize("NFC", typed[:LONGEST]).split())
    names = {key: _name_words(key, words) for key, words in (measures or {}).items()}
    gathered = _Gathered(currency, manners, names, units or {})
    text = _take_strings(text, gathered)
    text = _take_each(_LENGTHS, text, gathered, _range)
    text = _take_each(_BOUND, text, gathered, _bound)
    text = _take_each(_LENGTH, text, gathered, _figure)
    text = _take_each(_PRICES, text, gathered, _price_range)
    text = _take_each(_PRICE_BOUND, text, gathered, _price_bound)
    return Asked(
        words=" ".join(text.split()),
        strings=gathered.strings,
        price_low=gathered.low,
        price_high=gathered.high,
        measures=tuple(gathered.measures),
    )


def _name_words(key: str, words: str) -> tuple[str, ...]:
    said = f"{key.replace('_', ' ')} {words} {_(words)}"
    return tuple(dict.fromkeys(said.casefold().split()))


def _take_strings(text: str, gathered: _Gathered) -> str:
    """Take "5 strings" out; "string" before a figure names the measure instead."""
    many = "|".join(re.escape(word) for word in {"strings", _("strings")})
    one = "|".join(re.escape(word) for word in {"string", _("string")})
    shape = re.compile(
        rf"(?<!\S)(?P<n>[0-9]{{1,2}})[\s-]*(?:(?:{many})(?!\w)|(?:{one})(?![\w-])(?!\s*[0-9<>]))",
        re.IGNORECASE,
    )
    match = shape.search(text)
    if match is None:
        return text
    gathered.strings = int(match["n"])
    return f"{text[: match.start()]} {text[match.end() :]}"


def _take_each(
    shape: re.Pattern[str],
    text: str,
    gathered: _Gathered,
    take: _Take,
) -> str:
    """Take every match out that `take` can read; the others stay."""
    place = 0
    while (match := shape.search(text, place)) is not None:
        start = take(match, text[: match.start()], gathered)
        if start is None:
            place = match.start() + 1
        else:
            text = f"{text[:start]} {text[match.end() :]}"
            place = start
    return text


def _named(before: str, names: Mapping[str, Sequence[str]]) -> tuple[int, tuple[str, ...]] | None:
    """Give where the name of a measure begins that a text ends with, and which measures it can mean."""
    words = list(re.finditer(r"\S+", before))[-MOST_NAME_WORDS:]
    for n in range(len(words)):
        said = [word.group().casefold().strip(":,") for word in words[n:]]
        keys = tuple(key for key, own in names.items() if all(_begins(word, own) for word in said))
        if keys and len(said[0]) >= SHORTEST_BEGINNING:
            return words[n].start(), keys
    return None


def _begins(word: str, own: Sequence[str]) -> bool:
    return word in own or (len(word) >= SHORTEST_BEGINNING and any(each.startswith(word) for each in own))


def _meant(keys: Sequence[str], unit: str, gathered: _Gathered) -> tuple[str, tuple[str, ...]]:
    """Give the unit that figures are in, and which measures can be in it: lengths where no unit says otherwise."""
    own = {key: gathered.units.get(key, "mm") for key in keys}
    if unit:
        wanted = UNITS[_MEANS.get(unit.casefold(), "mm")][0]
    else:
        dimensions = [UNITS[each][0] for each in own.values()]
        wanted = Dimension.LENGTH if Dimension.LENGTH in dimensions else dimensions[0]
    fit = tuple(key for key, each in own.items() if UNITS[each][0] is wanted)
    # A length without a unit is in millimetres, whatever its measure is usually typed in.
    bare = "mm" if wanted is Dimension.LENGTH or not fit else own[fit[0]]
    return _MEANS.get(unit.casefold(), bare), fit


def _kept(number: str, unit: str, meant: str, manners: Manners) -> int | None:
    try:
        return kept(read_measured(number + (f" {unit}" if unit else ""), unit=meant, manners=manners))
    except Typed:
        return None


def _range(match: re.Match[str], before: str, gathered: _Gathered) -> int | None:
    named = _named(before, gathered.names)
    if named is None:
        return None
    unit = match["unit"] or match["low_unit"] or ""
    meant, keys = _meant(named[1], unit, gathered)
    low = _kept(match["low"], match["low_unit"] or unit, meant, gathered.manners)
    high = _kept(match["high"], unit, meant, gathered.manners)
    if low is None or high is None or not keys:
        return None
    gathered.measures.append(MeasureRange(keys, min(low, high), max(low, high), UNITS[meant][0]))
    return named[0]


def _bound(match: re.Match[str], before: str, gathered: _Gathered) -> int | None:
    named = _named(before, gathered.names)
    if named is None:
        return None
    unit = match["unit"] or ""
    meant, keys = _meant(named[1], unit, gathered)
    bound = _kept(match["figure"], unit, meant, gathered.manners)
    if bound is None or not keys:
        return None
    low, high = _bounds(match["sign"], bound)
    gathered.measures.append(MeasureRange(keys, low, high, UNITS[meant][0]))
    return named[0]


def _figure(match: re.Match[str], before: str, gathered: _Gathered) -> int | None:
    named = _named(before, gathered.names)
    if named is None:
        return None
    unit = match["unit"] or ""
    meant, keys = _meant(named[1], unit, gathered)
    figure = _kept(match["figure"], unit, meant, gathered.manners)
    if figure is None or not keys:
        return None
    near = NEAR[meant]
    gathered.measures.append(MeasureRange(keys, figure - near, figure + near, UNITS[meant][0]))
    return named[0]


def _bounds(sign: str, figure: int) -> tuple[int | None, int | None]:
    """Give the least and the most that a sign and a whole number allow."""
    ends = sign in {"\u2264", "\u2265"} or sign.endswith("=")
    if sign[0] in "<\u2264":
        return None, figure if ends else figure - 1
    return figure if ends else figure + 1, None


def _minor(figure: str, gathered: _Gathered) -> int | None:
    try:
        return read_amount(figure, gathered.currency, gathered.manners).minor
    except Typed:
        return None


def _price_range(match: re.Match[str], before: str, gathered: _Gathered) -> int | None:
    """A range of prices rises and has no leading nought: the number of a paper, such as 2025-014, is none."""
    if match["high"].startswith("0") and match["high"] != "0":
        return None
    low, high = _minor(match["low"], gathered), _minor(match["high"], gathered)
    if low is None or high is None or high <= low:
        return None
    gathered.price(low, high)
    return len(before)


def _price_bound(match: re.Match[str], before: str, gathered: _Gathered) -> int | None:
    figure = _minor(match["figure"], gathered)
    if figure is None:
        return None
    gathered.price(*_bounds(match["sign"], figure))
    return len(before)
