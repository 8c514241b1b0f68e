"""The note of a fee paid: what a referrer or a second dealer was paid, how, for which sales, and what is still owed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

TAXED = N_(
    "A fee may be income of whoever has it, and some places want it reported or call for a licence: ask an accountant."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FeeNoteFacts(PaperFacts):
    """What a note of a fee paid states.

    Shape:  `lines` name the sales the fee is for, the oldest first, and add up to `amount`; `still_owed` is what is
            owed to the payee in fees after it.
    """

    paid_on: date
    payee: PartyFacts
    amount: Money
    method: str
    reference: str = ""
    lines: tuple[AmountLine, ...]
    still_owed: Money


def compose(facts: FeeNoteFacts, sheet: Sheet) -> None:
    """Write the note on a sheet."""
    must_add_up("fee", (line.amount for line in facts.lines), facts.amount)
    sheet.title(_("Note of a fee paid"), _("for bringing a buyer, or for selling as a second dealer"))
    sheet.grid(
        [(_("Paid to"), sheet.party(facts.payee))],
        [
            (_("Note"), facts.number),
            (_("Paid on"), sheet.day(facts.paid_on)),
            (_("Amount"), sheet.strong(sheet.money(facts.amount))),
            (_("Paid by"), facts.method),
            (_("Reference"), facts.reference),
        ],
    )
    sheet.amount_lines(facts.lines, _("Paid"), facts.amount)
    sheet.section(
        _("What is left"),
        _("The shop still owes {name} {amount}.").format(
            name=facts.payee.name, amount=sheet.money(facts.still_owed)
        )
        if facts.still_owed
        else _("With this no fee is owed any more."),
    )
    sheet.section(
        _("If a sale fails"),
        _("A fee for a sale that is taken back, or whose price is lowered, is owed back to the shop."),
    )
    sheet.cautions([_(TAXED), _(GENERAL)])
