"""What becomes of things on trial, line by line: back again, to be bought, on trial after all, or lost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from shopledger.acts.conditions import MarkRow, leave_report, prefill_make_report, record_report
from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Outcome
from shopledger.acts.lending_ready import said_of
from shopledger.acts.papers import further_number
from shopledger.acts.trial_forms import LoseThing, OfTrialLines, TakeTrialBack
from shopledger.acts.trials import (
    CHANGED,
    check_day,
    chosen,
    end_if_over,
    leave_trial_paper,
    line_words,
    lines_out,
    need_lines_out,
    refuse_nothing_out,
    trial_going,
)
from shopledger.model import ConditionReport, TrialLine
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.words import N_, _
from shopledger.queries.on_trial import LineOfTrial, deposit_held_for
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing


def _record(writing: Writing, line: LineOfTrial) -> TrialLine:
    return writing.session.get_one(TrialLine, line.id)


def _coming_back(reading: Reading, form: TakeTrialBack) -> tuple[tuple[LineOfTrial, ...], frozenset[int]]:
    """Give the lines that come back, and the numbers of those that the form's words are about.

    Raises: Typed, Refused, NotFound: they can't come back so; the field names why.
    """
    trial = trial_going(reading, form.trial_id)
    check_day(trial, form.on)
    lines = chosen(need_lines_out(reading, trial.id), form.lines)
    instruments = [line.n for line in lines if line.stay_id is not None]
    if form.marks or form.pictures:
        return lines, frozenset({said_of(instruments, form.report_line)})
    if not form.condition_back.strip():
        return lines, frozenset()
    if form.report_line is None and not instruments:
        return lines, frozenset(line.n for line in lines)
    return lines, frozenset(
        {said_of(instruments if form.report_line is None else [line.n for line in lines], form.report_line)}
    )


def run_take_trial_back(writing: Writing, form: TakeTrialBack) -> Outcome:
    """Take things back that a player tried: they are here again, with what was seen of them."""
    from shopledger.queries.facts.trial_return import trial_return_facts

    lines, said = _coming_back(writing, form)
    trial = trial_going(writing, form.trial_id)
    papers: list[int] = []
    for line in lines:
        record = _record(writing, line)
        if line.n in said:
            record.condition_back = form.condition_back
            if form.marks or form.pictures:
                made = _report(writing, form, line)
                papers.append(leave_report(writing, made, trial.id))
                record.report_back_id = made.id
        record.decided_on, record.decision = writing.on, "returned"
        writing.session.flush()
        if line.stay_id is not None:
            move(writing, line.stay_id, "here", words=trial.number)
    facts = trial_return_facts(
        writing, trial.id, [line.n for line in lines], further_number(writing, trial.number), writing.on
    )
    papers.insert(0, leave_trial_paper(writing, trial, "trial_return", facts))
    end_if_over(writing, trial)
    return Outcome(Subject.TRIAL, trial.id, CHANGED, tuple(papers))


def _report(writing: Writing, form: TakeTrialBack, line: LineOfTrial) -> ConditionReport:
    assert line.instrument_id is not None
    return record_report(
        writing,
        line.instrument_id,
        "trial_back",
        form.marks,
        form.pictures,
        stay_id=line.stay_id,
        made_by=form.by,
        overall=form.condition_back,
    )


def prefill_take_trial_back(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give the numbers of the lines that are out and not to be bought; of one instrument, the marks seen before."""
    out = lines_out(reading, trial_id)
    open_lines = [line for line in out if line.decided_on is None] or list(out)
    found: dict[str, Any] = {"lines": _numbers(open_lines)}
    instruments = [line for line in open_lines if line.instrument_id is not None]
    if len(instruments) == 1 and instruments[0].instrument_id is not None:
        marks: tuple[MarkRow, ...] = prefill_make_report(reading, instruments[0].instrument_id)["marks"]
        if marks:
            found |= {"marks": marks, "report_line": instruments[0].n}
    return found


def preview_take_trial_back(reading: Reading, form: TakeTrialBack) -> Preview:
    """Give what comes back and what stays out."""
    lines, told_of = _coming_back(reading, form)
    still = [line for line in lines_out(reading, form.trial_id) if line not in lines]
    silent = [line.words for line in lines if line.stay_id is not None and line.n not in told_of]
    said = [_("Nothing is said of the condition of {what}.").format(what=what) for what in silent]
    held = deposit_held_for(reading, form.trial_id)
    told = [Line(line_words(line), _("comes back")) for line in lines]
    told += [Line(line_words(line), _("stays out")) for line in still]
    if held.minor and not still:
        told.append(Line(_("Deposit still held"), _("give it back by its own act"), held))
    return Preview(trial_going(reading, form.trial_id).number, tuple(told), tuple(said))


def _to_decide(reading: Reading, form: OfTrialLines) -> tuple[LineOfTrial, ...]:
    """Give the lines that are to be bought.

    Raises: Typed, Refused: none of those chosen waits to be decided.
    """
    trial = trial_going(reading, form.trial_id)
    check_day(trial, form.on)
    return chosen(_undecided(reading, trial.id), form.lines)


def _undecided(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    trial = trial_going(reading, trial_id)
    waiting = tuple(line for line in lines_out(reading, trial_id) if line.decided_on is None)
    if not waiting:
        raise Refused(N_("Nothing of the trial {trial} waits to be decided."), trial=trial.number)
    return waiting


def run_decide_to_buy(writing: Writing, form: OfTrialLines) -> Outcome:
    """Note that the player wants to keep lines; they stay out until they are sold by an act of its own."""
    for line in _to_decide(writing, form):
        record = _record(writing, line)
        record.decided_on, record.decision = writing.on, "bought"
    writing.session.flush()
    return Outcome(Subject.TRIAL, form.trial_id, CHANGED)


def refuse_all_decided(reading: Reading, trial_id: int) -> None:
    """Refuse a decision where none is open."""
    _undecided(reading, trial_id)


def preview_decide_to_buy(reading: Reading, form: OfTrialLines) -> Preview:
    """Give what is to be bought."""
    return Preview(
        _("To be bought; nothing is sold yet"),
        tuple(Line(line_words(line)) for line in _to_decide(reading, form)),
    )


def to_be_bought(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    """Give the lines of a trial that are to be bought and not sold yet.

    Raises: Refused: there is none.
    """
    trial = trial_going(reading, trial_id)
    lines = tuple(line for line in lines_out(reading, trial_id) if line.decision == "bought")
    if not lines:
        raise Refused(N_("Nothing of the trial {trial} is to be bought."), trial=trial.number)
    return lines


def run_stay_on_trial(writing: Writing, form: OfTrialLines) -> Outcome:
    """Take a decision to buy back: the line is on trial as before."""
    trial = trial_going(writing, form.trial_id)
    check_day(trial, form.on)
    for line in chosen(to_be_bought(writing, trial.id), form.lines):
        record = _record(writing, line)
        record.decided_on, record.decision = None, None
    writing.session.flush()
    return Outcome(Subject.TRIAL, trial.id, CHANGED)


def refuse_none_to_buy(reading: Reading, trial_id: int) -> None:
    """Refuse what is about lines to be bought where there is none."""
    to_be_bought(reading, trial_id)


def _things(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    """Give the things in words that are out.

    Raises: Refused: there is none.
    """
    trial = trial_going(reading, trial_id)
    things = tuple(line for line in lines_out(reading, trial_id) if line.stay_id is None)
    if not things:
        raise Refused(
            N_("Nothing without a number of its own is out with the trial {trial}."), trial=trial.number
        )
    return things


def run_lose_thing(writing: Writing, form: LoseThing) -> Outcome:
    """Record a thing without a number of its own as lost; an instrument is reported by its own act."""
    trial = trial_going(writing, form.trial_id)
    check_day(trial, form.on)
    if not form.what_happened.strip():
        raise Typed(N_("What happened? Write a few words."), field="what_happened")
    for line in chosen(_things(writing, trial.id), form.lines):
        record = _record(writing, line)
        record.decided_on, record.decision = writing.on, "lost"
        record.condition_back = form.what_happened
    end_if_over(writing, trial)
    return Outcome(Subject.TRIAL, trial.id, CHANGED)


def refuse_no_thing(reading: Reading, trial_id: int) -> None:
    """Refuse where no thing in words is out."""
    _things(reading, trial_id)


def _numbers(lines: Sequence[LineOfTrial]) -> str:
    """Give the numbers of lines as they are typed."""
    return ", ".join(str(line.n) for line in lines)


def prefill_decide_to_buy(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give the lines that are not decided."""
    return {"lines": _numbers(_undecided(reading, trial_id))}


def prefill_stay_on_trial(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give the lines that are to be bought."""
    return {"lines": _numbers(to_be_bought(reading, trial_id))}


def prefill_lose_thing(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give the things that are out."""
    return {"lines": _numbers(_things(reading, trial_id))}


TAKE_TRIAL_BACK = Act(
    name="take_trial_back",
    text=N_("Take back"),
    subject=Subject.TRIAL,
    form=TakeTrialBack,
    run=run_take_trial_back,
    subject_input="trial_id",
    allowed=refuse_nothing_out,
    prefill=prefill_take_trial_back,
    preview=preview_take_trial_back,
    help=N_("One line or several; new damage is noted with them."),
    papers=("trial_return", "condition_report"),
)
DECIDE_TO_BUY = Act(
    name="decide_to_buy",
    text=N_("The player keeps it"),
    subject=Subject.TRIAL,
    form=OfTrialLines,
    run=run_decide_to_buy,
    subject_input="trial_id",
    allowed=refuse_all_decided,
    prefill=prefill_decide_to_buy,
    preview=preview_decide_to_buy,
    opposite="stay_on_trial",
    help=N_("It stays out until it is sold; what is not decided is neither sold nor taken back."),
)
STAY_ON_TRIAL = Act(
    name="stay_on_trial",
    text=N_("Not bought yet after all"),
    subject=Subject.TRIAL,
    form=OfTrialLines,
    run=run_stay_on_trial,
    subject_input="trial_id",
    allowed=refuse_none_to_buy,
    prefill=prefill_stay_on_trial,
    opposite="decide_to_buy",
)
LOSE_THING = Act(
    name="lose_thing",
    text=N_("A thing is lost"),
    subject=Subject.TRIAL,
    form=LoseThing,
    run=run_lose_thing,
    subject_input="trial_id",
    allowed=refuse_no_thing,
    prefill=prefill_lose_thing,
    help=N_("Such as a case. The loss of an instrument is reported by its own act."),
)
ACTS = (TAKE_TRIAL_BACK, DECIDE_TO_BUY, STAY_ON_TRIAL, LOSE_THING)
