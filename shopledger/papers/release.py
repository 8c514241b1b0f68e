"""The release: an instrument handed over against a signature, with what went with it and in which condition."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import describing
from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import AmountLine, InstrumentFacts, OwnerFacts, PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseFacts(PaperFacts):
    """What a release to owner states.

    Shape:  `to` is whoever takes it, `owners` whose it is; `authority` is what shows that `to` may take it;
            `reason` is in the reader's words ("the agreement ended"); `open_charges` are still unpaid and add
            up to `open_total`.
    """

    entry_number: str
    handed_over_on: date
    taken_in_on: date | None = None
    to: PartyFacts
    owners: tuple[OwnerFacts, ...]
    authority: str = ""
    instrument: InstrumentFacts
    agreement_number: str = ""
    reason: str = ""
    by_hand: bool = True
    carrier: str = ""
    open_charges: tuple[AmountLine, ...] = ()
    open_total: Money | None = None
    notes: str = ""


def compose(facts: ReleaseFacts, sheet: Sheet) -> None:
    """Write the release on a sheet."""
    sheet.title(_("Release to owner"), _("custody handed over against a signature"))
    handed = [(_("Handed to"), sheet.party(facts.to))]
    same = len(facts.owners) == 1 and facts.owners[0].party == facts.to
    sheet.grid(
        handed if same else [*handed, *sheet.owner_blocks(facts.owners)],
        [
            (_("Release"), facts.number),
            (_("Handed over on"), sheet.day(facts.handed_over_on)),
            (_("Entry"), facts.entry_number),
            (_("Taken in on"), "" if facts.taken_in_on is None else sheet.day(facts.taken_in_on)),
            (_("Agreement"), facts.agreement_number),
        ],
    )
    sheet.owner_table(facts.owners)
    sheet.section(_("Why"), facts.reason)
    sheet.section(_("Authority"), facts.authority)
    describing.what_it_is(facts.instrument, sheet)
    describing.condition_and_company(facts.instrument, sheet)
    describing.measures_and_fittings(facts.instrument, sheet)
    how = (
        _("By hand, at the shop.")
        if facts.by_hand
        else _("Sent by {carrier}.").format(carrier=facts.carrier or _("carrier"))
    )
    sheet.section(_("How"), how)
    if facts.open_charges and facts.open_total is not None:
        must_add_up("charges", (line.amount for line in facts.open_charges), facts.open_total)
        sheet.heading(_("Still to be paid"))
        sheet.amount_lines(facts.open_charges, _("To be paid by the owner"), facts.open_total)
    sheet.section(_("Notes"), facts.notes)
    sheet.signatures(
        [(_("Received by"), facts.to.name), (_("For the shop"), facts.shop.name)],
        before=_(
            "The instrument and what is named here were handed over in the condition described. From now on "
            "the shop no longer has them "
            "in its care, and its insurance no longer covers them."
        ),
    )
