"""What is measured and fitted on which kind of instrument: sets kept as data, parsed into frozen values.

The words are data too and are translated where they are shown; `words` names them all for whoever gathers words
for translation.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from types import MappingProxyType
from typing import Any, TypeVar

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import NotFound, Trouble, Typed
from shopledger.quantities.measured import UNITS, Dimension, kept, read_measured
from shopledger.quantities.numbers import nearest
from shopledger.quantities.words import N_, _

SIDES: Mapping[str, str] = MappingProxyType({"": "", "bass": N_("bass side"), "treble": N_("treble side")})
"""Words of the sides a measure can have."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A measure of a kind of instrument.

    Shape:  `key` is what a reading stores; `unit` ("mm", "in", "g", "kg" or "°") is what a figure without one means;
            `sides` are the sides measured each for itself, "" being the whole; of each group of `method_groups` one
            word says how it was taken; `setup` says that it belongs to a set-up; all words are marked.
    Units:  `plausible` is from what to what a reading of the whole is believed without a question, in the whole
            numbers that are kept: nanometres, milligrams or thousandths of a degree; None where nothing is known.
    """

    key: str
    words: str
    unit: str = "mm"
    sides: tuple[str, ...] = ("",)
    method_groups: tuple[tuple[str, ...], ...] = ()
    setup: bool = False
    plausible: tuple[int, int] | None = None

    @property
    def dimension(self) -> Dimension:
        """What sort of figure it is: a length, a mass or an angle."""
        return UNITS[self.unit][0]

    @property
    def methods(self) -> tuple[str, ...]:
        """Every way it can be said to be taken: at most a word of each group, with commas between them."""
        chosen = product(*(("", *group) for group in self.method_groups))
        return tuple(", ".join(word for word in words if word) for words in chosen if any(words))


@dataclass(frozen=True, slots=True)
class FittedPart:
    """A part that can be fitted: what a fitting stores, and its marked words."""

    key: str
    words: str


Named = TypeVar("Named", "Measure", "FittedPart")


@dataclass(frozen=True, slots=True)
class Sets:
    """The measures and fitted parts of every kind."""

    measures: Mapping[str, tuple[Measure, ...]]
    fittings: Mapping[str, tuple[FittedPart, ...]]
    measure_words: Mapping[str, str]
    part_words: Mapping[str, str]
    measure_units: Mapping[str, str]

    @property
    def words(self) -> tuple[str, ...]:
        """Every word of the sets, each once."""
        methods = [
            word
            for measures in self.measures.values()
            for measure in measures
            for group in measure.method_groups
            for word in group
        ]
        return tuple(dict.fromkeys([*self.measure_words.values(), *self.part_words.values(), *methods]))


def parse_sets(text: str) -> Sets:
    """Give the sets that a text in TOML holds.

    Raises: Trouble: the text is no TOML, or names a measure or part that it doesn't declare.
    """
    try:
        written = tomllib.loads(text)
        measures, parts = written["measures"], written["fittings"]
        kinds = written["kinds"]
        return Sets(
            measures=MappingProxyType(
                {
                    kind: tuple(
                        _measure(key, measures[key], said.get("units", {}), said.get("plausible", {}))
                        for key in said["measures"]
                    )
                    for kind, said in kinds.items()
                }
            ),
            fittings=MappingProxyType(
                {
                    kind: tuple(FittedPart(key, parts[key]["words"]) for key in said["fittings"])
                    for kind, said in kinds.items()
                }
            ),
            measure_words=MappingProxyType({key: said["words"] for key, said in measures.items()}),
            part_words=MappingProxyType({key: said["words"] for key, said in parts.items()}),
            measure_units=MappingProxyType({key: said.get("unit", "mm") for key, said in measures.items()}),
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError, AttributeError, Typed) as error:
        raise Trouble(
            N_("The sets of measures can't be read ({said}). Install the program again."), said=str(error)
        ) from error


def _measure(
    key: str, said: dict[str, Any], units: Mapping[str, str], plausible: Mapping[str, str]
) -> Measure:
    unit = units.get(key, said.get("unit", "mm"))
    return Measure(
        key=key,
        words=said["words"],
        unit=unit,
        sides=tuple(said.get("sides", [""])),
        method_groups=tuple(tuple(group) for group in said.get("methods", [])),
        setup=bool(said.get("setup", False)),
        plausible=_range(plausible[key], unit) if key in plausible else None,
    )


def _range(said: str, unit: str) -> tuple[int, int]:
    """Give the ends of a range such as "190 mm to 375 mm" in the whole numbers that are kept."""
    low, high = (kept(read_measured(part, unit=unit)) for part in said.split(" to "))
    if low >= high:
        raise ValueError(said)
    return low, high


@cache
def sets() -> Sets:
    """Give the sets that come with the program; read once."""
    return parse_sets(asset("measures", "sets.toml").read_text(encoding="utf-8"))


def measures_for(kind: str) -> tuple[Measure, ...]:
    """Give what is measured on a kind of instrument, in the order it is asked for.

    Raises: NotFound: there is no such kind; the nearest one is named.
    """
    return _of_kind(sets().measures, kind)


def setup_measures_for(kind: str) -> tuple[Measure, ...]:
    """Give what is measured for a set-up of a kind of instrument; nothing for a bow.

    Raises: NotFound, as `measures_for`.
    """
    return tuple(measure for measure in measures_for(kind) if measure.setup)


def fittings_for(kind: str) -> tuple[FittedPart, ...]:
    """Give what can be fitted to a kind of instrument, in the order it is asked for.

    Raises: NotFound, as `measures_for`.
    """
    return _of_kind(sets().fittings, kind)


def measure_of(kind: str, key: str) -> Measure | None:
    """Give the measure of a kind by its key; None where the kind has none of that key.

    Raises: NotFound, as `measures_for`.
    """
    return next((measure for measure in measures_for(kind) if measure.key == key), None)


def called(typed: str, things: Sequence[Named]) -> Named | None:
    """Give the measure or part that was meant: by its code, its words, or words that only one of them begins with."""
    wanted = " ".join(typed.casefold().replace("_", " ").split())
    names = {thing: (thing.key.replace("_", " "), _(thing.words).casefold()) for thing in things}
    exact = [thing for thing, own in names.items() if wanted in own]
    begun = [thing for thing, own in names.items() if wanted and any(name.startswith(wanted) for name in own)]
    found = exact or begun
    return found[0] if len(found) == 1 else None


def read_method(measure: Measure, typed: str) -> str | None:
    """Give how a reading was taken as it is stored, from its words in any order; None where it can't be taken so."""
    said = {" ".join(part.casefold().split()) for part in typed.split(",") if part.strip()}
    chosen = []
    for group in measure.method_groups:
        meant = [word for word in group if said & {word.casefold(), _(word).casefold()}]
        if len(meant) > 1:
            return None
        chosen += meant
        said -= {name.casefold() for word in meant for name in (word, _(word))}
    return None if said else ", ".join(chosen)


def method_words(method: str) -> str:
    """Give how a reading was taken in the reader's words."""
    return ", ".join(_(word) for word in method.split(", ")) if method else ""


def measures_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give the measures of a kind by code with marked words, to choose from; of all kinds where it isn't known."""
    return _listed(kind, setup=False)


def setup_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give the measures of a set-up as `measures_listed` does."""
    return _listed(kind, setup=True)


def methods_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give the ways in which anything of a kind is taken, to choose from; of all kinds where it isn't known."""
    methods = (method for measure in _of_any(kind) for method in measure.methods)
    return tuple((method, method_words(method)) for method in dict.fromkeys(methods))


def _listed(kind: str, *, setup: bool) -> tuple[tuple[str, str], ...]:
    return tuple(
        dict.fromkeys((measure.key, measure.words) for measure in _of_any(kind) if measure.setup or not setup)
    )


def _of_any(kind: str) -> tuple[Measure, ...]:
    by_kind = sets().measures
    if kind in by_kind:
        return by_kind[kind]
    return tuple(measure for measures in by_kind.values() for measure in measures)


def measure_label(key: str, side: str = "") -> str:
    """Give a measure and its side in the reader's words, as "ribs at the lower block, bass side"."""
    words = _(measure_words(key))
    return f"{words}, {_(SIDES.get(side, side))}" if side else words


def measure_words(key: str) -> str:
    """Give the marked words of a measure; of one that is in no set, its own name."""
    return sets().measure_words.get(key, key)


def part_words(key: str) -> str:
    """Give the marked words of a fitted part; of one that is in no set, its own name."""
    return sets().part_words.get(key, key)


def _of_kind(by_kind: Mapping[str, tuple[Any, ...]], kind: str) -> tuple[Any, ...]:
    try:
        return by_kind[kind]
    except KeyError:
        raise NotFound(
            N_("There is no kind of instrument called {kind}. The nearest is {near}."),
            kind=kind,
            near=nearest(kind, list(by_kind)) or "other",
        ) from None
