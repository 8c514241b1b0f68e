"""The table of sales and the page about one: every line with its working, what was paid, settled and paid out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import ColumnElement, Select, case, func, select

from shopledger.model import (
    LineOwner,
    Payment,
    Payout,
    PayoutShare,
    Person,
    Refund,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    field_of,
    fields_of,
)
from shopledger.quantities.errors import NotFound
from shopledger.quantities.fields import Kind
from shopledger.quantities.showing import show_day, show_money
from shopledger.quantities.words import N_, _
from shopledger.queries import shapes
from shopledger.queries.declared import facts_of, name_of, names_more
from shopledger.queries.due import OwnerLine, owner_lines
from shopledger.queries.owing import SaleMoney, paid_by_line, refunded_by_line, sales_money
from shopledger.queries.papers import papers_of
from shopledger.queries.shapes import (
    Column,
    Fact,
    Group,
    History,
    Line,
    Mark,
    MarkKind,
    Row,
    Sheet,
    State,
    Subject,
    Table,
    View,
)
from shopledger.rules.reckon_written import case_from
from shopledger.rules.reckoning import reckon
from shopledger.store.search import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

COLUMNS = (
    Column("number", field_of(Sale.number).label, Kind.TEXT, 11),
    Column("sold_on", field_of(Sale.sold_on).label, Kind.DAY, 11),
    Column("buyer", field_of(Sale.buyer_id).label, Kind.TEXT, 18),
    Column("what", N_("What"), Kind.TEXT, 24),
    Column("pays", N_("Buyer pays"), Kind.MONEY, 11),
    Column("paid", N_("Paid"), Kind.MONEY, 11),
    Column("state", N_("Stands"), Kind.TEXT, 13, sortable=False),
)
VIEWS = (
    View("all", N_("All")),
    View("open", N_("Open")),
    View("to_settle", N_("To settle")),
    View("to_pay", N_("Owners to pay")),
    View("returned", N_("Returned")),
)


def _amounts() -> Any:
    """Give by sale what its standing lines come to, what was paid less refunds, and how many lines stand."""
    paid, back = paid_by_line().subquery(), refunded_by_line().subquery()
    stands = SaleLine.returned_on.is_(None)
    return (
        select(
            SaleLine.sale_id.label("sale_id"),
            func.sum(case((stands, SaleLine.buyer_pays), else_=0)).label("pays"),
            func.sum(func.coalesce(paid.c.paid, 0) - func.coalesce(back.c.refunded, 0)).label("paid"),
            func.sum(func.coalesce(paid.c.cleared, 0) - func.coalesce(back.c.refunded, 0)).label("cleared"),
            func.sum(case((stands, 1), else_=0)).label("standing"),
        )
        .outerjoin(paid, paid.c.line_id == SaleLine.id)
        .outerjoin(back, back.c.line_id == SaleLine.id)
        .group_by(SaleLine.sale_id)
        .subquery()
    )


def _settled() -> Any:
    """Give by sale what its owners' nets come to, what of them is settled, and what of that is spent."""
    spent = (
        select(PayoutShare.settlement_share_id.label("share_id"), func.sum(PayoutShare.minor).label("paid"))
        .group_by(PayoutShare.settlement_share_id)
        .subquery()
    )
    shares = (
        select(
            Settlement.sale_line_id.label("line_id"),
            func.sum(SettlementShare.minor - SettlementShare.taken_back).label("settled"),
            func.sum(SettlementShare.set_off + func.coalesce(spent.c.paid, 0)).label("spent"),
        )
        .join(SettlementShare, SettlementShare.settlement_id == Settlement.id)
        .outerjoin(spent, spent.c.share_id == SettlementShare.id)
        .group_by(Settlement.sale_line_id)
        .subquery()
    )
    nets = (
        select(LineOwner.sale_line_id.label("line_id"), func.sum(LineOwner.net).label("net"))
        .join(Person, Person.id == LineOwner.person_id)
        .where(Person.relation != "shop", LineOwner.net > 0)
        .group_by(LineOwner.sale_line_id)
        .subquery()
    )
    return (
        select(
            SaleLine.sale_id.label("sale_id"),
            func.sum(func.coalesce(nets.c.net, 0)).label("net"),
            func.sum(func.coalesce(shares.c.settled, 0)).label("settled"),
            func.sum(func.coalesce(shares.c.spent, 0)).label("spent"),
        )
        .outerjoin(nets, nets.c.line_id == SaleLine.id)
        .outerjoin(shares, shares.c.line_id == SaleLine.id)
        .where(SaleLine.returned_on.is_(None))
        .group_by(SaleLine.sale_id)
        .subquery()
    )


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the sales of a view that fit what is typed, sorted."""
    money, settled = _amounts(), _settled()
    rows: Select[Any] = (
        select(Sale.id)
        .join(Person, Person.id == Sale.buyer_id)
        .outerjoin(money, money.c.sale_id == Sale.id)
        .outerjoin(settled, settled.c.sale_id == Sale.id)
    )
    stands = money.c.standing > 0
    views: dict[str, list[ColumnElement[bool]]] = {
        "open": [(money.c.pays != money.c.cleared)],
        "to_settle": [stands, settled.c.net > settled.c.settled],
        "to_pay": [stands, settled.c.settled > settled.c.spent],
        "returned": [
            Sale.id.in_(select(SaleLine.sale_id).where(SaleLine.returned_on.is_not(None)).scalar_subquery())
        ],
    }
    rows = rows.where(*views.get(view, []))
    found = matching(reading.session, Subject.SALE.value, words)
    if found is not None:
        rows = rows.where(Sale.id.in_(found.scalar_subquery()))
    first = select(SaleLine.what).where(SaleLine.sale_id == Sale.id, SaleLine.n == 1).scalar_subquery()
    by: dict[str, Any] = {
        "sold_on": Sale.sold_on,
        "buyer": func.lower(Person.name),
        "what": func.lower(first),
        "pays": money.c.pays,
        "paid": money.c.paid,
    }
    key = by.get(sort, Sale.id)
    rows = rows.order_by(key.desc() if descending else key, Sale.id.desc() if descending else Sale.id)
    return list(reading.session.scalars(rows))


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give sales as rows, in the order asked."""
    wanted = list(ids)
    things: dict[int, list[str]] = {}
    lines: dict[int, list[int]] = {}
    for sale_id, line_id, what in reading.session.execute(
        select(SaleLine.sale_id, SaleLine.id, SaleLine.what)
        .where(SaleLine.sale_id.in_(wanted))
        .order_by(SaleLine.sale_id, SaleLine.n)
    ):
        things.setdefault(sale_id, []).append(what)
        lines.setdefault(sale_id, []).append(line_id)
    money = sales_money(reading, wanted)
    owners = _owners_by_line(reading, [line for each in lines.values() for line in each])
    found = {}
    for key, number, sold_on, buyer in reading.session.execute(
        select(Sale.id, Sale.number, Sale.sold_on, Person.name)
        .join(Person, Person.id == Sale.buyer_id)
        .where(Sale.id.in_(wanted))
    ):
        named = things.get(key, [])
        standing = [owner for line in lines.get(key, []) for owner in owners.get(line, [])]
        cells = (
            number,
            sold_on,
            buyer,
            names_more(named[0] if named else None, len(named)),
            money[key].pays or None,
            money[key].paid or None,
            state_of(money[key], standing),
        )
        found[key] = Row(key, cells)
    return [found[one] for one in ids if one in found]


def _owners_by_line(reading: Reading, line_ids: Sequence[int]) -> dict[int, list[OwnerLine]]:
    found: dict[int, list[OwnerLine]] = {}
    for owner in owner_lines(reading, line_ids, reading.ledger.today()):
        if not owner.is_shop:
            found.setdefault(owner.line_id, []).append(owner)
    return found


def state_of(money: SaleMoney, owners: Sequence[OwnerLine]) -> State:
    """Give the state of a sale: the gravest thing that is still to be done about it."""
    if money.lines and all(line.returned for line in money.lines):
        return shapes.RETURNED if not money.cleared else shapes.NEEDS_YOU
    if money.owes.minor > 0:
        return shapes.OWING
    if money.owes.minor < 0:
        return shapes.NEEDS_YOU
    if money.uncleared:
        return shapes.UNCLEARED
    if any(owner.due for owner in owners):
        return shapes.TO_SETTLE
    if any(owner.held.minor > 0 for owner in owners):
        return shapes.OWED
    if any(owner.pending.minor > 0 for owner in owners):
        return shapes.PAID
    return shapes.SETTLED if owners else shapes.PAID


def sheet(reading: Reading, sale_id: int) -> Sheet:
    """Give the page about a sale.

    Raises: NotFound: there is no such sale.
    """
    table = Sale.__table__
    row = reading.session.execute(select(*table.columns).where(table.c.id == sale_id)).first()
    if row is None:
        raise NotFound(N_("There is no such sale in the ledger."))
    named = row._mapping
    lines = list(
        reading.session.scalars(select(SaleLine).where(SaleLine.sale_id == sale_id).order_by(SaleLine.n))
    )
    money = sales_money(reading, [sale_id])[sale_id]
    owners = _owners_by_line(reading, [line.id for line in lines])
    everyone = [owner for line in lines for owner in owners.get(line.id, [])]
    state = state_of(money, everyone)
    buyer = name_of(reading, named["buyer_id"])
    return Sheet(
        Subject.SALE,
        sale_id,
        named["number"],
        line=_("{what} to {buyer}").format(
            what=names_more(lines[0].what if lines else "", len(lines)) or "", buyer=buyer
        ),
        standing=_standing(reading, named["sold_on"], money, state),
        state=state,
        groups=(
            Group(N_("The sale"), facts_of(reading, Sale, row, without=("number", "buyer_id"))),
            *(_line_group(reading, line) for line in lines),
        ),
        money=_money_lines(reading, lines, money, everyone),
        money_title=N_("The money"),
        papers=papers_of(reading, sale_id=sale_id),
        history=History((), _marks(reading, sale_id, named["sold_on"])),
    )


def _standing(reading: Reading, sold_on: Any, money: SaleMoney, state: State) -> str:
    day = show_day(sold_on, reading.ledger.manners)
    word = _(state.word)
    if state is shapes.OWING:
        owes = show_money(money.owes, reading.ledger.manners)
        return _("Sold on {day}; the buyer still owes {owes}.").format(day=day, owes=owes)
    return _("Sold on {day}; {word}.").format(day=day, word=word)


def _line_group(reading: Reading, line: SaleLine) -> Group:
    """Give a line's figures as its fields declare them, nothing for what is nothing."""
    facts = [
        Fact(field.label, reading.money(getattr(line, name)))
        for name, field in fields_of(SaleLine).items()
        if field.kind is Kind.MONEY and getattr(line, name)
    ]
    title = f"{line.n}. {line.what}" + (", " + _("returned") if line.returned_on is not None else "")
    return Group(title, tuple(facts))


def _money_lines(
    reading: Reading, lines: Sequence[SaleLine], money: SaleMoney, owners: Sequence[OwnerLine]
) -> tuple[Line, ...]:
    shown: list[Line] = []
    for line in lines:
        if line.kind == "consigned" and line.returned_on is None:
            lead = f"{line.n}. " if len(lines) > 1 else ""
            split = reckon(case_from(line.reckoned_from), reading.ledger.manners)
            shown += [
                Line(lead + step.label, step.how, step.amount, strong=step.figure == "owner_net")
                for step in split.working
            ]
    shown += [
        Line(_("The buyer pays"), _("all lines that stand"), money.pays, strong=True),
        Line(_("Paid so far"), "", money.paid),
    ]
    if money.uncleared:
        shown.append(Line(_("of it not cleared"), "", money.uncleared))
    for owner in owners:
        if owner.net or owner.settled:
            shown.append(Line(_("{owner}: settled").format(owner=owner.name), "", owner.settled))
            shown.append(Line(_("{owner}: paid out").format(owner=owner.name), "", owner.paid))
    return tuple(shown)


def _marks(reading: Reading, sale_id: int, sold_on: Any) -> tuple[Mark, ...]:
    session = reading.session
    marks = [Mark(sold_on, MarkKind.SALE, _("sold"))]
    marks += [
        Mark(day, MarkKind.MONEY, _("paid, {number}").format(number=number))
        for number, day in session.execute(
            select(Payment.number, Payment.received_on).where(Payment.sale_id == sale_id)
        )
    ]
    marks += [
        Mark(day, MarkKind.MONEY, _("given back, {number}").format(number=number))
        for number, day in session.execute(
            select(Refund.number, Refund.paid_on).where(Refund.sale_id == sale_id)
        )
    ]
    ours = select(SaleLine.id).where(SaleLine.sale_id == sale_id).scalar_subquery()
    marks += [
        Mark(day, MarkKind.MONEY, _("settled, {number}").format(number=number))
        for number, day in session.execute(
            select(Settlement.number, Settlement.settled_on).where(Settlement.sale_line_id.in_(ours))
        )
    ]
    marks += [
        Mark(day, MarkKind.MONEY, _("owner paid, {number}").format(number=number))
        for number, day in session.execute(
            select(Payout.number, Payout.paid_on)
            .join(PayoutShare, PayoutShare.payout_id == Payout.id)
            .join(SettlementShare, SettlementShare.id == PayoutShare.settlement_share_id)
            .join(Settlement, Settlement.id == SettlementShare.settlement_id)
            .where(Settlement.sale_line_id.in_(ours))
            .distinct()
        )
    ]
    marks += [
        Mark(day, MarkKind.HANDOVER, _("returned, line {n}").format(n=n))
        for n, day in session.execute(
            select(SaleLine.n, SaleLine.returned_on).where(
                SaleLine.sale_id == sale_id, SaleLine.returned_on.is_not(None)
            )
        )
        if day is not None
    ]
    return tuple(sorted(marks, key=lambda mark: mark.on))


TABLE = Table(
    name="sales",
    subject=Subject.SALE,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="number",
    descending=True,
    hint=N_("invoice, buyer, instrument, receipt"),
    empty=N_("Every sale stands here from the day it is agreed until its owners are paid."),
    first_act="sell_goods",
)
