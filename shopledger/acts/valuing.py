"""Valuing: what an instrument is said to be worth, by whom, for what; no appraisal unless its author says so."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.columns import filled
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import above_zero
from shopledger.acts.people import person_of
from shopledger.model import Valuation
from shopledger.model.stays import OFFERED
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_, _
from shopledger.queries.groups import group_beginning
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import asking_price, open_stay
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON})


@dataclass(frozen=True, kw_only=True)
class RecordValuation(Form):
    """Somebody says what it is worth."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    valuation: Mapping[str, Any] = ask(Field(N_("Valuation"), Kind.GROUP, of=Valuation))


def _ready(reading: Reading, form: RecordValuation) -> Valuation:
    instrument_of(reading, form.instrument_id)
    values = {**group_beginning(Valuation), **form.valuation}
    one = filled(
        Valuation, values, reading.currency, path="valuation", number="", instrument_id=form.instrument_id
    )
    above_zero(reading.money(one.value), reading.currency, "valuation.value")
    if one.valued_on > form.on:
        raise Typed(
            N_("It can't have been valued on {day}: that is after the day of this act."),
            field="valuation.valued_on",
            day=one.valued_on,
        )
    if one.for_id is not None:
        person_of(reading, one.for_id, "valuation.for_id")
    one.is_appraisal = bool(one.is_appraisal)
    return one


def run_record_valuation(writing: Writing, form: RecordValuation) -> Outcome:
    """Record a valuation and leave its paper; nothing else changes by it."""
    from shopledger.queries.facts.valuation import valuation_facts

    one = _ready(writing, form)
    one.number = writing.number("valuation")
    writing.add(one)
    facts = valuation_facts(writing, one.id, writing.on)
    paper = leave_paper(writing, "valuation", facts, instrument_id=form.instrument_id, person_id=one.for_id)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def preview_record_valuation(reading: Reading, form: RecordValuation) -> Preview:
    """Give the value, and what an interest in it means."""
    one = _ready(reading, form)
    stay = open_stay(reading, form.instrument_id)
    interested = stay is not None and stay.reason in OFFERED
    by_shop = one.valued_by.strip() == reading.shop().name
    warnings = []
    if interested and by_shop:
        warnings.append(
            _("The shop owns or sells it: a valuation by whoever has an interest in it is not an appraisal.")
        )
    if one.is_appraisal:
        warnings.append(
            _("The paper says that {name} calls it a certified appraisal. It has to be one.").format(
                name=one.valued_by
            )
        )
    return Preview(
        _("A valuation by {name}").format(name=one.valued_by),
        (Line(_("Value"), "", reading.money(one.value), strong=True),),
        tuple(warnings),
    )


def prefill_record_valuation(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the shop and today; the asking price, where there is one."""
    stay = open_stay(reading, instrument_id)
    return {
        "valuation": {
            "valued_by": reading.shop().name,
            "valued_on": reading.ledger.today(),
            "purpose": "insurance",
            "value": None if stay is None else asking_price(reading, stay.id),
        }
    }


def refuse_unknown(reading: Reading, instrument_id: int) -> None:
    """Refuse to value what is not in the ledger."""
    instrument_of(reading, instrument_id)


RECORD_VALUATION = Act(
    name="record_valuation",
    text=N_("Record a valuation"),
    subject=Subject.INSTRUMENT,
    form=RecordValuation,
    run=run_record_valuation,
    subject_input="instrument_id",
    allowed=refuse_unknown,
    prefill=prefill_record_valuation,
    preview=preview_record_valuation,
    help=N_("Who says so, for what purpose and on what basis; no appraisal unless it is called one."),
    papers=("valuation",),
)
ACTS = (RECORD_VALUATION,)
