"""The refund receipt: money that went back, to whom, how, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class RefundReceiptFacts(PaperFacts):
    """What a refund receipt states.

    Shape:  `applied` says what the money was for and adds up to `amount`; `still_owed` is what the shop owes
            the payee after it.
    """

    paid_on: date
    payee: PartyFacts
    amount: Money
    method: str
    reference: str = ""
    credit_note_number: str = ""
    invoice_number: str = ""
    reason: str = ""
    applied: tuple[AmountLine, ...] = ()
    still_owed: Money | None = None


def compose(facts: RefundReceiptFacts, sheet: Sheet) -> None:
    """Write the receipt on a sheet."""
    sheet.title(_("Receipt for refund"))
    sheet.grid(
        [(_("Paid to"), sheet.party(facts.payee))],
        [
            (_("Receipt"), facts.number),
            (_("Paid on"), sheet.day(facts.paid_on)),
            (_("Credit note"), facts.credit_note_number),
            (_("Invoice"), facts.invoice_number),
        ],
    )
    sheet.pairs(
        _("Refund"),
        [
            (_("Amount"), sheet.strong(sheet.money(facts.amount))),
            (_("Paid by"), facts.method),
            (_("Reference"), facts.reference),
            (_("Why"), facts.reason),
        ],
    )
    if facts.applied:
        must_add_up("receipt", (line.amount for line in facts.applied), facts.amount)
        sheet.heading(_("What it was for"))
        sheet.amount_lines(facts.applied, _("Paid back"), facts.amount)
    if facts.still_owed is not None:
        words = (
            _("The shop still owes {name} {amount}.").format(
                name=facts.payee.name, amount=sheet.money(facts.still_owed)
            )
            if facts.still_owed
            else _("With this nothing is owed any more.")
        )
        sheet.section(_("What is left"), words)
    sheet.signatures([(_("Received by"), facts.payee.name)])
