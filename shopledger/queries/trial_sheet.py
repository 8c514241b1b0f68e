"""The page about a trial: what is out with whom until when, each line as decided, its condition, deposit and papers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import Payment, Person, Sale, Trial, TrialExtension, TrialReminder
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.damages import damages_of_trial
from shopledger.queries.declared import facts_of, row_of
from shopledger.queries.facts.trial_return import new_marks
from shopledger.queries.facts.trials import report_numbers
from shopledger.queries.instrument_standing import days_until
from shopledger.queries.on_trial import LineOfTrial, deposit_held_for, lines_of_trial
from shopledger.queries.papers import papers_of
from shopledger.queries.photographs import photographs_of_instrument
from shopledger.queries.shapes import State, Subject
from shopledger.queries.sheet_shapes import Fact, Group, Line, Sheet, Shot
from shopledger.queries.states import TRIAL_STATES
from shopledger.queries.trial_history import history_of_trial
from shopledger.queries.trial_lines import decision_words
from shopledger.rules.trial_state import TrialDays, trial_state

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about a trial.

    Raises: NotFound: there is no such trial.
    """
    row = row_of(reading, Trial, id)
    lines = lines_of_trial(reading, id)
    player = reading.session.execute(
        select(Person.name, Person.phone, Person.email).where(Person.id == row.person_id)
    ).one()
    reached = player.phone or player.email
    return Sheet(
        subject=Subject.TRIAL,
        id=id,
        title=f"{row.number} {player.name}",
        line=" · ".join(part for part in (reached, ", ".join(line.words for line in lines)) if part),
        standing=_standing(reading, row, lines, player.name),
        state=state_now(reading, row, lines),
        groups=(
            Group(N_("What is lent"), tuple(_line(reading, line) for line in lines)),
            Group(N_("Condition"), _conditions(reading, lines)),
            damages_of_trial(reading, id),
            Group(N_("What is agreed"), facts_of(reading, Trial, row, without=("number", "person_id"))),
            Group(N_("Extensions"), _extensions(reading, id)),
            Group(N_("Letters"), _letters(reading, id)),
        ),
        money=_money(reading, id, lines),
        money_title=N_("What is at stake"),
        papers=papers_of(reading, trial_id=id),
        photographs=_photographs(reading, lines),
        history=history_of_trial(reading, row, lines),
    )


def state_now(reading: Reading, row: Row[Any], lines: tuple[LineOfTrial, ...]) -> State:
    """Give the chip of a trial (all columns of its record)."""
    days = TrialDays(
        due_on=row.due_on,
        ended_on=row.ended_on,
        undecided=sum(line.decided_on is None for line in lines),
        to_buy=sum(line.is_out and line.decision == "bought" for line in lines),
    )
    return TRIAL_STATES[trial_state(days, reading.ledger.today())]


def _standing(reading: Reading, row: Row[Any], lines: tuple[LineOfTrial, ...], player: str) -> str:
    """Give where a trial stands, in words."""
    manners = reading.ledger.manners
    if row.ended_on is not None:
        return _("Over since {day}.").format(day=show_day(row.ended_on, manners))
    told = []
    if any(line.decided_on is None for line in lines):
        told.append(
            _("With {name} until {day}, {left}.").format(
                name=player,
                day=show_day(row.due_on, manners),
                left=days_until(row.due_on, reading.ledger.today()),
            )
        )
    else:
        told.append(_("Everything is decided."))
    kept = [line.words for line in lines if line.is_out and line.decision == "bought"]
    if kept:
        told.append(
            _("To be bought by {name}, and not sold yet: {what}.").format(name=player, what=", ".join(kept))
        )
    held = deposit_held_for(reading, row.id)
    if held.minor:
        told.append(_("Deposit {amount} held.").format(amount=show_amount(held, manners)))
    if row.signed_on is None:
        told.append(_("The agreement is not signed."))
    return " ".join(told)


def _line(reading: Reading, line: LineOfTrial) -> Fact:
    """Give a line with its value, and what was decided of it."""
    said = [decision_words(reading, line.decision, line.decided_on, line.sale_id is not None) or _("out")]
    if line.sale_id is not None:
        said.append(reading.session.scalar(select(Sale.number).where(Sale.id == line.sale_id)) or "")
    return Fact(
        f"{line.n}. {line.words}", reading.money(line.value), ", ".join(part for part in said if part)
    )


def _conditions(reading: Reading, lines: tuple[LineOfTrial, ...]) -> tuple[Fact, ...]:
    """Give the condition of each line going out and coming back, and what is new."""
    reports = report_numbers(
        reading, (one for line in lines for one in (line.report_out_id, line.report_back_id))
    )
    facts = []
    for line in lines:
        for label, words, report in (
            (_("Line {n} going out"), line.condition_out, line.report_out_id),
            (_("Line {n} coming back"), line.condition_back, line.report_back_id),
        ):
            said = " ".join(words.split())
            number = reports.get(report or 0, "")
            if said or number:
                facts.append(Fact(label.format(n=line.n), said or number, number if said else ""))
        new = new_marks(reading, line)
        if new:
            facts.append(Fact(_("New on line {n}").format(n=line.n), "; ".join(new)))
    return tuple(facts)


def _extensions(reading: Reading, trial_id: int) -> tuple[Fact, ...]:
    rows = reading.session.scalars(
        select(TrialExtension).where(TrialExtension.trial_id == trial_id).order_by(TrialExtension.id.desc())
    )
    manners = reading.ledger.manners
    return tuple(
        Fact(
            _("Agreed {day}").format(day=show_day(one.agreed_on, manners)),
            one.due_on,
            ", ".join(
                part
                for part in (_("was {day}").format(day=show_day(one.due_before_on, manners)), one.agreed_by)
                if part
            ),
        )
        for one in rows
    )


def _letters(reading: Reading, trial_id: int) -> tuple[Fact, ...]:
    rows = reading.session.execute(
        select(TrialReminder.sent_on, TrialReminder.due_on)
        .where(TrialReminder.trial_id == trial_id)
        .order_by(TrialReminder.id.desc())
    )
    manners = reading.ledger.manners
    return tuple(
        Fact(N_("Reminder"), sent_on, _("due {day}").format(day=show_day(due_on, manners)))
        for sent_on, due_on in rows
    )


def _money(reading: Reading, trial_id: int, lines: tuple[LineOfTrial, ...]) -> tuple[Line, ...]:
    """Give the value that is out and what of the deposit came in and is held."""
    manners = reading.ledger.manners
    told = [Line(_("Value out"), amount=reading.money(sum(line.value for line in lines if line.is_out)))]
    deposits = reading.session.scalars(
        select(Payment).where(Payment.trial_id == trial_id, Payment.deposit_id.is_(None)).order_by(Payment.id)
    ).all()
    for one in deposits:
        how = show_day(one.received_on, manners)
        if one.bounced_on is not None:
            how = _("came back {day}").format(day=show_day(one.bounced_on, manners))
        elif one.cleared_on is None:
            how = _("{day}, not cleared").format(day=how)
        told.append(Line(_("Deposit {number}").format(number=one.number), how, reading.money(one.minor)))
    if deposits:
        told.append(Line(_("Deposit held"), amount=deposit_held_for(reading, trial_id), strong=True))
    return tuple(told)


def _photographs(reading: Reading, lines: tuple[LineOfTrial, ...]) -> tuple[Shot, ...]:
    """Give the newest photograph of each instrument lent."""
    return tuple(
        shot
        for line in lines
        if line.instrument_id is not None
        for shot in photographs_of_instrument(reading, line.instrument_id)[:1]
    )
