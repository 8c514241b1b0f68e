"""Pricing: the asking price with its history; what the agreement doesn't allow needs the owner's recorded consent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import live_agreement, newest_terms, refuse_sold
from shopledger.model import PriceChange
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import asking_price
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class ChangePrice(Form):
    """A new asking price."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    asking: Money = ask(Field(N_("Asking price"), Kind.MONEY, required=True))
    why: str = ask(Field(N_("Why")), default="")
    consent_by: str = ask(Field(N_("Owner's consent given by")), default="")
    consent_how: str = ask(
        Field(N_("… how"), help=N_("By letter, by telephone, at the counter.")), default=""
    )
    consent_on: date | None = ask(Field(N_("… on"), Kind.DAY))


def refuse_unpriced(reading: Reading, instrument_id: int) -> None:
    """Refuse to price what is not here, is sold, or is here neither to sell nor as the shop's own."""
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    if stay.reason != "own" and live_agreement(reading, stay.id) is None:
        raise Refused(N_("Nothing is agreed for it. Agree terms first."))


def run_change_price(writing: Writing, form: ChangePrice) -> Outcome:
    """Ask another price from the act's day on."""
    refuse_unpriced(writing, form.instrument_id)
    stay = need_open_stay(writing, form.instrument_id)
    if form.asking.minor <= 0:
        raise Typed(N_("The asking price has to be above zero."), field="asking")
    if asking_price(writing, stay.id) == form.asking:
        raise Typed(N_("{asking} is asked already: type another price."), field="asking", asking=form.asking)
    agreement = live_agreement(writing, stay.id)
    if agreement is not None:
        terms = newest_terms(writing, agreement.id)
        lowest = terms.asking if terms.asking_not_below is None else terms.asking_not_below
        free = lowest <= form.asking.minor <= terms.asking
        if not free and not (form.consent_by and form.consent_how and form.consent_on):
            raise Refused(
                N_(
                    "{agreement} allows from {lowest} to {asking}. Record the owner's consent: who, how and when."
                ),
                field="consent_by",
                agreement=agreement.number,
                lowest=writing.money(lowest),
                asking=writing.money(terms.asking),
            )
    writing.add(
        PriceChange(
            stay_id=stay.id,
            since=writing.on,
            asking=form.asking.minor,
            why=form.why,
            consent_by=form.consent_by,
            consent_how=form.consent_how,
            consent_on=form.consent_on,
        )
    )
    return Outcome(Subject.INSTRUMENT, form.instrument_id, frozenset({Subject.INSTRUMENT}))


def prefill_change_price(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the price that is asked now."""
    return {"asking": asking_price(reading, need_open_stay(reading, instrument_id).id)}


CHANGE_PRICE = Act(
    name="change_price",
    text=N_("Change the price"),
    subject=Subject.INSTRUMENT,
    form=ChangePrice,
    run=run_change_price,
    subject_input="instrument_id",
    allowed=refuse_unpriced,
    prefill=prefill_change_price,
)
ACTS = (CHANGE_PRICE,)
