"""The species and rules on protected materials that come with the program: dated data with sources, read strictly.

General information, not advice: each row is to be verified before anybody relies on it. The words are data too and are
translated where they are shown.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_
from shopledger.rules.materials_terms import Act, Answer, Ground


@dataclass(frozen=True, slots=True)
class Species:
    """A species, or a group that the rules treat alike.

    Shape:  `also` are the names that surely mean it; `listed_from` is None where it was never listed.
    """

    key: str
    name: str
    also: tuple[str, ...]
    listed_from: date | None
    ground: Ground


@dataclass(frozen=True, slots=True)
class Vague:
    """Names that several materials go by, and the keys of those known here that they may mean."""

    names: tuple[str, ...]
    may_be: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ComeBy:
    """The days before which a material must have been imported, or else taken from the wild."""

    imported_before: date
    taken_before: date


@dataclass(frozen=True, slots=True)
class Conditions:
    """What has to hold for a rule to answer; what is None, or empty, is no condition.

    Units:  `total_below_g` in grams, over all parts of the rule's species.
    """

    finished: bool | None = None
    re_export: bool | None = None
    no_border: bool | None = None
    both_in: str = ""
    named_in: tuple[str, ...] = ()
    made_before: date | None = None
    total_below_g: Fraction | None = None
    come_by: ComeBy | None = None


@dataclass(frozen=True, slots=True)
class MaterialRule:
    """What is answered for some species and acts between two days, both included, where its conditions hold."""

    key: str
    species: tuple[str, ...]
    acts: tuple[Act, ...]
    from_on: date
    until_on: date
    conditions: Conditions
    answer: Answer
    because: str
    ground: Ground


@dataclass(frozen=True, slots=True)
class Advice:
    """What is added for an act from a day on."""

    acts: tuple[Act, ...]
    from_on: date
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class Materials:
    """All that is known: species by key, vague names, rules in their order, advice, and the ground of not knowing."""

    species: Mapping[str, Species]
    vague: tuple[Vague, ...]
    rules: tuple[MaterialRule, ...]
    advice: tuple[Advice, ...]
    unknown: Ground


def parse_materials(species_text: str, rules_text: str) -> Materials:
    """Give what two texts in TOML hold.

    Raises: Trouble: a text is no TOML, a row lacks a part, has an unknown one, or names what isn't declared.
    """
    try:
        written, ruled = tomllib.loads(species_text), tomllib.loads(rules_text)
        ask: dict[str, str] = written["ask"]
        species = {row["key"]: _species(row, ask) for row in written["species"]}
        vague = tuple(Vague(tuple(row["names"]), _known(row["may_be"], species)) for row in written["vague"])
        return Materials(
            species=MappingProxyType(species),
            vague=vague,
            rules=tuple(_rule(row, species, ask) for row in ruled["rule"]),
            advice=tuple(
                Advice(tuple(Act(act) for act in row["acts"]), row["from"], row["words"], row["source"])
                for row in ruled["advice"]
            ),
            unknown=_ground(ruled["unknown"], ask),
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError, AttributeError, ValueError) as error:
        raise Trouble(
            N_("The rules on protected materials can't be read ({said}). Install the program again."),
            said=str(error),
        ) from error


def _species(row: dict[str, Any], ask: Mapping[str, str]) -> Species:
    listed_from = row.get("listed_from")
    return Species(
        key=row["key"],
        name=row["name"],
        also=tuple(row["also"]),
        listed_from=None if listed_from is None else _day(listed_from),
        ground=_ground({**row, "rule": row["listed"]}, ask),
    )


def _rule(row: dict[str, Any], species: Mapping[str, Species], ask: Mapping[str, str]) -> MaterialRule:
    """Give a rule; what of its row is left over must be its conditions."""
    plain = {
        "key",
        "species",
        "acts",
        "from",
        "until",
        "answer",
        "because",
        "rule",
        "source",
        "verified_on",
        "ask",
    }
    conditions = {key: value for key, value in row.items() if key not in plain}
    return MaterialRule(
        key=row["key"],
        species=_known(row["species"], species),
        acts=tuple(Act(act) for act in row["acts"]),
        from_on=_day(row.get("from", date.min)),
        until_on=_day(row.get("until", date.max)),
        conditions=_conditions(conditions),
        answer=Answer(row["answer"]),
        because=row["because"],
        ground=_ground(row, ask),
    )


def _conditions(written: dict[str, Any]) -> Conditions:
    if "total_below_g" in written:
        written["total_below_g"] = Fraction(written["total_below_g"])
    if "named_in" in written:
        written["named_in"] = tuple(written["named_in"])
    if "come_by" in written:
        written["come_by"] = ComeBy(**written["come_by"])
    return Conditions(**written)


def _ground(row: Mapping[str, Any], ask: Mapping[str, str]) -> Ground:
    if not row["source"]:
        raise ValueError(f"{row['rule']}: source")
    return Ground(row["rule"], row["source"], _day(row["verified_on"]), ask[row["ask"]])


def _day(written: object) -> date:
    if type(written) is not date:
        raise ValueError(str(written))
    return written


def _known(keys: list[str], species: Mapping[str, Species]) -> tuple[str, ...]:
    return tuple(species[key].key for key in keys)


@cache
def materials() -> Materials:
    """Give what comes with the program; read once."""
    return parse_materials(
        asset("materials", "species.toml").read_text(encoding="utf-8"),
        asset("materials", "rules.toml").read_text(encoding="utf-8"),
    )
