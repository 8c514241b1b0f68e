"""What is due to owners: of which line, since which settlement, and what of a deposit is still held."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, func, select

from shopledger.model import (
    LineOwner,
    Payment,
    PayoutShare,
    Person,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    Shop,
    Terms,
)
from shopledger.quantities.money import Money
from shopledger.queries.owing import LineMoney, sales_money, whole_sum
from shopledger.rules.split import part_cleared

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class OwnerLine:
    """How one owner stands with one line.

    Shape:  `settled` is what became due and was set aside, less what a return took back; of it `set_off` went against
            their debt and `paid` was paid out; `due` is what is due now and not settled yet.
    """

    line_id: int
    person_id: int
    number: str
    name: str
    share: Fraction
    net: Money
    settled: Money
    set_off: Money
    paid: Money
    due: Money
    is_shop: bool

    @property
    def held(self) -> Money:
        """What is set aside and neither set off nor paid yet."""
        return self.settled - self.set_off - self.paid

    @property
    def pending(self) -> Money:
        """What of the net is not settled yet."""
        return self.net - self.settled


def owner_lines(reading: Reading, line_ids: Iterable[int], on: date) -> tuple[OwnerLine, ...]:
    """Give how the owners of several consigned lines stand with them on a day, in the order they were named.

    The shop as part owner is in the answer (`is_shop`), with nothing due: its share is no payout.
    """
    wanted = list(line_ids)
    session = reading.session
    settled = _settled(reading, wanted)
    rows = session.execute(
        select(
            LineOwner.sale_line_id,
            LineOwner.person_id,
            Person.number,
            Person.name,
            LineOwner.share,
            LineOwner.net,
            SaleLine.sale_id,
            SaleLine.owner_net,
            SaleLine.returned_on,
            Sale.approval_until,
            Terms.pay_owner,
        )
        .join(Person, Person.id == LineOwner.person_id)
        .join(SaleLine, SaleLine.id == LineOwner.sale_line_id)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .outerjoin(Terms, Terms.id == SaleLine.terms_id)
        .where(LineOwner.sale_line_id.in_(wanted))
        .order_by(LineOwner.sale_line_id, LineOwner.n)
    ).all()
    money = {
        line.line_id: line
        for sale in sales_money(reading, {row.sale_id for row in rows}).values()
        for line in sale.lines
    }
    shop_person = session.scalar(select(Shop.person_id))
    found: list[OwnerLine] = []
    for line_id in dict.fromkeys(row.sale_line_id for row in rows):
        of_line = [row for row in rows if row.sale_line_id == line_id]
        first = of_line[0]
        approval_over = first.approval_until is None or first.approval_until < on
        due = (
            reading.money(0)
            if first.returned_on is not None or not approval_over
            else due_of_net(
                reading.money(first.owner_net),
                money[line_id],
                as_money_clears=first.pay_owner == "as_money_clears",
            )
        )
        parts = [settled.get((line_id, row.person_id), (0, 0, 0)) for row in of_line]
        fresh = _fresh_due(
            due, [row.share for row in of_line], [row.net for row in of_line], [p[0] for p in parts]
        )
        for row, (minor, set_off, paid), now in zip(of_line, parts, fresh, strict=True):
            is_shop = row.person_id == shop_person
            found.append(
                OwnerLine(
                    line_id,
                    row.person_id,
                    row.number,
                    row.name,
                    row.share,
                    reading.money(0 if row.returned_on is not None else row.net),
                    reading.money(minor),
                    reading.money(set_off),
                    reading.money(paid),
                    reading.money(0 if is_shop else now),
                    is_shop,
                )
            )
    return tuple(found)


def due_of_net(net: Money, line: LineMoney, *, as_money_clears: bool) -> Money:
    """Give what of a line's net is due from what has cleared, before anything was settled (reckoning, step 11)."""
    if net.minor <= 0:
        return Money.zero(net.currency)
    if line.cleared >= line.pays:
        return net
    return part_cleared(net, line.cleared, line.pays) if as_money_clears else Money.zero(net.currency)


def _fresh_due(
    due: Money, shares: Sequence[Fraction], nets: Sequence[int], settled: Sequence[int]
) -> list[int]:
    """Give what of the due is not settled yet, by owner.

    With three owners and more, largest remainder can give an owner a unit less of a larger amount; nobody gets less
    than before here, and all of them together no more than is due.
    """
    if not due:
        return [0] * len(shares)
    targets = list(nets) if due.minor == sum(nets) else [part.minor for part in due.shared(shares)]
    fresh = [max(0, min(target, net) - had) for target, net, had in zip(targets, nets, settled, strict=True)]
    above = sum(fresh) + sum(settled) - due.minor
    for n in sorted(range(len(fresh)), key=lambda n: -fresh[n]):
        less = min(max(above, 0), fresh[n])
        fresh[n] -= less
        above -= less
    return fresh


def _settled(reading: Reading, line_ids: Sequence[int]) -> Mapping[tuple[int, int], tuple[int, int, int]]:
    """Give by line and owner: settled less taken back, set off, paid out."""
    paid = (
        select(PayoutShare.settlement_share_id.label("share_id"), func.sum(PayoutShare.minor).label("paid"))
        .group_by(PayoutShare.settlement_share_id)
        .subquery()
    )
    rows = reading.session.execute(
        select(
            Settlement.sale_line_id,
            SettlementShare.person_id,
            whole_sum(SettlementShare.minor - SettlementShare.taken_back),
            whole_sum(SettlementShare.set_off),
            whole_sum(paid.c.paid),
        )
        .join(SettlementShare, SettlementShare.settlement_id == Settlement.id)
        .outerjoin(paid, paid.c.share_id == SettlementShare.id)
        .where(Settlement.sale_line_id.in_(line_ids))
        .group_by(Settlement.sale_line_id, SettlementShare.person_id)
    )
    return {(line, person): (int(a), int(b), int(c)) for line, person, a, b, c in rows if line is not None}


@dataclass(frozen=True, slots=True)
class Unpaid:
    """A settlement share of which something is still set aside for its owner; payouts pay the oldest first."""

    share_id: int
    settlement_id: int
    number: str
    settled_on: date
    line_id: int | None
    loss_id: int | None
    left: Money


def left_of_share() -> ColumnElement[int]:
    """Give what of a settlement's share is set aside and not paid yet, as an expression over SettlementShare."""
    paid = (
        select(whole_sum(PayoutShare.minor))
        .where(PayoutShare.settlement_share_id == SettlementShare.id)
        .correlate(SettlementShare)
        .scalar_subquery()
    )
    return SettlementShare.minor - SettlementShare.set_off - SettlementShare.taken_back - paid


def unpaid_shares(reading: Reading, person_id: int) -> tuple[Unpaid, ...]:
    """Give what is set aside for an owner and not paid yet, by settlement, the oldest first."""
    left = left_of_share()
    rows = reading.session.execute(
        select(
            SettlementShare.id,
            Settlement.id,
            Settlement.number,
            Settlement.settled_on,
            Settlement.sale_line_id,
            Settlement.loss_id,
            left.label("left"),
        )
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(SettlementShare.person_id == person_id, left > 0)
        .order_by(Settlement.id)
    )
    return tuple(Unpaid(*row[:6], reading.money(int(row[6]))) for row in rows)


def deposit_left(reading: Reading, hold_id: int) -> Money:
    """Give what is still held of the deposits paid with a hold: received, not bounced, not set off, not given back."""
    from shopledger.model import Refund

    held = select(Payment.id).where(Payment.hold_id == hold_id, Payment.bounced_on.is_(None))
    session = reading.session
    got = session.execute(select(whole_sum(Payment.minor)).where(Payment.id.in_(held))).scalar_one()
    used = session.execute(
        select(whole_sum(Payment.minor)).where(Payment.deposit_id.in_(held), Payment.bounced_on.is_(None))
    ).scalar_one()
    back = session.execute(select(whole_sum(Refund.minor)).where(Refund.deposit_id.in_(held))).scalar_one()
    return reading.money(int(got) - int(used) - int(back))
