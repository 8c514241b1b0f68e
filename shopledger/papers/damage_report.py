"""The report of damage: what happened in the shop's care, where it was then, who bears it, and the claim."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import OwnerFacts, PaperFacts
from shopledger.papers.workshop import ThingFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

CLAIM = N_(
    "Insurance: whether, when and how much an insurer pays is for the insurer to say, and the time to report damage "
    "may be short. Leave what is broken as it was found until the insurer has seen it or agreed to its repair."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DamageFacts(PaperFacts):
    """What a report of damage states.

    Shape:  `was` says in words where it was when it happened; `borne_by` is in the reader's words, "" where nobody has
            said; `closed_on`, `paid` and `outcome` are given once the claim is closed.
    """

    damage_number: str
    owners: tuple[OwnerFacts, ...]
    thing: ThingFacts
    entry_number: str = ""
    trial_number: str = ""
    happened_on: date | None = None
    found_on: date
    was: str = ""
    what_happened: str
    report_number: str = ""
    borne_by: str = ""
    reported_to: str = ""
    claimed: Money | None = None
    closed_on: date | None = None
    paid: Money | None = None
    outcome: str = ""


def compose(facts: DamageFacts, sheet: Sheet) -> None:
    """Write the report on a sheet."""
    sheet.title(
        _("Report of damage"),
        _("in the shop\u2019s care") if facts.closed_on is None else _("with the end of its claim"),
    )
    sheet.grid(
        sheet.owner_blocks(facts.owners),
        [
            (_("Damage"), sheet.strong(facts.damage_number)),
            (
                _("Happened on"),
                _("not known") if facts.happened_on is None else sheet.day(facts.happened_on),
            ),
            (_("Found on"), sheet.day(facts.found_on)),
            (_("Entry"), facts.entry_number),
            (_("Trial"), facts.trial_number),
        ],
    )
    sheet.owner_table(facts.owners)
    sheet.section(_("Instrument"), sheet.both(facts.thing.name, facts.thing.number), facts.thing.maker)
    sheet.section(_("Where it was"), facts.was)
    sheet.section(_("What happened"), facts.what_happened)
    sheet.section(
        _("Condition"),
        _("See the condition report {number}.").format(number=facts.report_number)
        if facts.report_number
        else "",
    )
    sheet.pairs(
        _("The claim"),
        [
            (_("Borne by"), facts.borne_by or _("not agreed yet")),
            (_("Reported to"), facts.reported_to or _("nobody so far")),
            (_("Claimed"), _("nothing so far") if facts.claimed is None else sheet.money(facts.claimed)),
            (_("Claim closed on"), "" if facts.closed_on is None else sheet.day(facts.closed_on)),
            (_("Paid on the claim"), "" if facts.closed_on is None else _paid(facts, sheet)),
            (_("How it ended"), facts.outcome),
        ],
    )
    sheet.keep_room(130)
    sheet.signatures([(_("For the shop"), facts.shop.name)])
    sheet.cautions([_(CLAIM), _(GENERAL)])


def _paid(facts: DamageFacts, sheet: Sheet) -> str:
    return _("nothing") if not facts.paid else sheet.money(facts.paid)
