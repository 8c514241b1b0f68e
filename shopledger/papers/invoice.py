"""The sale invoice: what was sold, at what price and tax, what was paid and what is due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import (
    CautionFacts,
    GoodsLine,
    PaperFacts,
    PartExchangeLine,
    PartyFacts,
    PaymentLine,
    TaxFacts,
)
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceFacts(PaperFacts):
    """What a sale invoice states.

    Shape:  the amounts of `lines` plus the tax are `total`; `total` less allowances and payments is `balance`, negative
            where the shop owes the buyer; refunds stand among `payments` with a negative amount; `hold_until` and `approval_until` are
            the last days of a hold and of the approval time.
    """

    sale_number: str = ""
    sold_on: date
    buyer: PartyFacts
    ship_to: PartyFacts | None = None
    lines: tuple[GoodsLine, ...]
    tax: TaxFacts = TaxFacts()
    part_exchanges: tuple[PartExchangeLine, ...] = ()
    payments: tuple[PaymentLine, ...] = ()
    total: Money
    balance: Money
    due_on: date | None = None
    hold_until: date | None = None
    approval_until: date | None = None
    shipping: str = ""
    payment_words: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    cautions: CautionFacts = CautionFacts()
