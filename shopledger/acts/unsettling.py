"""Taking a settlement back: what was set aside and not paid, and what was released to the shop."""

from __future__ import annotations

from collections import defaultdict

from sqlalchemy import func, select

from shopledger.model import PayoutShare, SaleLine, Settlement, SettlementShare
from shopledger.queries.owing import line_money
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing


def paid_of_share(reading: Reading, share_id: int) -> int:
    """Give what of a settlement's share was paid out."""
    found = reading.session.scalar(
        select(func.sum(PayoutShare.minor)).where(PayoutShare.settlement_share_id == share_id)
    )
    return int(found or 0)


def released_of_line(reading: Reading, line_id: int) -> int:
    """Give what of a line's money the shop has in hand: released to it less given back."""
    found = reading.session.scalar(
        select(func.sum(Settlement.released - Settlement.given_back)).where(
            Settlement.sale_line_id == line_id
        )
    )
    return int(found or 0)


def _shares(reading: Reading, line_id: int) -> list[SettlementShare]:
    return list(
        reading.session.scalars(
            select(SettlementShare)
            .join(Settlement, Settlement.id == SettlementShare.settlement_id)
            .where(Settlement.sale_line_id == line_id)
            .order_by(SettlementShare.id)
        )
    )


def spent_of_line(reading: Reading, line_id: int) -> dict[int, int]:
    """Give by owner what of a line was paid out or set off, and not taken back."""
    spent: dict[int, int] = defaultdict(int)
    for share in _shares(reading, line_id):
        spent[share.person_id] += paid_of_share(reading, share.id) + share.set_off
    return {person: minor for person, minor in spent.items() if minor}


def unsettle(writing: Writing, line_id: int, source: str) -> None:
    """Take back what of a line is set aside and unpaid, and what was released to the shop."""
    amounts: list[Amount] = []
    for share in _shares(writing, line_id):
        left = share.minor - share.set_off - share.taken_back - paid_of_share(writing, share.id)
        if left > 0:
            share.taken_back += left
            amounts += [
                Amount("owners_held", left, share.person_id),
                Amount("owners_pending", -left, share.person_id),
            ]
    for settlement in writing.session.scalars(select(Settlement).where(Settlement.sale_line_id == line_id)):
        back = settlement.released - settlement.given_back
        if back > 0:
            settlement.given_back += back
            amounts += [Amount("bank_owners", back), Amount("bank", -back)]
    writing.session.flush()
    if amounts:
        writing.book(amounts, source)


def cover(writing: Writing, line_id: int, source: str, *, goes_back: bool = False) -> None:
    """Let the shop make good what of a line's money is gone or promised beyond what has cleared and stays cleared.

    What was paid out, set off, released and set aside has to be there without any other owner's money. What has
    cleared beyond the price is the buyer's; with `goes_back` all of it is.
    """
    line = writing.session.get_one(SaleLine, line_id)
    if line.kind != "consigned":
        return
    money = line_money(writing, line_id)
    there = min(money.cleared.minor, 0 if goes_back else money.pays.minor)
    used = sum(share.minor - share.taken_back for share in _shares(writing, line_id))
    missing = used + released_of_line(writing, line_id) - there
    if missing <= 0:
        return
    entry = writing.book([Amount("bank_owners", missing), Amount("bank", -missing)], source)
    last = writing.session.scalars(
        select(Settlement).where(Settlement.sale_line_id == line_id).order_by(Settlement.id.desc()).limit(1)
    ).first()
    if last is None:
        # Money was given back to the buyer and its payment bounced afterwards, before anything was settled.
        last = writing.add(
            Settlement(
                number=writing.number("settlement"),
                sale_line_id=line_id,
                settled_on=writing.on,
                released=0,
                given_back=0,
                entry_id=entry,
            )
        )
    last.given_back += missing
    writing.session.flush()
