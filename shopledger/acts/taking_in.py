"""Taking in: an instrument comes to the shop, to sell, to repair, to value, to keep, or as the shop's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import bindparam, select

from shopledger.acts.columns import filled
from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import (
    FittingRow,
    MeasureRow,
    instrument_of,
    record_fittings,
    record_measures,
    record_pictures,
)
from shopledger.acts.owning import OwnerRow, Share, owners_now, record_owners, shares_of, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.people import person_of
from shopledger.model import Instrument, PriceChange, Stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.rules.journal import Amount
from shopledger.store.prepared import AnyPicture
from shopledger.store.unit import Reading, Writing

PAID_FROM = (
    ("bank", N_("the shop's account")),
    ("capital", N_("the maker's own: made here, or brought in")),
)


@dataclass(frozen=True, kw_only=True)
class TakeIn(Form):
    """What comes to the counter, whose it is, and why it stays."""

    instrument_id: int | None = ask(
        Field(
            N_("Known instrument"),
            Kind.INSTRUMENT,
            help=N_("One that was here before; else describe it below."),
        )
    )
    instrument: Mapping[str, Any] = ask(Field(N_("Instrument"), Kind.GROUP, of=Instrument))
    owners: tuple[OwnerRow, ...] = ask(
        Field(N_("Owners"), Kind.ROWS, of=OwnerRow, help=N_("Empty for the shop's own."))
    )
    stay: Mapping[str, Any] = ask(Field(N_("Stay"), Kind.GROUP, of=Stay))
    cost: Money | None = ask(Field(N_("Cost to the shop"), Kind.MONEY, help=N_("For the shop's own.")))
    paid_from: str = ask(Field(N_("Paid from"), Kind.CHOICE, choices=PAID_FROM), default="bank")
    asking: Money | None = ask(Field(N_("Asking price"), Kind.MONEY, help=N_("For the shop's own.")))
    fittings: tuple[FittingRow, ...] = ask(Field(N_("Fittings"), Kind.ROWS, of=FittingRow))
    measures: tuple[MeasureRow, ...] = ask(Field(N_("Measurements"), Kind.ROWS, of=MeasureRow))
    pictures: tuple[AnyPicture, ...] = ask(Field(N_("Photographs"), Kind.PICTURES))


_OPEN_STAY = select(Stay).where(Stay.instrument_id == bindparam("instrument"), Stay.ended_on.is_(None))


def open_stay(reading: Reading, instrument_id: int) -> Stay | None:
    """Give the stay an instrument is on now, None where it isn't in the shop's hands."""
    return reading.once(
        ("open stay", instrument_id),
        lambda: reading.session.scalars(_OPEN_STAY, {"instrument": instrument_id}).first(),
    )


def need_open_stay(reading: Reading, instrument_id: int) -> Stay:
    """Give the stay an instrument is on now.

    Raises: Refused: it isn't in the shop's hands.
    """
    stay = open_stay(reading, instrument_id)
    if stay is None:
        instrument = instrument_of(reading, instrument_id)
        raise Refused(N_("{instrument} is not in the shop. Take it in first."), instrument=instrument.number)
    return stay


def begin_stay(
    writing: Writing, instrument_id: int, values: Mapping[str, Any], *, brought_by: int, cost: int | None
) -> Stay:
    """Open a stay with its entry number and put the instrument here.

    Raises: Refused: it is in the shop already.
    """
    if (stay := open_stay(writing, instrument_id)) is not None:
        raise Refused(
            N_("This instrument has been here since {since} ({entry}). Return it or sell it first."),
            since=stay.came_in_on,
            entry=stay.number,
        )
    stay = filled(
        Stay,
        values,
        writing.currency,
        path="stay",
        number="",
        instrument_id=instrument_id,
        came_in_on=writing.on,
        cost=cost,
    )
    if stay.brought_by_id is None:
        stay.brought_by_id = brought_by
    person_of(writing, stay.brought_by_id, "stay.brought_by_id")
    if stay.register_checked_on is not None and stay.register_checked_on > writing.on:
        raise Typed(
            N_("The register can't have been checked on {day}: that is after the day it came in."),
            field="stay.register_checked_on",
            day=stay.register_checked_on,
        )
    stay.number = writing.number("stay")
    writing.add(stay)
    move(writing, stay.id, "here")
    return stay


def run_take_in(writing: Writing, form: TakeIn) -> Outcome:
    """Take an instrument in: instrument, owners, stay, custody, its receipt; the shop's own also at cost."""
    own = form.stay.get("reason") == "own"
    shares = _owners(writing, form, own=own)
    if form.instrument_id is None:
        instrument = filled(Instrument, form.instrument, writing.currency, path="instrument", number="")
        instrument.number = writing.number("instrument")
        writing.add(instrument)
    else:
        if form.instrument:
            raise Typed(
                N_("Choose a known instrument or describe a new one, not both."), field="instrument_id"
            )
        instrument = instrument_of(writing, form.instrument_id)
    cost = _cost(form, own=own)
    stay = begin_stay(
        writing, instrument.id, form.stay, brought_by=shares[0].person_id, cost=cost.minor if cost else None
    )
    if owners_now(writing, instrument.id) != shares:
        record_owners(writing, instrument.id, shares, how=f"said at intake {stay.number}")
    record_fittings(writing, instrument, form.fittings)
    record_measures(writing, instrument, form.measures)
    record_pictures(writing, instrument, form.pictures, stay_id=stay.id)
    if cost:
        writing.book(
            [Amount("stock", cost.minor), Amount(form.paid_from, -cost.minor)],
            f"{stay.number} {instrument.number}",
        )
    if own and form.asking:
        if form.asking.minor <= 0:
            raise Typed(N_("The asking price has to be above zero."), field="asking")
        writing.add(
            PriceChange(
                stay_id=stay.id, since=writing.on, asking=form.asking.minor,
                why="", consent_by="", consent_how="",
            )
        )  # fmt: skip
    writing.session.flush()
    return Outcome(Subject.INSTRUMENT, instrument.id, CHANGED, (intake_paper(writing, stay),))


def intake_paper(writing: Writing, stay: Stay) -> int:
    """Leave the receipt of intake for whoever brought an instrument."""
    from shopledger.queries.facts.intake import intake_facts

    facts = intake_facts(writing, stay.id, stay.number, writing.on)
    return leave_paper(
        writing, "intake", facts, instrument_id=stay.instrument_id, person_id=stay.brought_by_id
    )


CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})


def _owners(writing: Writing, form: TakeIn, *, own: bool) -> tuple[Share, ...]:
    shop = shop_person(writing)
    if own and not form.owners:
        return shares_of([OwnerRow(person_id=shop)])
    if not form.owners and form.instrument_id is not None:
        known = owners_now(writing, form.instrument_id)
        if known:
            return known
    shares = shares_of(form.owners)
    for n, share in enumerate(shares):
        person_of(writing, share.person_id, f"owners[{n}].person_id")
    if own and all(share.person_id != shop for share in shares):
        raise Typed(
            N_(
                "It is taken in as the shop's own, but the shop owns no part. Choose to sell, or name the shop."
            ),
            field="owners",
        )
    if not own and all(share.person_id == shop for share in shares):
        raise Typed(N_("The shop alone owns it: take it in as the shop's own."), field="stay.reason")
    return shares


def _cost(form: TakeIn, *, own: bool) -> Money | None:
    if form.cost and not own:
        raise Typed(
            N_("Only the shop's own has a cost to the shop: leave it out, or take it in as the shop's own."),
            field="cost",
        )
    if form.cost and form.cost.minor < 0:
        raise Typed(N_("The cost can't be below zero."), field="cost")
    return form.cost


TAKE_IN = Act(
    name="take_in",
    text=N_("Take in"),
    subject=Subject.SHOP,
    form=TakeIn,
    run=run_take_in,
    shortcut="Ctrl+Shift+I",
    opposite="return_to_owner",
    help=N_("Entry number, receipt, condition, value to insure, whose it is."),
    papers=("intake",),
)


def refuse_if_here(reading: Reading, instrument_id: int) -> None:
    """Refuse to take in again what is here."""
    stay = open_stay(reading, instrument_id)
    if stay is not None:
        raise Refused(
            N_("It has been here since {since} ({entry})."), since=stay.came_in_on, entry=stay.number
        )


TAKE_IN_AGAIN = Act(
    name="take_in_again",
    text=N_("Take in again"),
    subject=Subject.INSTRUMENT,
    form=TakeIn,
    run=run_take_in,
    subject_input="instrument_id",
    allowed=refuse_if_here,
    opposite="return_to_owner",
    help=N_("One that was here before and comes back."),
    papers=("intake",),
)
ACTS = (TAKE_IN, TAKE_IN_AGAIN)
