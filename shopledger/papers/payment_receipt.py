"""The payment receipt: money that came in, from whom, how, and what it was for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentReceiptFacts(PaperFacts):
    """What a payment receipt states.

    Shape:  `applied` says what the money went to and adds up to `amount`; `invoiced` is what the invoice asks for in all,
            `paid_before` what had been paid or allowed before, `balance` what is still due.
    """

    received_on: date
    payer: PartyFacts
    amount: Money
    method: str
    reference: str = ""
    deposit: bool = False
    cleared_on: date | None = None
    invoice_number: str = ""
    applied: tuple[AmountLine, ...] = ()
    invoiced: Money | None = None
    paid_before: Money | None = None
    balance: Money | None = None
    notes: str = ""
