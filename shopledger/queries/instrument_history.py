"""The history of an instrument: one band from its first entry to now, custody as the ground, events as marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import ColumnElement, select, union

from shopledger.model import (
    Agreement,
    ConditionReport,
    Custody,
    Hold,
    Job,
    Loss,
    Measurement,
    Payout,
    PayoutShare,
    Person,
    PriceChange,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    SetupString,
    Stay,
    Terms,
    Trial,
    TrialLine,
    field_of,
)
from shopledger.model.agreements import ENDED_HOW, TERMS_KINDS
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import N_, _
from shopledger.queries import place_states, shapes
from shopledger.queries.job_lines import in_short
from shopledger.queries.papers import numbered
from shopledger.queries.place_states import state_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import History, Mark, MarkKind, Span

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


class Historian:
    """Gathers the marks of one instrument, each with the paper that tells of it where there is one."""

    def __init__(self, reading: Reading, instrument_id: int) -> None:
        """Read which stays and sale lines it had."""
        self.reading = reading
        self.instrument_id = instrument_id
        self.stay_ids = list(
            reading.session.scalars(
                select(Stay.id).where(Stay.instrument_id == instrument_id).order_by(Stay.id)
            )
        )
        self.line_ids = list(
            reading.session.scalars(select(SaleLine.id).where(SaleLine.instrument_id == instrument_id))
        )
        self.events: list[tuple[Mark, str]] = []

    def mark(
        self,
        on: date,
        kind: MarkKind,
        words: str,
        number: str = "",
        subject: tuple[Subject, int] | None = None,
    ) -> None:
        """Add an event; `number` is that of its paper."""
        self.events.append((Mark(on, kind, words, None, subject), number))

    def _ours(self) -> ColumnElement[bool]:
        """Settlements of its sales, and of its loss."""
        losses = select(Loss.id).where(Loss.stay_id.in_(self.stay_ids)).scalar_subquery()
        return Settlement.sale_line_id.in_(self.line_ids) | Settlement.loss_id.in_(losses)

    def _payouts(self) -> Sequence[Any]:
        return self.reading.session.execute(
            select(
                Payout.id,
                Payout.number,
                Payout.paid_on,
                PayoutShare.minor,
                Person.name,
                Person.id.label("person_id"),
            )
            .join(PayoutShare, PayoutShare.payout_id == Payout.id)
            .join(SettlementShare, SettlementShare.id == PayoutShare.settlement_share_id)
            .join(Settlement, Settlement.id == SettlementShare.settlement_id)
            .join(Person, Person.id == Payout.person_id)
            .where(self._ours())
            .order_by(Payout.id)
        ).all()

    def amount(self, minor: int) -> str:
        """Give an amount in words of the reader's manners."""
        return show_amount(self.reading.money(minor), self.reading.ledger.manners, dash=False)

    def stays(self) -> None:
        """Mark arrivals and hand-overs."""
        reason, ending = field_of(Stay.reason), field_of(Stay.ending)
        rows = self.reading.session.execute(
            select(Stay.number, Stay.reason, Stay.came_in_on, Stay.ended_on, Stay.ending, Stay.handed_to)
            .where(Stay.id.in_(self.stay_ids))
            .order_by(Stay.id)
        )
        for number, why, came_in_on, ended_on, ended, handed_to in rows:
            words = _("Came in ({number}), {why}").format(number=number, why=_(reason.choice_word(why)))
            self.mark(came_in_on, MarkKind.ARRIVAL, words, number)
            if ended_on is not None:
                how = _(ending.choice_word(ended))
                how = how[:1].upper() + how[1:]
                words = _("{how}: {name}").format(how=how, name=handed_to) if handed_to else how
                self.mark(ended_on, MarkKind.HANDOVER, words)

    def terms(self) -> None:
        """Mark agreements, addenda, renewals and ends."""
        kinds, ends = dict(TERMS_KINDS), dict(ENDED_HOW)
        rows = self.reading.session.execute(
            select(Agreement.number, Terms.kind, Terms.agreed_on, Terms.asking)
            .join(Terms, Terms.agreement_id == Agreement.id)
            .where(Agreement.stay_id.in_(self.stay_ids))
            .order_by(Terms.id)
        )
        for number, kind, on, asking in rows:
            word = _(kinds.get(kind, kind))
            words = _("{kind} {number}, asking {asking}").format(
                kind=word[:1].upper() + word[1:], number=number, asking=self.amount(asking)
            )
            self.mark(on, MarkKind.TERMS, words, number)
        ended = self.reading.session.execute(
            select(Agreement.number, Agreement.ended_on, Agreement.ended_how).where(
                Agreement.stay_id.in_(self.stay_ids),
                Agreement.ended_on.is_not(None),
                Agreement.ended_how != "sold",
            )
        )
        for number, ended_on, how in ended:
            words = _("{number} ended: {how}").format(number=number, how=_(ends.get(how or "", how or "")))
            if ended_on is not None:
                self.mark(ended_on, MarkKind.TERMS, words)

    def prices(self) -> None:
        """Mark every change of the asking price; the first price of a stay is no change."""
        rows = self.reading.session.execute(
            select(PriceChange.stay_id, PriceChange.since, PriceChange.asking, PriceChange.why)
            .where(PriceChange.stay_id.in_(self.stay_ids))
            .order_by(PriceChange.id)
        )
        before: dict[int, int] = {}
        for stay_id, since, asking, why in rows:
            if stay_id in before and before[stay_id] != asking:
                words = _("Asking {asking}, before {before}").format(
                    asking=self.amount(asking), before=self.amount(before[stay_id])
                )
                self.mark(since, MarkKind.PRICE, f"{words}. {why}" if why else words)
            before[stay_id] = asking

    def holds(self) -> None:
        """Mark holds for players."""
        rows = self.reading.session.execute(
            select(Hold.since, Hold.person_id, Person.name)
            .join(Person, Person.id == Hold.person_id)
            .where(Hold.stay_id.in_(self.stay_ids))
            .order_by(Hold.id)
        )
        for since, person_id, name in rows:
            words = _("On hold for {name}").format(name=name)
            self.mark(since, MarkKind.OTHER, words, subject=(Subject.PERSON, person_id))

    def trials(self) -> None:
        """Mark when it went out on trial, and what was decided of it; the sale is marked by itself."""
        words = {"returned": N_("Back from the trial with {name}"), "bought": N_("To be kept by {name}")}
        rows = self.reading.session.execute(
            select(
                Trial.id, Trial.number, Trial.began_on, Person.name, TrialLine.decision, TrialLine.decided_on
            )
            .join(TrialLine, TrialLine.trial_id == Trial.id)
            .join(Person, Person.id == Trial.person_id)
            .where(TrialLine.stay_id.in_(self.stay_ids))
            .order_by(TrialLine.id)
        )
        for trial_id, number, began_on, name, decision, decided_on in rows:
            about = (Subject.TRIAL, trial_id)
            told = _("On trial with {name} ({number})").format(name=name, number=number)
            self.mark(began_on, MarkKind.HANDOVER, told, number, about)
            if decision in words and decided_on is not None:
                self.mark(decided_on, MarkKind.OTHER, _(words[decision]).format(name=name), subject=about)

    def sales(self) -> None:
        """Mark sales and returns."""
        rows = self.reading.session.execute(
            select(
                Sale.id,
                Sale.number,
                Sale.sold_on,
                Person.name,
                SaleLine.price,
                SaleLine.returned_on,
                SaleLine.returned_why,
            )
            .join(SaleLine, SaleLine.sale_id == Sale.id)
            .join(Person, Person.id == Sale.buyer_id)
            .where(SaleLine.id.in_(self.line_ids))
            .order_by(SaleLine.id)
        )
        for sale_id, number, sold_on, name, price, returned_on, why in rows:
            about = (Subject.SALE, sale_id)
            words = _("Sold to {name} for {price} ({number})").format(
                name=name, price=self.amount(price), number=number
            )
            self.mark(sold_on, MarkKind.SALE, words, subject=about)
            if returned_on is not None:
                words = _("Taken back ({number})").format(number=number)
                self.mark(returned_on, MarkKind.SALE, f"{words}: {why}" if why else words, subject=about)

    def money(self) -> None:
        """Mark settlements and payouts."""
        settled = self.reading.session.execute(
            select(Settlement.number, Settlement.settled_on).where(self._ours())
        )
        for number, on in settled:
            self.mark(on, MarkKind.MONEY, _("Settled, account sales {number}").format(number=number), number)
        for row in self._payouts():
            words = _("Paid {amount} to {name} ({number})").format(
                amount=self.amount(row.minor), name=row.name, number=row.number
            )
            self.mark(row.paid_on, MarkKind.MONEY, words, row.number)

    def conditions(self) -> None:
        """Mark condition reports."""
        occasion = field_of(ConditionReport.occasion)
        rows = self.reading.session.execute(
            select(ConditionReport.number, ConditionReport.made_on, ConditionReport.occasion)
            .where(ConditionReport.instrument_id == self.instrument_id)
            .order_by(ConditionReport.id)
        )
        for number, on, why in rows:
            words = _("Condition report {number}, {occasion}").format(
                number=number, occasion=_(occasion.choice_word(why))
            )
            self.mark(on, MarkKind.OTHER, words, number)

    def jobs(self) -> None:
        """Mark when each job was opened and how it ended, whoever owned the instrument then."""
        ending = field_of(Job.ending)
        rows = self.reading.session.execute(
            select(Job.id, Job.number, Job.opened_on, Job.ended_on, Job.ending, Job.hears, Person.name)
            .join(Person, Person.id == Job.client_id)
            .where(Job.instrument_id == self.instrument_id)
            .order_by(Job.id)
        )
        for job_id, number, opened_on, ended_on, how, hears, name in rows:
            about = (Subject.JOB, job_id)
            words = _("Job {number} for {name}: {wanted}").format(
                number=number, name=name, wanted=in_short(hears)
            )
            self.mark(opened_on, MarkKind.OTHER, words, subject=about)
            if ended_on is not None:
                words = _("Job {number}: {how}").format(number=number, how=_(ending.choice_word(how)))
                self.mark(ended_on, MarkKind.OTHER, words, subject=about)

    def setups(self) -> None:
        """Mark the days on which a job's set-up was taken, each once."""
        words = {"before": N_("Set-up taken before job {number}"), "after": N_("Set up, job {number}")}
        taken = (
            select(record.taken_on, record.stage, Job.id, Job.number)
            .join(Job, Job.id == record.job_id)
            .where(record.instrument_id == self.instrument_id, record.stage.in_(words))
            for record in (Measurement, SetupString)
        )
        rows = self.reading.session.execute(union(*taken)).all()
        for on, stage, job_id, number in sorted(rows, key=lambda row: (row[0], row[2], row[1] != "before")):
            self.mark(
                on, MarkKind.OTHER, _(words[stage]).format(number=number), subject=(Subject.JOB, job_id)
            )


def spans_of(reading: Reading, stay_ids: Sequence[int]) -> tuple[Span, ...]:
    """Give the stretches of custody; time away from the shop after a hand-over is a stretch of its own."""
    rows = reading.session.execute(
        select(Custody.place, Custody.since, Person.name)
        .outerjoin(Person, Person.id == Custody.person_id)
        .where(Custody.stay_id.in_(stay_ids))
        .order_by(Custody.id)
    ).all()
    found: list[Span] = []
    for n, (place, since, name) in enumerate(rows):
        until = rows[n + 1].since if n + 1 < len(rows) else None
        state = _place_state(place)
        if until is not None and until <= since:
            continue
        words = _(state.word)
        found.append(
            Span(since, until, state, _("{where}, {name}").format(where=words, name=name) if name else words)
        )
    return tuple(found)


def _place_state(place: str) -> shapes.State:
    if place in ("handed_over", "lost"):
        return place_states.LOST if place == "lost" else place_states.HANDED_OVER
    return state_of(place, False, None, False) or place_states.AWAY


def history_of(reading: Reading, instrument_id: int) -> History:
    """Give the whole history of an instrument, marks in the order of their days."""
    historian = Historian(reading, instrument_id)
    for gather in (
        historian.stays,
        historian.terms,
        historian.prices,
        historian.holds,
        historian.trials,
        historian.sales,
        historian.money,
        historian.jobs,
        historian.conditions,
        historian.setups,
    ):
        gather()
    papers = numbered(reading, [number for _mark, number in historian.events if number])
    marks = [replace(mark, paper_id=papers.get(number)) for mark, number in historian.events]
    # sorted() is stable: of marks on one day those gathered first stay first.
    return History(spans_of(reading, historian.stay_ids), tuple(sorted(marks, key=lambda mark: mark.on)))
