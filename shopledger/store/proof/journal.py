"""The journal proved: every entry balances, numbers have no holes, the chain of seals is reckoned anew."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import select

from shopledger.model import Account, Entry, Posting, Seal
from shopledger.quantities.words import N_
from shopledger.rules.journal import ACCOUNTS, FIRST_HASH, SealedEntry, SealedPosting, seal_hash
from shopledger.store.proof.finding import Proof


def prove_journal(proof: Proof) -> None:
    """Go through the journal in the order of its numbers, each entry with the hash before it."""
    accounts = _accounts(proof)
    numbers = proof.people
    last, before = 0, FIRST_HASH
    for entry, postings in _entries(proof):
        where = str(entry.id)
        if entry.id != last + 1:
            proof.wrong(
                "entry",
                where,
                N_("Entry {number} follows entry {last}: those between are missing."),
                number=where,
                last=str(last),
            )
        last = entry.id
        _prove_postings(proof, where, postings, accounts)
        _prove_reversal(proof, entry, postings)
        if entry.hash is None:
            proof.wrong("entry", where, N_("Entry {number} has no seal."), number=where)
            continue
        sealed = SealedEntry(
            number=entry.id,
            op_id=entry.op_id,
            booked_on=entry.booked_on,
            recorded_at=entry.recorded_at,
            act=entry.act,
            source=entry.source,
            reverses=entry.reverses,
            postings=tuple(
                SealedPosting(
                    each.n,
                    accounts.get(each.account_id, ""),
                    numbers.get(each.person_id, "") if each.person_id is not None else "",
                    each.currency,
                    each.amount,
                )
                for each in postings
            ),
        )
        if seal_hash(before, sealed) != entry.hash:
            proof.wrong(
                "chain",
                where,
                N_("Entry {number} is not what its seal says: it, the entry before or the seal was changed."),
                number=where,
            )
        before = entry.hash
    _prove_no_stray(proof)


def _accounts(proof: Proof) -> dict[int, str]:
    accounts: dict[int, str] = proof.pairs(select(Account.id, Account.code))
    for code in sorted(set(accounts.values()) - set(ACCOUNTS)):
        proof.wrong("account", code, N_("The account {code} is not in the chart."), code=code)
    for code in sorted(set(ACCOUNTS) - set(accounts.values())):
        proof.wrong("account", code, N_("The account {code} of the chart is missing."), code=code)
    return accounts


def _entries(proof: Proof) -> Iterator[tuple[Any, Sequence[Any]]]:
    """Give each entry with its postings; both are read in the order of the entries' numbers, side by side."""
    entries = proof.connection.execute(
        select(
            Entry.id,
            Entry.op_id,
            Entry.booked_on,
            Entry.recorded_at,
            Entry.act,
            Entry.source,
            Entry.reverses,
            Seal.hash,
        )
        .outerjoin(Seal, Seal.entry_id == Entry.id)
        .order_by(Entry.id)
    )
    postings = iter(
        proof.connection.execute(
            select(
                Posting.entry_id,
                Posting.n,
                Posting.account_id,
                Posting.person_id,
                Posting.currency,
                Posting.amount,
            ).order_by(Posting.entry_id, Posting.n)
        )
    )
    posting = next(postings, None)
    for entry in entries:
        while posting is not None and posting.entry_id < entry.id:  # strays, named by another check
            posting = next(postings, None)
        mine = []
        while posting is not None and posting.entry_id == entry.id:
            mine.append(posting)
            posting = next(postings, None)
        yield entry, mine


def _prove_postings(proof: Proof, where: str, postings: Sequence[Any], accounts: dict[int, str]) -> None:
    if len(postings) < 2:
        proof.wrong(
            "entry",
            where,
            N_("Entry {number} has fewer than two postings: {n}."),
            number=where,
            n=len(postings),
        )
    if [each.n for each in postings] != list(range(1, len(postings) + 1)):
        proof.wrong(
            "entry", where, N_("The postings of entry {number} are not counted from 1 up."), number=where
        )
    sums: dict[str, int] = defaultdict(int)
    for each in postings:
        sums[each.currency] += each.amount
        code = accounts.get(each.account_id, "")
        rule = ACCOUNTS.get(code)
        if rule is not None and rule.by_person != (each.person_id is not None):
            proof.wrong(
                "entry",
                where,
                N_(
                    "Entry {number} posts to {account} without a person where one is due, or with one where none is."
                ),
                number=where,
                account=code,
            )
        if each.currency != proof.currency:
            proof.wrong(
                "entry",
                where,
                N_("Entry {number} posts in {other}; the ledger is kept in {currency}."),
                number=where,
                other=each.currency,
                currency=proof.currency,
            )
        if each.amount == 0:
            proof.wrong(
                "entry", where, N_("Entry {number} posts nothing to {account}."), number=where, account=code
            )
    for currency, together in sums.items():
        if together:
            proof.wrong(
                "entry",
                where,
                N_("Entry {number} doesn't balance: its postings in {currency} come to {minor} minor units."),
                number=where,
                currency=currency,
                minor=str(together),
            )


def _prove_reversal(proof: Proof, entry: Any, postings: Sequence[Any]) -> None:
    if entry.reverses is None:
        return
    first = proof.rows(
        select(Posting.account_id, Posting.person_id, Posting.currency, Posting.amount)
        .where(Posting.entry_id == entry.reverses)
        .order_by(Posting.n)
    )
    undone = [(each.account_id, each.person_id, each.currency, -each.amount) for each in first]
    mine = [(each.account_id, each.person_id, each.currency, each.amount) for each in postings]
    if entry.reverses >= entry.id or sorted(undone, key=repr) != sorted(mine, key=repr):
        proof.wrong(
            "entry",
            str(entry.id),
            N_("Entry {number} says that it reverses entry {other}, but doesn't undo it to the unit."),
            number=str(entry.id),
            other=str(entry.reverses),
        )


def _prove_no_stray(proof: Proof) -> None:
    """Find postings and seals of entries that aren't there."""
    there = select(Entry.id)
    for number in proof.connection.scalars(
        select(Posting.entry_id).where(Posting.entry_id.not_in(there)).distinct().order_by(Posting.entry_id)
    ):
        proof.wrong(
            "entry",
            str(number),
            N_("There are postings of entry {number}, but not the entry."),
            number=str(number),
        )
    for number in proof.connection.scalars(
        select(Seal.entry_id).where(Seal.entry_id.not_in(there)).order_by(Seal.entry_id)
    ):
        proof.wrong(
            "entry",
            str(number),
            N_("There is a seal of entry {number}, but not the entry."),
            number=str(number),
        )
