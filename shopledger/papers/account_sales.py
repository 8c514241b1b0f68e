"""The account sales: the statement of sale to the owner, every figure with its working."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import AmountLine, OwnerFacts, PaperFacts, ShareLine, WorkingLine
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountSalesFacts(PaperFacts):
    """What an account sales states, to all owners of one thing sold.

    Shape:  the counting lines of `working` (price first, deductions negative) add up to `owner_net`; `shares` add up to it
            too and are left empty where there is one owner; `set_offs` (charges and debts taken off) and `payouts` are positive;
            owner_net − set_offs − payouts = `balance`, negative where the owner owes. `due_on` is the day by which it is paid, and
            `due_words` says in a sentence what it waits for. `reverses` names an earlier account that this one takes back.
    """

    agreement_number: str
    agreement_on: date | None = None
    invoice_number: str = ""
    sold_on: date
    owners: tuple[OwnerFacts, ...]
    instrument_number: str
    instrument_name: str
    asking: Money
    price: Money
    working: tuple[WorkingLine, ...]
    owner_net: Money
    shares: tuple[ShareLine, ...] = ()
    set_offs: tuple[AmountLine, ...] = ()
    payouts: tuple[AmountLine, ...] = ()
    balance: Money
    due_on: date | None = None
    due_words: str = ""
    floor: Money | None = None
    floor_words: str = ""
    referral_words: str = ""
    tax_words: str = ""
    reverses: str = ""
    notes: tuple[str, ...] = ()
