"""Charges: what an owner owes without a sale, by the agreement's words; what they pay of it and have back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of
from shopledger.acts.giving_back import refund_paper
from shopledger.acts.owning import Share, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, clear, receipt, record_payment
from shopledger.acts.people import person_of
from shopledger.acts.terms import live_line
from shopledger.model import Charge, Payment, Refund
from shopledger.model.money import CHARGE_KINDS, PAID_BY
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money, share_out
from shopledger.quantities.words import N_, _
from shopledger.queries.owing import balance
from shopledger.queries.reckoned import reckoning_terms
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import AgreementNow, last_agreement, last_stay
from shopledger.rules.journal import Amount
from shopledger.rules.reckoning import reckon
from shopledger.rules.terms import Case
from shopledger.store.unit import Reading, Writing

KINDS = tuple(
    pair
    for pair in CHARGE_KINDS
    if pair[0] in {"withdrawal", "storage", "insurance", "valuation", "private_sale"}
)
MONTHLY = ("storage", "insurance")


@dataclass(frozen=True, kw_only=True)
class ChargeOwner(Form):
    """A charge that the agreement names."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    kind: str = ask(Field(N_("For"), Kind.CHOICE, required=True, choices=KINDS))
    months: int = ask(Field(N_("Months"), Kind.COUNT, help=N_("Of storage or insurance.")), default=1)
    proved_price: Money | None = ask(
        Field(N_("Proved price"), Kind.MONEY, help=N_("What the owner's private sale brought."))
    )


@dataclass(frozen=True, kw_only=True)
class TakeOwnersPayment(Form):
    """An owner pays what they owe."""

    person_id: int = ask(Field(N_("From"), Kind.PERSON, required=True))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


@dataclass(frozen=True, kw_only=True)
class PayCredit(Form):
    """An owner paid more than they owe by now, and has it back."""

    person_id: int = ask(Field(N_("Owner"), Kind.PERSON, required=True))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


def _agreed(reading: Reading, instrument_id: int) -> AgreementNow:
    stay = last_stay(reading, instrument_id)
    agreement = last_agreement(reading, stay.id) if stay is not None else None
    if agreement is None:
        raise Refused(
            N_("Nothing was ever agreed for {instrument}: there is nothing to charge by."),
            instrument=instrument_of(reading, instrument_id).number,
        )
    return agreement


def charge_amount(reading: Reading, form: ChargeOwner, agreement: AgreementNow) -> int:
    """Give what a charge comes to by the agreement's words, in minor units.

    Raises: Refused: the agreement doesn't name the charge. Typed: months or the proved price are missing.
    """
    terms = agreement.terms
    if form.kind == "private_sale":
        return _private_sale(reading, form, agreement)
    agreed = getattr(terms, f"{form.kind}_charge")
    if not agreed:
        raise Refused(N_("{agreement} names no such charge."), field="kind", agreement=agreement.number)
    if form.kind in MONTHLY:
        if not 1 <= form.months <= 600:
            raise Typed(N_("For how many months? Type a number from 1 up."), field="months")
        return int(agreed) * form.months
    return int(agreed)


def _private_sale(reading: Reading, form: ChargeOwner, agreement: AgreementNow) -> int:
    terms = agreement.terms
    if not terms.private_sale_commission:
        raise Refused(
            N_("{agreement} gives no commission on a private sale."), field="kind", agreement=agreement.number
        )
    last = (agreement.ended_on or terms.ends_on) + timedelta(days=terms.tail_days)
    if form.on > last:
        raise Refused(
            N_("{agreement} and its tail were over on {day}."),
            field="kind",
            agreement=agreement.number,
            day=last,
        )
    if form.proved_price is None:
        raise Typed(N_("What did it bring? Type the proved price."), field="proved_price")
    price = form.proved_price
    above_zero(price, reading.currency, "proved_price")
    split = reckon(
        Case(
            currency=reading.currency,
            asking=price,
            price=price,
            terms=reckoning_terms(terms, reading.currency),
        )
    )
    if not split.commission:
        raise Refused(N_("At that price the commission is nothing."), field="proved_price")
    return split.commission.minor


def record_charge(
    writing: Writing,
    *,
    person_id: int,
    kind: str,
    what: str,
    minor: int,
    credit: Sequence[Amount],
    stay_id: int | None = None,
    sale_line_id: int | None = None,
    job_id: int | None = None,
) -> int:
    """Book one owner's charge against the given credits and leave its note; give the paper's id."""
    number = writing.number("charge")
    entry = writing.book([Amount("owners_owe", minor, person_id), *credit], f"{number} {what}")
    charge = writing.add(
        Charge(
            number=number,
            person_id=person_id,
            stay_id=stay_id,
            sale_line_id=sale_line_id,
            job_id=job_id,
            kind=kind,
            what=what,
            minor=minor,
            charged_on=writing.on,
            entry_id=entry,
        )
    )
    from shopledger.queries.facts.charge_note import charge_note_facts

    facts = charge_note_facts(writing, charge.id, number, writing.on)
    return leave_paper(writing, "charge_note", facts, person_id=person_id, job_id=job_id)


def run_charge_owner(writing: Writing, form: ChargeOwner) -> Outcome:
    """Charge the owners of an instrument what the agreement names, by their shares."""
    agreement = _agreed(writing, form.instrument_id)
    if form.kind == "private_sale" and live_line(writing, agreement.stay_id) is not None:
        raise Refused(N_("The shop sold it: there is no private sale."), field="kind")
    minor = charge_amount(writing, form, agreement)
    shop = shop_person(writing)
    owners = [Share(party.person_id, party.share) for party in agreement.owners]
    parts = share_out(minor, [owner.share for owner in owners])
    income = "commission" if form.kind == "private_sale" else "charges"
    word = _(dict(CHARGE_KINDS)[form.kind])
    what = f"{word}, {agreement.number}" + (f", {form.months} ×" if form.kind in MONTHLY else "")
    papers = [
        record_charge(
            writing,
            person_id=owner.person_id,
            kind=form.kind,
            what=what,
            minor=part,
            credit=[Amount(income, -part)],
            stay_id=agreement.stay_id,
        )
        for owner, part in zip(owners, parts, strict=True)
        if part and owner.person_id != shop  # what the shop itself owns it is not charged for
    ]
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, tuple(papers))


def refuse_uncharged(reading: Reading, instrument_id: int) -> None:
    """Refuse a charge where the agreement names none."""
    agreement = _agreed(reading, instrument_id)
    terms = agreement.terms
    if not (
        terms.withdrawal_charge
        or terms.storage_charge
        or terms.insurance_charge
        or terms.valuation_charge
        or terms.private_sale_commission
    ):
        raise Refused(N_("{agreement} names no charge."), agreement=agreement.number)


def run_take_owners_payment(writing: Writing, form: TakeOwnersPayment) -> Outcome:
    """Take what an owner pays of what they owe."""
    person = person_of(writing, form.person_id, "person_id")
    minor = above_zero(form.amount, writing.currency)
    owed = balance(writing, "owners_owe", person.id).minor
    if minor > owed:
        raise Refused(
            N_("{person} owes {owed}. Type that, or less."),
            field="amount",
            person=person.name,
            owed=writing.money(max(0, owed)),
        )
    entry = writing.book(
        [Amount("in_transit", minor), Amount("owners_owe", -minor, person.id)], person.number
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


def refuse_owes_nothing(reading: Reading, person_id: int) -> None:
    """Refuse to take money of an owner who owes nothing."""
    if balance(reading, "owners_owe", person_id).minor <= 0:
        raise Refused(N_("{person} owes nothing."), person=person_of(reading, person_id).name)


def prefill_owners_payment(reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give all that is owed."""
    return {"amount": balance(reading, "owners_owe", person_id)}


def run_pay_credit(writing: Writing, form: PayCredit) -> Outcome:
    """Give an owner back what they paid beyond what they owe by now.

    What they paid went to the shop's own money, so that it comes back from there and never from another owner's.
    """
    person = person_of(writing, form.person_id, "person_id")
    minor = above_zero(form.amount, writing.currency)
    credit = -balance(writing, "owners_owe", person.id).minor
    if minor > credit:
        raise Refused(
            N_("{owner} has {credit} to have back. Type that, or less."),
            field="amount",
            owner=person.name,
            credit=writing.money(max(0, credit)),
        )
    number = writing.number("refund")
    entry = writing.book(
        [Amount("owners_owe", minor, person.id), Amount("bank", -minor)], f"{person.number} {number}"
    )
    refund = writing.add(
        Refund(
            number=number,
            person_id=person.id,
            method=form.method,
            minor=minor,
            paid_on=writing.on,
            reference=form.reference,
            entry_id=entry,
        )
    )
    return Outcome(Subject.PERSON, person.id, CHANGED, (refund_paper(writing, refund),))


def refuse_no_credit(reading: Reading, person_id: int) -> None:
    """Refuse to give an owner money back where none is theirs to have back."""
    if balance(reading, "owners_owe", person_id).minor >= 0:
        raise Refused(N_("{owner} has nothing to have back."), owner=person_of(reading, person_id).name)


def prefill_pay_credit(reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give all that the owner has to have back."""
    return {"amount": -balance(reading, "owners_owe", person_id)}


CHARGE_OWNER = Act(
    name="charge_owner",
    text=N_("Charge the owner"),
    subject=Subject.INSTRUMENT,
    form=ChargeOwner,
    run=run_charge_owner,
    subject_input="instrument_id",
    allowed=refuse_uncharged,
    papers=("charge_note",),
)
TAKE_OWNERS_PAYMENT = Act(
    name="take_owners_payment",
    text=N_("Take what is owed"),
    subject=Subject.PERSON,
    form=TakeOwnersPayment,
    run=run_take_owners_payment,
    subject_input="person_id",
    allowed=refuse_owes_nothing,
    prefill=prefill_owners_payment,
    papers=("payment_receipt",),
)
PAY_CREDIT = Act(
    name="pay_credit",
    text=N_("Give the owner money back"),
    subject=Subject.PERSON,
    form=PayCredit,
    run=run_pay_credit,
    subject_input="person_id",
    allowed=refuse_no_credit,
    prefill=prefill_pay_credit,
    papers=("refund_receipt",),
    help=N_(
        "What an owner paid and no longer owes, as after a sale with costs above its price that was taken back."
    ),
)
ACTS = (CHARGE_OWNER, TAKE_OWNERS_PAYMENT, PAY_CREDIT)
