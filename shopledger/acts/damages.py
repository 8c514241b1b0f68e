"""Damage in the shop's care: what happened, who bears it, and the claim until it is closed. No money is booked here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select

from shopledger.acts.columns import filled
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.describing import instrument_of
from shopledger.acts.papers import further_number, leave_paper
from shopledger.acts.paying import above_zero
from shopledger.acts.taking_in import need_open_stay
from shopledger.model import ConditionReport, Damage, Stay, Trial
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import N_, _
from shopledger.queries.custody import custody_of, names_in, place_words
from shopledger.queries.groups import group_beginning
from shopledger.queries.on_trial import on_trial
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.INSTRUMENT, Subject.TRIAL})
NO_MONEY = N_(
    "This books no money. Repair is billed by its job to whoever bears it; what the shop is paid is booked with the "
    "shop's own money; what is lost for good is reported as a loss."
)


@dataclass(frozen=True, kw_only=True)
class RecordDamage(Form):
    """Something happened to it in the shop's care."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    damage: Mapping[str, Any] = ask(Field(N_("Damage"), Kind.GROUP, of=Damage))


@dataclass(frozen=True, kw_only=True)
class CloseClaim(Form):
    """The claim is decided, paid or not."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    damage: str = ask(
        Field(N_("Damage"), required=True, help=N_("Its number, such as DM 2026-001.")),
    )
    paid: Money | None = ask(Field(N_("Paid on the claim"), Kind.MONEY, help=N_("Empty where nothing is.")))
    outcome: str = ask(Field(N_("How the claim ended"), Kind.LINES, required=True))


def _ready(reading: Reading, form: RecordDamage) -> tuple[Damage, Stay]:
    stay = need_open_stay(reading, form.instrument_id)
    values = {**group_beginning(Damage), **form.damage}
    damage = filled(Damage, values, reading.currency, path="damage", number="", stay_id=stay.id, outcome="")
    if damage.found_on > form.on:
        raise Typed(
            N_("It can't have been found on {day}: that is after the day of this act."),
            field="damage.found_on",
            day=damage.found_on,
        )
    if damage.happened_on is not None and damage.happened_on > damage.found_on:
        raise Typed(
            N_("It can't have happened after it was found on {day}."),
            field="damage.happened_on",
            day=damage.found_on,
        )
    if (damage.happened_on or damage.found_on) < stay.came_in_on:
        raise Typed(
            N_("It came in on {day}: what happened before did not happen in the shop's care."),
            field="damage.found_on" if damage.happened_on is None else "damage.happened_on",
            day=stay.came_in_on,
        )
    if damage.claimed is not None:
        above_zero(reading.money(damage.claimed), reading.currency, "damage.claimed")
    damage.trial_id = _trial(reading, damage, stay)
    damage.report_id = reading.session.scalar(
        select(ConditionReport.id)
        .where(ConditionReport.stay_id == stay.id, ConditionReport.made_on >= damage.found_on)
        .order_by(ConditionReport.id)
        .limit(1)
    )
    return damage, stay


def _trial(reading: Reading, damage: Damage, stay: Stay) -> int | None:
    """Give the trial on which it was when it happened; of a day that isn't known, the one it is on now."""
    if damage.happened_on is None:
        out = on_trial(reading, stay.id)
        return None if out is None else out.trial_id
    return custody_of(reading, stay.instrument_id, damage.happened_on).at.trial_id


def run_record_damage(writing: Writing, form: RecordDamage) -> Outcome:
    """Record damage and leave its report."""
    damage, _stay = _ready(writing, form)
    damage.number = writing.number("damage")
    writing.add(damage)
    return _told(writing, form.instrument_id, damage, damage.number)


def _told(writing: Writing, instrument_id: int, damage: Damage, number: str) -> Outcome:
    from shopledger.queries.facts.damage_report import damage_facts

    facts = damage_facts(writing, damage.id, number, writing.on)
    paper = leave_paper(
        writing, "damage_report", facts, instrument_id=instrument_id, trial_id=damage.trial_id
    )
    return Outcome(Subject.INSTRUMENT, instrument_id, CHANGED, (paper,))


def preview_record_damage(reading: Reading, form: RecordDamage) -> Preview:
    """Give where it was then, to which trial it is put down, and that no money is booked."""
    damage, stay = _ready(reading, form)
    then = custody_of(reading, stay.instrument_id, damage.happened_on or damage.found_on)
    lines = [Line(_("Where it was"), place_words(then.at, names_in(reading, [then])))]
    if damage.trial_id is not None:
        lines.append(Line(_("On the trial"), reading.session.get_one(Trial, damage.trial_id).number))
    if damage.report_id is not None:
        report = reading.session.get_one(ConditionReport, damage.report_id)
        lines.append(Line(_("With the condition report"), report.number))
    warnings = [_(NO_MONEY)]
    if not damage.reported_to:
        warnings.insert(0, _("Nobody is told yet: the time to report damage to an insurer may be short."))
    return Preview(instrument_of(reading, form.instrument_id).number, tuple(lines), tuple(warnings))


def prefill_record_damage(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give today, and who bears the risk of it now."""
    today = reading.ledger.today()
    return {"damage": {"found_on": today, "borne_by": custody_of(reading, instrument_id, today).at.risk}}


def refuse_not_here(reading: Reading, instrument_id: int) -> None:
    """Refuse to record damage of what is not in the shop's care."""
    need_open_stay(reading, instrument_id)


def _open_claims(reading: Reading, instrument_id: int) -> Sequence[Damage]:
    """Give the damages of an instrument whose claim is not closed, in order.

    Raises: NotFound: there is no such instrument. Refused: there is none.
    """
    number = instrument_of(reading, instrument_id).number
    found = reading.session.scalars(
        select(Damage)
        .join(Stay, Stay.id == Damage.stay_id)
        .where(Stay.instrument_id == instrument_id, Damage.closed_on.is_(None))
        .order_by(Damage.id)
    ).all()
    if not found:
        raise Refused(N_("{instrument} has no damage on record that is not closed."), instrument=number)
    return found


def _claim(reading: Reading, form: CloseClaim) -> Damage:
    going = _open_claims(reading, form.instrument_id)
    for damage in going:
        if damage.number == form.damage.strip():
            break
    else:
        raise Typed(
            N_("There is no such damage that is not closed. Write one of {numbers}."),
            field="damage",
            numbers=", ".join(one.number for one in going),
        )
    if form.on < damage.found_on:
        raise Typed(
            N_("It was found on {day}: its claim can't be closed before."), field="on", day=damage.found_on
        )
    if form.paid is not None:
        above_zero(form.paid, reading.currency, "paid")
    return damage


def run_close_claim(writing: Writing, form: CloseClaim) -> Outcome:
    """Close a claim: what was paid on it and how it ended; the report is left again with that."""
    damage = _claim(writing, form)
    damage.closed_on, damage.outcome = writing.on, form.outcome
    damage.paid = None if form.paid is None else form.paid.minor
    writing.session.flush()
    return _told(writing, form.instrument_id, damage, further_number(writing, damage.number))


def preview_close_claim(reading: Reading, form: CloseClaim) -> Preview:
    """Give what was claimed beside what was paid, and that no money is booked."""
    damage = _claim(reading, form)
    claimed = None if damage.claimed is None else reading.money(damage.claimed)
    lines = [
        Line(_("Claimed"), "" if claimed else _("nothing"), claimed),
        Line(_("Paid"), "" if form.paid else _("nothing"), form.paid, strong=True),
    ]
    warnings = [_(NO_MONEY)]
    if form.paid is not None and (claimed is None or form.paid.minor > claimed.minor):
        warnings.insert(
            0,
            _("That is more than was claimed: {claimed}.").format(
                claimed=_("nothing") if claimed is None else show_amount(claimed, reading.ledger.manners)
            ),
        )
    return Preview(damage.number, tuple(lines), tuple(warnings))


def refuse_no_claim(reading: Reading, instrument_id: int) -> None:
    """Refuse to close a claim where none goes on."""
    _open_claims(reading, instrument_id)


def prefill_close_claim(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give the oldest damage that is not closed, and what was claimed."""
    first = _open_claims(reading, instrument_id)[0]
    return {
        "damage": first.number,
        "paid": None if first.claimed is None else reading.money(first.claimed),
    }


RECORD_DAMAGE = Act(
    name="record_damage",
    text=N_("Record damage"),
    subject=Subject.INSTRUMENT,
    form=RecordDamage,
    run=run_record_damage,
    subject_input="instrument_id",
    allowed=refuse_not_here,
    prefill=prefill_record_damage,
    preview=preview_record_damage,
    opposite="close_claim",
    help=NO_MONEY,
    papers=("damage_report",),
)
CLOSE_CLAIM = Act(
    name="close_claim",
    text=N_("Close the claim"),
    subject=Subject.INSTRUMENT,
    form=CloseClaim,
    run=run_close_claim,
    subject_input="instrument_id",
    allowed=refuse_no_claim,
    prefill=prefill_close_claim,
    preview=preview_close_claim,
    help=NO_MONEY,
    papers=("damage_report",),
)
ACTS = (RECORD_DAMAGE, CLOSE_CLAIM)
