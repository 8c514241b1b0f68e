"""The statement of materials: what each component is made of, on what evidence, and what an act may need papers for.

It is no leave to do anything: every answer stands with its rule, source and day, and whom to ask.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

CAUTION = N_(
    "This is the shop’s own statement of what it knows, and no permit or certificate. It is general information, not "
    "advice: rules on protected materials differ by place and change, and what isn’t known is not thereby free. "
    "Ask the authority before a sale, a loan, a trip or a shipment."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ComponentFacts:
    """One component: what it is made of, on what evidence, and what is answered for it.

    Shape:  all in the reader's words; `species` says that it isn't known where it isn't; `known` are its days and
            weight.
    """

    component: str
    material: str = ""
    species: str
    certainty: str
    known: tuple[str, ...] = ()
    evidence: tuple[str, ...] = ()
    answer: str
    because: str
    rule: str
    source: str
    verified_on: date
    ask: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialsFacts(PaperFacts):
    """What a statement of materials states.

    Shape:  `act` and `answer` are in the reader's words; a place is empty where it isn't told; `answer_because` and
            `ask` are of the whole.
    """

    thing: ThingFacts
    act: str
    act_on: date
    from_place: str = ""
    to_place: str = ""
    re_export: str = ""
    answer: str
    answer_because: str
    ask: str
    components: tuple[ComponentFacts, ...] = ()
    advice: tuple[str, ...] = ()


def compose(facts: MaterialsFacts, sheet: Sheet) -> None:
    """Write the statement on a sheet."""
    thing = facts.thing
    named = (sheet.strong(thing.name), thing.maker, sheet.quiet(thing.number))
    unknown = _("not told")
    sheet.title(_("Statement of materials"), thing.name)
    sheet.grid(
        [(_("Instrument"), [line for line in named if line])],
        [
            (_("For"), facts.act),
            (_("To be done on"), sheet.day(facts.act_on)),
            (_("From"), facts.from_place or unknown),
            (_("To"), facts.to_place or unknown),
            (_("Re-export"), facts.re_export),
        ],
    )
    sheet.section(
        _("On the whole"),
        sheet.strong(facts.answer),
        facts.answer_because,
        _("Ask {ask}.").format(ask=facts.ask),
    )
    if not facts.components:
        sheet.section(
            _("Components"), _("No component is recorded, so nothing can be told of protected materials.")
        )
    for one in facts.components:
        sheet.pairs(one.component, _pairs(one, sheet))
    for words in facts.advice:
        sheet.section(_("Besides"), words)
    sheet.signatures([(_("For the shop"), facts.shop.name)])
    sheet.section(_("Caution"), _(CAUTION), small=True)


def _pairs(one: ComponentFacts, sheet: Sheet) -> list[tuple[str, str]]:
    """Give what is said of one component, its answer first."""
    named = sheet.both(one.species, one.material) if one.material else one.species
    source = _("{source} (last gone through on {day})").format(
        source=one.source, day=sheet.day(one.verified_on)
    )
    return [
        (_("Answer"), sheet.strong(one.answer)),
        (_("Because"), one.because),
        (_("Species"), sheet.lines([named, sheet.quiet(one.certainty)])),
        (_("Known"), sheet.lines(one.known)),
        (_("Evidence"), sheet.lines(one.evidence)),
        (_("Rule"), one.rule),
        (_("Source"), source),
        (_("Ask"), one.ask),
    ]
