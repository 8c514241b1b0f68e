"""The rules of the journal: the chart of accounts, what a booking is, and the canonical form that is sealed.

An agent's view of revenue: a consigned sale earns the commission, and the price is never income (IFRS 15, B34 to B38).
"""

from __future__ import annotations

import hashlib
import unicodedata
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum

from shopledger.quantities.days import instant_text
from shopledger.quantities.errors import Bug
from shopledger.quantities.words import N_


class Side(Enum):
    """What an account is, and so on which side it grows."""

    ASSET = "asset"
    DEBT = "debt"
    INCOME = "income"
    EXPENSE = "expense"
    OWN = "own"


@dataclass(frozen=True, slots=True)
class AccountRule:
    """One account of the chart: stable code, words, side, whether it is kept by person."""

    code: str
    words: str
    side: Side
    by_person: bool = False


CHART: tuple[AccountRule, ...] = (
    AccountRule("bank", N_("the shop's own money"), Side.ASSET),
    AccountRule("bank_owners", N_("money held for owners"), Side.ASSET),
    AccountRule("in_transit", N_("payments not yet cleared"), Side.ASSET),
    AccountRule("buyers", N_("owed by buyers"), Side.ASSET, by_person=True),
    AccountRule("owners_owe", N_("owed by owners"), Side.ASSET, by_person=True),
    AccountRule("fees_owe", N_("fees to be paid back to the shop"), Side.ASSET, by_person=True),
    AccountRule("claims", N_("claims for losses"), Side.ASSET),
    AccountRule("stock", N_("the shop's own instruments, at cost"), Side.ASSET),
    AccountRule("goods", N_("parts and goods, at cost"), Side.ASSET),
    AccountRule("owners_pending", N_("owed to owners, not yet due"), Side.DEBT, by_person=True),
    AccountRule("owners_held", N_("owed to owners and set aside"), Side.DEBT, by_person=True),
    AccountRule("deposits", N_("deposits held for players"), Side.DEBT, by_person=True),
    AccountRule(
        "part_exchange", N_("allowances for part-exchange, not yet funded"), Side.DEBT, by_person=True
    ),
    AccountRule("fees_due", N_("fees owed to referrers and dealers"), Side.DEBT, by_person=True),
    AccountRule("sale_costs", N_("costs of sales, still to be paid or spent before"), Side.DEBT),
    AccountRule("sales_tax", N_("sales tax to hand on"), Side.DEBT),
    AccountRule("vat", N_("VAT to hand on"), Side.DEBT),
    AccountRule("capital", N_("the shop owner's own"), Side.OWN),
    AccountRule("commission", N_("commission"), Side.INCOME),
    AccountRule("charges", N_("charges to owners"), Side.INCOME),
    AccountRule("own_sales", N_("sales of the shop's own instruments"), Side.INCOME),
    AccountRule("goods_sales", N_("accessories and work"), Side.INCOME),
    AccountRule("freight", N_("freight charged"), Side.INCOME),
    AccountRule("forfeits", N_("forfeited deposits"), Side.INCOME),
    AccountRule("cost_of_sales", N_("cost of the shop's own instruments sold"), Side.EXPENSE),
    AccountRule("goods_used", N_("parts used and goods sold, at cost"), Side.EXPENSE),
    AccountRule("services", N_("services bought in for the workshop"), Side.EXPENSE),
    AccountRule("selling_costs", N_("costs borne by the shop"), Side.EXPENSE),
    AccountRule("fees_paid", N_("referral fees and dealers' shares borne by the shop"), Side.EXPENSE),
    AccountRule("margin_vat", N_("VAT on margins"), Side.EXPENSE),
    AccountRule("losses", N_("losses borne by the shop"), Side.EXPENSE),
)
ACCOUNTS: dict[str, AccountRule] = {rule.code: rule for rule in CHART}
FEE_BACK = "take_fee_back"
"""The act, sealed into its entry, by which a payment without a sale is told to be a fee paid back."""


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount to post: debits above zero, credits below; minor units."""

    account: str
    minor: int
    person_id: int | None = None


def balanced(amounts: Sequence[Amount]) -> tuple[Amount, ...]:
    """Give the amounts to post, those of one account and person put together and zeros left out.

    Raises: Bug: they don't sum to zero, fewer than two are left, or a person is missing or too many.
    """
    sums: dict[tuple[str, int | None], int] = defaultdict(int)
    for amount in amounts:
        if ACCOUNTS[amount.account].by_person != (amount.person_id is not None):
            raise Bug(
                "account {account} with person {person}", account=amount.account, person=str(amount.person_id)
            )
        sums[amount.account, amount.person_id] += amount.minor
    left = tuple(Amount(account, minor, person) for (account, person), minor in sums.items() if minor)
    if sum(amount.minor for amount in left) or len(left) < 2:
        raise Bug("entry out of balance: {amounts}", amounts=repr(left))
    return left


def mirrored(amounts: Sequence[Amount]) -> tuple[Amount, ...]:
    """Give the amounts that undo the given ones, to the unit."""
    return tuple(Amount(amount.account, -amount.minor, amount.person_id) for amount in amounts)


FIRST_HASH = "0" * 64
"""Stands for the hash before the first entry."""


@dataclass(frozen=True, slots=True)
class SealedPosting:
    """A posting as the seal states it: people by their number, never by their name."""

    n: int
    account: str
    person: str
    currency: str
    amount: int


@dataclass(frozen=True, slots=True)
class SealedEntry:
    """An entry as the seal states it."""

    number: int
    op_id: str
    booked_on: date
    recorded_at: datetime
    act: str
    source: str
    reverses: int | None
    postings: tuple[SealedPosting, ...]


def canonical(entry: SealedEntry) -> str:
    """Give the one text of an entry: fixed order, whole numbers, NFC, with a tag of its version."""
    head = (
        "shop-ledger entry 1",
        str(entry.number),
        entry.op_id,
        entry.booked_on.isoformat(),
        instant_text(entry.recorded_at),
        entry.act,
        entry.source,
        str(entry.reverses or ""),
    )
    lines = [field.replace("\\", "\\\\").replace("\n", "\\n") for field in head]
    lines += [
        f"{posting.n}\t{posting.account}\t{posting.person}\t{posting.currency}\t{posting.amount}"
        for posting in sorted(entry.postings, key=lambda posting: posting.n)
    ]
    return unicodedata.normalize("NFC", "\n".join(lines))


def seal_hash(before: str, entry: SealedEntry) -> str:
    """Give the hash of an entry over the hash before it.

    Shape:  64 hexadecimal letters, SHA-256.
    """
    return hashlib.sha256(f"{before}\n{canonical(entry)}".encode()).hexdigest()
