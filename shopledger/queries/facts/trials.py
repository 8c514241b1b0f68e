"""What every paper of a trial names: its number, the player, its days, and the things lent as they went out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from sqlalchemy import select

from shopledger.model import ConditionReport, Trial
from shopledger.papers.parts import PartyFacts
from shopledger.papers.trial import LentFacts
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import Head, head, lines_of, party_facts
from shopledger.queries.on_trial import LineOfTrial
from shopledger.store.unit import Reading


class TrialHead(Head):
    """What every paper of a trial has, by the names of its facts."""

    trial_number: str
    player: PartyFacts
    began_on: date
    due_on: date


def trial_head(reading: Reading, trial: Trial, number: str, issued_on: date) -> TrialHead:
    """Give what every paper of a trial has."""
    return TrialHead(
        **head(reading, number, issued_on),
        trial_number=trial.number,
        player=party_facts(reading, trial.person_id),
        began_on=trial.began_on,
        due_on=trial.due_on,
    )


def report_numbers(reading: Reading, ids: Iterable[int | None]) -> Mapping[int, str]:
    """Give the numbers of condition reports by their keys."""
    rows = reading.session.execute(
        select(ConditionReport.id, ConditionReport.number).where(
            ConditionReport.id.in_([key for key in ids if key is not None])
        )
    )
    return {key: number for key, number in rows}  # noqa: C416 - a result has keys(), so dict() misreads it


def lent_facts(reading: Reading, lines: Iterable[LineOfTrial]) -> tuple[LentFacts, ...]:
    """Give things lent as papers name them, with the condition in which they went out."""
    wanted = list(lines)
    reports = report_numbers(reading, (line.report_out_id for line in wanted))
    found = []
    for line in wanted:
        thing = (
            None if line.instrument_id is None else thing_facts(instrument_named(reading, line.instrument_id))
        )
        found.append(
            LentFacts(
                n=line.n,
                name=line.words if thing is None else thing.name,
                number="" if thing is None else thing.number,
                maker="" if thing is None else thing.maker,
                value=reading.money(line.value),
                condition=lines_of(line.condition_out),
                report_number=reports.get(line.report_out_id or 0, ""),
            )
        )
    return tuple(found)
