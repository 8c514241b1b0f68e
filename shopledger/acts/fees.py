"""Fees: a referrer or a second dealer is paid, and pays back what a sale that failed left them owing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, clear, receipt, record_payment
from shopledger.acts.people import person_of
from shopledger.model import FeePayment, Payment
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import Refused
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.owing import balance
from shopledger.queries.shapes import Subject
from shopledger.rules.journal import FEE_BACK, Amount
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class PayFee(Form):
    """Pay a referrer or a second dealer."""

    person_id: int = ask(Field(N_("To"), Kind.PERSON, required=True))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


@dataclass(frozen=True, kw_only=True)
class TakeFeeBack(Form):
    """A fee that was paid comes back, since its sale did."""

    person_id: int = ask(Field(N_("From"), Kind.PERSON, required=True))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


def run_pay_fee(writing: Writing, form: PayFee) -> Outcome:
    """Pay a referrer or a second dealer what they are owed, whole or in part."""
    person = person_of(writing, form.person_id, "person_id")
    minor = above_zero(form.amount, writing.currency)
    owed = -balance(writing, "fees_due", person.id).minor
    if minor > owed:
        raise Refused(
            N_("{owed} is owed to {person} in fees. Type that, or less."),
            field="amount",
            owed=writing.money(max(0, owed)),
            person=person.name,
        )
    number = writing.number("fee")
    entry = writing.book([Amount("fees_due", minor, person.id), Amount("bank", -minor)], number)
    fee = writing.add(
        FeePayment(
            number=number,
            person_id=person.id,
            method=form.method,
            minor=minor,
            paid_on=writing.on,
            reference=form.reference,
            entry_id=entry,
        )
    )
    from shopledger.queries.facts.fee_note import fee_note_facts

    facts = fee_note_facts(writing, fee.id, number, writing.on)
    paper = leave_paper(writing, "fee_note", facts, person_id=person.id)
    return Outcome(Subject.PERSON, person.id, CHANGED, (paper,))


def run_take_fee_back(writing: Writing, form: TakeFeeBack) -> Outcome:
    """Take back of a fee what its sale no longer bears, whole or in part; it is the shop's own money."""
    person = person_of(writing, form.person_id, "person_id")
    minor = above_zero(form.amount, writing.currency)
    owed = balance(writing, "fees_owe", person.id).minor
    if minor > owed:
        raise Refused(
            N_("{person} owes {owed} of fees back. Type that, or less."),
            field="amount",
            person=person.name,
            owed=writing.money(max(0, owed)),
        )
    entry = writing.book(
        [Amount("in_transit", minor), Amount("fees_owe", -minor, person.id)], f"{person.number} fee back"
    )
    payment = record_payment(
        writing,
        Payment(
            person_id=person.id,
            method=form.method,
            minor=minor,
            received_on=writing.on,
            reference=form.reference,
            entry_id=entry,
        ),
        {},
    )
    clear(writing, payment)
    return Outcome(Subject.PERSON, person.id, CHANGED, (receipt(writing, payment),))


def refuse_no_fee(reading: Reading, person_id: int) -> None:
    """Refuse to pay a fee where none is owed."""
    if balance(reading, "fees_due", person_id).minor >= 0:
        raise Refused(N_("No fee is owed to {person}."), person=person_of(reading, person_id).name)


def refuse_no_fee_back(reading: Reading, person_id: int) -> None:
    """Refuse to take a fee back where none is owed back."""
    if balance(reading, "fees_owe", person_id).minor <= 0:
        raise Refused(N_("{person} owes no fee back."), person=person_of(reading, person_id).name)


def prefill_pay_fee(reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give all that is owed in fees."""
    return {"amount": -balance(reading, "fees_due", person_id)}


def prefill_fee_back(reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give all of the fees that is owed back."""
    return {"amount": balance(reading, "fees_owe", person_id)}


PAY_FEE = Act(
    name="pay_fee",
    text=N_("Pay the fee"),
    subject=Subject.PERSON,
    form=PayFee,
    run=run_pay_fee,
    subject_input="person_id",
    allowed=refuse_no_fee,
    prefill=prefill_pay_fee,
    papers=("fee_note",),
)
TAKE_FEE_BACK = Act(
    name=FEE_BACK,
    text=N_("Take a fee back"),
    subject=Subject.PERSON,
    form=TakeFeeBack,
    run=run_take_fee_back,
    subject_input="person_id",
    allowed=refuse_no_fee_back,
    prefill=prefill_fee_back,
    papers=("payment_receipt",),
)
ACTS = (PAY_FEE, TAKE_FEE_BACK)
