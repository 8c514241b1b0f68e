"""Payments: received in parts and by any method, cleared or bounced, deposits set off, money given back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.owning import WHOLE, Share, record_owners
from shopledger.acts.papers import leave_paper
from shopledger.acts.people import person_of
from shopledger.acts.releasing import end_stay, release_paper
from shopledger.acts.taking_in import open_stay
from shopledger.acts.terms import live_line
from shopledger.acts.unsettling import cover, unsettle
from shopledger.model import Payment, PaymentShare, Sale, SaleLine
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.owing import LineMoney, SaleMoney, sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import hold_in_force
from shopledger.rules.dividing import paid_on_lines
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

NOT_PAID = ("deposit", "lien")
"""How an invoice is covered without a payment that could come back."""
CHANGED = frozenset({Subject.SALE, Subject.INSTRUMENT, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})


@dataclass(frozen=True, kw_only=True)
class TakePayment(Form):
    """Money from a buyer."""

    sale_id: int
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")
    cleared: bool = ask(
        Field(N_("Cleared already"), Kind.YES_NO, help=N_("Cash, or a transfer that has arrived."))
    )


@dataclass(frozen=True, kw_only=True)
class ClearPayments(Form):
    """What was paid has arrived for good."""

    sale_id: int
    number: str = ask(Field(N_("Receipt"), help=N_("Empty for all that are not cleared.")), default="")


@dataclass(frozen=True, kw_only=True)
class BouncePayment(Form):
    """A payment came back."""

    sale_id: int
    number: str = ask(Field(N_("Receipt"), required=True))


def sale_of(reading: Reading, sale_id: int) -> Sale:
    """Give a sale's record.

    Raises: NotFound, in words.
    """
    sale = reading.session.get(Sale, sale_id)
    if sale is None:
        raise NotFound(N_("There is no such sale in the ledger."))
    return sale


def above_zero(amount: Money, currency: str, field: str = "amount") -> int:
    """Give an amount's minor units.

    Raises: Typed: it is of another currency, or not above zero.
    """
    if amount.currency != currency:
        raise Typed(
            N_("The amount is in {other}: this ledger is kept in {currency}."),
            field=field,
            other=amount.currency,
            currency=currency,
        )
    if amount.minor <= 0:
        raise Typed(N_("The amount has to be above zero."), field=field)
    return amount.minor


def falls_on(lines: Sequence[LineMoney], minor: int) -> dict[int, int]:
    """Give the part of a payment that falls on each line: by what its buyer pays, never more than is still owed.

    Shape:  by the line's id; the parts sum to the payment, which is at most what all lines owe.
    """
    open_lines = [line for line in lines if line.owes.minor > 0]
    if not open_lines:
        return {}
    pays = [line.pays for line in open_lines]
    parts = paid_on_lines(Money(minor, pays[0].currency), pays)
    fitting = [min(part.minor, line.owes.minor) for part, line in zip(parts, open_lines, strict=True)]
    left = minor - sum(fitting)
    for n, line in enumerate(open_lines):
        more = min(left, line.owes.minor - fitting[n])
        fitting[n] += more
        left -= more
    return {line.line_id: part for line, part in zip(open_lines, fitting, strict=True) if part}


def for_owners(writing: Writing, shares: Mapping[int, int]) -> int:
    """Give what of the parts falls on consigned lines, and so belongs to the money held for owners."""
    consigned = set(
        writing.session.scalars(
            select(SaleLine.id).where(SaleLine.id.in_(list(shares)), SaleLine.kind == "consigned")
        )
    )
    return sum(minor for line_id, minor in shares.items() if line_id in consigned)


def arrival(whole: int, owners_part: int) -> list[Amount]:
    """Give the debit side of money that arrives: what falls on consigned lines is held for owners."""
    return [Amount("bank_owners", owners_part), Amount("bank", whole - owners_part)]


def record_payment(writing: Writing, payment: Payment, shares: Mapping[int, int]) -> Payment:
    """Write a payment and the parts that fall on the lines."""
    payment.number = writing.number("payment")
    writing.add(payment)
    for line_id, minor in shares.items():
        writing.add(PaymentShare(payment_id=payment.id, sale_line_id=line_id, minor=minor))
    return payment


def receipt(writing: Writing, payment: Payment) -> int:
    """Leave the receipt of a payment."""
    from shopledger.queries.facts.payment_receipt import payment_receipt_facts

    facts = payment_receipt_facts(writing, payment.id, payment.number, writing.on)
    job_id = payment.job_id
    if payment.sale_id is not None:
        job_id = sale_of(writing, payment.sale_id).job_id
    return leave_paper(
        writing,
        "payment_receipt",
        facts,
        person_id=payment.person_id,
        sale_id=payment.sale_id,
        job_id=job_id,
        trial_id=payment.trial_id,
    )


def run_take_payment(writing: Writing, form: TakePayment) -> Outcome:
    """Take a buyer's payment: it falls on the lines, and waits to clear."""
    sale = sale_of(writing, form.sale_id)
    paper = take_payment(
        writing, sale, form.amount, form.method, reference=form.reference, cleared=form.cleared
    )
    return Outcome(Subject.SALE, sale.id, CHANGED, (paper,))


def payable(reading: Reading, sale: Sale, amount: Money) -> tuple[int, SaleMoney]:
    """Give an amount's minor units and what the sale it is paid for has, as far as that much is left to pay.

    Raises: Typed: it is not above zero. Refused: less is left to pay. Both name the field `amount`.
    """
    minor = above_zero(amount, reading.currency)
    money = sale_money(reading, sale.id)
    owed = sum(max(0, line.owes.minor) for line in money.lines)
    if minor > owed:
        raise Refused(
            N_("{sale} has {owed} left to pay. Type that, or less."),
            field="amount",
            sale=sale.number,
            owed=reading.money(owed),
        )
    return minor, money


def take_payment(
    writing: Writing, sale: Sale, amount: Money, method: str, *, reference: str = "", cleared: bool = False
) -> int:
    """Take a payment for a sale, cleared at once where it is said so; give its receipt's id.

    Raises: Typed: it is not above zero. Refused: less is left to pay. Both name the field `amount`.
    """
    minor, money = payable(writing, sale, amount)
    entry = writing.book(
        [Amount("in_transit", minor), Amount("buyers", -minor, sale.buyer_id)], f"{sale.number} payment"
    )
    payment = record_payment(
        writing,
        Payment(
            person_id=sale.buyer_id,
            sale_id=sale.id,
            method=method,
            minor=minor,
            received_on=writing.on,
            reference=reference,
            entry_id=entry,
        ),
        falls_on(money.lines, minor),
    )
    if cleared:
        clear(writing, payment)
    return receipt(writing, payment)


def shares_of_payment(reading: Reading, payment_id: int) -> dict[int, int]:
    """Give the parts of a payment by line."""
    rows = reading.session.execute(
        select(PaymentShare.sale_line_id, PaymentShare.minor).where(PaymentShare.payment_id == payment_id)
    )
    return {line: minor for line, minor in rows}  # noqa: C416 - a result has keys(), so dict() misreads it


def clear(writing: Writing, payment: Payment) -> None:
    """Book that a payment arrived for good; of part-exchange, that the shop put the money to that held for owners."""
    whole = payment.minor
    owners_part = (
        whole if payment.loss_id is not None else for_owners(writing, shares_of_payment(writing, payment.id))
    )
    if payment.method == "part_exchange":
        amounts = [
            Amount("part_exchange", whole, payment.person_id),
            Amount("buyers", -whole, payment.person_id),
            Amount("bank_owners", owners_part),
            Amount("bank", -owners_part),
        ]
    else:
        amounts = [Amount("in_transit", -whole), *arrival(whole, owners_part)]
    payment.cleared_entry_id = writing.book(amounts, f"{payment.number} cleared")
    payment.cleared_on = writing.on
    writing.session.flush()


def _waiting(reading: Reading, sale_id: int) -> list[Payment]:
    return list(
        reading.session.scalars(
            select(Payment)
            .where(Payment.sale_id == sale_id, Payment.cleared_on.is_(None), Payment.bounced_on.is_(None))
            .order_by(Payment.id)
        )
    )


def run_clear_payments(writing: Writing, form: ClearPayments) -> Outcome:
    """Clear one payment of a sale, or all that wait."""
    waiting = [payment for payment in _waiting(writing, form.sale_id) if form.number in ("", payment.number)]
    if not waiting:
        raise Refused(
            N_("No payment with that receipt waits to clear. Choose one that does."), field="number"
        )
    for payment in waiting:
        clear(writing, payment)
    return Outcome(Subject.SALE, form.sale_id, CHANGED)


def run_bounce_payment(writing: Writing, form: BouncePayment) -> Outcome:
    """Undo a payment's clearing and the payment; the sale stands, and the buyer owes again."""
    payment = writing.session.scalars(
        select(Payment).where(Payment.sale_id == form.sale_id, Payment.number == form.number.strip())
    ).first()
    if payment is None or payment.bounced_on is not None or payment.method in NOT_PAID:
        raise Refused(
            N_("{number} is no payment of this sale that can bounce. Choose another."),
            field="number",
            number=form.number,
        )
    shares = shares_of_payment(writing, payment.id)
    if payment.cleared_entry_id is not None:
        for line_id in shares:
            unsettle(writing, line_id, f"{payment.number} bounced")
        writing.reverse(payment.cleared_entry_id, f"{payment.number} bounced")
    writing.reverse(payment.entry_id, f"{payment.number} bounced")
    payment.bounced_on = writing.on
    payment.cleared_on = None
    writing.session.flush()
    for line_id in shares:
        cover(writing, line_id, f"{payment.number} bounced")
    papers = (_give_instrument_back(writing, payment),) if payment.method == "part_exchange" else ()
    return Outcome(Subject.SALE, form.sale_id, CHANGED, papers)


def _give_instrument_back(writing: Writing, payment: Payment) -> int:
    """Give what was taken in part-exchange back to the buyer; the paper is its release."""
    assert payment.instrument_id is not None
    stay = open_stay(writing, payment.instrument_id)
    if stay is None or stay.number != payment.reference or live_line(writing, stay.id) is not None:
        raise Refused(
            N_("What {number} took in part-exchange is sold or gone: it can't be given back."),
            field="number",
            number=payment.number,
        )
    hold = hold_in_force(writing, stay.id)
    if hold is not None:
        raise Refused(
            N_("What {number} took in part-exchange is on hold for {player}. End the hold first."),
            field="number",
            number=payment.number,
            player=hold.name,
        )
    record_owners(
        writing,
        payment.instrument_id,
        [Share(payment.person_id, WHOLE)],
        how=f"part-exchange given back, {payment.number}",
    )
    name = person_of(writing, payment.person_id).name
    end_stay(writing, stay, "returned", place="handed_over", handed_to=name)
    return release_paper(writing, stay)


def refuse_paid(reading: Reading, sale_id: int) -> None:
    """Refuse a payment where nothing is owed."""
    if all(line.owes.minor <= 0 for line in sale_money(reading, sale_id).lines):
        raise Refused(N_("The buyer owes nothing on {sale}."), sale=sale_of(reading, sale_id).number)


def refuse_nothing_waits(reading: Reading, sale_id: int) -> None:
    """Refuse to clear where nothing waits."""
    if not _waiting(reading, sale_id):
        raise Refused(N_("No payment waits to clear."))


def refuse_nothing_paid(reading: Reading, sale_id: int) -> None:
    """Refuse a bounce where nothing was paid."""
    have = select(Payment.id).where(
        Payment.sale_id == sale_id, Payment.bounced_on.is_(None), Payment.method.not_in(NOT_PAID)
    )
    if reading.session.scalar(have.limit(1)) is None:
        raise Refused(N_("There is no payment that could bounce."))


def prefill_payment(reading: Reading, sale_id: int) -> Mapping[str, Any]:
    """Give what is still owed."""
    lines = sale_money(reading, sale_id).lines
    return {"amount": reading.money(sum(max(0, line.owes.minor) for line in lines))}


TAKE_PAYMENT = Act(
    name="take_payment",
    text=N_("Take a payment"),
    subject=Subject.SALE,
    form=TakePayment,
    run=run_take_payment,
    subject_input="sale_id",
    allowed=refuse_paid,
    prefill=prefill_payment,
    shortcut="Ctrl+Shift+M",
    opposite="give_back",
    papers=("payment_receipt",),
)
CLEAR_PAYMENTS = Act(
    name="clear_payments",
    text=N_("Record as cleared"),
    subject=Subject.SALE,
    form=ClearPayments,
    run=run_clear_payments,
    subject_input="sale_id",
    allowed=refuse_nothing_waits,
    opposite="bounce_payment",
    help=N_("Of part-exchange: the shop has put the allowance to the money held for owners."),
)
BOUNCE_PAYMENT = Act(
    name="bounce_payment",
    text=N_("A payment came back"),
    subject=Subject.SALE,
    form=BouncePayment,
    run=run_bounce_payment,
    subject_input="sale_id",
    allowed=refuse_nothing_paid,
    papers=("release",),
)
ACTS = (
    TAKE_PAYMENT,
    CLEAR_PAYMENTS,
    BOUNCE_PAYMENT,
)
