"""Whether the conditions of a rule hold for a part: yes, no, or it can't be told, and then what isn't known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from shopledger.quantities.words import N_
from shopledger.rules.materials_data import ComeBy, MaterialRule, Species
from shopledger.rules.materials_names import meaning_of
from shopledger.rules.materials_terms import MaterialPart, MaterialsCase

Truth = bool | None
"""True, False, or None where it can't be told."""


@dataclass(frozen=True, slots=True)
class Held:
    """Whether all conditions hold, and the marked words of the facts that are missing to tell."""

    truth: Truth
    missing: tuple[str, ...] = ()


def holds(rule: MaterialRule, case: MaterialsCase, part: MaterialPart) -> Held:
    """Tell whether the conditions of a rule hold; one that surely doesn't outweighs any that can't be told."""
    wanted = rule.conditions
    checks: list[tuple[Truth, str]] = []

    def check(condition: object, tell: Callable[[], Truth], missing: str) -> None:
        if condition not in (None, "", ()):
            checks.append((tell(), missing))

    check(wanted.named_in, lambda: _named_in(wanted.named_in, case), "")
    check(wanted.no_border, lambda: (same_country(case) is True) == wanted.no_border, "")
    check(wanted.both_in, lambda: _both_in(wanted.both_in, case), N_("from where and to where (from, to)"))
    check(
        wanted.re_export,
        lambda: _is(case.re_export, wanted.re_export),
        N_("if it is a re-export (re_export)"),
    )
    check(
        wanted.finished, lambda: _is(part.finished, wanted.finished), N_("if the part is finished (finished)")
    )
    if (made_before := wanted.made_before) is not None:
        made = None if part.made_on is None else part.made_on < made_before
        checks.append((made, N_("when it was made (made_on)")))
    if (limit := wanted.total_below_g) is not None:
        checks.append(
            (_total_below(limit, rule.species, case), N_("how much there is of it in all parts (mass_g)"))
        )
    if (come_by := wanted.come_by) is not None:
        checks.append(
            (
                _come_by(come_by, part),
                N_("a day of import or of taking that decides (imported_on, taken_before)"),
            )
        )
    if any(truth is False for truth, _missing in checks):
        return Held(False)
    missing = tuple(words for truth, words in checks if truth is None)
    return Held(None, missing) if missing else Held(True)


def country_of(place: str) -> str:
    """Give the country of a place, "US" of "US-CA"."""
    return place.partition("-")[0]


def same_country(case: MaterialsCase) -> Truth:
    """Tell whether both places of a case lie in one country; None where one of them isn't told."""
    if not case.from_place or not case.to_place:
        return None
    return country_of(case.from_place) == country_of(case.to_place)


def _is(fact: bool | None, wanted: bool | None) -> Truth:
    return None if fact is None else fact == wanted


def _named_in(places: tuple[str, ...], case: MaterialsCase) -> bool:
    return case.from_place in places or case.to_place in places


def _both_in(country: str, case: MaterialsCase) -> Truth:
    """Tell whether a case plays in a country; one place elsewhere is enough to deny it."""
    told = [place for place in (case.from_place, case.to_place) if place]
    if any(country_of(place) != country for place in told):
        return False
    return True if len(told) == 2 else None


def _total_below(limit: Fraction, species: tuple[str, ...], case: MaterialsCase) -> Truth:
    """Tell whether all parts of the species together stay below a mass.

    A part that isn't surely of another species may be of these: its mass is added where that decides.
    """
    sure = possible = Fraction(0)
    all_told = True
    for part in case.parts:
        belongs = _is_of(species, part)
        if belongs is False:
            continue
        if part.mass_g is None:
            all_told = False
        elif belongs:
            sure += part.mass_g
        else:
            possible += part.mass_g
    if sure >= limit:
        return False
    return True if all_told and sure + possible < limit else None


def _is_of(species: tuple[str, ...], part: MaterialPart) -> Truth:
    """Tell whether a part is of one of the species; what is uncertain or unknown may be."""
    meant = meaning_of(part.species)
    if not part.certain or meant is None:
        return None
    if isinstance(meant, Species):
        return meant.key in species
    return None if set(meant.may_be) & set(species) else False


def _come_by(wanted: ComeBy, part: MaterialPart) -> Truth:
    """Tell whether it was imported before a day, or, where the import isn't known, taken before another."""
    if part.imported_on is not None:
        return part.imported_on < wanted.imported_before
    if part.taken_before is not None and part.taken_before <= wanted.taken_before:
        return True
    return None
