"""What waits for owners: the part of their nets whose money has come in and cleared but is not set aside yet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date

from sqlalchemy import func, or_, select

from shopledger.model import (
    LineOwner,
    Payment,
    PaymentShare,
    Refund,
    RefundShare,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
)
from shopledger.rules.split import part_cleared
from shopledger.store.unit import Reading


def waiting_by_owner(reading: Reading, as_of: date) -> Mapping[int, int]:
    """Give by owner, for a day, what of the cleared money of sales is theirs in proportion and not settled yet.

    Units:  minor units, above zero; owners for whom nothing waits are left out.
    """
    cleared = _cleared(reading, as_of)
    settled = _settled(reading, as_of)
    rows = reading.session.execute(
        select(LineOwner.sale_line_id, LineOwner.person_id, LineOwner.net, SaleLine.buyer_pays)
        .join(SaleLine, SaleLine.id == LineOwner.sale_line_id)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .where(Sale.sold_on <= as_of, or_(SaleLine.returned_on.is_(None), SaleLine.returned_on > as_of))
    )
    found: dict[int, int] = defaultdict(int)
    for line, person, net, pays in rows:
        theirs = part_cleared(reading.money(net), reading.money(cleared.get(line, 0)), reading.money(pays))
        found[person] += max(0, theirs.minor - settled.get((line, person), 0))
    return {person: minor for person, minor in found.items() if minor}


def _cleared(reading: Reading, as_of: date) -> Mapping[int, int]:
    """Give by line what had cleared on a day, less what had been given back."""
    came = reading.session.execute(
        select(PaymentShare.sale_line_id, func.sum(PaymentShare.minor))
        .join(Payment, Payment.id == PaymentShare.payment_id)
        .where(Payment.cleared_on <= as_of, Payment.bounced_on.is_(None))
        .group_by(PaymentShare.sale_line_id)
    )
    went = reading.session.execute(
        select(RefundShare.sale_line_id, func.sum(RefundShare.minor))
        .join(Refund, Refund.id == RefundShare.refund_id)
        .where(Refund.paid_on <= as_of)
        .group_by(RefundShare.sale_line_id)
    )
    found: dict[int, int] = defaultdict(int)
    for line, minor in came:
        found[line] += int(minor or 0)
    for line, minor in went:
        found[line] -= int(minor or 0)
    return found


def _settled(reading: Reading, as_of: date) -> Mapping[tuple[int, int], int]:
    """Give by line and owner what had been settled on a day, less what a return took back."""
    rows = reading.session.execute(
        select(
            Settlement.sale_line_id,
            SettlementShare.person_id,
            func.sum(SettlementShare.minor - SettlementShare.taken_back),
        )
        .join(SettlementShare, SettlementShare.settlement_id == Settlement.id)
        .where(Settlement.settled_on <= as_of, Settlement.sale_line_id.is_not(None))
        .group_by(Settlement.sale_line_id, SettlementShare.person_id)
    )
    return {(line or 0, person): int(minor or 0) for line, person, minor in rows}
