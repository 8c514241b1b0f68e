"""The data on protected materials: every row has its ground, no gap in the days, no name twice, strictly read."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import pytest

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import Trouble
from shopledger.rules.materials_data import Conditions, MaterialRule, Species, materials, parse_materials
from shopledger.rules.materials_names import meaning_of
from shopledger.rules.materials_terms import Act, Answer

SPECIES_TEXT = asset("materials", "species.toml").read_text(encoding="utf-8")
RULES_TEXT = asset("materials", "rules.toml").read_text(encoding="utf-8")


def _rules_of(species: Species, act: Act) -> list[MaterialRule]:
    return [rule for rule in materials().rules if species.key in rule.species and act in rule.acts]


def test_every_row_says_what_it_rests_on() -> None:
    known = materials()
    for ground in [known.unknown, *(one.ground for one in [*known.species.values(), *known.rules])]:
        assert ground.rule
        assert ground.source
        assert ground.ask
    assert all(rule.because.endswith(".") for rule in known.rules)
    assert all(advice.source for advice in known.advice)


def test_what_was_not_read_says_so() -> None:
    known = materials()
    sources = [one.ground.source for one in [*known.species.values(), *known.rules]]
    assert [one for one in sources if "(read)" not in one and "from memory, verify" not in one.lower()] == []


def test_keys_stand_once() -> None:
    counted = Counter(rule.key for rule in materials().rules)
    assert max(counted.values()) == 1


def test_a_name_means_one_species() -> None:
    counted: Counter[str] = Counter()
    for species in materials().species.values():
        for name in species.also:
            assert isinstance(meaning_of(name), Species) or name in {"boxwood"}, name
            counted[name.casefold()] += 1
    assert [name for name, count in counted.items() if count > 1] == []
    assert all(meaning_of(species.name) is species for species in materials().species.values())
    vague = [name for each in materials().vague for name in each.names]
    assert len(set(vague)) == len(vague)
    assert not any(isinstance(meaning_of(name), Species) for name in vague)


def test_no_day_since_its_listing_is_without_a_rule_that_decides() -> None:
    gaps = []
    for species in materials().species.values():
        if species.listed_from is None:
            continue
        for act in Act:
            rules = _rules_of(species, act)
            days = {species.listed_from, date(2026, 11, 25)}
            for rule in rules:
                for day in (rule.from_on, rule.until_on):
                    days |= {near for near in _around(day) if near >= species.listed_from}
            for day in sorted(days):
                last = [rule for rule in rules if rule.from_on <= day <= rule.until_on][-1:]
                if not last or last[0].conditions != Conditions():
                    gaps.append((species.key, act.value, day))
    assert gaps == []


def _around(day: date) -> list[date]:
    if day in (date.min, date.max):
        return []
    return [day - timedelta(days=1), day, day + timedelta(days=1)]


def test_nothing_is_called_exempt_without_a_species_that_was_listed() -> None:
    for rule in materials().rules:
        if rule.answer is Answer.SEEMS_EXEMPT:
            assert all(materials().species[key].listed_from is not None for key in rule.species)
        assert rule.answer is not Answer.NOT_LISTED


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("format = 1", "format = ["),
        ('answer = "may_need_papers"', 'answer = "fine"'),
        ('acts = ["travel"]', 'acts = ["trip"]'),
        ('species = ["pernambuco"]', 'species = ["oak"]'),
        ("finished = true", "polished = true"),
        ("from = 2026-03-05", 'from = "2026-03-05"'),
        ("verified_on = 2026-11-25", "verified = 2026-11-25"),
        ("verified_on = 2026-11-25", "verified_on = 2026-11-25T10:00:00"),
        ('ask = "cites"', 'ask = "somebody"'),
        ("total_below_g = 200", 'total_below_g = "much"'),
        ("taken_before = 1976-02-26 }", "eaten_before = 1976-02-26 }"),
        ('source = "The words of the annotation from memory, verify"', 'source = ""'),
    ],
)
def test_broken_rules_are_trouble_in_words(old: str, new: str) -> None:
    assert old in RULES_TEXT
    with pytest.raises(Trouble, match="Install the program again"):
        parse_materials(SPECIES_TEXT, RULES_TEXT.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("[ask]", "[asking]"),
        ("listed_from = 2007-09-13", "listed_from = 2007"),
        ('may_be = ["hawksbill"]', 'may_be = ["tortoise"]'),
        ("also = [", "aliases = ["),
    ],
)
def test_broken_species_are_trouble_in_words(old: str, new: str) -> None:
    assert old in SPECIES_TEXT
    with pytest.raises(Trouble, match="Install the program again"):
        parse_materials(SPECIES_TEXT.replace(old, new), RULES_TEXT)
