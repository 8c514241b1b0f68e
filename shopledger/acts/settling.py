"""Settling: what became due is set aside for its owners, stated in an account sales, and paid out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, sale_of
from shopledger.acts.people import person_of
from shopledger.acts.unsettling import released_of_line
from shopledger.model import (
    LineOwner,
    Payout,
    PayoutShare,
    SaleLine,
    Settlement,
    SettlementShare,
    Terms,
)
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import Refused
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.due import OwnerLine, owner_lines, unpaid_shares
from shopledger.queries.owing import balance, line_money
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class Settle(Form):
    """Set aside what is due from a sale."""

    sale_id: int


@dataclass(frozen=True, kw_only=True)
class PayOwner(Form):
    """Pay an owner what is set aside for them, whole or in part."""

    person_id: int = ask(Field(N_("Owner"), Kind.PERSON, required=True))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


@dataclass(frozen=True, slots=True)
class DueNow:
    """What can be settled of one line now."""

    line: SaleLine
    owners: tuple[OwnerLine, ...]
    release: int


def due_lines(reading: Reading, sale_id: int, on: date) -> list[DueNow]:
    """Give the lines of a sale of which something can be settled: due to owners, or to be released to the shop."""
    found = []
    approval = sale_of(reading, sale_id).approval_until
    for line in reading.session.scalars(
        select(SaleLine)
        .where(SaleLine.sale_id == sale_id, SaleLine.kind == "consigned", SaleLine.returned_on.is_(None))
        .order_by(SaleLine.n)
    ):
        owners = owner_lines(reading, [line.id], on)
        money = line_money(reading, line.id)
        release = 0
        if money.cleared >= money.pays and (approval is None or approval < on):
            kept = sum(max(0, owner.net.minor) for owner in owners if not owner.is_shop)
            release = max(0, money.cleared.minor - kept - released_of_line(reading, line.id))
        if release or any(owner.due for owner in owners):
            found.append(DueNow(line, owners, release))
    return found


def run_settle(writing: Writing, form: Settle) -> Outcome:
    """Set aside what is due, set off what an owner owes where agreed, release the shop's part, state it all."""
    due = due_lines(writing, form.sale_id, writing.on)
    if not due:
        raise Refused(_why_not(writing, form.sale_id, writing.on))
    papers: list[int] = []
    for each in due:
        papers += _settle_line(writing, form.sale_id, each)
    return Outcome(Subject.SALE, form.sale_id, CHANGED, tuple(papers))


def _settle_line(writing: Writing, sale_id: int, due: DueNow) -> list[int]:
    terms = writing.session.get_one(Terms, due.line.terms_id)
    number = writing.number("settlement")
    amounts = [Amount("bank", due.release), Amount("bank_owners", -due.release)]
    shares: list[SettlementShare] = []
    for owner in due.owners:
        minor = owner.due.minor
        if owner.is_shop or (not minor and owner.net.minor > 0):
            continue
        owes = balance(writing, "owners_owe", owner.person_id).minor if terms.set_off else 0
        set_off = min(minor, max(0, owes))
        amounts += [
            Amount("owners_pending", minor, owner.person_id),
            Amount("owners_held", set_off - minor, owner.person_id),
            Amount("owners_owe", -set_off, owner.person_id),
            Amount("bank", set_off),
            Amount("bank_owners", -set_off),
        ]
        shares.append(SettlementShare(person_id=owner.person_id, minor=minor, set_off=set_off))
    entry = writing.book(amounts, f"{number} {sale_of(writing, sale_id).number} line {due.line.n}")
    settlement = writing.add(
        Settlement(
            number=number,
            sale_line_id=due.line.id,
            settled_on=writing.on,
            released=due.release,
            entry_id=entry,
        )
    )
    for share in shares:
        share.settlement_id = settlement.id
        writing.add(share)
    return account_papers(
        writing,
        settlement,
        [share.person_id for share in shares],
        instrument_id=due.line.instrument_id,
        sale_id=sale_id,
    )


def account_papers(
    writing: Writing,
    settlement: Settlement,
    person_ids: Sequence[int],
    *,
    instrument_id: int | None,
    sale_id: int | None = None,
) -> list[int]:
    """Leave an account sales for each owner of a settlement; of several, each has a number of its own behind it."""
    from shopledger.queries.facts.account_sales import account_sales_facts

    papers = []
    for n, person_id in enumerate(person_ids, 1):
        number = settlement.number if len(person_ids) == 1 else f"{settlement.number}/{n}"
        facts = account_sales_facts(writing, settlement.id, person_id, number, writing.on)
        papers.append(
            leave_paper(
                writing,
                "account_sales",
                facts,
                instrument_id=instrument_id,
                person_id=person_id,
                sale_id=sale_id,
            )
        )
    return papers


def _why_not(reading: Reading, sale_id: int, on: date) -> str:
    sale = sale_of(reading, sale_id)
    if sale.approval_until is not None and sale.approval_until >= on:
        return N_("Nothing is due yet: the buyer may still return it.")
    return N_("Nothing is due: the buyer's money has not cleared, or all is settled.")


def refuse_not_due(reading: Reading, sale_id: int) -> None:
    """Refuse to settle where nothing is due."""
    today = reading.ledger.today()
    if not due_lines(reading, sale_id, today):
        raise Refused(_why_not(reading, sale_id, today))


def preview_settle(reading: Reading, form: Settle) -> Preview:
    """Give what would be set aside for whom."""
    lines = []
    for due in due_lines(reading, form.sale_id, form.on):
        lines += [
            Line(owner.name, due.line.what, owner.due)
            for owner in due.owners
            if not owner.is_shop and owner.due
        ]
        lines.append(Line(_("Released to the shop"), due.line.what, reading.money(due.release)))
    return Preview(_("What is due now"), tuple(lines))


def run_pay_owner(writing: Writing, form: PayOwner) -> Outcome:
    """Pay an owner from what is set aside for them, the oldest settlement first; never from another's."""
    person = person_of(writing, form.person_id, "person_id")
    minor = above_zero(form.amount, writing.currency)
    held = -balance(writing, "owners_held", person.id).minor
    if minor > held:
        raise Refused(
            N_("{held} is set aside for {owner}. Type that, or less; settle first what became due."),
            field="amount",
            held=writing.money(held),
            owner=person.name,
        )
    number = writing.number("payout")
    entry = writing.book(
        [Amount("owners_held", minor, person.id), Amount("bank_owners", -minor)],
        f"{number} {form.reference}".strip(),
    )
    unpaid = unpaid_shares(writing, person.id)
    payout = writing.add(
        Payout(
            number=number,
            person_id=person.id,
            method=form.method,
            minor=minor,
            paid_on=writing.on,
            reference=form.reference,
            entry_id=entry,
        )
    )
    left = minor
    for share in unpaid:
        part = min(left, share.left.minor)
        if part:
            writing.add(PayoutShare(payout_id=payout.id, settlement_share_id=share.share_id, minor=part))
            left -= part
    from shopledger.queries.facts.remittance import remittance_facts

    facts = remittance_facts(writing, payout.id, number, writing.on)
    paper = leave_paper(writing, "remittance", facts, person_id=person.id)
    return Outcome(Subject.PERSON, person.id, CHANGED, (paper,))


def refuse_nothing_held(reading: Reading, person_id: int) -> None:
    """Refuse a payout where nothing is set aside."""
    if balance(reading, "owners_held", person_id).minor >= 0:
        raise Refused(N_("Nothing is set aside for {owner}."), owner=person_of(reading, person_id).name)


def prefill_pay_owner(reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give all that is set aside."""
    return {"amount": -balance(reading, "owners_held", person_id)}


def owners_of_line(reading: Reading, line_id: int) -> list[LineOwner]:
    """Give the owners of a line in the order they were named."""
    return list(
        reading.session.scalars(
            select(LineOwner).where(LineOwner.sale_line_id == line_id).order_by(LineOwner.n)
        )
    )


SETTLE = Act(
    name="settle",
    text=N_("Settle"),
    subject=Subject.SALE,
    form=Settle,
    run=run_settle,
    subject_input="sale_id",
    allowed=refuse_not_due,
    preview=preview_settle,
    shortcut="Ctrl+Shift+E",
    papers=("account_sales",),
)
PAY_OWNER = Act(
    name="pay_owner",
    text=N_("Pay owner"),
    subject=Subject.PERSON,
    form=PayOwner,
    run=run_pay_owner,
    subject_input="person_id",
    allowed=refuse_nothing_held,
    prefill=prefill_pay_owner,
    shortcut="Ctrl+Shift+O",
    papers=("remittance",),
)
ACTS = (SETTLE, PAY_OWNER)
