"""What may go to another dealer: the form of a placing gone through, with everything that could refuse it asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from shopledger.acts.columns import filled
from shopledger.acts.custody import refuse_before
from shopledger.acts.declare import Form
from shopledger.acts.describing import instrument_of
from shopledger.acts.going_out import free_to_go, refuse_not_here
from shopledger.acts.owning import owners_now, shop_person
from shopledger.acts.paying import above_zero
from shopledger.acts.people import person_of
from shopledger.acts.terms import agreed_for
from shopledger.model import Agreement, Placing, Stay, Terms
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.away import placed
from shopledger.queries.groups import group_beginning
from shopledger.queries.standing import hold_in_force, last_stay
from shopledger.store.unit import Reading


@dataclass(frozen=True, kw_only=True)
class PlaceWithDealer(Form):
    """It goes to another dealer, to be sold there."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    placing: Mapping[str, Any] = ask(
        Field(
            N_("Placing"),
            Kind.GROUP,
            of=Placing,
            first=("dealer_id", "until", "value", "dealer_rate", "asking"),
        )
    )


def placeable(reading: Reading, instrument_id: int) -> tuple[Stay, Agreement | None, Terms | None]:
    """Give the stay of an instrument that may go to another dealer, and what its owner agreed.

    Raises: NotFound, Refused: it isn't here to be sold, is sold, held, out, at work, or its agreement forbids it.
    """
    stay, number = free_to_go(
        reading, instrument_id, N_("{instrument} is not here to be sold: it doesn't go to another dealer.")
    )
    there = placed(reading, stay.id)
    if there is not None:
        raise Refused(
            N_("{instrument} is with {dealer} already ({placing})."),
            instrument=number,
            dealer=there.dealer,
            placing=there.number,
        )
    hold = hold_in_force(reading, stay.id)
    if hold is not None:
        raise Refused(
            N_("It is on hold for {player} until {day}. End the hold first."),
            player=hold.name,
            day=hold.until,
        )
    refuse_not_here(reading, instrument_id, number)
    shop = shop_person(reading)
    if all(share.person_id == shop for share in owners_now(reading, instrument_id)):
        return stay, None, None
    agreement, terms = agreed_for(reading, stay)
    if not terms.dealers_allowed:
        raise Refused(
            N_("{agreement} does not allow another dealer. Agree an addendum first."),
            agreement=agreement.number,
        )
    return stay, agreement, terms


def check_until(agreement: Agreement | None, terms: Terms | None, until: date, field: str) -> None:
    """Refuse a day that the owner's agreement does not reach.

    Raises: Refused, naming the field.
    """
    if agreement is not None and terms is not None and terms.ends_on < until:
        raise Refused(
            N_(
                "{agreement} ends on {day}, before it would come back. Renew it first, or choose an earlier day."
            ),
            field=field,
            agreement=agreement.number,
            day=terms.ends_on,
        )


def ready_to_place(reading: Reading, form: PlaceWithDealer) -> tuple[Placing, Agreement | None, Terms | None]:
    """Give the placing that a form would begin, with everything that could refuse it asked; nothing is written."""
    stay, agreement, terms = placeable(reading, form.instrument_id)
    values = {**group_beginning(Placing), **form.placing}
    placing = filled(
        Placing, values, reading.currency, path="placing", number="", since=form.on, stay_id=stay.id
    )
    dealer = person_of(reading, placing.dealer_id, "placing.dealer_id")
    if dealer.relation == "shop":
        raise Typed(N_("That is the shop itself. Choose the dealer."), field="placing.dealer_id")
    if any(share.person_id == dealer.id for share in owners_now(reading, form.instrument_id)):
        raise Refused(
            N_("{dealer} owns it: return it to its owner instead."),
            field="placing.dealer_id",
            dealer=dealer.name,
        )
    if placing.until < form.on:
        raise Typed(
            N_("It can't be due back before it goes out on {day}."), field="placing.until", day=form.on
        )
    check_until(agreement, terms, placing.until, "placing.until")
    above_zero(reading.money(placing.value), reading.currency, "placing.value")
    if placing.asking is not None:
        above_zero(reading.money(placing.asking), reading.currency, "placing.asking")
    if placing.dealer_rate is not None and not 0 <= placing.dealer_rate <= 1:
        raise Typed(N_("A share is from 0% to 100%."), field="placing.dealer_rate")
    now = last_stay(reading, form.instrument_id)
    if now is not None:
        refuse_before(form.on, now.since, instrument_of(reading, form.instrument_id).number)
    return placing, agreement, terms
