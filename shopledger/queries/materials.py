"""What instruments are made of, and what protected materials may need for an act: the records judged by the rules.

General information, not advice. Where nothing is recorded, or what matters isn't known, it can't be told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from sqlalchemy import bindparam, select

from shopledger.model import Component, ComponentEvidence, Instrument, field_of
from shopledger.quantities.errors import Typed
from shopledger.quantities.masses import MG_PER_GRAM
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.sheet_shapes import Fact, Group, Line
from shopledger.rules.materials_parts import component_words

if TYPE_CHECKING:
    from shopledger.rules.materials_terms import Act, Finding, Judgement, MaterialPart
    from shopledger.store.unit import Reading

_COMPONENTS = (
    select(Component).where(Component.instrument_id == bindparam("instrument")).order_by(Component.n)
)


def part_of(component: Any, evidence: str = "") -> MaterialPart:
    """Give a component as the rules judge it; where no species is named, the trade's word for it stands."""
    from shopledger.rules.materials_terms import MaterialPart

    return MaterialPart(
        component=component_words(component.component),
        species=component.species or component.material,
        certain=component.is_certain,
        finished=None if component.finished is None else component.finished == "finished",
        made_on=component.made_on,
        taken_before=component.taken_before,
        imported_on=component.imported_on,
        mass_g=None if component.mg is None else Fraction(component.mg, MG_PER_GRAM),
        evidence=evidence,
    )


def evidence_words(reading: Reading, one: ComponentEvidence) -> str:
    """Give a piece of evidence in one line: what it is, what it says, its day and place."""
    sort = _(field_of(ComponentEvidence.sort).choice_word(one.sort))
    day = "" if one.dated_on is None else show_day(one.dated_on, reading.ledger.manners)
    behind = ", ".join(part for part in (day, one.place) if part)
    words = f"{sort}: {' '.join(one.what.split())}"
    return f"{words} ({behind})" if behind else words


def components_of(reading: Reading, instrument_id: int) -> tuple[tuple[Component, str], ...]:
    """Give the components of an instrument in their order, each with its evidence in words."""
    components = reading.session.scalars(_COMPONENTS, {"instrument": instrument_id}).all()
    if not components:
        return ()
    found: dict[int, list[str]] = {one.id: [] for one in components}
    rows = reading.session.scalars(
        select(ComponentEvidence)
        .where(ComponentEvidence.component_id.in_(found))
        .order_by(ComponentEvidence.id)
    )
    for row in rows:
        found[row.component_id].append(evidence_words(reading, row))
    return tuple((one, "; ".join(found[one.id])) for one in components)


def parts_of(reading: Reading, instrument_id: int) -> tuple[MaterialPart, ...]:
    """Give what an instrument is made of as the rules judge it; nothing where nothing is recorded."""
    return tuple(part_of(one, evidence) for one, evidence in components_of(reading, instrument_id))


def caution_for(
    reading: Reading,
    instrument_id: int,
    act: Act,
    on: date,
    from_place: str | None = None,
    to_place: str | None = None,
    *,
    re_export: bool | None = None,
) -> Judgement:
    """Give what papers an instrument's materials may need for an act on a day.

    Shape:  without a place it goes from the shop's country, where that is set; a sale at home also to there. An act
            that contradicts its places is judged as what the places make of it: a sale abroad within one country is
            one at home, a loan or repair there a journey within it.
    Raises: Typed: a place is none of ISO 3166; the field is `from_place` or `to_place`.
    """
    from shopledger.rules.materials_terms import Act, MaterialsCase
    from shopledger.rules.places import read_place

    own = reading.shop().country
    start = own if from_place is None else read_place(from_place, "from_place")
    end = read_place(to_place, "to_place") if to_place is not None else ""
    if act is Act.SALE_HOME and to_place is None:
        end = start
    return judged(
        MaterialsCase(on, act, parts_of(reading, instrument_id), start, end, re_export), as_places_say=True
    )


def judged(case: Any, *, as_places_say: bool = False) -> Judgement:
    """Give the judgement of a case; where the places are to decide, the act follows them and later days are left out.

    Raises: Typed: places and act contradict each other, or a part is from after the day, and it isn't for them to say.
    """
    from shopledger.rules.materials import judge

    return judge(_reconciled(case) if as_places_say else case)


def _reconciled(case: Any) -> Any:
    """Give a case whose act fits its places, and whose parts have no day after that of the act."""
    from shopledger.rules.materials_holding import same_country
    from shopledger.rules.materials_terms import Act

    at_home, act = same_country(case), case.act
    if at_home is True and act in (Act.SALE_ABROAD, Act.LOAN_ABROAD, Act.REPAIR_ABROAD):
        act = Act.SALE_HOME if act is Act.SALE_ABROAD else Act.TRAVEL
    elif at_home is False and act is Act.SALE_HOME:
        act = Act.SALE_ABROAD

    def up_to(day: date | None) -> date | None:
        return None if day is None or day > case.on else day

    parts = tuple(
        replace(part, made_on=up_to(part.made_on), imported_on=up_to(part.imported_on)) for part in case.parts
    )
    return replace(case, act=act, parts=parts)


def sale_cautions(
    reading: Reading, instrument_id: int, on: date, to_place: str | None = None
) -> tuple[Judgement, ...]:
    """Give what a sale may need: at home or abroad by where it goes, or both while that can't be told.

    Shape:  a place that is no code of ISO 3166 tells nothing, so both are judged.
    """
    from shopledger.rules.materials_terms import Act

    try:
        told = caution_for(reading, instrument_id, Act.SALE_HOME, on, None, to_place or None)
    except Typed:
        to_place = None
        told = caution_for(reading, instrument_id, Act.SALE_HOME, on)
    if to_place and told.case.from_place:
        return (told,)
    return (told, caution_for(reading, instrument_id, Act.SALE_ABROAD, on, None, to_place or None))


def crossing_words(
    reading: Reading, act: Act, on: date, goes_to: str, instrument_ids: Sequence[int]
) -> tuple[str, ...]:
    """Give a caution for each instrument that crosses a border: nothing where no country is named, or the shop's own.

    Raises: Typed: the country is none of ISO 3166; the field is `to_place`.
    """
    from shopledger.rules.materials_holding import same_country

    if not goes_to.strip():
        return ()
    numbers = _numbers(reading, instrument_ids)
    told = [
        (numbers.get(one, ""), caution_for(reading, one, act, on, to_place=goes_to)) for one in instrument_ids
    ]
    return tuple(
        _("{instrument}: {caution}").format(instrument=number, caution=caution_words(judgement))
        for number, judgement in told
        if not same_country(judgement.case)
    )


def _numbers(reading: Reading, instrument_ids: Sequence[int]) -> dict[int, str]:
    rows = reading.session.execute(
        select(Instrument.id, Instrument.number).where(Instrument.id.in_(instrument_ids))
    ).all()
    return {row.id: row.number for row in rows}


def caution_words(judgement: Judgement) -> str:
    """Give a judgement in two or three sentences: the act, the answer for the whole, why, and whom to ask."""
    from shopledger.rules.materials_answer import ACT_WORDS, ANSWER_WORDS

    return _("Protected materials, {act}: {answer}. {because} Ask {ask}.").format(
        act=_(ACT_WORDS[judgement.case.act]),
        answer=_(ANSWER_WORDS[judgement.answer]),
        because=because_of(judgement.gravest),
        ask=_(judgement.gravest.ground.ask),
    )


def because_of(finding: Finding) -> str:
    """Give why a finding is as it is, its component before it where it is of one."""
    from shopledger.rules.materials_answer import without_keys

    if not finding.component:
        return _("No component is recorded.")
    because = without_keys(finding.because)
    return _("{component}: {because}").format(component=capital(finding.component), because=because)


def caution_lines(judgements: Sequence[Judgement], lead: str = "") -> tuple[Line, ...]:
    """Give a line for each judgement, as the preview of an act shows it; `lead` stands before its words."""
    from shopledger.rules.materials_answer import ACT_WORDS, ANSWER_WORDS

    return tuple(
        Line(
            lead
            + _("Materials, {act}: {answer}").format(
                act=_(ACT_WORDS[one.case.act]), answer=_(ANSWER_WORDS[one.answer])
            ),
            _("{because} Ask {ask}.").format(because=because_of(one.gravest), ask=_(one.gravest.ground.ask)),
        )
        for one in judgements
    )


def finding_lines(judgement: Judgement) -> tuple[Line, ...]:
    """Give the answer for the whole and then a line for each component, with why, by which rule, and whom to ask."""
    from shopledger.rules.materials_answer import ANSWER_WORDS, without_keys

    lines = [
        Line(
            _("{component}, {species}: {answer}").format(
                component=capital(one.component),
                species=one.species or _("species unknown"),
                answer=_(ANSWER_WORDS[one.answer]),
            ),
            _("{because} Rule: {rule}. Ask {ask}.").format(
                because=without_keys(one.because), rule=_(one.ground.rule), ask=_(one.ground.ask)
            ),
        )
        for one in judgement.findings
    ]
    whole = _("On the whole: {answer}").format(answer=_(ANSWER_WORDS[judgement.answer]))
    why = "" if judgement.findings else because_of(judgement.gravest)
    return (Line(whole, why, strong=True), *lines)


def act_lines(reading: Reading, parts: Sequence[MaterialPart], on: date) -> tuple[Line, ...]:
    """Give a line for each act with what these parts may need for it on a day, from the shop's own country."""
    from shopledger.rules.materials_answer import ACT_WORDS, ANSWER_WORDS

    return tuple(
        Line(
            _("{act}: {answer}").format(
                act=capital(_(ACT_WORDS[one.case.act])), answer=_(ANSWER_WORDS[one.answer])
            ),
            because_of(one.gravest),
        )
        for one in _for_each_act(reading, parts, on)
    )


def _for_each_act(reading: Reading, parts: Sequence[MaterialPart], on: date) -> tuple[Judgement, ...]:
    from shopledger.rules.materials_terms import Act, MaterialsCase

    own = reading.shop().country
    return tuple(
        judged(
            MaterialsCase(on, act, tuple(parts), own, own if act is Act.SALE_HOME else ""), as_places_say=True
        )
        for act in Act
    )


def materials_of(reading: Reading, instrument_id: int) -> tuple[Group, ...]:
    """Give the groups on an instrument's page: its components, and what they may need for an act today."""
    from shopledger.rules.materials_answer import ACT_WORDS, ANSWER_WORDS

    found = components_of(reading, instrument_id)
    if not found:
        unknown = Fact(
            N_("Components"), _("not recorded"), _("so nothing can be told of protected materials")
        )
        return (Group(N_("What it is made of"), (unknown,)),)
    made = tuple(_component_fact(one, evidence) for one, evidence in found)
    parts = [part_of(one, evidence) for one, evidence in found]
    acts = tuple(
        Fact(
            capital(_(ACT_WORDS[one.case.act])),
            _(ANSWER_WORDS[one.answer]),
            because_of(one.gravest),
        )
        for one in _for_each_act(reading, parts, reading.ledger.today())
    )
    return (Group(N_("What it is made of"), made), Group(N_("Protected materials, today"), acts))


def _component_fact(one: Component, evidence: str) -> Fact:
    behind = "; ".join(part for part in (one.mass_typed, evidence) if part)
    return Fact(capital(component_words(one.component)), made_of(one), behind)


def made_of(one: Component) -> str:
    """Give what a component is made of in words: material, species, and that this isn't certain where it isn't."""
    named = ", ".join(part for part in (one.material, one.species) if part)
    if not named:
        return _("species unknown")
    return named if one.is_certain else _("{named} (not certain)").format(named=named)


def capital(words: str) -> str:
    """Give words with a capital before them."""
    return words[:1].upper() + words[1:]
