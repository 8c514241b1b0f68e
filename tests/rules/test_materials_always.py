"""What holds for every case on protected materials: nothing unknown is fine, and the gravest part speaks."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from shopledger.rules.materials import judge
from shopledger.rules.materials_data import materials
from shopledger.rules.materials_holding import same_country
from shopledger.rules.materials_terms import Act, Answer, MaterialPart, MaterialsCase, gravity
from shopledger.rules.places import known_places

# The order of gravity, as it is promised.
ORDER = ["not_listed", "seems_exempt", "cannot_tell", "may_need_papers"]
SURE = sorted(name for species in materials().species.values() for name in species.also)
VAGUE = sorted(name for vague in materials().vague for name in vague.names)
DAYS = st.dates(date(1970, 1, 1), date(2030, 1, 1))
PLACES = st.sampled_from(["", "US", "US-CA", "US-TX", "DE", "BR"])


@st.composite
def parts(draw: st.DrawFn) -> MaterialPart:
    """Draw a part of any species, name or nonsense, with any facts known or not."""
    return MaterialPart(
        component="part",
        species=draw(st.sampled_from(SURE) | st.sampled_from([*VAGUE, ""]) | st.text(max_size=12)),
        certain=draw(st.sampled_from([True, True, False])),
        finished=draw(st.sampled_from([True, False, None])),
        made_on=draw(st.none() | st.dates(date(1700, 1, 1), date(1970, 1, 1))),
        taken_before=draw(st.none() | st.dates(date(1700, 1, 1), date(2000, 1, 1))),
        imported_on=draw(st.none() | st.dates(date(1700, 1, 1), date(1970, 1, 1))),
        mass_g=draw(st.none() | st.integers(1, 2500).map(lambda tenths: Fraction(tenths, 10))),
    )


@st.composite
def cases(draw: st.DrawFn, most: int = 4) -> MaterialsCase:
    """Draw a case whose places don't contradict its act."""
    case = MaterialsCase(
        on=draw(DAYS),
        act=draw(st.sampled_from(Act)),
        parts=tuple(draw(st.lists(parts(), min_size=1, max_size=most))),
        from_place=draw(PLACES),
        to_place=draw(PLACES),
        re_export=draw(st.sampled_from([True, False, None])),
    )
    at_home = same_country(case)
    if (case.act is Act.SALE_HOME and at_home is False) or (
        case.act is not Act.SALE_HOME and at_home is True
    ):
        case = replace(case, to_place="")
    return case


@given(cases())
def test_the_gravest_really_is_the_gravest(case: MaterialsCase) -> None:
    judgement = judge(case)
    ranks = [ORDER.index(finding.answer) for finding in judgement.findings]
    assert ORDER.index(judgement.answer) == max(ranks)
    assert len(judgement.findings) == len(case.parts)
    assert [ORDER[gravity(answer)] for answer in Answer] == [answer.value for answer in Answer]


@given(cases())
def test_every_answer_says_why_and_whom_to_ask(case: MaterialsCase) -> None:
    for finding in judge(case).findings:
        assert finding.because
        assert finding.ground.rule
        assert finding.ground.source
        assert finding.ground.ask


@given(cases(most=1), st.booleans())
def test_what_is_uncertain_or_vague_or_unheard_of_is_never_fine(case: MaterialsCase, vague: bool) -> None:
    (part,) = case.parts
    doubtful = replace(part, species=VAGUE[0], certain=True) if vague else replace(part, certain=False)
    assert judge(replace(case, parts=(doubtful,))).answer is Answer.CANNOT_TELL
    unheard = replace(part, species="Quercus " + part.species)
    assert judge(replace(case, parts=(unheard,))).answer is Answer.CANNOT_TELL


@given(cases(), parts())
def test_another_part_never_makes_the_answer_milder(case: MaterialsCase, another: MaterialPart) -> None:
    more = judge(replace(case, parts=(*case.parts, another))).answer
    assert gravity(more) >= gravity(judge(case).answer)
    unknown = judge(replace(case, parts=(*case.parts, replace(another, species="")))).answer
    assert gravity(unknown) >= gravity(Answer.CANNOT_TELL)


FORGOTTEN = ["finished", "made_on", "taken_before", "mass_g", "re_export"]
"""Without `imported_on`: a late import fails a rule that an early taking, by itself, would meet."""


@given(cases(most=1), st.sampled_from(FORGOTTEN))
def test_forgetting_a_fact_never_makes_it_fine(case: MaterialsCase, fact: str) -> None:
    before = judge(case).answer
    if fact == "re_export":
        after = judge(replace(case, re_export=None)).answer
    else:
        after = judge(replace(case, parts=(replace(case.parts[0], **{fact: None}),))).answer
    assert after is before or after is Answer.CANNOT_TELL


@given(cases())
def test_the_order_of_parts_makes_no_difference(case: MaterialsCase) -> None:
    turned = replace(case, parts=tuple(reversed(case.parts)))
    assert [f.answer for f in judge(turned).findings] == [f.answer for f in reversed(judge(case).findings)]


def test_places_are_known_codes() -> None:
    countries, within = known_places()
    assert len(countries) == len(set(countries)) == 249
    assert len(within["US"]) == len(set(within["US"])) == 57
    named = {place for rule in materials().rules for place in rule.conditions.named_in}
    assert named
    assert {place.removeprefix("US-") for place in named} <= set(within["US"])
