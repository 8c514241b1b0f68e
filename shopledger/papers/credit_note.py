"""The credit note: lines of an invoice that came back, reversed to the cent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import GoodsLine, PaperFacts, PartyFacts, PaymentLine, TaxFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class CreditNoteFacts(PaperFacts):
    """What a credit note states.

    Shape:  amounts are positive: what is credited to the buyer; the lines plus the tax are `total`; `refunds` have been paid
            back (positive); `set_against` is what the credit took off an unpaid invoice; total − set_against − refunds = `balance`,
            which the shop still owes the buyer.
    """

    invoice_number: str
    invoice_on: date
    returned_on: date
    buyer: PartyFacts
    reason: str = ""
    lines: tuple[GoodsLine, ...]
    tax: TaxFacts = TaxFacts()
    total: Money
    set_against: Money
    refunds: tuple[PaymentLine, ...] = ()
    balance: Money
