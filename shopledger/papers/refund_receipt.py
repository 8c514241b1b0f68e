"""The refund receipt: money that went back, to whom, how, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class RefundReceiptFacts(PaperFacts):
    """What a refund receipt states.

    Shape:  `applied` says what the money was for and adds up to `amount`; `still_owed` is what the shop owes the payee after it.
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
