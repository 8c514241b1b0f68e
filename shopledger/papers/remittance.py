"""The payout remittance: what was paid to an owner, how, and which sales and charges it settles."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class RemittanceFacts(PaperFacts):
    """What a payout remittance states.

    Shape:  `lines` carry signs (sales positive, set-offs and earlier payouts negative) and add up to `amount`; `destination`
            names the account so that its owner knows it ("account ending 41"), never whole; `still_held` is what the shop still
            holds for the owner after it.
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
