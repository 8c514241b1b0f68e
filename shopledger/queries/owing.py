"""What is owed: balances of the journal, what buyers owe and have paid, what is due, held and paid to owners.

Acts and sheets ask here, so that each answer is given in one place. Balances come from the journal; what falls on which
line and owner comes from the records beside it, and a proof compares the two.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, Select, SQLColumnExpression, bindparam, case, func, select

from shopledger.model import (
    Account,
    Charge,
    Entry,
    Payment,
    PaymentShare,
    Posting,
    RefundShare,
    SaleLine,
)
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def whole_sum(column: SQLColumnExpression[int]) -> ColumnElement[int]:
    """Give a sum that is nought where there are no rows and comes out as an int on both databases."""
    return func.coalesce(func.sum(column), 0)


def balances(reading: Reading) -> Mapping[str, int]:
    """Give the balance of every account that was posted to, by its code; debits above zero, minor units."""
    rows = reading.session.execute(
        select(Account.code, whole_sum(Posting.amount))
        .join(Posting, Posting.account_id == Account.id)
        .group_by(Account.code)
    )
    return {code: int(total) for code, total in rows}


def balance(reading: Reading, account: str, person_id: int | None = None) -> Money:
    """Give the balance of an account, of one person where they are named; debits above zero."""
    rows = (
        select(whole_sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .where(Account.code == account)
    )
    if person_id is not None:
        rows = rows.where(Posting.person_id == person_id)
    return reading.money(int(reading.session.execute(rows).scalar_one()))


def balances_by_person(
    reading: Reading, accounts: Sequence[str], person_ids: Sequence[int] | None = None
) -> Mapping[int, Mapping[str, int]]:
    """Give the balances of accounts kept by person, by person and account; those of nought are left out."""
    rows = (
        select(Posting.person_id, Account.code, whole_sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .where(Account.code.in_(accounts), Posting.person_id.is_not(None))
        .group_by(Posting.person_id, Account.code)
        .having(func.sum(Posting.amount) != 0)
    )
    if person_ids is not None:
        rows = rows.where(Posting.person_id.in_(person_ids))
    found: dict[int, dict[str, int]] = defaultdict(dict)
    for person_id, code, total in reading.session.execute(rows):
        if person_id is not None:
            found[person_id][code] = int(total)
    return found


@dataclass(frozen=True, slots=True)
class OwnerAccount:
    """What stands between the shop and one owner.

    Units:  minor units as money, all of them zero or above but for `net`.
    """

    person_id: int
    pending: Money
    """Owed to them, not yet due."""
    held: Money
    """Owed to them and set aside."""
    owes: Money
    """Owed by them."""

    @property
    def net(self) -> Money:
        """What they are owed in all; below zero where they owe the shop."""
        return self.pending + self.held - self.owes


def owner_accounts(reading: Reading, person_ids: Sequence[int] | None = None) -> Mapping[int, OwnerAccount]:
    """Give the account of every owner that is not all nought (or of those named), by person."""
    found = balances_by_person(reading, ("owners_pending", "owners_held", "owners_owe"), person_ids)
    return {
        person_id: OwnerAccount(
            person_id,
            reading.money(-sums.get("owners_pending", 0)),
            reading.money(-sums.get("owners_held", 0)),
            reading.money(sums.get("owners_owe", 0)),
        )
        for person_id, sums in found.items()
    }


def owner_account(reading: Reading, person_id: int) -> OwnerAccount:
    """Give what stands between the shop and one person as an owner."""
    zero = reading.money(0)
    return owner_accounts(reading, [person_id]).get(person_id, OwnerAccount(person_id, zero, zero, zero))


def charge_stands() -> ColumnElement[bool]:
    """Give the condition that a charge was not taken back: its entry was never reversed."""
    reversed_ = select(Entry.reverses).where(Entry.reverses.is_not(None)).scalar_subquery()
    return Charge.entry_id.not_in(reversed_)


def owner_debt(reading: Reading, person_id: int) -> Money:
    """Give what an owner owes the shop."""
    return balance(reading, "owners_owe", person_id)


@dataclass(frozen=True, slots=True)
class LineMoney:
    """What a buyer has paid for one line and still owes for it.

    Shape:  `paid` is what was received and did not bounce, less what was refunded; `cleared` is the part of it that
            cleared; `pays` is nought for a returned line, so that `owes` below zero is what is to be refunded.
    """

    line_id: int
    sale_id: int
    kind: str
    returned: bool
    pays: Money
    paid: Money
    cleared: Money

    @property
    def owes(self) -> Money:
        """What the buyer still owes for the line; below zero where money is to be given back."""
        return self.pays - self.paid

    @property
    def uncleared(self) -> Money:
        """What was paid and has not cleared yet."""
        return self.paid - self.cleared


@dataclass(frozen=True, slots=True)
class SaleMoney:
    """What a buyer has paid on an invoice and still owes, the sum over its lines."""

    sale_id: int
    pays: Money
    paid: Money
    cleared: Money
    lines: tuple[LineMoney, ...]

    @property
    def owes(self) -> Money:
        """What the buyer still owes; below zero where money is to be given back."""
        return self.pays - self.paid

    @property
    def uncleared(self) -> Money:
        """What was paid and has not cleared yet."""
        return self.paid - self.cleared


def paid_by_line() -> Select[int, int, int]:
    """Give the query of what was received for each line and did not bounce, and how much of it cleared."""
    cleared = case((Payment.cleared_on.is_not(None), PaymentShare.minor), else_=0)
    return (
        select(
            PaymentShare.sale_line_id.label("line_id"),
            whole_sum(PaymentShare.minor).label("paid"),
            whole_sum(cleared).label("cleared"),
        )
        .join(Payment, Payment.id == PaymentShare.payment_id)
        .where(Payment.bounced_on.is_(None))
        .group_by(PaymentShare.sale_line_id)
    )


def refunded_by_line() -> Select[int, int]:
    """Give the query of what was refunded for each line."""
    return select(
        RefundShare.sale_line_id.label("line_id"),
        whole_sum(RefundShare.minor).label("refunded"),
    ).group_by(RefundShare.sale_line_id)


_OURS = select(SaleLine.id).where(SaleLine.sale_id.in_(bindparam("sales", expanding=True))).scalar_subquery()
_PAID_OF_SALES = paid_by_line().where(PaymentShare.sale_line_id.in_(_OURS))
_REFUNDED_OF_SALES = refunded_by_line().where(RefundShare.sale_line_id.in_(_OURS))
_LINES_OF_SALES = (
    select(SaleLine.id, SaleLine.sale_id, SaleLine.kind, SaleLine.buyer_pays, SaleLine.returned_on)
    .where(SaleLine.sale_id.in_(bindparam("sales", expanding=True)))
    .order_by(SaleLine.sale_id, SaleLine.n)
)


def sales_money(reading: Reading, sale_ids: Iterable[int]) -> Mapping[int, SaleMoney]:
    """Give what buyers have paid and owe on several invoices, line by line."""
    wanted = list(sale_ids)
    values = {"sales": wanted}
    paid = {
        line: (int(received), int(cleared))
        for line, received, cleared in reading.rows(_PAID_OF_SALES, values)
    }
    refunded = {line: int(back) for line, back in reading.rows(_REFUNDED_OF_SALES, values)}
    lines: dict[int, list[LineMoney]] = {sale_id: [] for sale_id in wanted}
    for line_id, sale_id, kind, pays, returned_on in reading.rows(_LINES_OF_SALES, values):
        received, cleared = paid.get(line_id, (0, 0))
        back = refunded.get(line_id, 0)
        lines[sale_id].append(
            LineMoney(
                line_id,
                sale_id,
                kind,
                returned_on is not None,
                reading.money(0 if returned_on is not None else pays),
                reading.money(received - back),
                reading.money(cleared - back),
            )
        )
    return {sale_id: _sum_of(reading, sale_id, found) for sale_id, found in lines.items()}


def _sum_of(reading: Reading, sale_id: int, lines: Sequence[LineMoney]) -> SaleMoney:
    return SaleMoney(
        sale_id,
        reading.money(sum(line.pays.minor for line in lines)),
        reading.money(sum(line.paid.minor for line in lines)),
        reading.money(sum(line.cleared.minor for line in lines)),
        tuple(lines),
    )


def sale_money(reading: Reading, sale_id: int) -> SaleMoney:
    """Give what the buyer has paid and owes on one invoice."""
    return sales_money(reading, [sale_id])[sale_id]


def line_money(reading: Reading, line_id: int) -> LineMoney:
    """Give what the buyer has paid and owes for one line.

    Raises: NotFound: there is no such line.
    """
    sale_id = reading.session.scalar(select(SaleLine.sale_id).where(SaleLine.id == line_id))
    if sale_id is None:
        raise NotFound(N_("There is no sale line with the key {id} in this ledger."), id=line_id)
    return next(line for line in sale_money(reading, sale_id).lines if line.line_id == line_id)
