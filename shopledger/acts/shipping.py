"""Sending with a carrier, and how it arrived: with whom it was sent to, or back here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select

from shopledger.acts.custody import move, to_player
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of
from shopledger.acts.papers import leave_paper
from shopledger.acts.people import person_of
from shopledger.acts.placing import to_dealer
from shopledger.acts.placing_ends import end_placing
from shopledger.acts.releasing import let_go
from shopledger.acts.shipping_ready import Send, SendRow, crossing_of, need_in_hand, ready_to_send
from shopledger.acts.taking_in import need_open_stay
from shopledger.model import Placing, Shipment, ShipmentLine, Stay, Trial, TrialLine
from shopledger.quantities.errors import Refused
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import N_, _
from shopledger.queries.away import custody_now, placed, underway
from shopledger.queries.declared import instrument_words
from shopledger.queries.facts.jobs import job_going_on
from shopledger.queries.on_trial import on_trial
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import asking_price, live_line, owners_of
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON, Subject.SALE, Subject.TRIAL, Subject.JOB})
WHERE = (("there", N_("with whom it was sent to")), ("here", N_("back here")))
"""Where a shipment can arrive."""


@dataclass(frozen=True, kw_only=True)
class Arrived(Form):
    """The carrier handed it over."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    where: str = ask(
        Field(N_("Where it arrived"), Kind.CHOICE, required=True, choices=WHERE), default="there"
    )
    how: str = ask(
        Field(N_("How it arrived"), Kind.LINES, help=N_("Who took it, how it was packed, what was seen.")),
        default="",
    )


def run_send(writing: Writing, form: Send) -> Outcome:
    """Hand things to a carrier: the shipment, its lines, custody, the packing list."""
    from shopledger.queries.facts.shipment import shipment_facts

    shipment, sent = ready_to_send(writing, form)
    crossing = crossing_of(writing, shipment, sent)
    shipment.number = writing.number("shipment")
    writing.add(shipment)
    for one in sent:
        writing.add(ShipmentLine(shipment_id=shipment.id, stay_id=one.stay.id, value=one.minor))
        alone = shipment.insured_for if len(sent) == 1 else None
        move(
            writing,
            one.stay.id,
            "away" if one.trial is None else "on_trial",
            holder="carrier",
            person_id=shipment.to_id,
            words=shipment.number,
            risk=shipment.risk,
            insured_by=shipment.insured_by,
            insured_for=one.minor if one.minor is not None else alone,
            trial_id=None if one.trial is None else one.trial.trial_id,
            placing_id=None if one.placing is None else one.placing.id,
            shipment_id=shipment.id,
        )
    facts = shipment_facts(writing, shipment.id, writing.on, materials=crossing)
    paper = leave_paper(
        writing,
        "shipment",
        facts,
        instrument_id=sent[0].stay.instrument_id if len(sent) == 1 else None,
        person_id=shipment.to_id,
        sale_id=shipment.sale_id,
        trial_id=shipment.trial_id,
    )
    return Outcome(Subject.INSTRUMENT, sent[0].stay.instrument_id, CHANGED, (paper,))


def preview_send(reading: Reading, form: Send) -> Preview:
    """Give what goes to whom at which value, and what is to be thought of."""
    shipment, sent = ready_to_send(reading, form)
    named = instrument_words(reading, [one.stay.instrument_id for one in sent])
    lines = [
        Line(
            f"{n}. {named[one.stay.instrument_id]}",
            _("value not stated") if one.minor is None else "",
            None if one.minor is None else reading.money(one.minor),
        )
        for n, one in enumerate(sent, 1)
    ]
    whole = sum(one.minor or 0 for one in sent)
    warnings = []
    if shipment.insured_by == "nobody":
        warnings.append(_("Nobody insures it on the way."))
    elif shipment.insured_for is None:
        warnings.append(_("For what it is insured is not stated."))
    elif shipment.insured_for < whole:
        warnings.append(
            _("It is insured for less than {whole}, what the values come to.").format(
                whole=show_amount(reading.money(whole), reading.ledger.manners)
            )
        )
    title = _("To {name} with {carrier}").format(
        name=person_of(reading, shipment.to_id).name, carrier=shipment.carrier
    )
    return Preview(title, tuple(lines), (*warnings, *crossing_of(reading, shipment, sent)))


def prefill_send(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give why it goes and to whom, by how it stands, and its value."""
    one = need_in_hand(reading, instrument_id)
    shipment: dict[str, Any] = {"why": "other"}
    if one.trial is not None:
        shipment = {"why": "trial", "to_id": one.trial.person_id}
    elif one.placing is not None:
        shipment = {"why": "dealer", "to_id": one.placing.dealer_id}
    elif one.sold is not None:
        shipment = {"why": "sale", "to_id": one.sold.buyer_id}
    elif one.stay.reason != "own" and job_going_on(reading, one.stay.id) is not None:
        owners = owners_of(reading, instrument_id)
        shipment = {"why": "return", **({"to_id": owners[0].person_id} if owners else {})}
    minor = one.now.insured_for if one.now.insured_for is not None else one.stay.insured_value
    value = asking_price(reading, one.stay.id) if minor is None else reading.money(minor)
    return {"shipment": shipment, "lines": (SendRow(instrument_id=instrument_id, value=value),)}


def refuse_not_in_hand(reading: Reading, instrument_id: int) -> None:
    """Refuse to send what the shop can't hand to a carrier."""
    need_in_hand(reading, instrument_id)


def _shipment(reading: Reading, instrument_id: int) -> Shipment:
    """Give the shipment by which an instrument is underway.

    Raises: NotFound, Refused: it is not.
    """
    stay = need_open_stay(reading, instrument_id)
    shipment = underway(reading, stay.id)
    if shipment is None:
        raise Refused(
            N_("{instrument} is not underway."), instrument=instrument_of(reading, instrument_id).number
        )
    return shipment


def run_arrived(writing: Writing, form: Arrived) -> Outcome:
    """Record how a shipment arrived: everything that is underway with it is where it went, or here again."""
    shipment = _shipment(writing, form.instrument_id)
    shipment.arrived_on, shipment.arrived_how = writing.on, form.how
    writing.session.flush()
    stays = writing.session.scalars(
        select(Stay)
        .join(ShipmentLine, ShipmentLine.stay_id == Stay.id)
        .where(ShipmentLine.shipment_id == shipment.id)
        .order_by(ShipmentLine.id)
    ).all()
    papers: list[int] = []
    for stay in stays:
        now = custody_now(writing, stay.id)
        if now is None or now.shipment_id != shipment.id:
            continue  # It was lost on the way, or came back another way.
        if form.where == "here":
            _here(writing, stay, shipment, now.placing_id)
        else:
            papers += _there(writing, stay, shipment, now.placing_id)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, tuple(papers))


def _here(writing: Writing, stay: Stay, shipment: Shipment, placing_id: int | None) -> None:
    """Put back here what did not reach whom it was sent to."""
    if on_trial(writing, stay.id) is not None:
        raise Refused(
            N_("{instrument} is on trial: take it back from the trial, which says that it is here."),
            field="where",
            instrument=instrument_of(writing, stay.instrument_id).number,
        )
    move(writing, stay.id, "here", words=shipment.number)
    if placing_id is not None:
        end_placing(writing, placed(writing, stay.id), "back")


def _there(writing: Writing, stay: Stay, shipment: Shipment, placing_id: int | None) -> list[int]:
    """Say that it is with whom it was sent to; give the release where it left the shop's care by that."""
    name = person_of(writing, shipment.to_id).name
    why = shipment.why
    if why == "sale" and live_line(writing, stay.id) is not None:
        return [let_go(writing, stay, "sold", handed_to=name, carrier=shipment.carrier)]
    if why == "return" and job_going_on(writing, stay.id) is None:
        return [let_go(writing, stay, "returned", handed_to=name, carrier=shipment.carrier)]
    if why == "trial" and shipment.trial_id is not None:
        trial = writing.session.get_one(Trial, shipment.trial_id)
        value = writing.session.scalars(
            select(TrialLine.value).where(TrialLine.trial_id == trial.id, TrialLine.stay_id == stay.id)
        ).first()
        to_player(writing, stay.id, trial, value)
    elif placing_id is not None:
        to_dealer(writing, writing.session.get_one(Placing, placing_id))
    else:
        holder = {"workshop": "workshop", "return": "owner"}.get(why, "other")
        move(writing, stay.id, "away", holder=holder, person_id=shipment.to_id, words=shipment.number)
    return []


def refuse_not_underway(reading: Reading, instrument_id: int) -> None:
    """Refuse to record the arrival of what is not underway."""
    _shipment(reading, instrument_id)


SEND = Act(
    name="send",
    text=N_("Send"),
    subject=Subject.INSTRUMENT,
    form=Send,
    run=run_send,
    allowed=refuse_not_in_hand,
    prefill=prefill_send,
    preview=preview_send,
    opposite="arrived",
    help=N_("With a carrier: to a buyer, a player, its owner, a dealer or a workshop."),
    papers=("shipment",),
)
ARRIVED = Act(
    name="arrived",
    text=N_("It arrived"),
    subject=Subject.INSTRUMENT,
    form=Arrived,
    run=run_arrived,
    subject_input="instrument_id",
    allowed=refuse_not_underway,
    help=N_("Everything that is underway with the same shipment arrives by it."),
    papers=("release",),
)
ACTS = (SEND, ARRIVED)
