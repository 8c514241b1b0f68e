"""Agreeing: terms for a stay, signed or not yet; an addendum changes them, never an edit; renewing and ending."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from shopledger.acts.columns import filled
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.owning import owners_now, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import (
    check_agreed,
    is_signed,
    live_agreement,
    make_terms,
    need_agreement,
    newest_terms,
    refuse_sold,
    values_of,
    with_defaults,
)
from shopledger.model import Agreement, PriceChange, Signature, Terms
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.reckoned import reckoning_terms
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import parties_of
from shopledger.rules.reckoning import reckon
from shopledger.rules.terms import Case
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON})
USUAL_DAYS = 365


@dataclass(frozen=True, kw_only=True)
class AgreeTerms(Form):
    """A consignment agreement for what is here."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    terms: Mapping[str, Any] = ask(Field(N_("Terms"), Kind.GROUP, of=Terms))
    signed_by: str = ask(Field(N_("Signed by"), help=N_("Empty while it is not signed yet.")), default="")
    scan: bytes | None = ask(Field(N_("Scan of the signed paper"), Kind.SCAN))


@dataclass(frozen=True, kw_only=True)
class AddAddendum(Form):
    """Terms changed by agreement, whole; what was agreed before stays on record."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    terms: Mapping[str, Any] = ask(Field(N_("Terms from now on"), Kind.GROUP, of=Terms))
    signed_by: str = ask(Field(N_("Signed by"), help=N_("Empty while it is not signed yet.")), default="")
    scan: bytes | None = ask(Field(N_("Scan of the signed paper"), Kind.SCAN))


@dataclass(frozen=True, kw_only=True)
class Renew(Form):
    """The same terms for a further time."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    ends_on: date = ask(Field(N_("Ends on"), Kind.DAY, required=True))
    signed_by: str = ask(Field(N_("Signed by"), help=N_("Empty while it is not signed yet.")), default="")


@dataclass(frozen=True, kw_only=True)
class Sign(Form):
    """The paper came back signed."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    signed_by: str = ask(Field(N_("Signed by"), required=True))
    scan: bytes | None = ask(Field(N_("Scan of the signed paper"), Kind.SCAN))


END_HOW = (
    ("withdrawn", N_("withdrawn by the owner")),
    ("given_up", N_("ended by the shop")),
    ("expired", N_("expired")),
)


@dataclass(frozen=True, kw_only=True)
class EndAgreement(Form):
    """The agreement ends without a sale."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    how: str = ask(Field(N_("How"), Kind.CHOICE, required=True, choices=END_HOW))
    why: str = ask(Field(N_("Why")), default="")


def _ask_price(writing: Writing, stay_id: int, asking: int, why: str) -> None:
    writing.add(
        PriceChange(stay_id=stay_id, since=writing.on, asking=asking, why=why, consent_by="", consent_how="")
    )


def record_signature(writing: Writing, terms_id: int, signed_by: str, scan: bytes | None) -> None:
    """Record that terms were signed, with the scan where there is one."""
    writing.add(
        Signature(
            terms_id=terms_id,
            signed_on=writing.on,
            signed_by=signed_by,
            scan_sha256=writing.ledger.files.put(scan) if scan else "",
        )
    )


def run_agree_terms(writing: Writing, form: AgreeTerms) -> Outcome:
    """Agree terms for what is here: agreement, snapshot of terms, asking price, its paper."""
    stay = need_open_stay(writing, form.instrument_id)
    refuse_agreed(writing, form.instrument_id)
    shares = owners_now(writing, form.instrument_id)
    agreement = writing.add(
        Agreement(number=writing.number("agreement"), stay_id=stay.id, begins_on=writing.on)
    )
    terms = make_terms(writing, agreement, form.terms, shares, kind="first", n=1)
    if stay.reason != "to_sell":
        stay.reason = "to_sell"
    _ask_price(writing, stay.id, terms.asking, agreement.number)
    if form.signed_by:
        record_signature(writing, terms.id, form.signed_by, form.scan)
    from shopledger.queries.facts.agreement import agreement_facts

    facts = agreement_facts(writing, terms.id, agreement.number, writing.on)
    paper = leave_paper(
        writing, "agreement", facts, instrument_id=form.instrument_id, person_id=shares[0].person_id
    )
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def _next_terms(
    writing: Writing,
    instrument_id: int,
    values: Mapping[str, Any] | None,
    *,
    kind: str,
    ends_on: date | None = None,
) -> tuple[Agreement, Terms, int]:
    stay, agreement, before = need_agreement(writing, instrument_id)
    refuse_sold(writing, stay)
    current = values_of(before, writing.currency)
    merged = {**current, **(values or {})}
    if ends_on is not None:
        merged["ends_on"] = ends_on
    if merged == current:
        raise Refused(N_("Nothing in the terms was changed. Change what was agreed anew, or leave it."))
    shares = owners_now(writing, instrument_id)
    terms = make_terms(writing, agreement, merged, shares, kind=kind, n=before.n + 1)
    from shopledger.queries.facts.addendum import addendum_facts

    number = f"{agreement.number}/{terms.n}"
    facts = addendum_facts(writing, terms.id, number, writing.on)
    paper = leave_paper(
        writing, "addendum", facts, instrument_id=instrument_id, person_id=shares[0].person_id
    )
    if terms.asking != before.asking:
        _ask_price(writing, stay.id, terms.asking, number)
    return agreement, terms, paper


def run_add_addendum(writing: Writing, form: AddAddendum) -> Outcome:
    """Change terms by a further snapshot, its paper naming what changed."""
    _agreement, terms, paper = _next_terms(writing, form.instrument_id, form.terms, kind="addendum")
    if form.signed_by:
        record_signature(writing, terms.id, form.signed_by, form.scan)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def run_renew(writing: Writing, form: Renew) -> Outcome:
    """Go on under the same terms until a later day."""
    _stay, _agreement, before = need_agreement(writing, form.instrument_id)
    if form.ends_on <= before.ends_on:
        raise Typed(
            N_("A renewal has to end after {day}, when the terms end now."),
            field="ends_on",
            day=before.ends_on,
        )
    _agreement, terms, paper = _next_terms(
        writing, form.instrument_id, None, kind="renewal", ends_on=form.ends_on
    )
    if form.signed_by:
        record_signature(writing, terms.id, form.signed_by, None)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def run_sign(writing: Writing, form: Sign) -> Outcome:
    """Record that the terms in force were signed."""
    refuse_signed(writing, form.instrument_id)
    _stay, _agreement, terms = need_agreement(writing, form.instrument_id)
    record_signature(writing, terms.id, form.signed_by, form.scan)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED)


def run_end_agreement(writing: Writing, form: EndAgreement) -> Outcome:
    """End an agreement without a sale; the instrument stays here until it is returned."""
    stay, agreement, terms = need_agreement(writing, form.instrument_id)
    refuse_sold(writing, stay)
    if form.how == "expired" and writing.on < terms.ends_on:
        raise Refused(
            N_("The agreement runs until {day}: it can't have expired on {on}."),
            day=terms.ends_on,
            on=writing.on,
        )
    end_agreement(writing, agreement, form.how, form.why)
    paper = ending_paper(writing, agreement, form.instrument_id)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def ending_paper(writing: Writing, agreement: Agreement, instrument_id: int) -> int:
    """Leave the paper that states the end of an agreement to its owners."""
    from shopledger.queries.facts.addendum import ending_facts

    terms = newest_terms(writing, agreement.id)
    facts = ending_facts(writing, agreement.id, f"{agreement.number}/{terms.n + 1}", writing.on)
    owner = parties_of(writing, terms.id)[0].person_id
    return leave_paper(writing, "addendum", facts, instrument_id=instrument_id, person_id=owner)


def end_agreement(writing: Writing, agreement: Agreement, how: str, why: str = "") -> None:
    """Write that an agreement ended."""
    agreement.ended_on, agreement.ended_how, agreement.ended_why = writing.on, how, why
    writing.session.flush()


def refuse_agreed(reading: Reading, instrument_id: int) -> None:
    """Refuse to agree terms where they are agreed, or where the shop alone owns it."""
    stay = need_open_stay(reading, instrument_id)
    agreement = live_agreement(reading, stay.id)
    if agreement is not None:
        raise Refused(
            N_("{agreement} is in force. Change it by an addendum, or end it first."),
            agreement=agreement.number,
        )
    refuse_sold(reading, stay)
    shop = shop_person(reading)
    if all(share.person_id == shop for share in owners_now(reading, instrument_id)):
        raise Refused(N_("The shop owns it alone: there is nobody to agree with."))


def refuse_signed(reading: Reading, instrument_id: int) -> None:
    """Refuse to sign what is signed."""
    _stay, agreement, terms = need_agreement(reading, instrument_id)
    if is_signed(reading, terms.id):
        raise Refused(N_("{agreement} is signed."), agreement=agreement.number)


def refuse_not_agreed(reading: Reading, instrument_id: int) -> None:
    """Refuse where nothing is agreed or it is sold."""
    stay, _agreement, _terms = need_agreement(reading, instrument_id)
    refuse_sold(reading, stay)


def prefill_agree(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give usual terms: a year, twenty per cent."""
    stay = need_open_stay(reading, instrument_id)
    shop = reading.shop()
    value = None if stay.insured_value is None else reading.money(stay.insured_value)
    return {
        "terms": {
            "ends_on": reading.ledger.today() + timedelta(days=USUAL_DAYS),
            "commission_rule": "rate",
            "pay_within_days": shop.pay_within_days,
            "agreed_value": value,
        }
    }


def prefill_addendum(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the terms as they are."""
    _stay, _agreement, terms = need_agreement(reading, instrument_id)
    return {"terms": values_of(terms, reading.currency)}


def prefill_renew(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give a further year."""
    _stay, _agreement, terms = need_agreement(reading, instrument_id)
    return {"ends_on": min(terms.ends_on, date.max - timedelta(days=USUAL_DAYS)) + timedelta(days=USUAL_DAYS)}


def preview_terms(reading: Reading, form: AgreeTerms | AddAddendum) -> Preview:
    """Give a worked example at the asking price."""
    terms = filled(
        Terms, with_defaults(form.terms), reading.currency, path="terms", agreement_id=0, n=1, kind="first",
        agreed_on=form.on,
    )  # fmt: skip
    check_agreed(terms, reading.currency, begins_on=form.on)
    asking = reading.money(terms.asking)
    split = reckon(
        Case(
            currency=reading.currency,
            asking=asking,
            price=asking,
            terms=reckoning_terms(terms, reading.currency),
        )
    )
    lines = tuple(Line(step.label, step.how, step.amount) for step in split.working)
    return Preview(N_("At the asking price"), lines)


AGREE_TERMS = Act(
    name="agree_terms",
    text=N_("Agree terms"),
    subject=Subject.INSTRUMENT,
    form=AgreeTerms,
    run=run_agree_terms,
    subject_input="instrument_id",
    allowed=refuse_agreed,
    prefill=prefill_agree,
    preview=preview_terms,
    shortcut="Ctrl+Shift+A",
    opposite="end_agreement",
    papers=("agreement",),
)
ADD_ADDENDUM = Act(
    name="add_addendum",
    text=N_("Add an addendum"),
    subject=Subject.INSTRUMENT,
    form=AddAddendum,
    run=run_add_addendum,
    subject_input="instrument_id",
    allowed=refuse_not_agreed,
    prefill=prefill_addendum,
    preview=preview_terms,
    papers=("addendum",),
)
RENEW = Act(
    name="renew",
    text=N_("Renew"),
    subject=Subject.INSTRUMENT,
    form=Renew,
    run=run_renew,
    subject_input="instrument_id",
    allowed=refuse_not_agreed,
    prefill=prefill_renew,
    papers=("addendum",),
)
SIGN = Act(
    name="sign",
    text=N_("Record the signature"),
    subject=Subject.INSTRUMENT,
    form=Sign,
    run=run_sign,
    subject_input="instrument_id",
    allowed=refuse_signed,
)
END_AGREEMENT = Act(
    name="end_agreement",
    text=N_("End the agreement"),
    subject=Subject.INSTRUMENT,
    form=EndAgreement,
    run=run_end_agreement,
    subject_input="instrument_id",
    allowed=refuse_not_agreed,
    papers=("addendum",),
)
ACTS = (AGREE_TERMS, ADD_ADDENDUM, RENEW, SIGN, END_AGREEMENT)
