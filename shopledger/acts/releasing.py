"""Handing over: back to the owner, or to the buyer; custody ends against a signature. And a change of owner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.agreeing import end_agreement, ending_paper
from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of
from shopledger.acts.owning import OwnerRow, owners_now, record_owners, shares_of, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import live_agreement, live_line, refuse_sold
from shopledger.model import Stay
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.away import refuse_placed, refuse_underway
from shopledger.queries.facts.jobs import job_going_on
from shopledger.queries.on_trial import refuse_on_trial
from shopledger.queries.owing import line_money
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import hold_in_force
from shopledger.queries.standing import live_line as sold_line
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.PERSON, Subject.SALE})


@dataclass(frozen=True, kw_only=True)
class HandOver(Form):
    """It leaves the shop, against a signature."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    handed_to: str = ask(Field(N_("Handed to"), required=True))
    condition_out: str = ask(Field(N_("Condition at hand-over"), Kind.LINES), default="")
    unpaid: bool = ask(Field(N_("Hand over although it is not paid in full"), Kind.YES_NO))


@dataclass(frozen=True, kw_only=True)
class ReturnToOwner(Form):
    """It goes back to its owner, against a signature."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    handed_to: str = ask(Field(N_("Handed to"), required=True))
    condition_out: str = ask(Field(N_("Condition at hand-over"), Kind.LINES), default="")
    why: str = ask(Field(N_("Why")), default="")


@dataclass(frozen=True, kw_only=True)
class ChangeOwner(Form):
    """It belongs to somebody else from now on, without a sale by the shop."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    owners: tuple[OwnerRow, ...] = ask(Field(N_("New owners"), Kind.ROWS, required=True, of=OwnerRow))
    how: str = ask(
        Field(N_("How"), required=True, help=N_("Inherited, given, sold privately; seen on what paper."))
    )


def end_stay(
    writing: Writing, stay: Stay, ending: str, *, place: str, handed_to: str = "", condition: str = ""
) -> None:
    """End a stay and its custody.

    Raises: Refused: a job is open on it, it is underway, or it goes back while it is on trial or with a dealer.
    """
    refuse_work(writing, stay)
    if ending != "lost":
        number = instrument_of(writing, stay.instrument_id).number
        refuse_underway(writing, stay.id, number)
        if ending == "returned":
            refuse_on_trial(writing, stay.id, number)
            refuse_placed(writing, stay.id, number)
    stay.ended_on, stay.ending = writing.on, ending
    stay.handed_to, stay.condition_out = handed_to, condition
    writing.session.flush()
    move(writing, stay.id, place, words=handed_to)


def release_paper(writing: Writing, stay: Stay, carrier: str = "") -> int:
    """Leave the release that whoever takes the instrument signs, or that a carrier took it to."""
    from shopledger.queries.facts.release import release_facts

    facts = release_facts(writing, stay.id, writing.number("release"), writing.on, carrier=carrier)
    owners = owners_now(writing, stay.instrument_id)
    return leave_paper(
        writing, "release", facts, instrument_id=stay.instrument_id, person_id=owners[0].person_id
    )


def let_go(
    writing: Writing,
    stay: Stay,
    ending: str,
    *,
    handed_to: str,
    condition: str = "",
    why: str = "",
    carrier: str = "",
) -> int:
    """Let an instrument go to its buyer, or back to its owner, by which an agreement in force ends as withdrawn.

    Give the release. Raises: Refused, as `end_stay`.
    """
    agreement = live_agreement(writing, stay.id)
    if agreement is not None and ending == "returned":
        end_agreement(writing, agreement, "withdrawn", why)
    end_stay(writing, stay, ending, place="handed_over", handed_to=handed_to, condition=condition)
    return release_paper(writing, stay, carrier)


def run_hand_over(writing: Writing, form: HandOver) -> Outcome:
    """Hand what was sold to its buyer."""
    stay = need_open_stay(writing, form.instrument_id)
    line = live_line(writing, stay.id)
    if line is None:
        raise Refused(N_("It is not sold. Return it to its owner, or sell it."))
    owes = line_money(writing, line.id).owes
    if owes.minor > 0 and not form.unpaid:
        raise Refused(
            N_("The buyer still owes {owes}. Take the payment, or say that it is handed over all the same."),
            field="unpaid",
            owes=owes,
        )
    paper = let_go(writing, stay, "sold", handed_to=form.handed_to, condition=form.condition_out)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def run_return_to_owner(writing: Writing, form: ReturnToOwner) -> Outcome:
    """Return an instrument to its owner; an agreement still in force ends as withdrawn."""
    refuse_not_returnable(writing, form.instrument_id)
    stay = need_open_stay(writing, form.instrument_id)
    paper = let_go(
        writing,
        stay,
        "returned",
        handed_to=form.handed_to,
        condition=form.condition_out,
        why=form.why,
    )
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, (paper,))


def refuse_work(reading: Reading, stay: Stay) -> None:
    """Refuse to let go what a job is open on: it ends by its own act, which hands over or puts back."""
    number = job_going_on(reading, stay.id)
    if number is not None:
        raise Refused(
            N_("{instrument} has the job {job} open. Go to that job and end it first."),
            instrument=instrument_of(reading, stay.instrument_id).number,
            job=number,
        )


def run_change_owner(writing: Writing, form: ChangeOwner) -> Outcome:
    """Record a new owner; an agreement in force ends, since the new owner is no party to it."""
    refuse_change_of_owner(writing, form.instrument_id)
    stay = need_open_stay(writing, form.instrument_id)
    shares = shares_of(form.owners)
    if shares == owners_now(writing, form.instrument_id):
        raise Typed(N_("They own it already."), field="owners")
    shop = shop_person(writing)
    if any(share.person_id == shop for share in shares):
        raise Refused(
            N_("The shop buys by a sale to itself, with the owner's written consent."), field="owners"
        )
    record_owners(writing, form.instrument_id, shares, how=form.how)
    papers: tuple[int, ...] = ()
    agreement = live_agreement(writing, stay.id)
    if agreement is not None:
        end_agreement(writing, agreement, "owner_changed", form.how)
        papers = (ending_paper(writing, agreement, form.instrument_id),)
    return Outcome(Subject.INSTRUMENT, form.instrument_id, CHANGED, papers)


def refuse_not_sold(reading: Reading, instrument_id: int) -> None:
    """Refuse to hand over to a buyer what is not sold."""
    stay = need_open_stay(reading, instrument_id)
    if sold_line(reading, stay.id) is None:
        raise Refused(
            N_("{instrument} is not sold."), instrument=instrument_of(reading, instrument_id).number
        )
    refuse_work(reading, stay)


def refuse_not_returnable(reading: Reading, instrument_id: int) -> None:
    """Refuse to return what is sold, on hold, or the shop's own."""
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    number = instrument_of(reading, instrument_id).number
    refuse_on_trial(reading, stay.id, number)
    refuse_placed(reading, stay.id, number)
    hold = hold_in_force(reading, stay.id)
    if hold is not None:
        raise Refused(
            N_("It is on hold for {player} until {day}. End the hold first."),
            player=hold.name,
            day=hold.until,
        )
    shop = shop_person(reading)
    if all(share.person_id == shop for share in owners_now(reading, instrument_id)):
        raise Refused(N_("It is the shop's own: there is nobody to return it to."))
    refuse_work(reading, stay)


def refuse_change_of_owner(reading: Reading, instrument_id: int) -> None:
    """Refuse a change of owner of what is sold or the shop's own."""
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    shop = shop_person(reading)
    if any(share.person_id == shop for share in owners_now(reading, instrument_id)):
        raise Refused(N_("The shop owns part of it: it changes owner by a sale."))


def prefill_hand_over(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the buyer's name."""
    line = sold_line(reading, need_open_stay(reading, instrument_id).id)
    return {"handed_to": line.buyer if line else ""}


HAND_OVER = Act(
    name="hand_over",
    text=N_("Hand over to the buyer"),
    subject=Subject.INSTRUMENT,
    form=HandOver,
    run=run_hand_over,
    subject_input="instrument_id",
    allowed=refuse_not_sold,
    prefill=prefill_hand_over,
    papers=("release",),
)
RETURN_TO_OWNER = Act(
    name="return_to_owner",
    text=N_("Return to owner"),
    subject=Subject.INSTRUMENT,
    form=ReturnToOwner,
    run=run_return_to_owner,
    subject_input="instrument_id",
    allowed=refuse_not_returnable,
    opposite="take_in_again",
    papers=("release",),
)
CHANGE_OWNER = Act(
    name="change_owner",
    text=N_("Change the owner"),
    subject=Subject.INSTRUMENT,
    form=ChangeOwner,
    run=run_change_owner,
    subject_input="instrument_id",
    allowed=refuse_change_of_owner,
    papers=("addendum",),
)
ACTS = (HAND_OVER, RETURN_TO_OWNER, CHANGE_OWNER)
