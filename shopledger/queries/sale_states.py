"""What sales wait for, as conditions on the table of sales: the buyer's money, settling, the owners' money."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, func, select

from shopledger.model import LineOwner, Sale, SaleLine, Settlement, SettlementShare, Shop, Terms
from shopledger.queries.due import left_of_share, owner_lines
from shopledger.queries.owing import paid_by_line, refunded_by_line, whole_sum

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def unsettled() -> ColumnElement[bool]:
    """Give the condition that something of a consigned line that stands is not settled to its owners yet."""
    settled = (
        select(whole_sum(SettlementShare.minor - SettlementShare.taken_back))
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(
            Settlement.sale_line_id == LineOwner.sale_line_id,
            SettlementShare.person_id == LineOwner.person_id,
        )
        .correlate(LineOwner)
        .scalar_subquery()
    )
    shop = select(Shop.person_id).scalar_subquery()
    lines = (
        select(SaleLine.sale_id)
        .join(LineOwner, LineOwner.sale_line_id == SaleLine.id)
        .where(
            SaleLine.returned_on.is_(None),
            LineOwner.net > 0,
            LineOwner.person_id != shop,
            LineOwner.net > settled,
        )
    )
    return Sale.id.in_(lines.scalar_subquery())


def held() -> ColumnElement[bool]:
    """Give the condition that something is set aside for owners and not paid yet."""
    lines = (
        select(SaleLine.sale_id)
        .join(Settlement, Settlement.sale_line_id == SaleLine.id)
        .join(SettlementShare, SettlementShare.settlement_id == Settlement.id)
        .where(left_of_share() > 0)
    )
    return Sale.id.in_(lines.scalar_subquery())


def unpaid() -> ColumnElement[bool]:
    """Give the condition that what has cleared for a line is not what its buyer pays."""
    paid, back = paid_by_line().subquery(), refunded_by_line().subquery()
    pays = func.coalesce(SaleLine.buyer_pays, 0)
    cleared = func.coalesce(paid.c.cleared, 0) - func.coalesce(back.c.refunded, 0)
    received = func.coalesce(paid.c.paid, 0) - func.coalesce(back.c.refunded, 0)
    stands = SaleLine.returned_on.is_(None)
    lines = (
        select(SaleLine.sale_id)
        .outerjoin(paid, paid.c.line_id == SaleLine.id)
        .outerjoin(back, back.c.line_id == SaleLine.id)
        .where(
            (stands & ((cleared != pays) | (received != pays)))
            | (~stands & ((cleared != 0) | (received != 0)))
        )
    )
    return Sale.id.in_(lines.scalar_subquery())


def to_settle(reading: Reading) -> list[int]:
    """Give the sales of which something is due to owners now.

    Few sales are unsettled at a time, so the rule that says what is due is asked for each of them.
    """
    today = reading.ledger.today()
    rows = reading.session.execute(
        select(SaleLine.id, SaleLine.sale_id)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .outerjoin(Terms, Terms.id == SaleLine.terms_id)
        .where(
            unsettled(),
            SaleLine.returned_on.is_(None),
            SaleLine.kind == "consigned",
            Sale.approval_until.is_(None) | (Sale.approval_until < today),
        )
    )
    sale_of = {line: sale for line, sale in rows}  # noqa: C416 - rows have keys()
    found = owner_lines(reading, list(sale_of), today)
    return sorted({sale_of[owner.line_id] for owner in found if owner.due.minor > 0})
