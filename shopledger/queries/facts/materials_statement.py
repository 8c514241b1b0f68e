"""What a statement of materials states: each component with its evidence and answer, for one act on one day."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Component, ComponentEvidence, field_of
from shopledger.papers.materials_statement import ComponentFacts, MaterialsFacts
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import head
from shopledger.queries.materials import because_of, capital, evidence_words
from shopledger.rules.materials_answer import ACT_WORDS, ANSWER_WORDS, without_keys
from shopledger.rules.materials_parts import component_words
from shopledger.rules.materials_terms import Finding, Judgement
from shopledger.store.unit import Reading

RE_EXPORT = {True: N_("yes"), False: N_("no"), None: N_("not told")}


def materials_facts(
    reading: Reading, instrument_id: int, judgement: Judgement, number: str, on: date
) -> MaterialsFacts:
    """Give what a statement of materials states; the judgement is of the instrument's components, in their order."""
    case = judgement.case
    components = reading.session.scalars(
        select(Component).where(Component.instrument_id == instrument_id).order_by(Component.n)
    ).all()
    return MaterialsFacts(
        **head(reading, number, on),
        thing=thing_facts(instrument_named(reading, instrument_id)),
        act=_(ACT_WORDS[case.act]),
        act_on=case.on,
        from_place=case.from_place,
        to_place=case.to_place,
        re_export=_(RE_EXPORT[case.re_export]),
        answer=_(ANSWER_WORDS[judgement.answer]),
        answer_because=because_of(judgement.gravest),
        ask=_(judgement.gravest.ground.ask),
        components=tuple(
            _component(reading, one, finding)
            for one, finding in zip(components, judgement.findings, strict=True)
        ),
        advice=judgement.advice,
    )


def _component(reading: Reading, one: Component, finding: Finding) -> ComponentFacts:
    evidence = reading.session.scalars(
        select(ComponentEvidence)
        .where(ComponentEvidence.component_id == one.id)
        .order_by(ComponentEvidence.id)
    ).all()
    told = tuple(evidence_words(reading, each) for each in evidence)
    return ComponentFacts(
        component=capital(component_words(one.component)),
        material=one.material if one.species else "",
        species=one.species or one.material or _("unknown"),
        certainty=_("certain") if one.is_certain else _("not certain"),
        known=_known(reading, one),
        evidence=told or (_("none"),),
        answer=_(ANSWER_WORDS[finding.answer]),
        because=without_keys(finding.because),
        rule=_(finding.ground.rule),
        source=_(finding.ground.source),
        verified_on=finding.ground.verified_on,
        ask=_(finding.ground.ask),
    )


def _known(reading: Reading, one: Component) -> tuple[str, ...]:
    """Give its state, days and weight, a line each; what isn't known is left out."""
    manners = reading.ledger.manners
    state = field_of(Component.finished).choice_word(one.finished)
    days = (
        (N_("made on {day}"), one.made_on),
        (N_("taken from the wild before {day}"), one.taken_before),
        (N_("imported on {day}"), one.imported_on),
    )
    return (
        *((_(state),) if state else ()),
        *(_(words).format(day=show_day(day, manners)) for words, day in days if day is not None),
        *((_("weight {mass}").format(mass=one.mass_typed),) if one.mass_typed else ()),
    )
