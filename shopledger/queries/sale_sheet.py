"""The page about a sale: its lines with every figure and its working, payments, settlements, payouts, papers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import select

from shopledger.model import (
    Consent,
    Job,
    LineReferral,
    Payment,
    Person,
    Refund,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    field_of,
)
from shopledger.model.money import METHODS
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries import shapes, states
from shopledger.queries.declared import facts_of, instrument_words, name_of, row_of
from shopledger.queries.due import OwnerLine, owner_lines
from shopledger.queries.line_figures import figures_of, owners_lines, paid_lines
from shopledger.queries.owing import SaleMoney, sale_money
from shopledger.queries.papers import papers_of
from shopledger.queries.sale_history import history_of_sale, payouts_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, Line, Sheet

if TYPE_CHECKING:
    from shopledger.quantities.money import Money
    from shopledger.store.unit import Reading


def state_of(money: SaleMoney, owners: Sequence[OwnerLine]) -> shapes.State:
    """Give the chip of a sale: the first thing that is still to be done, or that nothing is.

    Shape:  `owners` are those of all its lines.
    """
    if money.lines and all(line.returned for line in money.lines) and not money.paid.minor:
        return states.RETURNED
    if any(line.owes.minor for line in money.lines):
        return states.OWING if money.owes.minor > 0 else states.NEEDS_YOU
    if money.uncleared.minor:
        return states.UNCLEARED
    others = [owner for owner in owners if not owner.is_shop]
    if any(owner.due.minor for owner in others):
        return states.TO_SETTLE
    if any(owner.held.minor for owner in others):
        return states.OWED
    # What is paid in full and pending all the same waits for the buyer's time to return it to be over.
    return states.SETTLED if others and all(owner.pending.minor <= 0 for owner in others) else states.PAID


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about a sale.

    Raises: NotFound: there is no such sale.
    """
    row = row_of(reading, Sale, id)
    lines = reading.session.scalars(select(SaleLine).where(SaleLine.sale_id == id).order_by(SaleLine.n)).all()
    money = sale_money(reading, id)
    today = reading.ledger.today()
    consigned = [line.id for line in lines if line.kind == "consigned"]
    owners = owner_lines(reading, consigned, today)
    buyer = name_of(reading, row.buyer_id)
    return Sheet(
        subject=Subject.SALE,
        id=id,
        title=_("{sale} to {buyer}").format(sale=row.number, buyer=buyer),
        line=" · ".join(line.what for line in lines),
        standing=_standing(reading, row, money, owners),
        state=state_of(money, owners),
        groups=(
            Group(
                N_("The sale"),
                (
                    *facts_of(
                        reading, Sale, row, without=("number",) if row.exempt else ("number", "exempt")
                    ),
                    *_job(reading, row),
                ),
            ),
            *(_line_group(reading, line, len(lines)) for line in lines),
            Group(N_("Payments"), _payments(reading, id)),
            Group(N_("Settled and paid to owners"), _settled(reading, consigned)),
        ),
        money=(
            *_figures(reading, lines),
            *paid_lines(reading, money.lines),
            *owners_lines(reading, consigned, today),
        ),
        money_title=N_("Every figure"),
        papers=papers_of(reading, sale_id=id),
        history=history_of_sale(reading, row, buyer, lines, consigned),
    )


def _job(reading: Reading, row: Any) -> tuple[Fact, ...]:
    """Give the job that a sale bills, with its instrument."""
    if row.job_id is None:
        return ()
    job = row_of(reading, Job, row.job_id)
    return (Fact(N_("Job"), job.number, instrument_words(reading, [job.instrument_id])[job.instrument_id]),)


def _figures(reading: Reading, lines: Sequence[SaleLine]) -> tuple[Line, ...]:
    """Give the figures of every line; of several each begins with what it is, a returned one says so."""
    found: list[Line] = []
    for line in lines:
        note = ""
        if line.returned_on is not None:
            note = _("returned on {day}, reversed to the cent").format(
                day=show_day(line.returned_on, reading.ledger.manners)
            )
        if len(lines) > 1 or note:
            found.append(Line(_("Line {n}: {what}").format(n=line.n, what=line.what), note=note, strong=True))
        found.extend(figures_of(reading, line))
    return tuple(found)


def _standing(reading: Reading, row: Any, money: SaleMoney, owners: Sequence[OwnerLine]) -> str:
    """Give where the sale stands: what the buyer owes, and what is to be done for the owners."""
    manners = reading.ledger.manners

    def amount(value: Money) -> str:
        return show_amount(value, manners, dash=False)

    others = [owner for owner in owners if not owner.is_shop]
    due = reading.money(sum(owner.due.minor for owner in others))
    held = reading.money(sum(owner.held.minor for owner in others))
    parts: list[str] = []
    state = state_of(money, owners)
    if state is states.RETURNED:
        return _("Returned, and nothing is left to give back.")
    if money.owes.minor > 0:
        parts.append(
            _("the buyer still owes {owes} of {pays}").format(
                owes=amount(money.owes), pays=amount(money.pays)
            )
        )
    elif money.owes.minor < 0:
        parts.append(_("{amount} is to be given back to the buyer").format(amount=amount(-money.owes)))
    else:
        parts.append(_("the buyer has paid in full"))
    if money.uncleared.minor > 0:
        parts.append(_("{amount} has not cleared yet").format(amount=amount(money.uncleared)))
    if row.approval_until is not None and row.approval_until >= reading.ledger.today():
        parts.append(_("it may be returned until {day}").format(day=show_day(row.approval_until, manners)))
    if due.minor:
        parts.append(_("{amount} is due to owners: settle it").format(amount=amount(due)))
    if held.minor:
        parts.append(_("{amount} is set aside to be paid to owners").format(amount=amount(held)))
    if state is states.SETTLED:
        parts.append(_("the owners are settled and paid"))
    sentence = _("Sold on {day}").format(day=show_day(row.sold_on, manners)) + "; " + "; ".join(parts)
    return sentence + "."


def _line_group(reading: Reading, line: SaleLine, of: int) -> Group:
    """Give what is recorded about one line besides its figures: the thing, referrals, consents."""
    facts: list[Fact] = [
        Fact(field_of(SaleLine.kind).label, _(field_of(SaleLine.kind).choice_word(line.kind)))
    ]
    if line.instrument_id is not None:
        words = instrument_words(reading, [line.instrument_id]).get(line.instrument_id, "")
        facts.append(Fact(field_of(SaleLine.instrument_id).label, words))
    if line.quantity != 1:
        facts.append(Fact(field_of(SaleLine.quantity).label, line.quantity))
    if line.returned_on is not None:
        facts.append(Fact(field_of(SaleLine.returned_on).label, line.returned_on, line.returned_why))
    for name, minor, told_buyer, told_owner in reading.session.execute(
        select(Person.name, LineReferral.minor, LineReferral.told_buyer_on, LineReferral.told_owner_on)
        .join(Person, Person.id == LineReferral.person_id)
        .where(LineReferral.sale_line_id == line.id)
        .order_by(LineReferral.id)
    ):
        facts.append(Fact(N_("Referral paid to"), name))
        facts.append(Fact(field_of(LineReferral.minor).label, reading.money(minor)))
        facts.append(Fact(field_of(LineReferral.told_buyer_on).label, told_buyer))
        facts.append(Fact(field_of(LineReferral.told_owner_on).label, told_owner))
    about = field_of(Consent.about)
    for what, given_by, given_on, how in reading.session.execute(
        select(Consent.about, Consent.given_by, Consent.given_on, Consent.how)
        .where(Consent.sale_line_id == line.id)
        .order_by(Consent.id)
    ):
        said = _("{name}, {day}, {how}").format(
            name=given_by, day=show_day(given_on, reading.ledger.manners), how=how
        )
        facts.append(Fact(N_("Consent"), said, _(about.choice_word(what))))
    title = line.what if of == 1 else _("Line {n}: {what}").format(n=line.n, what=line.what)
    return Group(title, tuple(facts))


def _payments(reading: Reading, sale_id: int) -> tuple[Fact, ...]:
    """Give each payment and refund with its day, way and state."""
    manners, methods = reading.ledger.manners, dict(METHODS)
    facts: list[Fact] = []
    for row in reading.session.execute(
        select(
            Payment.number,
            Payment.minor,
            Payment.method,
            Payment.received_on,
            Payment.cleared_on,
            Payment.bounced_on,
            Payment.reference,
        )
        .where(Payment.sale_id == sale_id)
        .order_by(Payment.id)
    ):
        if row.bounced_on is not None and row.method == "deposit":
            state = _("held again since {day}").format(day=show_day(row.bounced_on, manners))
        elif row.bounced_on is not None:
            state = _("came back on {day}").format(day=show_day(row.bounced_on, manners))
        elif row.cleared_on is not None:
            state = _("cleared on {day}").format(day=show_day(row.cleared_on, manners))
        else:
            state = _("not cleared yet")
        parts = (_(methods[row.method]), show_day(row.received_on, manners), row.reference, state)
        facts.append(Fact(row.number, reading.money(row.minor), ", ".join(part for part in parts if part)))
    for refund in reading.session.execute(
        select(Refund.number, Refund.minor, Refund.method, Refund.paid_on)
        .where(Refund.sale_id == sale_id)
        .order_by(Refund.id)
    ):
        said = _("given back, {method}, {day}").format(
            method=_(methods[refund.method]), day=show_day(refund.paid_on, manners)
        )
        facts.append(Fact(refund.number, reading.money(-refund.minor), said))
    return tuple(facts)


def _settled(reading: Reading, line_ids: Sequence[int]) -> tuple[Fact, ...]:
    """Give each settlement's share and each payout of these lines."""
    manners = reading.ledger.manners
    facts: list[Fact] = []
    for row in reading.session.execute(
        select(
            Settlement.number,
            Settlement.settled_on,
            Person.name,
            SettlementShare.minor,
            SettlementShare.set_off,
            SettlementShare.taken_back,
        )
        .join(SettlementShare, SettlementShare.settlement_id == Settlement.id)
        .join(Person, Person.id == SettlementShare.person_id)
        .where(Settlement.sale_line_id.in_(line_ids))
        .order_by(SettlementShare.id)
    ):
        parts = [_("due to {name}, {day}").format(name=row.name, day=show_day(row.settled_on, manners))]
        if row.set_off:
            parts.append(
                _("{amount} set off").format(amount=show_amount(reading.money(row.set_off), manners))
            )
        if row.taken_back:
            parts.append(
                _("{amount} taken back").format(amount=show_amount(reading.money(row.taken_back), manners))
            )
        facts.append(Fact(row.number, reading.money(row.minor), "; ".join(parts)))
    for row in payouts_of(reading, line_ids):
        said = _("paid to {name}, {day}").format(name=row.name, day=show_day(row.paid_on, manners))
        facts.append(Fact(row.number, reading.money(row.minor), said))
    return tuple(facts)
