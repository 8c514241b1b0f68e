"""The payout remittance: what was paid to an owner, how, and which sales and charges it settles."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class RemittanceFacts(PaperFacts):
    """What a payout remittance states.

    Shape:  `lines` carry signs (sales positive, set-offs and earlier payouts negative) and add up to
            `amount`; `destination` names the account so that its owner knows it ("account ending 41"), never
            whole; `still_held` is what the shop still holds for the owner after it.
    """

    paid_on: date
    owner: PartyFacts
    amount: Money
    method: str
    reference: str = ""
    destination: str = ""
    lines: tuple[AmountLine, ...]
    still_held: Money | None = None
    notes: str = ""


def compose(facts: RemittanceFacts, sheet: Sheet) -> None:
    """Write the remittance on a sheet."""
    must_add_up("remittance", (line.amount for line in facts.lines), facts.amount)
    sheet.title(_("Payout remittance"), _("what was paid to the owner, and what it settles"))
    sheet.grid(
        [(_("Owner"), sheet.party(facts.owner))],
        [
            (_("Remittance"), facts.number),
            (_("Paid on"), sheet.day(facts.paid_on)),
            (_("Amount"), sheet.strong(sheet.money(facts.amount))),
            (_("Paid by"), facts.method),
            (_("To"), facts.destination),
            (_("Reference"), facts.reference),
        ],
    )
    sheet.amount_lines(facts.lines, _("Paid out"), facts.amount)
    if facts.still_held is not None:
        sheet.section(_("After this"), sheet.held_sentence(facts.still_held))
    sheet.section(_("Notes"), facts.notes)
    sheet.cautions([_(GENERAL)])
