"""The deposit of a trial: the player's money until it is set off at a sale, given back, or kept as agreed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopledger.acts.declare import Act, Outcome
from shopledger.acts.deposits import (
    HeldFor,
    bounce,
    forfeit,
    give_back_deposit,
    left_of,
    still_held,
    take_deposit,
)
from shopledger.acts.paying import above_zero, clear
from shopledger.acts.trial_forms import (
    ForfeitTrialDeposit,
    GiveTrialDepositBack,
    OfTrial,
    TakeTrialDeposit,
)
from shopledger.acts.trials import check_day, end_if_over, trial_going
from shopledger.model import Payment, Trial
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.words import N_, _
from shopledger.queries.on_trial import LineOfTrial, deposit_held_for, deposits_of_trial, lines_of_trial
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.TRIAL, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})


def held_deposits(reading: Reading, trial_id: int, *, cleared: bool) -> list[Payment]:
    """Give the deposits of a trial of which something is held, cleared or not."""
    return still_held(reading, deposits_of_trial(reading, trial_id), cleared=cleared)


def run_take_trial_deposit(writing: Writing, form: TakeTrialDeposit) -> Outcome:
    """Take a deposit for a trial that goes on."""
    trial = trial_going(writing, form.trial_id)
    check_day(trial, form.on)
    paper = take_deposit(
        writing,
        trial.person_id,
        trial.number,
        form.amount,
        form.method,
        reference=form.reference,
        cleared=form.cleared,
        field="amount",
        trial_id=trial.id,
    )
    return Outcome(Subject.TRIAL, trial.id, CHANGED, (paper,))


def refuse_ended(reading: Reading, trial_id: int) -> None:
    """Refuse a deposit for a trial that ended."""
    trial_going(reading, trial_id)


def refuse_none_waits(reading: Reading, trial_id: int) -> None:
    """Refuse to clear where no deposit waits."""
    trial_going(reading, trial_id)
    if not held_deposits(reading, trial_id, cleared=False):
        raise Refused(N_("No deposit waits to clear."))


def run_clear_trial_deposit(writing: Writing, form: OfTrial) -> Outcome:
    """Record that the deposits of a trial cleared."""
    refuse_none_waits(writing, form.trial_id)
    for deposit in held_deposits(writing, form.trial_id, cleared=False):
        clear(writing, deposit)
    return Outcome(Subject.TRIAL, form.trial_id, CHANGED)


def _whole(reading: Reading, trial_id: int) -> list[Payment]:
    return [
        deposit
        for deposit in deposits_of_trial(reading, trial_id)
        if left_of(reading, deposit) == deposit.minor
    ]


def refuse_no_bounce(reading: Reading, trial_id: int) -> None:
    """Refuse to record a deposit as come back where none is held whole."""
    trial_going(reading, trial_id)
    if not _whole(reading, trial_id):
        raise Refused(N_("There is no deposit that could come back."))


def run_bounce_trial_deposit(writing: Writing, form: OfTrial) -> Outcome:
    """Undo the deposits of a trial and their clearing; what is out stays out."""
    refuse_no_bounce(writing, form.trial_id)
    for deposit in _whole(writing, form.trial_id):
        bounce(writing, deposit)
    end_if_over(writing, trial_going(writing, form.trial_id))
    return Outcome(Subject.TRIAL, form.trial_id, CHANGED)


def refuse_nothing_held(reading: Reading, trial_id: int) -> None:
    """Refuse to give back or keep where no cleared deposit is held."""
    trial = trial_going(reading, trial_id)
    if not held_deposits(reading, trial_id, cleared=True):
        raise Refused(N_("No deposit that has cleared is held for the trial {trial}."), trial=trial.number)


def run_give_trial_deposit_back(writing: Writing, form: GiveTrialDepositBack) -> Outcome:
    """Give what is held of the deposits of a trial back to its player."""
    refuse_nothing_held(writing, form.trial_id)
    papers = [
        give_back_deposit(writing, deposit, left_of(writing, deposit), form.method)
        for deposit in held_deposits(writing, form.trial_id, cleared=True)
    ]
    end_if_over(writing, trial_going(writing, form.trial_id))
    return Outcome(Subject.TRIAL, form.trial_id, CHANGED, tuple(papers))


def preview_give_back(reading: Reading, form: GiveTrialDepositBack) -> Preview:
    """Give what goes back, and say what is still out without it."""
    refuse_nothing_held(reading, form.trial_id)
    trial = trial_going(reading, form.trial_id)
    held = held_deposits(reading, trial.id, cleared=True)
    whole = reading.money(sum(left_of(reading, deposit) for deposit in held))
    out = [line.words for line in lines_of_trial(reading, trial.id) if line.is_out]
    said = (_("Still out, and then without a deposit: {what}.").format(what=", ".join(out)),) if out else ()
    return Preview(trial.number, (Line(_("Goes back to the player"), amount=whole, strong=True),), said)


def _kept_for(reading: Reading, form: ForfeitTrialDeposit) -> tuple[Trial, LineOfTrial, int]:
    """Give the trial, the line and the minor units that are to be kept of its deposit.

    Raises: Typed, Refused: no such line, no instrument of the ledger, or more than is held.
    """
    refuse_nothing_held(reading, form.trial_id)
    trial = trial_going(reading, form.trial_id)
    check_day(trial, form.on)
    lines = lines_of_trial(reading, trial.id)
    line = next((one for one in lines if one.n == form.line), None)
    if line is None or line.stay_id is None:
        raise Typed(
            N_("Line {line} is no instrument of the ledger: nobody agreed what is kept for it."),
            field="line",
            line=form.line,
        )
    minor = above_zero(form.amount, reading.currency, "amount")
    held = sum(left_of(reading, one) for one in held_deposits(reading, trial.id, cleared=True))
    if minor > held:
        raise Refused(N_("{held} is held. Type that, or less."), field="amount", held=reading.money(held))
    return trial, line, minor


def run_forfeit_trial_deposit(writing: Writing, form: ForfeitTrialDeposit) -> Outcome:
    """Keep of the deposit what is agreed, shared between owner and shop as their agreement says."""
    trial, line, minor = _kept_for(writing, form)
    assert line.instrument_id is not None
    assert line.stay_id is not None
    held = HeldFor(line.instrument_id, line.stay_id, trial_line_id=line.id, trial_id=trial.id)
    papers: list[int] = []
    for deposit in held_deposits(writing, trial.id, cleared=True):
        part = min(minor, left_of(writing, deposit))
        if not part:
            continue
        try:
            shared, notes = forfeit(writing, held, deposit, part, form.why)
        except Refused as error:
            error.field = "amount"
            raise
        papers += notes
        if part > shared:  # by the agreement that part of it goes back
            papers.append(give_back_deposit(writing, deposit, part - shared, deposit.method))
        minor -= part
    end_if_over(writing, trial)
    return Outcome(Subject.TRIAL, trial.id, CHANGED | {Subject.INSTRUMENT}, tuple(papers))


def prefill_forfeit(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give all that is held."""
    return {"amount": deposit_held_for(reading, trial_id)}


TAKE_TRIAL_DEPOSIT = Act(
    name="take_trial_deposit",
    text=N_("Take a deposit"),
    subject=Subject.TRIAL,
    form=TakeTrialDeposit,
    run=run_take_trial_deposit,
    subject_input="trial_id",
    allowed=refuse_ended,
    opposite="give_trial_deposit_back",
    help=N_("The player's money while things are out; set off where one of them is sold to them."),
    papers=("payment_receipt",),
)
CLEAR_TRIAL_DEPOSIT = Act(
    name="clear_trial_deposit",
    text=N_("Record the deposit as cleared"),
    subject=Subject.TRIAL,
    form=OfTrial,
    run=run_clear_trial_deposit,
    subject_input="trial_id",
    allowed=refuse_none_waits,
    opposite="bounce_trial_deposit",
)
BOUNCE_TRIAL_DEPOSIT = Act(
    name="bounce_trial_deposit",
    text=N_("The deposit came back"),
    subject=Subject.TRIAL,
    form=OfTrial,
    run=run_bounce_trial_deposit,
    subject_input="trial_id",
    allowed=refuse_no_bounce,
)
GIVE_TRIAL_DEPOSIT_BACK = Act(
    name="give_trial_deposit_back",
    text=N_("Give the deposit back"),
    subject=Subject.TRIAL,
    form=GiveTrialDepositBack,
    run=run_give_trial_deposit_back,
    subject_input="trial_id",
    allowed=refuse_nothing_held,
    preview=preview_give_back,
    papers=("refund_receipt",),
)
FORFEIT_TRIAL_DEPOSIT = Act(
    name="forfeit_trial_deposit",
    text=N_("Keep of the deposit what is agreed"),
    subject=Subject.TRIAL,
    form=ForfeitTrialDeposit,
    run=run_forfeit_trial_deposit,
    subject_input="trial_id",
    allowed=refuse_nothing_held,
    prefill=prefill_forfeit,
    help=N_("Only as agreed: what is kept is shared between owner and shop as their agreement says."),
    papers=("forfeit_note", "refund_receipt"),
)
ACTS = (
    TAKE_TRIAL_DEPOSIT,
    CLEAR_TRIAL_DEPOSIT,
    BOUNCE_TRIAL_DEPOSIT,
    GIVE_TRIAL_DEPOSIT_BACK,
    FORFEIT_TRIAL_DEPOSIT,
)
