"""What handbooks give for a measure of a kind and size: figures kept as data, each with its source and how it was seen.

They are guides to compare a reading with, never limits. Where no source was found nothing stands here, and what asks
says so.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import Trouble, Typed
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.measured import UNITS, Dimension, kept, read_measured, show_measured
from shopledger.quantities.words import N_, _

ANY = "any"
"""The size of a figure that is given for the kind at large."""
COMPARED_AS: Mapping[str, str] = {"piccolo_cello": "cello"}
"""Kinds that have no sizes of their own, and with whose they are compared."""
ABOUT = Fraction(1, 100)
"""How far either way a figure is still what a source gives that says "about": common practice, no source."""
SEEN = {"read": N_("read"), "memory": N_("from memory, verify")}
"""Whether the text of a source was read."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from: its words, whether its text was read, and what a reader should know of it."""

    key: str
    words: str
    seen: str
    note: str = ""

    def cited(self) -> str:
        """Give the source as it is named beside a figure."""
        parts = [_(self.words), _(self.note) if self.note else ""]
        if self.seen != "read":
            parts.append(_(SEEN[self.seen]))
        return "; ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class HandbookValue:
    """What a source gives for a measure of a kind, side and size.

    Units:  `low` and `high` in nanometres, milligrams or thousandths of a degree; equal where it is one figure;
            `within` in the same, how far either way the source lets it go.
    """

    kind: str
    measure: str
    side: str
    size: str
    dimension: Dimension
    low: int
    high: int
    source: Source
    about: bool = False
    within: int = 0
    method: str = ""
    note: str = ""
    inches: tuple[str, ...] = ()
    """The ends as the source gives them, where it gives inches."""

    def off(self, number: int) -> int:
        """Give by how much a reading is above the figure or its range, below zero where it is below."""
        return max(number - self.high, 0) + min(number - self.low, 0)

    def holds(self, number: int) -> bool:
        """Whether a reading is what the source gives, as far either way as it lets it go, or as its "about" does."""
        slack = ABOUT * self.high if self.about else 0
        return abs(self.off(number)) <= max(Fraction(self.within), slack)

    def words(self, manners: Manners = PLAIN) -> str:
        """Say the figure: "about 168 mm", "690 to 695 mm", "760 mm, up to 10 mm either way"."""
        ends = self.inches or tuple(
            show_measured(self.dimension, end, manners) for end in dict.fromkeys((self.low, self.high))
        )
        said = ends[-1]
        if len(ends) == 2:
            bare = ends[0].removesuffix("\u00b0") if said.endswith("\u00b0") else ends[0].rpartition(" ")[0]
            said = _("{low} to {high}").format(low=bare, high=said)
        if self.about:
            said = _("about {figure}").format(figure=said)
        if self.within:
            far = show_measured(self.dimension, self.within, manners)
            said = _("{figure}, up to {far} either way").format(figure=said, far=far)
        return said


@dataclass(frozen=True, slots=True)
class Proportion:
    """What a source gives for a measure as a share of another measure of the same instrument."""

    kind: str
    measure: str
    of: str
    share: Fraction
    source: Source

    def of_number(self, number: int) -> int:
        """Give the figure that belongs to a reading of the other measure, to the nearest kept unit."""
        return int(self.share * number + Fraction(1, 2))


@dataclass(frozen=True, slots=True)
class Handbook:
    """Every figure with its source, in the order in which the data gives them."""

    sources: Mapping[str, Source]
    values: tuple[HandbookValue, ...]
    proportions: tuple[Proportion, ...] = ()

    @property
    def said(self) -> tuple[str, ...]:
        """Every word of it that a person reads, each once."""
        words = [part for source in self.sources.values() for part in (source.words, source.note)]
        words += [part for value in self.values for part in (value.note, value.method, value.size)]
        return tuple(dict.fromkeys(word for word in words if word and word != ANY and not word[0].isdigit()))


def parse_handbook(text: str) -> Handbook:
    """Give the handbook that a text in TOML holds.

    Raises: Trouble: the text is no TOML, or names a source that it doesn't declare.
    """
    try:
        written = tomllib.loads(text)
        sources = {
            key: Source(key, said["words"], said["seen"], said.get("note", ""))
            for key, said in written["sources"].items()
        }
        if any(source.seen not in SEEN for source in sources.values()):
            raise ValueError("seen")
        values = [value for said in written["values"] for value in _values(said, sources)]
        proportions = [
            Proportion(kind, said["measure"], said["of"], Fraction(said["share"]), sources[said["source"]])
            for said in written.get("proportions", [])
            for kind in _several(said["kind"])
        ]
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError, AttributeError, Typed) as error:
        raise Trouble(
            N_("The handbook of measures can't be read ({said}). Install the program again."), said=str(error)
        ) from error
    return Handbook(sources, tuple(values), tuple(proportions))


def _values(said: Mapping[str, Any], sources: Mapping[str, Source]) -> list[HandbookValue]:
    """Give the figures of one entry: of each measure, side and size."""
    found = []
    for measure in _several(said["measure"]):
        for side in _several(said.get("side", "")):
            for size, figure in said["figures"].items():
                ends = figure.split(" to ")
                numbers = [kept(read_measured(end, unit=_unit(end))) for end in ends]
                if len(numbers) > 2 or numbers[0] > numbers[-1]:
                    raise ValueError(figure)
                found.append(
                    HandbookValue(
                        kind=said["kind"],
                        measure=measure,
                        side=side,
                        size=size,
                        dimension=UNITS[_unit(figure)][0],
                        low=numbers[0],
                        high=numbers[-1],
                        source=sources[said["source"]],
                        about=bool(said.get("about", False)),
                        within=kept(read_measured(said["within"])) if "within" in said else 0,
                        method=said.get("method", ""),
                        note=said.get("note", ""),
                        inches=tuple(ends) if _unit(figure) == "in" else (),
                    )
                )
    return found


def _several(said: str | Sequence[str]) -> Sequence[str]:
    return [said] if isinstance(said, str) else said


def _unit(figure: str) -> str:
    """Give the unit that a figure of the data ends with."""
    unit = "\u00b0" if figure.endswith("\u00b0") else figure.rsplit(" ", 1)[-1]
    if unit not in UNITS:
        raise ValueError(figure)
    return unit


@cache
def handbook() -> Handbook:
    """Give the handbook that comes with the program; read once."""
    return parse_handbook(asset("measures", "handbook.toml").read_text(encoding="utf-8"))


def handbook_values(kind: str, measure: str, side: str = "") -> tuple[HandbookValue, ...]:
    """Give what sources say of a measure of a kind, from small sizes to large; nothing where no source was found.

    Shape:  a kind without sizes of its own is compared with another's (`COMPARED_AS`): the values say whose they are.
    """
    kind = COMPARED_AS.get(kind, kind)
    return tuple(
        value
        for value in handbook().values
        if (value.kind, value.measure, value.side) == (kind, measure, side)
    )


def proportions_of(kind: str, measure: str) -> tuple[Proportion, ...]:
    """Give what sources say of a measure of a kind as a share of another; nothing where no source was found."""
    kind = COMPARED_AS.get(kind, kind)
    return tuple(one for one in handbook().proportions if (one.kind, one.measure) == (kind, measure))


def size_word(size: str) -> str:
    """Give a size as it is spoken: "4/4", "medium"; nothing of a figure for the kind at large."""
    return "" if size == ANY else size if size[0].isdigit() else _(size)


def told(values: Sequence[HandbookValue], manners: Manners = PLAIN) -> str:
    """Give figures in one line by their sizes: "1/2: 320 mm; 3/4: 335 mm"."""
    return "; ".join(sized(value, manners) for value in values)


def sized(value: HandbookValue, manners: Manners = PLAIN) -> str:
    """Give a figure with the size it is of: "4/4: 325 to 328 mm"."""
    size = size_word(value.size)
    return f"{size}: {value.words(manners)}" if size else value.words(manners)


def sources_of(values: Sequence[HandbookValue]) -> tuple[str, ...]:
    """Give the sources of figures as they are named beside them, each once."""
    return tuple(dict.fromkeys(value.source.cited() for value in values))
