"""Doing an act: one transaction around it, the same answer for a repeated form, then its papers."""

from __future__ import annotations

import json
from copy import copy

from sqlalchemy import bindparam, select

from shopledger.acts.columns import check_money
from shopledger.acts.declare import Act, F, Form, Outcome
from shopledger.acts.keeping import keep_prepared
from shopledger.acts.papers import PaperDraft, drafts_of, issue_paper
from shopledger.model import Deed
from shopledger.quantities.errors import Bug, LedgerError, Refused, Trouble, Typed
from shopledger.quantities.fields import check_inputs
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.store.files import Step, UnkeptFiles, no_step
from shopledger.store.ledger import Ledger
from shopledger.store.trouble import will_pass
from shopledger.store.unit import Reading

TRIES = 10
"""How often an act is tried on a server that put it aside for another's sake."""
_DONE = select(Deed.act, Deed.outcome).where(Deed.op_id == bindparam("op_id"))


def do(ledger: Ledger, act: Act[F], form: F, step: Step = no_step) -> Outcome:
    """Do an act once and for all: commit it, then issue its papers; give what it left.

    A form that was done before gives the same outcome again and books nothing. `step` is told how many of its prepared
    photographs are kept, and may stop it by raising before anything is written.

    Raises: Typed, Refused: the act can't be done so; nothing was written. Trouble: nothing was written, or the
            act stands and only a paper could not be rendered, which opening the paper makes up for.
    """
    outcome = commit_act(ledger, act, form, step)
    for paper_id in outcome.papers:
        try:
            issue_paper(ledger, paper_id)
        except Trouble as error:
            raise Trouble(
                N_(
                    "It is done and booked; only its paper could not be made. {said} Open the paper to have it made."
                ),
                said=error.sentence(ledger.manners),
            ) from error
    return outcome


def commit_act(ledger: Ledger, act: Act[F], form: F, step: Step = no_step) -> Outcome:
    """Do an act and commit it, once, leaving its papers to be issued; give what it left.

    Raises: as `do`.
    """
    _check(ledger, form)
    keep_prepared(ledger.files, form, step)
    for attempt in range(1, TRIES + 1):
        try:
            return _once(ledger, act, form)
        except LedgerError as error:
            # A commit can report failure and yet be there: the form's own id tells.
            if isinstance(error, Trouble) and (outcome := _after_trouble(ledger, form.op_id)) is not None:
                return outcome
            if attempt == TRIES or not will_pass(error):
                raise
    raise Bug("unreachable")


def would_leave(ledger: Ledger, act: Act[F], form: F) -> tuple[PaperDraft, ...]:
    """Give the papers that an act would leave, by doing it in a unit that is rolled back: nothing is written.

    Numbers are not used up, files are kept nowhere; only a server's own keys, which nobody reads, may skip.

    Raises: Typed, Refused: the act can't be done so, or was done already. Trouble: the ledger can't be reached.
    """
    _check(ledger, form)
    trial = copy(ledger)
    trial.files = UnkeptFiles(ledger.files)
    for attempt in range(1, TRIES + 1):
        try:
            return _tried(trial, act, form)
        except LedgerError as error:
            if attempt == TRIES or not will_pass(error):
                raise
    raise Bug("unreachable")


def _check(ledger: Ledger, form: Form) -> None:
    check_inputs(form)
    check_money(form, ledger.currency)
    if form.on > ledger.today():
        # A day that has not come would let an approval time or a term pass before its time.
        raise Typed(
            N_("{day} has not come yet: an act is booked on today, {today}, or before."),
            field="on",
            day=form.on,
            today=ledger.today(),
        )


def _tried(trial: Ledger, act: Act[F], form: F) -> tuple[PaperDraft, ...]:
    with trial.write() as writing:
        writing.begin_act(op_id=form.op_id, act=act.name, on=form.on, by=form.by)
        if done_before(writing, form.op_id, act.name) is not None:
            raise Refused(N_("This is done and booked already. Open its papers from the sheet."))
        outcome = act.run(writing, form)
        return drafts_of(writing, outcome.papers)


def _once(ledger: Ledger, act: Act[F], form: F) -> Outcome:
    with ledger.write() as writing:
        writing.begin_act(op_id=form.op_id, act=act.name, on=form.on, by=form.by)
        done = done_before(writing, form.op_id, act.name)
        if done is not None:
            return done
        outcome = act.run(writing, form)
        writing.finish_act(outcome.subject.value, outcome.id, _told(outcome))
        writing.commit()
    return outcome


def _after_trouble(ledger: Ledger, op_id: str) -> Outcome | None:
    try:
        with ledger.read() as reading:
            return done_before(reading, op_id)
    except LedgerError:
        return None


def done_before(reading: Reading, op_id: str, act: str | None = None) -> Outcome | None:
    """Give the outcome of a form that was done before, None where it wasn't.

    Raises: Bug: the id belongs to another act.
    """
    row = reading.rows(_DONE, {"op_id": op_id}).first()
    if row is None:
        return None
    if act is not None and row[0] != act:
        raise Bug("the form of {one} carries the id of a form of {other}", one=act, other=str(row[0]))
    told = json.loads(row[1])
    return Outcome(
        Subject(told["subject"]),
        told["id"],
        frozenset(Subject(name) for name in told["changed"]),
        tuple(told["papers"]),
    )


def _told(outcome: Outcome) -> dict[str, object]:
    return {
        "subject": outcome.subject.value,
        "id": outcome.id,
        "changed": sorted(subject.value for subject in outcome.changed),
        "papers": list(outcome.papers),
    }
