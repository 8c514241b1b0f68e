"""Money back to a buyer: what has cleared beyond what is owed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, for_owners, sale_of
from shopledger.model import Payment, Refund, RefundShare
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import Refused
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class GiveBack(Form):
    """Money back to a buyer."""

    sale_id: int
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


def to_give_back(reading: Reading, sale_id: int) -> dict[int, int]:
    """Give by line what has cleared beyond what the buyer pays for it."""
    return {
        line.line_id: line.cleared.minor - line.pays.minor
        for line in sale_money(reading, sale_id).lines
        if line.cleared.minor > line.pays.minor
    }


def run_give_back(writing: Writing, form: GiveBack) -> Outcome:
    """Give a buyer back what has cleared beyond what is owed."""
    sale = sale_of(writing, form.sale_id)
    minor = above_zero(form.amount, writing.currency)
    above = to_give_back(writing, sale.id)
    if minor > sum(above.values()):
        raise Refused(
            N_("{sale} has {most} to give back. Type that, or less."),
            field="amount",
            sale=sale.number,
            most=writing.money(sum(above.values())),
        )
    shares: dict[int, int] = {}
    left = minor
    for line_id, most in above.items():
        shares[line_id] = min(left, most)
        left -= shares[line_id]
    shares = {line_id: part for line_id, part in shares.items() if part}
    owners_part = for_owners(writing, shares)
    number = writing.number("refund")
    entry = writing.book(
        [
            Amount("buyers", minor, sale.buyer_id),
            Amount("bank_owners", -owners_part),
            Amount("bank", -(minor - owners_part)),
        ],
        f"{sale.number} {number}",
    )
    refund = writing.add(
        Refund(
            number=number,
            person_id=sale.buyer_id,
            sale_id=sale.id,
            method=form.method,
            minor=minor,
            paid_on=writing.on,
            reference=form.reference,
            entry_id=entry,
        )
    )
    for line_id, part in shares.items():
        writing.add(RefundShare(refund_id=refund.id, sale_line_id=line_id, minor=part))
    return Outcome(Subject.SALE, sale.id, CHANGED, (refund_paper(writing, refund),))


def refund_paper(writing: Writing, refund: Refund) -> int:
    """Leave the receipt of money given back."""
    from shopledger.queries.facts.refund_receipt import refund_receipt_facts

    facts = refund_receipt_facts(writing, refund.id, refund.number, writing.on)
    deposit = None if refund.deposit_id is None else writing.find(Payment, refund.deposit_id)
    return leave_paper(
        writing,
        "refund_receipt",
        facts,
        person_id=refund.person_id,
        sale_id=refund.sale_id,
        job_id=None if deposit is None else deposit.job_id,
        trial_id=None if deposit is None else deposit.trial_id,
    )


def refuse_nothing_to_give_back(reading: Reading, sale_id: int) -> None:
    """Refuse to give money back where none is the buyer's."""
    if not to_give_back(reading, sale_id):
        raise Refused(N_("There is nothing to give back."))


def prefill_give_back(reading: Reading, sale_id: int) -> Mapping[str, Any]:
    """Give all that is to be given back."""
    return {"amount": reading.money(sum(to_give_back(reading, sale_id).values()))}


GIVE_BACK = Act(
    name="give_back",
    text=N_("Give money back"),
    subject=Subject.SALE,
    form=GiveBack,
    run=run_give_back,
    subject_input="sale_id",
    allowed=refuse_nothing_to_give_back,
    prefill=prefill_give_back,
    papers=("refund_receipt",),
)
ACTS = (GIVE_BACK,)
