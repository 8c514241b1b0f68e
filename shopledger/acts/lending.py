"""Lending on trial: instruments and things that go out with a player until a day, each with its value, its own line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import select

from shopledger.acts.conditions import leave_report, record_report
from shopledger.acts.custody import to_player
from shopledger.acts.declare import Act, Outcome
from shopledger.acts.deposits import take_deposit
from shopledger.acts.lending_ready import Lent, lendable, ready_to_lend, reported_line
from shopledger.acts.people import person_of
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.trial_forms import LendOnTrial, LendRow
from shopledger.acts.trials import leave_trial_paper
from shopledger.model import ConditionReport, Stay, Trial, TrialLine
from shopledger.quantities.errors import Refused
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import instrument_words
from shopledger.queries.materials import crossing_words
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import asking_price, hold_in_force
from shopledger.rules.materials_terms import Act as Deed
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.TRIAL, Subject.INSTRUMENT, Subject.PERSON, Subject.ENTRY, Subject.ACCOUNT})


def run_lend(writing: Writing, form: LendOnTrial) -> Outcome:
    """Let things go out with a player: a trial, its lines, custody, the deposit, the reports and the agreement."""
    from shopledger.queries.facts.trial_agreement import trial_agreement_facts

    trial, _player, lent = ready_to_lend(writing, form)
    reported = reported_line(form, lent)
    trial.number = writing.number("trial")
    writing.add(trial)
    papers: list[int] = []
    for n, line in enumerate(lent, 1):
        report = None
        if line.stay is not None:
            if n == reported:
                made = _report(writing, form, line.stay)
                papers.append(leave_report(writing, made, trial.id))
                report = made.id
            else:
                report = _reported_before(writing, line.stay)
            to_player(writing, line.stay.id, trial, line.minor)
        writing.add(
            TrialLine(
                trial_id=trial.id,
                n=n,
                stay_id=None if line.stay is None else line.stay.id,
                what=line.row.what.strip(),
                value=line.minor,
                report_out_id=report,
                condition_out=line.row.condition_out,
                condition_back="",
            )
        )
    if form.deposit is not None:
        papers.append(
            take_deposit(
                writing,
                trial.person_id,
                trial.number,
                form.deposit,
                form.method,
                reference=form.reference,
                cleared=form.cleared,
                trial_id=trial.id,
            )
        )
    facts = trial_agreement_facts(writing, trial.id, trial.number, writing.on)
    papers.insert(0, leave_trial_paper(writing, trial, "trial_agreement", facts))
    return Outcome(Subject.TRIAL, trial.id, CHANGED, tuple(papers))


def _report(writing: Writing, form: LendOnTrial, stay: Stay) -> ConditionReport:
    return record_report(
        writing, stay.instrument_id, "trial_out", form.marks, form.pictures, stay_id=stay.id, made_by=form.by
    )


def _reported_before(reading: Reading, stay: Stay) -> int | None:
    """Give the newest report of a stay that was made for going out and belongs to no earlier trial."""
    used = select(TrialLine.report_out_id).where(TrialLine.report_out_id.is_not(None)).scalar_subquery()
    return reading.session.scalar(
        select(ConditionReport.id)
        .where(
            ConditionReport.stay_id == stay.id,
            ConditionReport.occasion == "trial_out",
            ConditionReport.id.not_in(used),
        )
        .order_by(ConditionReport.id.desc())
        .limit(1)
    )


def preview_lend(reading: Reading, form: LendOnTrial) -> Preview:
    """Give what goes out at which value until when, and what is still wanting."""
    trial, player, lent = ready_to_lend(reading, form)
    reported = reported_line(form, lent)
    named = instrument_words(reading, [line.row.instrument_id for line in lent if line.row.instrument_id])
    lines = [
        Line(f"{n}. {named.get(line.row.instrument_id or 0, line.row.what)}", "", reading.money(line.minor))
        for n, line in enumerate(lent, 1)
    ]
    if len(lent) > 1:
        whole = sum(line.minor for line in lent)
        lines.append(Line(_("Value in all"), "", reading.money(whole), strong=True))
    if form.deposit is not None:
        lines.append(Line(_("Deposit, held for {player}").format(player=player.name), "", form.deposit))
    title = _("With {player} until {day}").format(
        player=player.name, day=show_day(trial.due_on, reading.ledger.manners)
    )
    crossing = crossing_words(
        reading,
        Deed.LOAN_ABROAD,
        form.on,
        trial.goes_to,
        [line.stay.instrument_id for line in lent if line.stay is not None],
    )
    return Preview(title, tuple(lines), (*_warnings(trial, lent, reported), *crossing))


def _warnings(trial: Trial, lent: Sequence[Lent], reported: int | None) -> list[str]:
    """Give what is said though it refuses nothing."""
    said = [
        _("The consignment agreement {number} is not signed yet.").format(number=line.unsigned)
        for line in lent
        if line.unsigned
    ]
    if trial.signed_on is None:
        said.append(_("The trial agreement is not signed yet: let both sides sign before anything goes out."))
    if trial.insured_by == "nobody":
        said.append(_("Nobody insures it while it is out."))
    if not trial.identity_seen:
        said.append(_("No identity is noted."))
    for n, line in enumerate(lent, 1):
        if line.stay is not None and not line.row.condition_out and n != reported:
            said.append(_("Line {n}: its condition going out is not noted.").format(n=n))
    return said


def refuse_not_lendable(reading: Reading, instrument_id: int) -> None:
    """Refuse to lend what may not go out now."""
    lendable(reading, instrument_id)


def refuse_shop_itself(reading: Reading, person_id: int) -> None:
    """Refuse to lend to the shop itself."""
    if person_of(reading, person_id).relation == "shop":
        raise Refused(N_("That is the shop itself."))


def prefill_lend(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give one line for the instrument at its insured value, else its asking price; whom it is on hold for."""
    stay = need_open_stay(reading, instrument_id)
    value = reading.money(stay.insured_value) if stay.insured_value else asking_price(reading, stay.id)
    hold = hold_in_force(reading, stay.id)
    return {
        "trial": {} if hold is None else {"person_id": hold.person_id},
        "lines": (LendRow(instrument_id=instrument_id, value=value),),
    }


def prefill_lend_to(_reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give the player, and an empty first line."""
    return {"trial": {"person_id": person_id}, "lines": (LendRow(value=None),)}


LEAVES = ("trial_agreement", "payment_receipt", "condition_report")
LEND_ON_TRIAL = Act(
    name="lend_on_trial",
    text=N_("Lend on trial"),
    subject=Subject.INSTRUMENT,
    form=LendOnTrial,
    run=run_lend,
    allowed=refuse_not_lendable,
    prefill=prefill_lend,
    preview=preview_lend,
    shortcut="Ctrl+Shift+L",
    opposite="take_trial_back",
    papers=LEAVES,
)
LEND_TO = Act(
    name="lend_to",
    text=N_("Lend on trial"),
    subject=Subject.PERSON,
    form=LendOnTrial,
    run=run_lend,
    allowed=refuse_shop_itself,
    prefill=prefill_lend_to,
    preview=preview_lend,
    opposite="take_trial_back",
    papers=LEAVES,
)
ACTS = (LEND_ON_TRIAL, LEND_TO)
