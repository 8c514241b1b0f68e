"""What a report of damage states: what happened, where the instrument was then, who bears it, and the claim."""

from __future__ import annotations

from datetime import date

from shopledger.model import ConditionReport, Damage, Stay, Trial, field_of
from shopledger.papers.damage_report import DamageFacts
from shopledger.quantities.words import _
from shopledger.queries.custody import custody_of, names_in, place_words
from shopledger.queries.facts.instruments import instrument_named
from shopledger.queries.facts.jobs import thing_facts
from shopledger.queries.facts.parties import head, of_parties
from shopledger.queries.standing import owners_of
from shopledger.store.unit import Reading


def damage_facts(reading: Reading, damage_id: int, number: str, on: date) -> DamageFacts:
    """Give what a report of damage states."""
    damage = reading.session.get_one(Damage, damage_id)
    stay = reading.session.get_one(Stay, damage.stay_id)
    then = custody_of(reading, stay.instrument_id, damage.happened_on or damage.found_on)
    trial = None if damage.trial_id is None else reading.session.get_one(Trial, damage.trial_id)
    report = None if damage.report_id is None else reading.session.get_one(ConditionReport, damage.report_id)
    return DamageFacts(
        **head(reading, number, on),
        damage_number=damage.number,
        owners=of_parties(reading, owners_of(reading, stay.instrument_id, damage.found_on)),
        thing=thing_facts(instrument_named(reading, stay.instrument_id)),
        entry_number=stay.number,
        trial_number="" if trial is None else trial.number,
        happened_on=damage.happened_on,
        found_on=damage.found_on,
        was=place_words(then.at, names_in(reading, [then])),
        what_happened=damage.what_happened,
        report_number="" if report is None else report.number,
        borne_by=_(field_of(Damage.borne_by).choice_word(damage.borne_by)) if damage.borne_by else "",
        reported_to=damage.reported_to,
        claimed=None if damage.claimed is None else reading.money(damage.claimed),
        closed_on=damage.closed_on,
        paid=None if damage.paid is None else reading.money(damage.paid),
        outcome=damage.outcome,
    )
