"""A loss in custody: what happened, the claim, and what is held for the owners at the agreed value."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select

from shopledger.acts.agreeing import end_agreement
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.lost_jobs import end_jobs_of_lost
from shopledger.acts.owning import owners_now, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, clear, receipt, record_payment
from shopledger.acts.people import person_of
from shopledger.acts.placing_ends import end_placing
from shopledger.acts.releasing import end_stay
from shopledger.acts.settling import account_papers
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import live_agreement, newest_terms, refuse_sold
from shopledger.acts.trial_kept import lose
from shopledger.model import Loss, Payment, Settlement, SettlementShare, Stay, Terms
from shopledger.model.money import PAID_BY
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money, share_out
from shopledger.quantities.words import N_
from shopledger.queries.away import placed
from shopledger.queries.reckoned import reckoning_terms
from shopledger.queries.shapes import Subject
from shopledger.rules.journal import Amount
from shopledger.rules.reckoning import reckon
from shopledger.rules.terms import Case
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class ReportLoss(Form):
    """It is lost, stolen or destroyed while the shop had it."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    what_happened: str = ask(Field(N_("What happened"), Kind.LINES, required=True))
    reported_to: str = ask(
        Field(N_("Reported to"), help=N_("Insurer, police, and their references.")), default=""
    )
    agreed_value: Money = ask(Field(N_("Agreed value"), Kind.MONEY, required=True))
    excess: Money | None = ask(Field(N_("Insurer's excess"), Kind.MONEY))


@dataclass(frozen=True, kw_only=True)
class ClaimPaid(Form):
    """The insurer pays."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    person_id: int = ask(Field(N_("From"), Kind.PERSON, required=True))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")


@dataclass(frozen=True, kw_only=True)
class SettleLoss(Form):
    """Set aside for the owners what is held for them."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    from_own: bool = ask(Field(N_("The shop pays what the insurer has not paid yet"), Kind.YES_NO))


def run_report_loss(writing: Writing, form: ReportLoss) -> Outcome:
    """Report a loss: the owners are owed the agreed value, the insurer owes it less the excess."""
    stay = need_open_stay(writing, form.instrument_id)
    refuse_sold(writing, stay)
    value = above_zero(form.agreed_value, writing.currency, "agreed_value")
    excess = form.excess.minor if form.excess is not None else 0
    if not 0 <= excess <= value:
        raise Typed(N_("The excess is from nothing up to the agreed value."), field="excess")
    agreement = live_agreement(writing, stay.id)
    terms = newest_terms(writing, agreement.id) if agreement else None
    bearer = terms.excess_borne_by if terms else "shop"
    commission = _commission(writing, terms, form.agreed_value)
    shop = shop_person(writing)
    shares = owners_now(writing, form.instrument_id)
    net = value - commission - (excess if bearer == "owner" else 0)
    if net < 0:
        raise Refused(N_("Excess and commission exceed the agreed value."), field="excess")
    parts = share_out(net, [share.share for share in shares])
    amounts = [
        Amount("claims", value - excess),
        Amount("losses", excess if bearer == "shop" else 0),
        Amount("commission", -commission),
        Amount("losses", stay.cost or 0),
        Amount("stock", -(stay.cost or 0)),
        *(
            Amount("losses", -part)
            if share.person_id == shop
            else Amount("owners_pending", -part, share.person_id)
            for share, part in zip(shares, parts, strict=True)
        ),
    ]
    number = writing.number("loss")
    entry = writing.book(amounts, f"{number} {stay.number}")
    owners_part = sum(part for share, part in zip(shares, parts, strict=True) if share.person_id != shop)
    loss = writing.add(
        Loss(
            number=number,
            stay_id=stay.id,
            lost_on=writing.on,
            what_happened=form.what_happened,
            reported_to=form.reported_to,
            agreed_value=value,
            excess=excess,
            excess_borne_by=bearer,
            commission=commission,
            owner_net=owners_part,
            entry_id=entry,
        )
    )
    if agreement is not None:
        end_agreement(writing, agreement, "lost", number)
    end_jobs_of_lost(writing, stay)
    lose(writing, stay)
    end_placing(writing, placed(writing, stay.id), "lost")
    end_stay(writing, stay, "lost", place="lost")
    owners = [share.person_id for share in shares if share.person_id != shop]
    papers = (_report(writing, loss, form.instrument_id, owners[0]),) if owners_part else ()
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED | {Subject.JOB, Subject.TRIAL}, papers)


def _report(writing: Writing, loss: Loss, instrument_id: int, owner: int) -> int:
    """Leave the report of a loss to its owners."""
    from shopledger.queries.facts.loss_report import loss_report_facts

    facts = loss_report_facts(writing, loss.id, loss.number, writing.on)
    return leave_paper(writing, "loss_report", facts, instrument_id=instrument_id, person_id=owner)


def _commission(writing: Writing, terms: Terms | None, value: Money) -> int:
    if terms is None or not terms.loss_commission:
        return 0
    case = Case(
        currency=writing.currency, asking=value, price=value, terms=reckoning_terms(terms, writing.currency)
    )
    return reckon(case).commission.minor


def loss_of(reading: Reading, instrument_id: int) -> Loss:
    """Give the loss of an instrument.

    Raises: Refused: it was not lost here.
    """
    loss = reading.session.scalars(
        select(Loss)
        .join(Stay, Stay.id == Loss.stay_id)
        .where(Stay.instrument_id == instrument_id)
        .order_by(Loss.id.desc())
        .limit(1)
    ).first()
    if loss is None:
        raise Refused(N_("It was not lost here."))
    return loss


def claimed_left(reading: Reading, loss: Loss) -> int:
    """Give what the insurer still owes."""
    paid = reading.session.scalar(
        select(func.sum(Payment.minor)).where(Payment.loss_id == loss.id, Payment.bounced_on.is_(None))
    )
    return loss.agreed_value - loss.excess - int(paid or 0)


def _settled(reading: Reading, loss: Loss) -> bool:
    return reading.session.scalar(select(Settlement.id).where(Settlement.loss_id == loss.id)) is not None


def run_claim_paid(writing: Writing, form: ClaimPaid) -> Outcome:
    """Take the insurer's payment into the money held for owners."""
    loss = loss_of(writing, form.instrument_id)
    minor = above_zero(form.amount, writing.currency)
    left = claimed_left(writing, loss)
    if minor > left:
        raise Refused(
            N_("{left} is claimed and not paid. Type that, or less."),
            field="amount",
            left=writing.money(left),
        )
    person = person_of(writing, form.person_id, "person_id")
    entry = writing.book([Amount("in_transit", minor), Amount("claims", -minor)], f"{loss.number} claim")
    payment = record_payment(
        writing,
        Payment(
            person_id=person.id,
            loss_id=loss.id,
            method=form.method,
            minor=minor,
            received_on=writing.on,
            reference=form.reference,
            entry_id=entry,
        ),
        {},
    )
    clear(writing, payment)
    if _settled(writing, loss):
        # The shop had paid the owners first: what comes now is its own.
        writing.book(
            [Amount("bank", minor), Amount("bank_owners", -minor)], f"{loss.number} claim, to the shop"
        )
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (receipt(writing, payment),))


def run_settle_loss(writing: Writing, form: SettleLoss) -> Outcome:
    """Set aside for the owners what they are owed for a loss."""
    loss = loss_of(writing, form.instrument_id)
    refuse_loss_settled(writing, form.instrument_id)
    left = claimed_left(writing, loss)
    if left and not form.from_own:
        raise Refused(
            N_("The insurer still owes {left}. Record its payment, or pay from the shop's own."),
            field="from_own",
            left=writing.money(left),
        )
    arrived = loss.agreed_value - loss.excess - left
    release = arrived - loss.owner_net
    # Whom it is owed to stands in the loss's own entry, whoever owns the instrument by now.
    parts = {
        amount.person_id: -amount.minor
        for amount in writing.posted(loss.entry_id)
        if amount.account == "owners_pending" and amount.person_id is not None
    }
    number = writing.number("settlement")
    amounts = [Amount("bank", release), Amount("bank_owners", -release)]
    for person_id, part in parts.items():
        amounts += [Amount("owners_pending", part, person_id), Amount("owners_held", -part, person_id)]
    entry = writing.book(amounts, f"{number} {loss.number}")
    settlement = writing.add(
        Settlement(
            number=number,
            loss_id=loss.id,
            settled_on=writing.on,
            released=max(0, release),
            given_back=max(0, -release),
            entry_id=entry,
        )
    )
    for person_id, part in parts.items():
        writing.add(SettlementShare(settlement_id=settlement.id, person_id=person_id, minor=part, set_off=0))
    papers = account_papers(writing, settlement, list(parts), instrument_id=form.instrument_id)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, tuple(papers))


def refuse_not_here(reading: Reading, instrument_id: int) -> None:
    """Refuse to report as lost what is not in custody or is sold."""
    refuse_sold(reading, need_open_stay(reading, instrument_id))


def refuse_claim_paid(reading: Reading, instrument_id: int) -> None:
    """Refuse a claim's payment where nothing is claimed."""
    if claimed_left(reading, loss_of(reading, instrument_id)) <= 0:
        raise Refused(N_("Nothing is claimed and unpaid."))


def refuse_loss_settled(reading: Reading, instrument_id: int) -> None:
    """Refuse to settle a loss twice, or where nobody but the shop owned it."""
    loss = loss_of(reading, instrument_id)
    if _settled(reading, loss):
        raise Refused(N_("{loss} is settled."), loss=loss.number)
    if not loss.owner_net:
        raise Refused(N_("Nothing is held for owners of {loss}."), loss=loss.number)


def prefill_loss(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the value that was agreed or insured."""
    stay = reading.session.get_one(Stay, need_open_stay(reading, instrument_id).id)
    agreement = live_agreement(reading, stay.id)
    agreed = newest_terms(reading, agreement.id).agreed_value if agreement else None
    value = agreed if agreed is not None else stay.insured_value
    return {"agreed_value": reading.money(value) if value else None}


def prefill_claim(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give what is still claimed."""
    return {"amount": reading.money(claimed_left(reading, loss_of(reading, instrument_id)))}


REPORT_LOSS = Act(
    name="report_loss",
    text=N_("Report a loss"),
    subject=Subject.INSTRUMENT,
    form=ReportLoss,
    run=run_report_loss,
    subject_input="instrument_id",
    allowed=refuse_not_here,
    prefill=prefill_loss,
    papers=("loss_report",),
)
CLAIM_PAID = Act(
    name="claim_paid",
    text=N_("The insurer pays"),
    subject=Subject.INSTRUMENT,
    form=ClaimPaid,
    run=run_claim_paid,
    subject_input="instrument_id",
    allowed=refuse_claim_paid,
    prefill=prefill_claim,
    papers=("payment_receipt",),
)
SETTLE_LOSS = Act(
    name="settle_loss",
    text=N_("Settle the loss"),
    subject=Subject.INSTRUMENT,
    form=SettleLoss,
    run=run_settle_loss,
    subject_input="instrument_id",
    allowed=refuse_loss_settled,
    papers=("account_sales",),
)
ACTS = (REPORT_LOSS, CLAIM_PAID, SETTLE_LOSS)
