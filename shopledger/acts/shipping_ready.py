"""What may be sent with a carrier: the form of a shipment gone through, with everything that could refuse it asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shopledger.acts.columns import filled
from shopledger.acts.custody import refuse_before
from shopledger.acts.declare import Form
from shopledger.acts.describing import instrument_of
from shopledger.acts.going_out import not_here
from shopledger.acts.paying import above_zero
from shopledger.acts.people import person_of
from shopledger.acts.releasing import refuse_not_returnable
from shopledger.acts.taking_in import need_open_stay
from shopledger.model import Custody, Shipment, Stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.away import Placed, custody_now, placed, refuse_underway
from shopledger.queries.facts.jobs import job_going_on
from shopledger.queries.groups import group_beginning
from shopledger.queries.materials import crossing_words
from shopledger.queries.on_trial import OnTrial, on_trial
from shopledger.queries.owing import line_money
from shopledger.queries.standing import LiveLine, live_line
from shopledger.rules.materials_terms import Act as Deed
from shopledger.rules.places import read_place
from shopledger.store.unit import Reading

IN_HOUSE = ("here", "workshop")
DEED_OF = {"sale": Deed.SALE_ABROAD, "dealer": Deed.SALE_ABROAD, "workshop": Deed.REPAIR_ABROAD}
"""As which act a shipment over a border is judged; any other crosses it as a loan does."""


@dataclass(frozen=True, kw_only=True)
class SendRow:
    """One instrument that is sent."""

    instrument_id: int | None = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    value: Money | None = ask(Field(N_("Value"), Kind.MONEY))


@dataclass(frozen=True, kw_only=True)
class Send(Form):
    """It is handed to a carrier."""

    shipment: Mapping[str, Any] = ask(
        Field(
            N_("Shipment"),
            Kind.GROUP,
            of=Shipment,
            first=("why", "to_id", "carrier", "tracking", "goes_to", "insured_for"),
        )
    )
    lines: tuple[SendRow, ...] = ask(Field(N_("What is sent"), Kind.ROWS, required=True, of=SendRow))
    unpaid: bool = ask(Field(N_("Send although it is not paid in full"), Kind.YES_NO))


@dataclass(frozen=True, slots=True)
class Sent:
    """An instrument that can be sent, with what it is sent about."""

    stay: Stay
    number: str
    minor: int | None
    now: Custody
    sold: LiveLine | None = None
    trial: OnTrial | None = None
    placing: Placed | None = None


def ready_to_send(reading: Reading, form: Send) -> tuple[Shipment, tuple[Sent, ...]]:
    """Give what a form sends, with everything that could refuse it asked; nothing is written.

    Raises: Typed, Refused, NotFound: it can't be sent so; the field names why.
    """
    values = {**group_beginning(Shipment), **form.shipment}
    shipment = filled(Shipment, values, reading.currency, path="shipment", number="", sent_on=form.on)
    shipment.goes_to = read_place(shipment.goes_to or "", "shipment.goes_to")
    to = person_of(reading, shipment.to_id, "shipment.to_id")
    if to.relation == "shop":
        raise Typed(N_("That is the shop itself. Choose to whom it goes."), field="shipment.to_id")
    seen: set[int] = set()
    sent = []
    for n, row in enumerate(form.lines):
        field = f"lines[{n}].instrument_id"
        if row.instrument_id is None:
            raise Typed(N_("Which instrument is it? Choose it."), field=field)
        if row.instrument_id in seen:
            raise Typed(N_("It stands on the list already."), field=field)
        seen.add(row.instrument_id)
        minor = None if row.value is None else above_zero(row.value, reading.currency, f"lines[{n}].value")
        try:
            sent.append(_sent(reading, form, shipment, row.instrument_id, minor))
        except Refused as error:
            error.field = error.field or field
            raise
    shipment.sale_id = next((one.sold.sale_id for one in sent if one.sold is not None), None)
    shipment.trial_id = next((one.trial.trial_id for one in sent if one.trial is not None), None)
    return shipment, tuple(sent)


def need_in_hand(reading: Reading, instrument_id: int) -> Sent:
    """Give an instrument that the shop can hand to a carrier, or that a player or a dealer is to have from it.

    Raises: NotFound, Refused: it is not in the shop's care, or underway.
    """
    stay = need_open_stay(reading, instrument_id)
    number = instrument_of(reading, instrument_id).number
    refuse_underway(reading, stay.id, number)
    now = custody_now(reading, stay.id)
    trial, placing = on_trial(reading, stay.id), placed(reading, stay.id)
    if now is None or (now.place not in IN_HOUSE and trial is None and placing is None):
        raise not_here(number)
    return Sent(stay, number, None, now, live_line(reading, stay.id), trial, placing)


def _sent(reading: Reading, form: Send, shipment: Shipment, instrument_id: int, minor: int | None) -> Sent:
    one = need_in_hand(reading, instrument_id)
    refuse_before(form.on, one.now.since, one.number)
    checks = {
        "sale": _refuse_sale,
        "trial": _refuse_trial,
        "dealer": _refuse_dealer,
        "return": _refuse_return,
    }
    if shipment.why in checks:
        checks[shipment.why](reading, form, shipment, one)
    elif one.trial is not None or one.placing is not None:
        raise not_here(one.number)
    return Sent(
        one.stay,
        one.number,
        minor,
        one.now,
        one.sold if shipment.why == "sale" else None,
        one.trial if shipment.why == "trial" else None,
        one.placing if shipment.why == "dealer" else None,
    )


def _refuse_sale(reading: Reading, form: Send, _shipment: Shipment, one: Sent) -> None:
    if one.sold is None:
        raise Refused(
            N_("{instrument} is not sold. Sell it first, or say why else it goes."), instrument=one.number
        )
    owes = line_money(reading, one.sold.id).owes
    if owes.minor > 0 and not form.unpaid:
        raise Refused(
            N_("The buyer still owes {owes}. Take the payment, or say that it is sent all the same."),
            field="unpaid",
            owes=owes,
        )


def _refuse_trial(_reading: Reading, _form: Send, shipment: Shipment, one: Sent) -> None:
    if one.trial is None:
        raise Refused(N_("{instrument} is not on trial. Lend it on trial first."), instrument=one.number)
    if one.trial.person_id != shipment.to_id:
        raise Refused(
            N_("{instrument} is on trial with {player} ({trial}): it goes to nobody else."),
            field="shipment.to_id",
            instrument=one.number,
            player=one.trial.name,
            trial=one.trial.number,
        )


def _refuse_dealer(_reading: Reading, _form: Send, shipment: Shipment, one: Sent) -> None:
    if one.placing is None:
        raise Refused(
            N_("{instrument} is not placed with another dealer. Place it first."), instrument=one.number
        )
    if one.placing.dealer_id != shipment.to_id:
        raise Refused(
            N_("{instrument} is placed with {dealer} ({placing}): it goes to nobody else."),
            field="shipment.to_id",
            instrument=one.number,
            dealer=one.placing.dealer,
            placing=one.placing.number,
        )


def _refuse_return(reading: Reading, _form: Send, _shipment: Shipment, one: Sent) -> None:
    # What has a job open is handed over by the job's own end, once it arrived.
    if job_going_on(reading, one.stay.id) is None:
        refuse_not_returnable(reading, one.stay.instrument_id)


def crossing_of(reading: Reading, shipment: Shipment, sent: Sequence[Sent]) -> tuple[str, ...]:
    """Give the cautions on protected materials of a shipment over a border."""
    deed = DEED_OF.get(shipment.why, Deed.LOAN_ABROAD)
    keys = [one.stay.instrument_id for one in sent]
    return crossing_words(reading, deed, shipment.sent_on, shipment.goes_to, keys)
