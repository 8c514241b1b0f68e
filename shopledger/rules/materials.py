"""What papers protected materials may need for an act on a day: pure judgement over the data, a part at a time.

General information, not advice. The gravest part speaks for the whole. Where a fact is missing that would change the
answer, the answer is that it can't be told, and the fact is named.
"""

from __future__ import annotations

from shopledger.quantities.errors import Typed
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.rules.materials_data import MaterialRule, Species, Vague, materials
from shopledger.rules.materials_holding import country_of, holds, same_country
from shopledger.rules.materials_names import meaning_of, nearest_name
from shopledger.rules.materials_terms import (
    Act,
    Answer,
    Finding,
    Judgement,
    MaterialPart,
    MaterialsCase,
    gravest_of,
)


def judge(case: MaterialsCase) -> Judgement:
    """Tell for every part, and for the whole, what papers an act may need.

    Shape:  a case without parts is answered as a whole: what it is made of isn't known.
    Raises: Typed: the places contradict the act; a part was made or imported after the day of the act.
    Source: the rows of the data, each with its own.
    """
    _check(case)
    findings = tuple(_find(case, part) for part in case.parts)
    gravest = gravest_of(findings) if findings else _unknown("", "", _("No part is told."))
    return Judgement(case, findings, gravest, _advice(case, findings))


def _check(case: MaterialsCase) -> None:
    """Refuse what contradicts itself."""
    at_home = same_country(case)
    if case.act is Act.SALE_HOME and at_home is False:
        raise Typed(
            N_(
                "A sale at home stays in one country, but this goes from {from_place} to {to_place}."
                " Write sale_abroad, or the places of one country."
            ),
            field="to",
            from_place=case.from_place,
            to_place=case.to_place,
        )
    if case.act in (Act.SALE_ABROAD, Act.LOAN_ABROAD, Act.REPAIR_ABROAD) and at_home is True:
        raise Typed(
            N_(
                "This goes abroad, but from and to are both in {country}. Write another place, or another act."
            ),
            field="to",
            country=country_of(case.to_place),
        )
    for n, part in enumerate(case.parts):
        for key, day in (("made_on", part.made_on), ("imported_on", part.imported_on)):
            if day is not None and day > case.on:
                raise Typed(
                    N_("{day} lies after the day of the act, {on}. Write a day up to that one."),
                    field=f"parts[{n}].{key}",
                    day=day,
                    on=case.on,
                )


def _find(case: MaterialsCase, part: MaterialPart) -> Finding:
    """Give the finding of one part."""
    if not part.species.strip():
        return _unknown(part.component, part.species, _("The species isn't told."))
    meant = meaning_of(part.species)
    if meant is None:
        return _unknown(part.component, part.species, _not_held(part.species))
    if isinstance(meant, Vague):
        names = ", ".join(materials().species[key].name for key in meant.may_be)
        return _unknown(
            part.component,
            part.species,
            _(
                "“{name}” is a name for several materials, {names} among them. Write the scientific name."
            ).format(name=part.species, names=names),
        )
    if not part.certain:
        return _unknown(
            part.component,
            part.species,
            _("It isn't certain that this is {name}. Have it determined.").format(name=meant.name),
        )
    return _judged(case, part, meant)


def _judged(case: MaterialsCase, part: MaterialPart, species: Species) -> Finding:
    """Give the finding of a part whose species is certain."""
    if species.listed_from is not None and case.on < species.listed_from:
        because = _("On {on} {name} was not yet listed; it was from {day} on.").format(
            on=show_day(case.on), name=species.name, day=show_day(species.listed_from)
        )
        return Finding(part.component, part.species, Answer.NOT_LISTED, because, species.ground)
    possible: list[MaterialRule] = []
    missing: list[str] = []
    for rule in _in_force(case, species):
        held = holds(rule, case, part)
        if held.truth is False:
            continue
        possible.append(rule)
        missing.extend(words for words in held.missing if words not in missing)
        if held.truth:
            break
    else:
        if species.listed_from is None and not possible:
            because = _("{name} is not listed, as far as the data goes.").format(name=species.name)
            return Finding(part.component, part.species, Answer.NOT_LISTED, because, species.ground)
        return _unknown(
            part.component,
            part.species,
            _("For {name} no rule is held that covers this act on {on}.").format(
                name=species.name, on=show_day(case.on)
            ),
        )
    decides = possible[-1]
    if all(rule.answer is decides.answer for rule in possible):
        return Finding(part.component, part.species, decides.answer, _(decides.because), decides.ground)
    because = _("It hinges on what isn't told: {facts}.").format(
        facts="; ".join(_(words) for words in missing)
    )
    return Finding(part.component, part.species, Answer.CANNOT_TELL, because, possible[0].ground)


def _in_force(case: MaterialsCase, species: Species) -> list[MaterialRule]:
    return [
        rule
        for rule in materials().rules
        if species.key in rule.species and case.act in rule.acts and rule.from_on <= case.on <= rule.until_on
    ]


def _not_held(name: str) -> str:
    near = nearest_name(name)
    if near is None:
        return _("The data holds no species called “{name}”.").format(name=name)
    return _("The data holds no species called “{name}”; the nearest name is {near}.").format(
        name=name, near=near
    )


def _unknown(component: str, species: str, because: str) -> Finding:
    return Finding(component, species, Answer.CANNOT_TELL, because, materials().unknown)


def _advice(case: MaterialsCase, findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """Give what is added to the answer: certificates for a trip, evidence to keep, rules older than the day."""
    words: list[str] = []
    if any(finding.answer is not Answer.NOT_LISTED for finding in findings):
        words.extend(
            _(each.words) for each in materials().advice if case.act in each.acts and each.from_on <= case.on
        )
    bare = [
        part.component
        for part, finding in zip(case.parts, findings, strict=True)
        if finding.answer is Answer.SEEMS_EXEMPT and not part.evidence.strip()
    ]
    if bare:
        words.append(
            _("Keep what proves species, dates and origin: no evidence is told for {parts}.").format(
                parts=", ".join(bare)
            )
        )
    gone_through = min((finding.ground.verified_on for finding in findings), default=None)
    if gone_through is not None and case.on > gone_through:
        words.append(
            _(
                "The rules were last gone through on {day}; the act is later. Ask whether they still hold."
            ).format(day=show_day(gone_through))
        )
    return tuple(words)
