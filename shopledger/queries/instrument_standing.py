"""Where an instrument stands: the chip of its state, and one sentence in words with the date."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import Loss, Stay, field_of
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries import shapes
from shopledger.queries.away import placed, underway
from shopledger.queries.due import deposit_left, owner_lines
from shopledger.queries.on_trial import OnTrial, on_trial
from shopledger.queries.owing import line_money
from shopledger.queries.place_states import state_of
from shopledger.queries.standing import (
    AgreementNow,
    HoldNow,
    LiveLine,
    Party,
    StayNow,
    agreement_in_force,
    asking_price,
    hold_in_force,
    live_line,
)

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def state_now(stay: StayNow | None, hold: HoldNow | None) -> shapes.State | None:
    """Give the chip of a stay; None of an instrument that was never taken in."""
    if stay is None:
        return None
    return state_of(stay.place, stay.ended_on is not None, stay.ending, hold is not None)


def names_of(parties: tuple[Party, ...]) -> str:
    """Give the names of owners in a sentence."""
    names = [party.name for party in parties]
    if len(names) <= 1:
        return "".join(names)
    return _("{first} and {last}").format(first=", ".join(names[:-1]), last=names[-1])


def days_until(until: date, today: date) -> str:
    """Give how far a day is from today: "3 days left", "today", "2 days over"."""
    n = (until - today).days
    if n == 0:
        return _("that is today")
    if n > 0:
        return count_words("{n} day left", "{n} days left", n)
    return count_words("{n} day over", "{n} days over", -n)


class Teller:
    """Tells in sentences where an instrument stands, in the reader's manners."""

    def __init__(self, reading: Reading) -> None:
        """Read in a snapshot."""
        self.reading = reading
        self.manners = reading.ledger.manners
        self.today = reading.ledger.today()

    def day(self, day: date) -> str:
        """Give a day in words."""
        return show_day(day, self.manners)

    def amount(self, money: Money) -> str:
        """Give an amount without its currency."""
        return show_amount(money, self.manners, dash=False)

    def tell(self, stay: StayNow | None) -> str:
        """Give where an instrument stands."""
        if stay is None:
            return _("It was never taken in.")
        line = live_line(self.reading, stay.id)
        if stay.ending == "lost":
            return self._lost(stay)
        if line is not None:
            return self._sold(stay, line)
        if stay.ended_on is not None:
            return self._gone(stay)
        hold = hold_in_force(self.reading, stay.id)
        told = [self._place(stay), self._held(hold), self._why_here(stay)]
        return " ".join(sentence for sentence in told if sentence)

    def _lost(self, stay: StayNow) -> str:
        loss = self.reading.session.execute(
            select(Loss.number, Loss.lost_on, Loss.agreed_value).where(Loss.stay_id == stay.id)
        ).first()
        if loss is None:
            return _("Lost on {day}.").format(day=self.day(stay.ended_on or stay.since))
        return _("Lost on {day} ({number}); the agreed value is {value}.").format(
            day=self.day(loss.lost_on),
            number=loss.number,
            value=self.amount(self.reading.money(loss.agreed_value)),
        )

    def _sold(self, stay: StayNow, line: LiveLine) -> str:
        told = _("Sold to {buyer} on {day} ({sale})").format(
            buyer=line.buyer, day=self.day(line.sold_on), sale=line.number
        )
        parts = [told, self._paid(line), self._owners_due(line)]
        sentence = "; ".join(part for part in parts if part) + "."
        if stay.ended_on is not None:
            return sentence + " " + _("Handed over on {day}.").format(day=self.day(stay.ended_on))
        return sentence + " " + _("It is still here.") if stay.place == "here" else sentence

    def _paid(self, line: LiveLine) -> str:
        money = line_money(self.reading, line.id)
        if money.owes.minor > 0:
            return _("buyer still owes {owes}").format(owes=self.amount(money.owes))
        if money.uncleared.minor > 0:
            return _("{amount} not cleared yet").format(amount=self.amount(money.uncleared))
        return _("paid in full")

    def _owners_due(self, line: LiveLine) -> str:
        if line.kind != "consigned":
            return ""
        owners = [owner for owner in owner_lines(self.reading, [line.id], self.today) if not owner.is_shop]
        due = sum(owner.due.minor for owner in owners)
        held = sum(owner.held.minor for owner in owners)
        if due:
            return _("{amount} to settle").format(amount=self.amount(self.reading.money(due)))
        if held:
            return _("{amount} to pay to the owner").format(amount=self.amount(self.reading.money(held)))
        if owners and all(owner.pending.minor <= 0 for owner in owners):
            return _("settled")
        return ""

    def _gone(self, stay: StayNow) -> str:
        day = self.day(stay.ended_on or stay.since)
        if stay.ending == "returned":
            return _("Returned to the owner on {day}.").format(day=day)
        return _("Handed over on {day}.").format(day=day)

    def _place(self, stay: StayNow) -> str:
        """Say where it is, when it isn't simply here."""
        sent = underway(self.reading, stay.id)
        if sent is not None:
            return _("Underway with {carrier} to {name} since {day} ({shipment}).").format(
                carrier=sent.carrier, name=stay.with_name, day=self.day(sent.sent_on), shipment=sent.number
            )
        out = on_trial(self.reading, stay.id)
        if out is not None:
            return self._on_trial(out)
        there = placed(self.reading, stay.id)
        if there is not None:
            return _("With {dealer} to be sold until {day}, {left} ({placing}).").format(
                dealer=there.dealer,
                day=self.day(there.until),
                left=days_until(there.until, self.today),
                placing=there.number,
            )
        since = self.day(stay.since)
        sentences = {
            ("on_trial", True): N_("On trial with {name} since {day}."),
            ("on_trial", False): N_("On trial since {day}."),
            ("away", True): N_("Away with {name} since {day}."),
            ("away", False): N_("Away since {day}."),
            ("workshop", True): N_("In the workshop since {day}."),
            ("workshop", False): N_("In the workshop since {day}."),
        }
        told = sentences.get((stay.place, bool(stay.with_name)))
        return _(told).format(name=stay.with_name, day=since) if told else ""

    def _on_trial(self, out: OnTrial) -> str:
        """Say with whom it is on trial until when, or that it is to be bought."""
        if out.decision == "bought":
            return _("With {name}, who keeps it ({trial}); it is not sold yet.").format(
                name=out.name, trial=out.number
            )
        return _("On trial with {name} until {day}, {left}.").format(
            name=out.name, day=self.day(out.due_on), left=days_until(out.due_on, self.today)
        )

    def _held(self, hold: HoldNow | None) -> str:
        if hold is None:
            return ""
        told = _("On hold for {name} until {day}, {left}").format(
            name=hold.name, day=self.day(hold.until), left=days_until(hold.until, self.today)
        )
        deposit = deposit_left(self.reading, hold.id)
        if deposit.minor:
            told += "; " + _("deposit {amount}").format(amount=self.amount(deposit))
        return told + "."

    def _why_here(self, stay: StayNow) -> str:
        agreement = agreement_in_force(self.reading, stay.id)
        asking = asking_price(self.reading, stay.id)
        if agreement is not None:
            return self._consigned(agreement, asking)
        if stay.reason == "own":
            told = _("The shop's own since {day}").format(day=self.day(stay.came_in_on))
            return self._asking(told, asking)
        word = field_of(Stay.reason).choice_word(stay.reason)
        told = _("Here since {day}, {reason}").format(day=self.day(stay.came_in_on), reason=_(word))
        if stay.reason == "to_sell":
            told += "; " + _("nothing is agreed yet")
        return told + "."

    def _consigned(self, agreement: AgreementNow, asking: Money | None) -> str:
        ends_on = agreement.terms.ends_on
        told = _("Consigned by {owners} under {agreement} until {day}, {left}").format(
            owners=names_of(agreement.owners),
            agreement=agreement.number,
            day=self.day(ends_on),
            left=days_until(ends_on, self.today),
        )
        if agreement.signed_on is None:
            told += ", " + _("not signed yet")
        return self._asking(told, asking)

    def _asking(self, told: str, asking: Money | None) -> str:
        if asking is None:
            return told + "."
        return told + "; " + _("asking {price}").format(price=self.amount(asking)) + "."
