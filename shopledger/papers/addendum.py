"""The addendum: what changes in an agreement, from which day, before and after."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import working_must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import OwnerFacts, PaperFacts, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """A term that changes: its name and its words before and after ("" where there were none)."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AddendumFacts(PaperFacts):
    """What an addendum states.

    Shape:  `act` is "change", "renewal", "end" or "owner" (change of owner); `nth` counts the addenda of the
            agreement from 1; `example` reckons a sale at the asking price under the new terms (empty where
            they do not touch money).
    """

    agreement_number: str
    agreement_on: date
    nth: int
    act: str = "change"
    effective_on: date
    owners: tuple[OwnerFacts, ...]
    new_owners: tuple[OwnerFacts, ...] = ()
    instrument_number: str
    instrument_name: str
    changes: tuple[ChangeLine, ...]
    reason: str = ""
    example: tuple[WorkingLine, ...] = ()
    example_net: Money | None = None
    signed_on: date | None = None


_TITLES = {
    "change": N_("Addendum"),
    "renewal": N_("Addendum: renewal"),
    "end": N_("Addendum: end of the agreement"),
    "owner": N_("Addendum: change of owner"),
}


def compose(facts: AddendumFacts, sheet: Sheet) -> None:
    """Write the addendum on a sheet."""
    sheet.title(
        _(_TITLES[facts.act]),
        _("number {nth} to the consignment agreement {number} of {day}").format(
            nth=facts.nth, number=facts.agreement_number, day=sheet.day(facts.agreement_on)
        ),
    )
    sheet.grid(
        [
            *sheet.owner_blocks(facts.owners),
            *(sheet.owner_blocks(facts.new_owners, _("New owner")) if facts.new_owners else ()),
        ],
        [
            (_("Addendum"), facts.number),
            (_("Agreement"), facts.agreement_number),
            (_("Holds from"), sheet.day(facts.effective_on)),
        ],
    )
    sheet.section(
        _("Instrument"),
        sheet.both(facts.instrument_name, facts.instrument_number),
    )
    sheet.owner_table(facts.owners)
    sheet.owner_table(facts.new_owners, _("New owners"))
    sheet.section(_("Why"), facts.reason)
    if facts.changes:
        sheet.heading(_("What changes"))
        sheet.ledger(
            (_("Term"), _("until now"), _("from {day}").format(day=sheet.day(facts.effective_on))),
            [(line.what, sheet.quiet(line.before), line.after) for line in facts.changes],
            (sheet.label_column, sheet.share_column, sheet.share_column),
        )
        sheet.space(10)
    if facts.example and facts.example_net is not None:
        working_must_add_up("example", facts.example, facts.example_net)
        sheet.heading(
            _("Worked example"),
            _("How a sale at the asking price would be reckoned from then on. An example, not a promise."),
        )
        sheet.working(facts.example, sheet.net_words(facts.example_net), facts.example_net)
    sheet.section(_("The rest"), _("Everything else in the agreement holds as it was."))
    sheet.cautions([_(GENERAL)])
    owners = [(_("Owner"), owner.party.name) for owner in facts.owners]
    new_owners = [(_("New owner"), owner.party.name) for owner in facts.new_owners]
    sheet.signatures([*owners, *new_owners, (_("For the shop"), facts.shop.name)], signed_on=facts.signed_on)
