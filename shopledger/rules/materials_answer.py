"""The answer on protected materials: the written shape for programs, and a statement that a person can read."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.rules.materials_terms import Act, Answer, Finding, Ground, Judgement

CAUTION = N_(
    "General information, not advice: rules on protected materials differ by place and change, and what isn't known"
    " is not thereby free. Ask the authority before a sale, a loan, a trip or a shipment."
)
ANSWER_WORDS: Mapping[Answer, str] = MappingProxyType(
    {
        Answer.MAY_NEED_PAPERS: N_("may need papers"),
        Answer.CANNOT_TELL: N_("can't be told"),
        Answer.SEEMS_EXEMPT: N_("seems exempt"),
        Answer.NOT_LISTED: N_("not listed"),
    }
)
ACT_WORDS: Mapping[Act, str] = MappingProxyType(
    {
        Act.SALE_HOME: N_("sale at home"),
        Act.SALE_ABROAD: N_("sale abroad"),
        Act.LOAN_ABROAD: N_("loan abroad"),
        Act.REPAIR_ABROAD: N_("repair abroad"),
        Act.TRAVEL: N_("travel"),
    }
)


_KEYS = re.compile(r" \((?:[a-z_]+)(?:, [a-z_]+)*\)(?=[;.])")


def without_keys(because: str) -> str:
    """Give why an answer was given without the names of written fields, for whoever doesn't write cases."""
    return _KEYS.sub("", because)


def answer_of(judgement: Judgement) -> dict[str, object]:
    """Give the answer in its written shape and order: the gravest for the whole, then a finding a part."""
    return {
        "answer": judgement.answer.value,
        "because": judgement.gravest.because,
        **_ground(judgement.gravest.ground),
        "parts": [
            {
                "component": finding.component,
                "species": finding.species,
                "answer": finding.answer.value,
                "because": finding.because,
                **_ground(finding.ground),
            }
            for finding in judgement.findings
        ],
        "advice": list(judgement.advice),
        "caution": _(CAUTION),
    }


def statement_of(judgement: Judgement, manners: Manners = PLAIN) -> str:
    """Give the judgement as a statement: the whole, a paragraph a part, advice, and always the caution."""
    case = judgement.case
    places = " \u2192 ".join(place or "?" for place in (case.from_place, case.to_place))
    head = _("Protected materials: {act} on {day}").format(
        act=_(ACT_WORDS[case.act]), day=show_day(case.on, manners)
    )
    lines = [
        f"{head}, {places}" if case.from_place or case.to_place else head,
        _("On the whole: {answer}").format(answer=_(ANSWER_WORDS[judgement.answer])),
    ]
    for finding in judgement.findings:
        lines.extend(["", *_paragraph(finding, manners)])
    for words in judgement.advice:
        lines.extend(["", words])
    return "\n".join([*lines, "", _(CAUTION)]) + "\n"


def _paragraph(finding: Finding, manners: Manners) -> list[str]:
    """Give what is said of one part."""
    ground = finding.ground
    return [
        _("{component}, {species}: {answer}").format(
            component=_one_line(finding.component),
            species=_one_line(finding.species) or _("species unknown"),
            answer=_(ANSWER_WORDS[finding.answer]),
        ),
        f"  {_one_line(finding.because)}",
        _("  Rule: {rule}").format(rule=_(ground.rule)),
        _("  Source: {source} (last gone through on {day})").format(
            source=_(ground.source), day=show_day(ground.verified_on, manners)
        ),
        _("  Ask: {ask}").format(ask=_(ground.ask)),
    ]


def _one_line(text: str) -> str:
    """Give a text without breaks or letters that a terminal would act on."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def _ground(ground: Ground) -> dict[str, object]:
    """Give what a finding rests on, in its written shape."""
    return {
        "rule": _(ground.rule),
        "source": _(ground.source),
        "verified_on": ground.verified_on.isoformat(),
        "ask": _(ground.ask),
    }
