"""A trial while it goes on: its lines as they are chosen, its end; a later end, a signature, a letter to its player."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.acts.declare import Act, Outcome
from shopledger.acts.papers import further_number, leave_paper
from shopledger.acts.returning import line_numbers
from shopledger.acts.terms import live_agreement, newest_terms
from shopledger.acts.trial_forms import ExtendTrial, OfTrial, SignTrial
from shopledger.model import Stay, Trial, TrialExtension, TrialReminder
from shopledger.papers.parts import PaperFacts
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.instrument_standing import days_until
from shopledger.queries.on_trial import (
    LineOfTrial,
    deposit_held_for,
    lines_of_trial,
    trial_named,
)
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.trial_state import DUE_SOON_DAYS
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.TRIAL, Subject.INSTRUMENT, Subject.PERSON})


def trial_going(reading: Reading, trial_id: int) -> Trial:
    """Give a trial that has not ended.

    Raises: NotFound: there is none. Refused: it ended.
    """
    trial = trial_named(reading, trial_id)
    if trial.ended_on is not None:
        raise Refused(N_("The trial {trial} ended on {day}."), trial=trial.number, day=trial.ended_on)
    return trial


def check_day(trial: Trial, on: date) -> None:
    """Refuse an act on a trial before it began.

    Raises: Typed, naming the day.
    """
    if on < trial.began_on:
        raise Typed(
            N_("The trial {trial} began on {day}: it can't be before."),
            field="on",
            trial=trial.number,
            day=trial.began_on,
        )


def lines_out(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    """Give the lines of a trial that are still with the player."""
    return tuple(line for line in lines_of_trial(reading, trial_id) if line.is_out)


def need_lines_out(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    """Give the lines that are still with the player.

    Raises: NotFound: there is no such trial. Refused: nothing of it is out.
    """
    trial = trial_named(reading, trial_id)
    out = lines_out(reading, trial_id)
    if not out:
        raise Refused(N_("Nothing of the trial {trial} is out any more."), trial=trial.number)
    return out


def chosen(lines: Sequence[LineOfTrial], typed: str, field: str = "lines") -> tuple[LineOfTrial, ...]:
    """Give the lines whose numbers were typed, all of them where nothing was.

    Raises: Typed: a number is none of theirs.
    """
    numbers = line_numbers(typed, field)
    found = tuple(line for line in lines if not numbers or line.n in numbers)
    missing = numbers - {line.n for line in found}
    if missing:
        raise Typed(
            N_("Line {line} can't be meant here. Type one of {lines}."),
            field=field,
            line=min(missing),
            lines=", ".join(str(line.n) for line in lines),
        )
    return found


def line_words(line: LineOfTrial) -> str:
    """Give a line as a preview names it: its number and what it is."""
    return f"{line.n}. {line.words}"


def end_if_over(writing: Writing, trial: Trial) -> None:
    """End a trial of which every line is decided and nothing of the deposit is held: on the last of these days."""
    writing.session.flush()
    if (
        trial.ended_on is None
        and not lines_out(writing, trial.id)
        and not deposit_held_for(writing, trial.id)
    ):
        decided = [line.decided_on for line in lines_of_trial(writing, trial.id) if line.decided_on]
        trial.ended_on = max(writing.on, *decided)
        writing.session.flush()


def leave_trial_paper(writing: Writing, trial: Trial, kind: str, facts: PaperFacts) -> int:
    """Leave a paper of a trial, found with the player; of a single instrument also with that."""
    stays = {line.stay_id: line.instrument_id for line in lines_of_trial(writing, trial.id)}
    alone = next(iter(stays.values())) if len(stays) == 1 else None
    return leave_paper(
        writing, kind, facts, instrument_id=alone, person_id=trial.person_id, trial_id=trial.id
    )


def check_agreed_until(reading: Reading, stay: Stay, due_on: date, field: str = "due_on") -> None:
    """Refuse an end of a trial that the agreement of a stay does not reach.

    Raises: Refused: the agreement forbids trials, or ends before.
    """
    agreement = live_agreement(reading, stay.id)
    if agreement is None:
        return
    terms = newest_terms(reading, agreement.id)
    if not terms.trials_allowed:
        raise Refused(
            N_("{agreement} does not allow trials. Agree an addendum first."), agreement=agreement.number
        )
    if terms.ends_on < due_on:
        raise Refused(
            N_(
                "{agreement} ends on {day}, before the trial would. Renew it first, or choose an earlier day."
            ),
            field=field,
            agreement=agreement.number,
            day=terms.ends_on,
        )


def _extendable(reading: Reading, form: ExtendTrial) -> Trial:
    trial = trial_going(reading, form.trial_id)
    check_day(trial, form.on)
    lines = need_lines_out(reading, trial.id)
    if form.due_on <= trial.due_on:
        raise Typed(
            N_("It is due on {day} as agreed before. A later end is after that."),
            field="due_on",
            day=trial.due_on,
        )
    for line in lines:
        if line.stay_id is not None:
            check_agreed_until(reading, reading.session.get_one(Stay, line.stay_id), form.due_on)
    return trial


def run_extend_trial(writing: Writing, form: ExtendTrial) -> Outcome:
    """Agree a later end; the earlier ones stay on record."""
    from shopledger.queries.facts.trial_extension import trial_extension_facts

    trial = _extendable(writing, form)
    extension = writing.add(
        TrialExtension(
            trial_id=trial.id,
            agreed_on=writing.on,
            due_before_on=trial.due_on,
            due_on=form.due_on,
            agreed_by=form.agreed_by,
        )
    )
    trial.due_on = form.due_on
    writing.session.flush()
    facts = trial_extension_facts(writing, extension.id, further_number(writing, trial.number), writing.on)
    paper = leave_trial_paper(writing, trial, "trial_extension", facts)
    return Outcome(Subject.TRIAL, trial.id, CHANGED, (paper,))


def refuse_nothing_out(reading: Reading, trial_id: int) -> None:
    """Refuse what is about things that are out where none is."""
    need_lines_out(reading, trial_id)


def preview_extend_trial(reading: Reading, form: ExtendTrial) -> Preview:
    """Give until when it goes on."""
    trial = _extendable(reading, form)
    manners = reading.ledger.manners
    return Preview(
        trial.number,
        (
            Line(_("Due before"), show_day(trial.due_on, manners)),
            Line(_("Back by"), show_day(form.due_on, manners), strong=True),
        ),
    )


def run_sign_trial(writing: Writing, form: SignTrial) -> Outcome:
    """Record that the trial agreement was signed by both."""
    refuse_signed(writing, form.trial_id)
    trial = trial_going(writing, form.trial_id)
    check_signed(form.signed_on, form.on, "signed_on")
    trial.signed_on = form.signed_on
    writing.session.flush()
    return Outcome(Subject.TRIAL, trial.id, CHANGED)


def check_signed(signed_on: date | None, on: date, field: str) -> None:
    """Refuse a signature after the day it is recorded on."""
    if signed_on is not None and signed_on > on:
        raise Typed(
            N_("It can't have been signed on {day}: that is after the day of this act."),
            field=field,
            day=signed_on,
        )


def refuse_signed(reading: Reading, trial_id: int) -> None:
    """Refuse to record a signature that is on record, or on a trial that ended."""
    trial = trial_going(reading, trial_id)
    if trial.signed_on is not None:
        raise Refused(N_("{trial} was signed on {day}."), trial=trial.number, day=trial.signed_on)


def prefill_sign_trial(reading: Reading, _trial_id: int) -> Mapping[str, Any]:
    """Give today."""
    return {"signed_on": reading.ledger.today()}


def _remindable(reading: Reading, trial_id: int, on: date) -> Trial:
    """Give a trial of whose end the player can be reminded.

    Raises: NotFound, Refused: nothing undecided is out, or it is not due soon.
    """
    trial = trial_going(reading, trial_id)
    if all(line.decided_on is not None for line in lines_out(reading, trial.id)):
        raise Refused(N_("Nothing of the trial {trial} waits to be decided."), trial=trial.number)
    if (trial.due_on - on).days > DUE_SOON_DAYS:
        raise Refused(
            N_("The trial {trial} runs until {day}: a reminder is written from {days} days before."),
            trial=trial.number,
            day=trial.due_on,
            days=DUE_SOON_DAYS,
        )
    return trial


def run_remind_of_trial(writing: Writing, form: OfTrial) -> Outcome:
    """Write a letter that reminds of a trial's end, and keep that it went out; at most one a day."""
    from shopledger.queries.facts.trial_reminder import trial_reminder_facts

    trial = _remindable(writing, form.trial_id, form.on)
    check_day(trial, form.on)
    sent = select(TrialReminder.id).where(
        TrialReminder.trial_id == trial.id, TrialReminder.sent_on == writing.on
    )
    if writing.session.scalar(sent) is not None:
        raise Refused(
            N_("A letter about the trial {trial} went out on {day} already."),
            field="on",
            trial=trial.number,
            day=writing.on,
        )
    facts = trial_reminder_facts(writing, trial.id, writing.number("trial_reminder"), writing.on)
    writing.add(TrialReminder(trial_id=trial.id, sent_on=writing.on, due_on=trial.due_on))
    paper = leave_trial_paper(writing, trial, "trial_reminder", facts)
    return Outcome(Subject.TRIAL, trial.id, CHANGED, (paper,))


def refuse_no_reminder(reading: Reading, trial_id: int) -> None:
    """Refuse a reminder of what is not due soon."""
    _remindable(reading, trial_id, reading.ledger.today())


def preview_remind_of_trial(reading: Reading, form: OfTrial) -> Preview:
    """Give what the letter reminds of."""
    trial = _remindable(reading, form.trial_id, form.on)
    manners = reading.ledger.manners
    lines = [line for line in lines_out(reading, trial.id) if line.decided_on is None]
    return Preview(
        _("A letter about {trial}").format(trial=trial.number),
        (
            Line(_("Back by"), f"{show_day(trial.due_on, manners)}, {days_until(trial.due_on, form.on)}"),
            *(Line(line_words(line)) for line in lines),
        ),
    )


EXTEND_TRIAL = Act(
    name="extend_trial",
    text=N_("Extend the trial"),
    subject=Subject.TRIAL,
    form=ExtendTrial,
    run=run_extend_trial,
    subject_input="trial_id",
    allowed=refuse_nothing_out,
    preview=preview_extend_trial,
    papers=("trial_extension",),
)
SIGN_TRIAL = Act(
    name="sign_trial",
    text=N_("Record the signatures"),
    subject=Subject.TRIAL,
    form=SignTrial,
    run=run_sign_trial,
    subject_input="trial_id",
    allowed=refuse_signed,
    prefill=prefill_sign_trial,
)
REMIND_OF_TRIAL = Act(
    name="remind_of_trial",
    text=N_("Remind of its end"),
    subject=Subject.TRIAL,
    form=OfTrial,
    run=run_remind_of_trial,
    subject_input="trial_id",
    allowed=refuse_no_reminder,
    preview=preview_remind_of_trial,
    help=N_("A letter, from a week before its end on; nothing is sold or taken back by it."),
    papers=("trial_reminder",),
)
ACTS = (EXTEND_TRIAL, SIGN_TRIAL, REMIND_OF_TRIAL)
