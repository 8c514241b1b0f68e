"""What of an owner's charges was open when something was settled, and which of them a settlement set off."""

from __future__ import annotations

from sqlalchemy import func, select

from shopledger.model import Account, Charge, Entry, Posting, Settlement, SettlementShare
from shopledger.papers.parts import AmountLine
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_day, show_money
from shopledger.quantities.words import _
from shopledger.store.unit import Reading


def charges_set_off(
    reading: Reading, share: SettlementShare, settlement: Settlement
) -> tuple[AmountLine, ...]:
    """Give what a settlement set off against an owner's debt, by the charges that it paid, the oldest first."""
    left = share.set_off
    lines: list[AmountLine] = []
    for charge, open_ in _open_charges(reading, share.person_id, settlement.entry_id - 1):
        part = min(left, open_.minor)
        if part <= 0:
            break
        left -= part
        charged_on = show_day(charge.charged_on, reading.ledger.manners)
        lines.append(
            AmountLine(
                what=charge.what,
                amount=reading.money(part),
                on=settlement.settled_on,
                reference=charge.number,
                how=_("charged on {day}").format(day=charged_on),
            )
        )
    if left > 0:
        lines.append(
            AmountLine(
                what=_("What was owed to the shop"),
                amount=reading.money(left),
                on=settlement.settled_on,
                reference=settlement.number,
            )
        )
    return tuple(lines)


def repairs_left(reading: Reading, person_id: int, settlement: Settlement, stay_id: int) -> tuple[str, ...]:
    """Say which repairs of the thing settled its owner still owes after a settlement: they are no part of it."""
    manners = reading.ledger.manners
    return tuple(
        _("{what} ({number}): {amount} is owed to the shop and is no part of this account.").format(
            what=charge.what, number=charge.number, amount=show_money(open_, manners)
        )
        for charge, open_ in _open_charges(reading, person_id, settlement.entry_id)
        if charge.kind == "repair" and charge.stay_id == stay_id
    )


def _open_charges(reading: Reading, person_id: int, entry_id: int) -> list[tuple[Charge, Money]]:
    """Give what of each charge was open once an entry of the journal was booked; the oldest are paid first.

    Shape:  a charge that was taken back by then is left out, as are those that were paid.
    """
    taken_back = (
        select(Entry.reverses).where(Entry.reverses.is_not(None), Entry.id <= entry_id).scalar_subquery()
    )
    charges = reading.session.scalars(
        select(Charge)
        .where(Charge.person_id == person_id, Charge.entry_id <= entry_id, Charge.entry_id.not_in(taken_back))
        .order_by(Charge.id)
    ).all()
    debt = reading.session.scalar(
        select(func.sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .where(Account.code == "owners_owe", Posting.person_id == person_id, Posting.entry_id <= entry_id)
    )
    paid = sum(charge.minor for charge in charges) - int(debt or 0)
    found = []
    for charge in charges:
        off = min(charge.minor, max(0, paid))
        paid -= off
        if charge.minor > off:
            found.append((charge, reading.money(charge.minor - off)))
    return found
